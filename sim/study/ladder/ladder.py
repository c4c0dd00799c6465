"""The ladder of test flights: from the set-up flown today to the wanted one, in single changes."""

from dataclasses import dataclass, replace
from math import inf

from sim.describe import SetUp, StudyFiles, resolve_setup
from sim.judge import Outcome
from sim.pack.assemble import Assembled, assemble
from sim.study.changes import limit_for
from sim.study.combinations import named_setup
from sim.study.ladder.fit import End, Fitness, Refused, severest
from sim.study.ladder.predictions import Prediction, Predictor, mildest_first
from sim.study.ladder.way import (
    AFRESH,
    CHANGES,
    Missing,
    Stop,
    Way,
    afresh,
    balances,
    changes_between,
    find_way,
    largest_step_mm,
    unlike_words,
)
from sim.study.result import AftLimit, CaseResult, SetUpResult, StudyResult
from sim.study.standing.bands import aft_of
from sim.study.standing.outcomes import setup_outcome
from sim.study.study import Watch
from sim.weigh import weigh_set_up


@dataclass(frozen=True)
class Step:
    """One test flight: what is changed for it, where it balances, what is flown and seen.

    ``case`` is the manoeuvre to fly, judged from the entry height that the ceiling allows;
    ``left_out`` the ones whose turn it was but which must not be flown here, and why.
    ``unlike`` says what but pack and balance is not yet as in the wanted set-up; ``inside`` is
    the aft limit of the step's own pack and combination, where the step lies in its 95 % limits.
    """

    kind: str
    what: str
    balance_aft_mm: float
    balance_pct_mac: float
    pack: str
    pack_aft_mm: float
    added_weights: tuple[tuple[str, float], ...]
    mass_g: float
    case: CaseResult
    left_out: tuple[tuple[CaseResult, End], ...]
    seen: Prediction
    unlike: tuple[str, ...] = ()
    inside: AftLimit | None = None


@dataclass(frozen=True)
class Ladder:
    """All steps, and why they begin and end where they do.

    ``today`` is the set-up it begins with, ``named`` whether the study says so, ``start_mm``
    its balance; ``skipped`` why even that one must not be flown. ``refused`` is what it
    stops before, ``missing`` the changes that could not be had where their turn was.
    ``blocked`` is what the single changes stop before, where the rest is set up afresh.
    ``limit`` is the wanted set-up's own; ``speed_mps`` that of the level flight predicted.
    """

    setup: str
    wanted_mm: float
    today: str
    named: bool
    start_mm: float
    end: End
    steps: tuple[Step, ...]
    skipped: Refused | None
    refused: Refused | None
    blocked: Refused | None
    missing: tuple[Missing, ...]
    limit: AftLimit | None
    draws: int
    speed_mps: float
    ceiling_m: float

    @property
    def reached(self) -> bool:
        """Return True where the wanted set-up is the last step, and may so be flown."""
        return self.end is End.REACHED


def may_be_flown(result: StudyResult, found: SetUpResult, ladder: Ladder) -> bool:
    """Return True for a set-up that meets the requirement and that its ladder leads up to."""
    met = setup_outcome(found, result.required_share_pct) is Outcome.MET
    return met and ladder.reached


def own_setup(files: StudyFiles, name: str) -> SetUp:
    """Return a set-up of a study with everything said."""
    return resolve_setup(files.aeroplane, next(x for x in files.study.setups if x.name == name))


def today_setup(files: StudyFiles) -> tuple[SetUp, bool]:
    """Return the set-up that is flown today, and whether the study says which it is.

    The aeroplane's first where it does not.
    """
    name = files.study.today
    if name is None:
        return resolve_setup(files.aeroplane), False
    return named_setup(files.aeroplane, files.study, name), True


def plan(files: StudyFiles, result: StudyResult, wanted: SetUpResult) -> tuple[Way, End]:
    """Return the way from today's set-up to a wanted one, and where it leads at best.

    Not beyond the aft limit of the wanted pack and combination; nowhere, if that has none.
    """
    today, _ = today_setup(files)
    setup = own_setup(files, wanted.name)
    limit = limit_for(result.aft_limits, setup)
    if limit is not None and limit.aft_mm is None:
        return Way((), False, ()), End.NO_START
    goal, end = _goal(wanted, limit)
    weighed = weigh_set_up(files.aeroplane, today)
    step = largest_step_mm(1000.0 * weighed.reference.mean_chord_m)
    places = balances(weighed.balance_aft_mm, goal, step)
    way = find_way(files.aeroplane, today, setup, places, end is End.REACHED)
    return way, end if way.complete else End.NO_WAY


