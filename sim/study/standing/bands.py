"""The band of balance points that met the requirement, and what stands against it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from sim import tables
from sim.judge import Outcome, outcome
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.outcomes import best_recovery, manoeuvres_of, setup_outcome

Percent = Callable[[float], float]
WORST_LAST = list(Outcome)


@dataclass(frozen=True)
class Band:
    """From where to where [mm aft] a pack and combination met what the study asks.

    ``limit`` is the search that found it; None: the set-ups flown stand for it, ``setups``
    by name, and nothing is known between them. ``open``: nothing failed, but the draws are
    too few. ``against`` holds what speaks against it: cases inside it that do not meet the
    requirement. ``unsearched`` are manoeuvres of the study that the search left out.
    """

    pack: str
    front_mm: float | None
    aft_mm: float | None
    manoeuvres: tuple[str, ...]
    recoveries: tuple[str, ...]
    limit: AftLimit | None
    setups: tuple[str, ...]
    at_end: bool
    open: bool = False
    against: tuple[tuple[SetUpResult, CaseResult], ...] = ()
    unsearched: tuple[str, ...] = ()


def combination_of(setup: SetUpResult) -> tuple[str, ...]:
    """Return what is the same in set-ups that differ in pack and balance at most."""
    return setup.weights, setup.throws, setup.nozzle, setup.gyro


def bands(result: StudyResult) -> list[Band]:
    """Return the band of each pack and combination: from its search, else from its set-ups."""
    out = [_searched(result, limit) for limit in result.aft_limits]
    searched = {(limit.pack, name) for limit in result.aft_limits for name in limit.setups}
    groups: dict[tuple[str, ...], list[SetUpResult]] = {}
    for x in result.setups:
        if (x.pack, x.name) not in searched:
            groups.setdefault((x.pack, *combination_of(x)), []).append(x)
    return out + [_flown(flown, result.required_share_pct) for flown in groups.values()]


def own_limit(limits: Sequence[AftLimit], setup: SetUpResult) -> AftLimit | None:
    """Return the aft limit searched for a set-up's own pack and combination, None if none was."""
    return next((x for x in limits if x.pack == setup.pack and setup.name in x.setups), None)


def same_balance(one_mm: float, two_mm: float) -> bool:
    """Return True if two balance points [mm] cannot be told apart."""
    return abs(one_mm - two_mm) < tables.card().same_balance_mm


def aft_of(balance_mm: float, limit: AftLimit | None) -> bool:
    """Return True if a balance point lies aft of a limit, or the limit was not found at all."""
    if limit is None:
        return False
    if limit.aft_mm is None:
        return True
    return balance_mm > limit.aft_mm and not same_balance(balance_mm, limit.aft_mm)


def front_of(limit: AftLimit) -> float | None:
    """Return the foremost balance point shown to meet the requirement [mm], None if none does."""
    if limit.aft_mm is None:
        return None
    if limit.from_mm is not None:
        return limit.from_mm
    passed = [s.balance_aft_mm for s in limit.steps if s.complete and s.recovery == limit.recovery]
    return min([*passed, limit.aft_mm])


def beyond_reach(limit: AftLimit) -> tuple[list[float], list[float]]:
    """Return the balance points flown ahead of, and behind, what the pack's tray reaches [mm]."""
    if limit.reach_mm is None:
        return [], []
    near = tables.card().same_balance_mm
    places = sorted({step.balance_aft_mm for step in limit.steps})
    front, rear = limit.reach_mm
    return [x for x in places if x < front - near], [x for x in places if x > rear + near]


def behind_limit(setup: SetUpResult, result: StudyResult) -> AftLimit | None:
    """Return the aft limit that a set-up which meets the requirement lies aft of, if any."""
    limit = own_limit(result.aft_limits, setup)
    if limit is None or not aft_of(setup.balance_aft_mm, limit):
        return None
    met = setup_outcome(setup, result.required_share_pct) is Outcome.MET
    return limit if met else None


