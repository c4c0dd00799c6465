"""The band of balance points that met the requirement, and the best single recovery."""

from collections.abc import Callable
from dataclasses import dataclass
from statistics import fmean

from sim.describe.study import LEAST_DRAWS_FOR_A_LIMIT
from sim.study.standing import Outcome, manoeuvres_of, outcome, worst
from sim.study.result import AftLimit, CaseResult, SetUpResult, StudyResult

Percent = Callable[[float], float]
WORST_LAST = list(Outcome)


@dataclass(frozen=True)
class Window:
    """From where to where [mm aft] a pack met what the study asks; None: nowhere.

    ``searched``: found by the search for the aft limit, in its manoeuvres; otherwise the
    set-ups flown stand for it, and nothing is known between them. ``at_end``: it was met
    as far aft as anything was tried. ``open``: nothing failed, but the draws are too few.
    """

    pack: str
    front_mm: float | None
    aft_mm: float | None
    manoeuvres: tuple[str, ...]
    recovery: str
    searched: bool
    at_end: bool
    open: bool = False


def windows(result: StudyResult) -> list[Window]:
    """Return the band of each pack: from its search, else from its set-ups."""
    out = [_searched(limit) for limit in result.aft_limits]
    known = {window.pack for window in out}
    recovery = best_single_recovery(result)
    for pack in dict.fromkeys(x.pack for x in result.setups):
        if pack not in known and recovery is not None:
            flown = [x for x in result.setups if x.pack == pack]
            out.append(_flown(pack, flown, recovery, result.required_share_pct))
    return out


def _searched(limit: AftLimit) -> Window:
    passed = [s.balance_aft_mm for s in limit.steps if s.complete and s.recovery == limit.recovery]
    front = min([*passed, limit.aft_mm]) if limit.aft_mm is not None else None
    return Window(
        limit.pack, front, limit.aft_mm, limit.manoeuvres, limit.recovery, True, limit.at_end
    )


def _flown(pack: str, setups: list[SetUpResult], recovery: str, required: float) -> Window:
    """Return the band from the foremost set-up to the last before one that is not met."""
    ordered = sorted(setups, key=lambda x: x.balance_aft_mm)
    found = [recovery_outcome(x, recovery, required) for x in ordered]
    met = next((i for i, o in enumerate(found) if o is not Outcome.MET), len(found))
    names = tuple(manoeuvres_of(ordered))
    if met == 0:
        undecided = found[0] is Outcome.OPEN
        return Window(pack, None, None, names, recovery, False, False, undecided)
    ends = ordered[0].balance_aft_mm, ordered[met - 1].balance_aft_mm
    return Window(pack, *ends, names, recovery, False, met == len(ordered))


def recovery_outcome(setup: SetUpResult, recovery: str, required_share_pct: float) -> Outcome:
    """Return how a set-up stands with one recovery, by its worst manoeuvre."""
    cases = [c for c in setup.cases if c.recovery == recovery]
    return worst(outcome(c.shares, required_share_pct) for c in cases)


def best_single_recovery(result: StudyResult) -> str | None:
    """Return the recovery that brings most back over all set-ups, each by its worst manoeuvre.

    Only recoveries flown after every manoeuvre compete, where there is one; equal ones are
    told apart by the height they cost. None where nothing was flown.
    """
    cases = [c for x in result.setups for c in x.cases]
    after: dict[str, set[str]] = {}
    for c in cases:
        after.setdefault(c.recovery, set()).add(c.manoeuvre)
    most = max((len(names) for names in after.values()), default=0)

    def rank(recovery: str) -> tuple[float, float]:
        flown = [[c for c in x.cases if c.recovery == recovery] for x in result.setups]
        low = fmean(min(c.shares.back_low for c in group) for group in flown if group)
        heights = [c.height_lost_m.median for group in flown for c in group]
        known = [h for h in heights if h is not None]
        return low, -fmean(known) if known else -1e9

    competing = [name for name, names in after.items() if len(names) == most]
    return max(competing, key=rank, default=None)


def standing(result: StudyResult, recovery: str) -> list[SetUpResult]:
    """Return the set-ups that meet the requirement with a recovery, or may."""
    required = result.required_share_pct
    return [
        x for x in result.setups if recovery_outcome(x, recovery, required) is not Outcome.NOT_MET
    ]


def shown_setup(result: StudyResult) -> SetUpResult | None:
    """Return the set-up that a picture shows.

    One inside its pack's band before any other, then the one that stands best, then the
    one furthest aft.
    """
    recovery = best_single_recovery(result)
    if recovery is None:
        return None
    required, bands = result.required_share_pct, {w.pack: w for w in windows(result)}

    def rank(x: SetUpResult) -> tuple[bool, int, float]:
        found = recovery_outcome(x, recovery, required)
        return _inside(bands[x.pack], x), -WORST_LAST.index(found), x.balance_aft_mm

    return max(result.setups, key=rank)


def _inside(window: Window, setup: SetUpResult) -> bool:
    if window.front_mm is None or window.aft_mm is None:
        return False
    return window.front_mm - 0.5 <= setup.balance_aft_mm <= window.aft_mm + 0.5


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


def manoeuvre_cases(setups: list[SetUpResult], recovery: str) -> dict[str, list[CaseResult]]:
    """Return the cases flown with a recovery, by manoeuvre."""
    out: dict[str, list[CaseResult]] = {}
    for x in setups:
        for c in x.cases:
            if c.recovery == recovery:
                out.setdefault(c.manoeuvre, []).append(c)
    return out


def few_draws(result: StudyResult) -> bool:
    """Return True where too few draws were flown to state a 95 % limit."""
    return result.draws < LEAST_DRAWS_FOR_A_LIMIT
