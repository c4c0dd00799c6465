"""How set-ups stand: the one recovery that stands for each, its worst manoeuvre, its outcome."""

from collections.abc import Iterable

from sim.judge import Outcome, outcome, worst
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult


def manoeuvres_of(setups: Iterable[SetUpResult]) -> dict[str, str]:
    """Return name and title of the manoeuvres flown, in the order of the study."""
    return {c.manoeuvre: c.manoeuvre_title for s in setups for c in s.cases}


def recoveries_of(setups: Iterable[SetUpResult]) -> dict[str, str]:
    """Return name and title of the recoveries flown, in the order of the study."""
    return {c.recovery: c.recovery_title for s in setups for c in s.cases}


def _rank(case: CaseResult, required_share_pct: float) -> tuple[float, float, float]:
    """Return how good a case is: decided first, then by the share, then by the height it costs."""
    height = case.height_lost_m.median
    grade = -list(Outcome).index(outcome(case.shares, required_share_pct))
    share = case.shares.back / max(case.shares.flights, 1)
    return grade, share, -1e9 if height is None else -height


def competing(cases: Iterable[CaseResult]) -> dict[str, list[CaseResult]]:
    """Return the cases of each recovery that may stand for a set-up, by its name.

    Only those flown after as many manoeuvres as any.
    """
    by_recovery: dict[str, list[CaseResult]] = {}
    for case in cases:
        by_recovery.setdefault(case.recovery, []).append(case)
    most = max((len(own) for own in by_recovery.values()), default=0)
    return {name: own for name, own in by_recovery.items() if len(own) == most}


def best_recovery(setup: SetUpResult, required_share_pct: float) -> tuple[CaseResult, ...]:
    """Return the cases of the best single recovery: the one whose worst manoeuvre is best.

    It is the one that stands for the set-up everywhere: in the headline, in every table
    and on its card. Only recoveries flown after every manoeuvre compete, where there is
    one; equal ones are told apart by the manoeuvres together, then by their order.
    """
    return best_of(setup.cases, required_share_pct)


def best_of(cases: Iterable[CaseResult], required_share_pct: float) -> tuple[CaseResult, ...]:
    """Return those of a set-up's cases that are of its best single recovery."""
    every = list(competing(cases).values())
    ranks = [[_rank(c, required_share_pct) for c in own] for own in every]
    order = [(min(one), sum(share for _, share, _ in one)) for one in ranks]
    return tuple(every[order.index(max(order))]) if every else ()


def recovery_of(result: StudyResult, setup: SetUpResult) -> str:
    """Return the name of the one recovery that stands for a set-up that was flown."""
    return best_recovery(setup, result.required_share_pct)[0].recovery


def best_case(setup: SetUpResult, manoeuvre: str, required_share_pct: float) -> CaseResult | None:
    """Return the case of a manoeuvre by the set-up's best single recovery; None if not flown."""
    cases = best_recovery(setup, required_share_pct)
    return next((c for c in cases if c.manoeuvre == manoeuvre), None)


def failing_recoveries(setup: SetUpResult, required_share_pct: float) -> tuple[CaseResult, ...]:
    """Return, of each recovery flown that does not stand for a set-up, the case shown to fail.

    The one it does worst in; recoveries that meet the requirement, or may, are left out.
    """
    stands = {c.recovery for c in best_recovery(setup, required_share_pct)}
    out = []
    for name in recoveries_of([setup]):
        case = worst_case((c for c in setup.cases if c.recovery == name), required_share_pct)
        if name in stands or case is None:
            continue
        if outcome(case.shares, required_share_pct) is Outcome.NOT_MET:
            out.append(case)
    return tuple(out)


def worst_case(cases: Iterable[CaseResult], required_share_pct: float) -> CaseResult | None:
    """Return the case that stands worst; None without cases."""
    return min(cases, key=lambda c: _rank(c, required_share_pct), default=None)


def setup_outcome(setup: SetUpResult, required_share_pct: float) -> Outcome:
    """Return how a set-up stands, by its best single recovery in every manoeuvre.

    A manoeuvre that this recovery was not flown after leaves it undecided at best.
    """
    cases = best_recovery(setup, required_share_pct)
    stands = worst(outcome(c.shares, required_share_pct) for c in cases)
    missing = len(manoeuvres_of([setup])) > len(cases)
    return Outcome.OPEN if missing and stands is Outcome.MET else stands


def study_met(result: StudyResult) -> bool | None:
    """Return whether a study's requirement is met; None where the draws cannot tell.

    Where aft limits were asked for: every one of them was found. Otherwise: some set-up
    meets it in every manoeuvre by one recovery.
    """
    if result.aft_limits:
        return all(limit.aft_mm is not None for limit in result.aft_limits)
    outcomes = [setup_outcome(x, result.required_share_pct) for x in result.setups]
    if Outcome.MET in outcomes:
        return True
    return None if Outcome.OPEN in outcomes else False