def held_by_another(setup: SetUpResult, result: StudyResult) -> AftLimit | None:
    """Return the aft limit of a set-up that is not met though forward of it, if any.

    It holds by a recovery that does not stand for the set-up.
    """
    limit = own_limit(result.aft_limits, setup)
    if limit is None or limit.aft_mm is None or setup.balance_aft_mm > limit.aft_mm:
        return None
    required = result.required_share_pct
    stands = {c.recovery for c in best_recovery(setup, required)}
    met = setup_outcome(setup, required) is Outcome.MET
    return None if met or limit.recovery in stands else limit


def _searched(result: StudyResult, limit: AftLimit) -> Band:
    front, names = front_of(limit), manoeuvres_of(result.setups)
    band = Band(
        pack=limit.pack,
        front_mm=front,
        aft_mm=limit.aft_mm,
        manoeuvres=limit.manoeuvres,
        recoveries=(limit.recovery,),
        limit=limit,
        setups=limit.setups,
        at_end=limit.at_end,
        unsearched=tuple(name for name in names if name not in limit.manoeuvres),
    )
    own = [x for x in result.setups if own_limit(result.aft_limits, x) is limit]
    against = tuple(
        (x, c)
        for x in own
        for c in best_recovery(x, result.required_share_pct)
        if _inside(band, x) and outcome(c.shares, result.required_share_pct) is Outcome.NOT_MET
    )
    return replace(band, against=against)


def _flown(setups: list[SetUpResult], required: float) -> Band:
    """Return the band from the foremost set-up to the last before one that is not met."""
    ordered = sorted(setups, key=lambda x: x.balance_aft_mm)
    outcomes = [setup_outcome(x, required) for x in ordered]
    met = next((i for i, o in enumerate(outcomes) if o is not Outcome.MET), len(outcomes))
    by = {c.recovery: None for x in ordered[:met] for c in best_recovery(x, required)}
    return Band(
        pack=ordered[0].pack,
        front_mm=ordered[0].balance_aft_mm if met else None,
        aft_mm=ordered[met - 1].balance_aft_mm if met else None,
        manoeuvres=tuple(manoeuvres_of(ordered)),
        recoveries=tuple(by),
        limit=None,
        setups=tuple(x.name for x in ordered),
        at_end=met == len(ordered),
        open=outcomes[0] is Outcome.OPEN,
    )


def _inside(band: Band, setup: SetUpResult) -> bool:
    if band.front_mm is None or band.aft_mm is None:
        return False
    near = tables.card().same_balance_mm
    return band.front_mm - near <= setup.balance_aft_mm <= band.aft_mm + near


def standing(result: StudyResult) -> list[SetUpResult]:
    """Return the set-ups that meet the requirement, or may."""
    required = result.required_share_pct
    return [x for x in result.setups if setup_outcome(x, required) is not Outcome.NOT_MET]


def shown_setup(result: StudyResult) -> SetUpResult | None:
    """Return the set-up that a picture shows: today's, where it is one of those flown.

    Else one inside its band before any other, then the one that stands best, then the one
    furthest aft.
    """
    now = next((x for x in result.setups if x.name == result.today), None)
    if now is not None:
        return now
    every = bands(result)

    def rank(x: SetUpResult) -> tuple[bool, int, float]:
        own = (band for band in every if band.pack == x.pack and x.name in band.setups)
        inside = any(_inside(band, x) for band in own)
        grade = -WORST_LAST.index(setup_outcome(x, result.required_share_pct))
        return inside, grade, x.balance_aft_mm

    return max(result.setups, key=rank, default=None)


def percent_line(result: StudyResult) -> Percent | None:
    """Return mm aft to % MAC from what the study itself tells; None if it tells too little."""
    pairs = {x.balance_aft_mm: x.balance_pct_mac for x in result.setups}
    for limit in result.aft_limits:
        if limit.aft_mm is not None and limit.pct_mac is not None:
            pairs.setdefault(limit.aft_mm, limit.pct_mac)
    if len(pairs) < 2:
        return None
    low, high = min(pairs), max(pairs)
    slope = (pairs[high] - pairs[low]) / (high - low)
    return lambda mm: pairs[low] + slope * (mm - low)
