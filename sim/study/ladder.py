"""The ladder of test flights: from a balance known to be good to the wanted one, in steps."""

from dataclasses import dataclass, replace
from enum import StrEnum
from math import ceil

from sim.aero.tables import read_toml
from sim.describe import FileFault, SetUp, StudyFiles, resolve_setup
from sim.fly.assemble import Assembled, assemble
from sim.study.predictions import End, Prediction, Predictor, mildest_first
from sim.study.result import AftLimit, CaseResult, SetUpResult, StudyResult, meets
from sim.study.study import Watch
from sim.weigh import weigh


class Origin(StrEnum):
    """What makes the first balance point of a ladder known to be good.

    ``FLOWN``: the aeroplane's first set-up balances there. ``SHOWN``: the foremost that
    met the study's requirement with this pack. ``USUAL``: where first flights are
    balanced. ``FORWARD``: the wanted one lies forward of all these.
    """

    FLOWN = "flown"
    SHOWN = "shown"
    USUAL = "usual"
    FORWARD = "forward"


@dataclass(frozen=True)
class Step:
    """One test flight: where it balances, what is flown, and what should be seen.

    ``case`` is the manoeuvre to fly, judged from the entry height that the ceiling allows;
    ``left_out`` the more severe ones whose turn it was but which must not be flown here, and
    why.
    """

    balance_aft_mm: float
    balance_pct_mac: float
    pack_aft_mm: float
    added_weights: tuple[tuple[str, float], ...]
    mass_g: float
    case: CaseResult
    left_out: tuple[tuple[CaseResult, End], ...]
    seen: Prediction


@dataclass(frozen=True)
class Ladder:
    """All steps, and why they begin and end where they do.

    ``speed_mps`` is that of the level flight predicted; ``out_of_reach_mm`` the balance
    points that pack and weight places cannot give; ``refused_mm`` the one it stops before.
    """

    setup: str
    wanted_mm: float
    origin: Origin
    end: End
    steps: tuple[Step, ...]
    limit: AftLimit | None
    refused_mm: float | None
    refused: CaseResult | None
    out_of_reach_mm: tuple[float, ...]
    draws: int
    speed_mps: float
    ceiling_m: float


def balances(start_mm: float, end_mm: float, mean_chord_mm: float) -> list[float]:
    """Return the balance points of a ladder [mm], in even steps no larger than the table's.

    Whole millimetres, but for the last, which is ``end_mm`` itself. Two that lie closer
    than the least step are one.
    """
    values = read_toml("card.toml").values
    most = values["most_step_pct_mac"] / 100.0 * mean_chord_mm
    step = min(max(most, values["least_step_mm"]), values["most_step_mm"])
    way = end_mm - start_mm
    if way < values["least_step_mm"]:
        return [end_mm]
    count = max(1, ceil(way / step - 1e-9))
    inner = [float(round(start_mm + way * i / count)) for i in range(count)]
    return [start_mm, *inner[1:], end_mm]


def limit_of(result: StudyResult, pack: str) -> AftLimit | None:
    """Return the aft limit that a study found for a pack, None where it did not look."""
    return next((x for x in result.aft_limits if x.pack == pack), None)


def _foremost_met(result: StudyResult, pack: str) -> float | None:
    """Return the foremost balance point that met the requirement with a pack [mm]."""
    required = result.required_share_pct
    met = [x.balance_aft_mm for x in result.setups if x.pack == pack and meets(x, required)]
    limit = limit_of(result, pack)
    if limit is not None and limit.aft_mm is not None:
        met += [
            step.balance_aft_mm
            for step in limit.steps
            if step.complete and step.recovery == limit.recovery and 100.0 * step.low >= required
        ]
    return min(met, default=None)


def start_of(
    files: StudyFiles, result: StudyResult, pack: str, end_mm: float
) -> tuple[float, Origin]:
    """Return the first balance point of a ladder to ``end_mm`` [mm], and why it is good."""
    values = read_toml("card.toml").values
    first = weigh(files.aeroplane)
    usual = 1000.0 * first.reference.aft_m(values["known_good_pct_mac"])
    choices = (
        (first.balance_aft_mm, Origin.FLOWN),
        (_foremost_met(result, pack), Origin.SHOWN),
        (usual, Origin.USUAL),
    )
    for balance, origin in choices:
        if balance is not None and balance <= end_mm:
            return balance, origin
    return end_mm, Origin.FORWARD


