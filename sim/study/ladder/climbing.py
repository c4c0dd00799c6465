"""Flying a way stop by stop, as far as it may be flown: the steps of a ladder."""

from dataclasses import dataclass

from sim.pack.assemble import Assembled, assemble
from sim.study.combinations import own_setup
from sim.study.forward import Fast
from sim.study.ladder.fit import End, Fitness, Refused, severest
from sim.study.ladder.predictions import Prediction, mildest_first
from sim.study.ladder.way import AFRESH, Stop, Way, unlike_words
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import CaseResult


@dataclass(frozen=True)
class Step:
    """One test flight: what is changed for it, where it balances, what is flown and seen.

    ``case`` is the manoeuvre to fly, judged from the entry height that the ceiling allows;
    ``left_out`` the ones whose turn it was but which must not be flown here, and why.
    ``unlike`` says what but pack and balance is not yet as in the wanted set-up; ``inside`` is
    the aft limit of the step's own pack and combination, where the step lies in its 95 % limits.
    ``fast`` is how it is landed where it lies forward of its forward limit.
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
    unlike: tuple[str, ...]
    inside: AftLimit | None
    fast: Fast | None = None


@dataclass(frozen=True)
class Climbed:
    """Where a climb ends, its steps, why its first stop is none, and what it stops before."""

    end: End
    steps: tuple[Step, ...]
    skipped: Refused | None
    refused: Refused | None


def climb(fitness: Fitness, way: Way, end: End) -> Climbed:
    """Fly the stops of a way one after another, as far as they may be flown, and no further."""
    if not way.stops:
        return Climbed(end, (), None, None)
    files, wanted, recovery = fitness.files, fitness.wanted, fitness.recovery
    if not fitness.shows_something:
        refused = fitness.wanted_refusal(f"the wanted {wanted.name}")
        return Climbed(refused.end if refused else end, (), None, refused)
    order = mildest_first(files, wanted, recovery)
    steps: list[Step] = []
    skipped = None
    for i, stop in enumerate(way.stops):
        at = assemble(files.aeroplane, stop.setup)
        (cases,) = fitness.predictor.fly([(at, order)], recovery)
        last = i == len(way.stops) - 1 and end is End.REACHED
        refused = _refused(fitness, stop, at, cases, last)
        if refused is None:
            chosen, left_out = severest(cases, len(steps), fitness)
            if chosen is not None:
                steps.append(_step(fitness, stop, at, chosen, left_out))
                continue
            case = fitness.too_high(next(x for x, why in left_out if why is End.TOO_HIGH))
            refused = Refused(End.TOO_HIGH, stop.what, at.weighed.balance_aft_mm, case)
        if i > 0 or len(way.stops) == 1 or stop.kind == AFRESH:
            return Climbed(refused.end, tuple(steps), skipped, refused)
        skipped = refused
    return Climbed(end, tuple(steps), skipped, None)


def _refused(
    fitness: Fitness, stop: Stop, at: Assembled, cases: list[CaseResult], last: bool
) -> Refused | None:
    """Return why a stop must not be flown at all; None where it may."""
    if last:
        refused = fitness.wanted_refusal(stop.what)
        if refused is not None:
            return refused
    return fitness.refusal(stop.setup, at.weighed.balance_aft_mm, stop.what, cases)


def _step(
    fitness: Fitness,
    stop: Stop,
    ready: Assembled,
    case: CaseResult,
    left_out: tuple[tuple[CaseResult, End], ...],
) -> Step:
    weighed, wanted = ready.weighed, fitness.wanted
    return Step(
        kind=stop.kind,
        what=stop.what,
        balance_aft_mm=weighed.balance_aft_mm,
        balance_pct_mac=weighed.balance_pct_mac,
        pack=stop.setup.pack,
        pack_aft_mm=weighed.pack_aft_mm,
        added_weights=weighed.added_weights,
        mass_g=1000.0 * weighed.mass_kg,
        case=case,
        left_out=left_out,
        seen=fitness.predictor.seen(ready, case, wanted.cruise_mps),
        unlike=unlike_words(
            fitness.files.aeroplane, stop.setup, own_setup(fitness.files, wanted.name)
        ),
        inside=fitness.inside(stop.setup, ready),
        fast=fitness.fast(stop.setup, weighed.balance_aft_mm),
    )
