"""Which case stands for a set-up: the best recovery, and the worst manoeuvre under it."""

from collections.abc import Iterable
from enum import StrEnum

from sim.judge import Shares
from sim.study.result import CaseResult, SetUpResult


class Outcome(StrEnum):
    """How a share stands against the share asked for.

    ``MET``: the lower 95 % limit is at or above it; ``NOT_MET``: the upper one is below
    it; ``OPEN``: the draws flown cannot tell.
    """

    MET = "met"
    OPEN = "undecided"
    NOT_MET = "not met"


def outcome(shares: Shares, required_share_pct: float) -> Outcome:
    """Return how the share that came back stands against the one asked for [%]."""
    need = required_share_pct / 100.0
    if shares.back_low >= need:
        return Outcome.MET
    return Outcome.NOT_MET if shares.back_high < need else Outcome.OPEN


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """Return the least good of some outcomes; met where there are none."""
    order = list(Outcome)
    return max(outcomes, key=order.index, default=Outcome.MET)


def manoeuvres_of(setups: Iterable[SetUpResult]) -> dict[str, str]:
    """Return name and title of the manoeuvres flown, in the order of the study."""
    return {c.manoeuvre: c.manoeuvre_title for s in setups for c in s.cases}


def recoveries_of(setups: Iterable[SetUpResult]) -> dict[str, str]:
    """Return name and title of the recoveries flown, in the order of the study."""
    return {c.recovery: c.recovery_title for s in setups for c in s.cases}


def _rank(case: CaseResult) -> tuple[float, float, float]:
    height = case.height_lost_m.median
    return case.shares.back_low, case.shares.back_high, -1e9 if height is None else -height


def best_case(setup: SetUpResult, manoeuvre: str) -> CaseResult | None:
    """Return the case of a manoeuvre whose recovery brings most flights back.

    Equal shares are told apart by the height the recovery costs.
    """
    return max((c for c in setup.cases if c.manoeuvre == manoeuvre), key=_rank, default=None)


def best_recovery(setup: SetUpResult) -> tuple[CaseResult, ...]:
    """Return the cases of the best single recovery: the one whose worst manoeuvre is best.

    Only recoveries flown after every manoeuvre of the set-up compete, where there is one.
    """
    by_recovery: dict[str, list[CaseResult]] = {}
    for case in setup.cases:
        by_recovery.setdefault(case.recovery, []).append(case)
    most = max((len(cases) for cases in by_recovery.values()), default=0)
    complete = [cases for cases in by_recovery.values() if len(cases) == most]
    return tuple(max(complete, key=lambda cases: min(_rank(c) for c in cases), default=[]))


def worst_case(cases: Iterable[CaseResult]) -> CaseResult | None:
    """Return the case with the lowest share that came back; None without cases."""
    return min(cases, key=_rank, default=None)