def plan(
    files: StudyFiles, result: StudyResult, wanted: SetUpResult
) -> tuple[list[float], Origin, End]:
    """Return the balance points to try [mm], why they begin there, and where they end."""
    limit = limit_of(result, wanted.pack)
    if limit is not None and limit.aft_mm is None:
        return [], Origin.FORWARD, End.NO_START
    bound = wanted.balance_aft_mm if limit is None or limit.aft_mm is None else limit.aft_mm
    end = min(wanted.balance_aft_mm, bound)
    start, origin = start_of(files, result, wanted.pack, end)
    chord = 1000.0 * weigh(files.aeroplane).reference.mean_chord_m
    reached = End.REACHED if end == wanted.balance_aft_mm else End.LIMIT
    return balances(start, end, chord), origin, reached


def fly_ladder(
    files: StudyFiles,
    result: StudyResult,
    wanted: SetUpResult,
    recovery: str,
    predictor: Predictor,
    watch: Watch | None = None,
) -> Ladder:
    """Plan the ladder to a set-up of a study and fly every step of it.

    Parameters
    ----------
    recovery : str
        Name of the one recovery that is flown after every manoeuvre.
    predictor : Predictor
        Flies the study's draws.
    watch : Watch, optional
        Who is told about progress.
    """
    watch = watch or Watch()
    places, origin, end = plan(files, result, wanted)
    block = next(x for x in files.study.setups if x.name == wanted.name)
    setup = resolve_setup(files.aeroplane, block)
    reached, missed = _assembled(files, setup, wanted.balance_aft_mm, places)
    order = mildest_first(files)
    watch.said("ladder")
    flown = predictor.fly([(x, order) for x in reached], recovery)
    binding = binding_manoeuvres(files, result, wanted.pack)
    known = [case for case in wanted.cases if case.recovery == recovery]
    steps: list[Step] = []
    refused_at, refused = None, None
    for i, (ready, cases) in enumerate(zip(reached, flown, strict=True)):
        at = ready.weighed.balance_aft_mm
        there = [*cases, *known] if at == wanted.balance_aft_mm else cases
        refused = _failing(there, binding, predictor)
        chosen, left_out = _choose(cases[: i + 1], predictor)
        if refused is not None or chosen is None:
            refused_at = at
            refused, end = (refused, End.FAILS) if refused is not None else left_out[0]
            break
        steps.append(_step(ready, chosen, left_out, predictor, wanted.trim.speed_mps))
    if not reached:
        end = End.NO_START
    return Ladder(
        wanted.name, wanted.balance_aft_mm, origin, end, tuple(steps),
        limit_of(result, wanted.pack), refused_at, refused, missed, predictor.count,
        wanted.trim.speed_mps, predictor.ceiling_m,
    )  # fmt: skip


def _assembled(
    files: StudyFiles, setup: SetUp, wanted_mm: float, places: list[float]
) -> tuple[list[Assembled], tuple[float, ...]]:
    """Return the set-up assembled at each balance point, and those it cannot have."""
    out, missed = [], []
    for place in places:
        try:
            at = setup if place == wanted_mm else setup.at_balance(place)
            out.append(assemble(files.aeroplane, at))
        except FileFault:
            missed.append(place)
    return out, tuple(missed)


def binding_manoeuvres(files: StudyFiles, result: StudyResult, pack: str) -> set[str]:
    """Return the manoeuvres that end a ladder once they no longer meet the requirement.

    Those of the pack's aft limit, as the study's own statement of which ones count; all
    where no limit was looked for.
    """
    limit = limit_of(result, pack)
    return {case.manoeuvre for case in files.study.cases} if limit is None else {*limit.manoeuvres}


def _failing(cases: list[CaseResult], binding: set[str], predictor: Predictor) -> CaseResult | None:
    """Return the first case that does not meet the requirement though it must, if any."""
    for case in cases:
        if case.manoeuvre in binding and predictor.refusal(case) is End.FAILS:
            return replace(case, shares=predictor.shares(case))
    return None


def _choose(
    cases: list[CaseResult], predictor: Predictor
) -> tuple[CaseResult | None, tuple[tuple[CaseResult, End], ...]]:
    """Return the severest case fit to be flown, and the ones beyond it with why they are not."""
    left_out: list[tuple[CaseResult, End]] = []
    for case in reversed(cases):
        why = predictor.refusal(case)
        if why is None:
            return case, tuple(left_out[::-1])
        left_out.append((case, why))
    return None, tuple(left_out[::-1])


def _step(
    ready: Assembled,
    case: CaseResult,
    left_out: tuple[tuple[CaseResult, End], ...],
    predictor: Predictor,
    speed_mps: float,
) -> Step:
    weighed = ready.weighed
    return Step(
        weighed.balance_aft_mm,
        weighed.balance_pct_mac,
        weighed.pack_aft_mm,
        weighed.added_weights,
        1000.0 * weighed.mass_kg,
        case,
        left_out,
        predictor.seen(ready, case, speed_mps),
    )