def _goal(wanted: SetUpResult, limit: AftLimit | None) -> tuple[float, End]:
    """Return the balance point [mm] that a ladder leads to, and where it ends with it.

    The wanted set-up's own, or the aft limit of its pack and combination if it lies aft of that.
    """
    if limit is None or limit.aft_mm is None or not aft_of(wanted.balance_aft_mm, limit):
        return wanted.balance_aft_mm, End.REACHED
    return limit.aft_mm, End.LIMIT


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

    Raises
    ------
    FileFault
        The set-up flown today cannot be had.
    """
    fitness = Fitness(files, result, wanted, recovery, predictor)
    way, end = plan(files, result, wanted)
    (watch or Watch()).said("ladder")
    climbed, blocked = _climb(files, fitness, way, end, wanted), None
    stuck = climbed.refused is not None or climbed.end is End.NO_WAY
    # nothing flown today to begin with, and the first flight at the goal itself
    bold = climbed.skipped is not None and len(climbed.steps) == 1
    met = setup_outcome(wanted, result.required_share_pct) is Outcome.MET
    if (stuck or bold) and met:
        new, leads = plan_afresh(files, result, wanted)
        fresh = _climb(files, fitness, new, leads, wanted)
        changes = changes_between(today_setup(files)[0], own_setup(files, wanted.name))
        longer = bold and len(fresh.steps) > 1 and fresh.end is climbed.end
        if longer:
            climbed = replace(fresh, skipped=climbed.skipped)
        elif stuck and fresh.steps and not _is_there(climbed, fresh, len(changes)):
            steps = (*climbed.steps, *fresh.steps)
            climbed, blocked = replace(fresh, steps=steps, skipped=climbed.skipped), climbed.refused
    today, named = today_setup(files)
    return Ladder(
        wanted.name, wanted.balance_aft_mm, today.name, named,
        weigh_set_up(files.aeroplane, today).balance_aft_mm,
        climbed.end, climbed.steps, climbed.skipped, climbed.refused, blocked, way.missing,
        limit_for(result.aft_limits, own_setup(files, wanted.name)),
        predictor.count, wanted.trim.speed_mps, predictor.ceiling_m,
    )  # fmt: skip


def plan_afresh(files: StudyFiles, result: StudyResult, wanted: SetUpResult) -> tuple[Way, End]:
    """Return a way that begins with all changes at once, and where it leads at best.

    As far as the aft limit of the wanted pack and combination, from no further forward than
    that was looked for.
    """
    today, _ = today_setup(files)
    setup = own_setup(files, wanted.name)
    limit = limit_for(result.aft_limits, setup)
    goal, end = _goal(wanted, limit)
    searched = [] if limit is None else [step.balance_aft_mm for step in limit.steps]
    front = min(searched, default=-inf)
    return afresh(files.aeroplane, today, setup, goal, front, end is End.REACHED), end


def _is_there(climbed: "Climbed", fresh: "Climbed", changes: int) -> bool:
    """Return True if single changes have made all ``changes`` and come as far aft as afresh."""
    made = sum(step.kind in CHANGES for step in climbed.steps)
    if made < changes or not climbed.steps:
        return False
    return climbed.steps[-1].balance_aft_mm >= fresh.steps[-1].balance_aft_mm


@dataclass(frozen=True)
class Climbed:
    """Where a climb ends, its steps, why its first stop is none, and what it stops before."""

    end: End
    steps: tuple[Step, ...]
    skipped: Refused | None
    refused: Refused | None


def _climb(files: StudyFiles, fitness: Fitness, way: Way, end: End, wanted: SetUpResult) -> Climbed:
    """Fly the stops of a way one after another, as far as they may be flown."""
    if not way.stops:
        return Climbed(end, (), None, None)
    if not fitness.shows_something:
        refused = fitness.wanted_refusal(f"the wanted {wanted.name}")
        return Climbed(refused.end if refused else end, (), None, refused)
    predictor = fitness.predictor
    ready = [assemble(files.aeroplane, stop.setup) for stop in way.stops]
    order = mildest_first(files, wanted, fitness.recovery)
    flown = predictor.fly([(x, order) for x in ready], fitness.recovery)
    steps: list[Step] = []
    skipped = None
    for i, (stop, at, cases) in enumerate(zip(way.stops, ready, flown, strict=True)):
        last = i == len(ready) - 1 and end is End.REACHED
        refused = _refused(fitness, stop, at, cases, last)
        if refused is None:
            chosen, left_out = severest(cases, len(steps), fitness)
            if chosen is not None:
                seen = predictor.seen(at, chosen, wanted.trim.speed_mps)
                step = _step(stop, at, chosen, left_out, seen)
                unlike = unlike_words(stop.setup, own_setup(files, wanted.name))
                steps.append(replace(step, unlike=unlike, inside=fitness.inside(stop.setup, at)))
                continue
            case = fitness.too_high(next(x for x, why in left_out if why is End.TOO_HIGH))
            refused = Refused(End.TOO_HIGH, stop.what, at.weighed.balance_aft_mm, case)
        if i > 0 or len(ready) == 1 or stop.kind == AFRESH:
            return Climbed(refused.end, tuple(steps), skipped, refused)
        skipped = refused
    return Climbed(end, tuple(steps), skipped, None)


def _refused(
    fitness: Fitness, stop: Stop, at: Assembled, cases: list[CaseResult], last: bool
) -> Refused | None:
    """Return why a stop must not be flown at all; None where it may."""
    if last:
        found = fitness.wanted_refusal(stop.what)
        if found is not None:
            return found
    return fitness.refusal(stop.setup, at.weighed.balance_aft_mm, stop.what, cases)


def _step(
    stop: Stop,
    ready: Assembled,
    case: CaseResult,
    left_out: tuple[tuple[CaseResult, End], ...],
    seen: Prediction,
) -> Step:
    weighed = ready.weighed
    return Step(
        stop.kind,
        stop.what,
        weighed.balance_aft_mm,
        weighed.balance_pct_mac,
        stop.setup.pack,
        weighed.pack_aft_mm,
        weighed.added_weights,
        1000.0 * weighed.mass_kg,
        case,
        left_out,
        seen,
    )
