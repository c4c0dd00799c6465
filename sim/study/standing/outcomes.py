"""How set-ups stand: the one recovery that stands for each, its worst manoeuvre, its outcome."""

from collections.abc import Iterable
from math import ceil

import numpy as np

from sim.core import script_layout as s
from sim.judge import Outcome, looks_for, outcome, worst
from sim.study.cases import infinite_unless_back
from sim.study.result import CaseResult, SetUpResult, StudyResult


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


def best_recovery(setup: SetUpResult, required_share_pct: float) -> tuple[CaseResult, ...]:
    """Return the cases of the best single recovery: the one whose worst manoeuvre is best.

    It is the one that stands for the set-up everywhere: in the headline, in every table
    and on its card. Only recoveries flown after every manoeuvre compete, where there is
    one; equal ones are told apart by the manoeuvres together, then by their order.
    """
    by_recovery: dict[str, list[CaseResult]] = {}
    for case in setup.cases:
        by_recovery.setdefault(case.recovery, []).append(case)
    most = max((len(cases) for cases in by_recovery.values()), default=0)
    complete = [cases for cases in by_recovery.values() if len(cases) == most]
    ranks = [[_rank(c, required_share_pct) for c in cases] for cases in complete]
    order = [(min(one), sum(share for _, share, _ in one)) for one in ranks]
    return tuple(complete[order.index(max(order))]) if complete else ()


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
    found = worst(outcome(c.shares, required_share_pct) for c in cases)
    missing = len(manoeuvres_of([setup])) > len(cases)
    return Outcome.OPEN if missing and found is Outcome.MET else found


def study_met(result: StudyResult) -> bool | None:
    """Return whether a study's requirement is met; None where the draws cannot tell.

    Where aft limits were asked for: every one of them was found. Otherwise: some set-up
    meets it in every manoeuvre by one recovery.
    """
    if result.aft_limits:
        return all(limit.aft_mm is not None for limit in result.aft_limits)
    found = [setup_outcome(x, result.required_share_pct) for x in result.setups]
    if Outcome.MET in found:
        return True
    return None if Outcome.OPEN in found else False


def height_to_meet(case: CaseResult, required_share_pct: float, draws: int) -> float | None:
    """Return the entry height [m] from which a case's flights would meet the requirement.

    None where no height is enough: too many never came back, or too few were flown.

    Parameters
    ----------
    draws : int
        The most that the study flies; its limits are those of the case.
    """
    looks = looks_for(required_share_pct / 100.0, draws)
    n = case.shares.flights
    bearable = -1
    while bearable < n and looks.limits(n - bearable - 1, n)[0] >= required_share_pct / 100.0:
        bearable += 1
    if bearable < 0:
        return None
    needed = np.sort(infinite_unless_back(case.rows, s.R_DROP) + case.floor_m)
    height = float(needed[n - 1 - bearable]) if bearable < n else case.floor_m
    return height if np.isfinite(height) else None


def height_so_far(
    case: CaseResult, required_share_pct: float, draws: int
) -> tuple[float, int] | None:
    """Return the entry height [m] from which the share asked for of a case's flights came back.

    With how many they are. For a case with too few flights to show the share by any height;
    it says nothing of other draws, and so is no proof. None where more were flown, for which
    `height_to_meet` stands, or where too many never came back.
    """
    required, n = required_share_pct / 100.0, case.shares.flights
    back = ceil(required * n - 1e-9)
    if looks_for(required, draws).limits(n, n)[0] >= required:
        return None
    height = float(np.sort(infinite_unless_back(case.rows, s.R_DROP))[back - 1]) + case.floor_m
    return (height, back) if np.isfinite(height) else None


def rough_height(
    setup: SetUpResult, required_share_pct: float, draws: int
) -> tuple[float, int, CaseResult] | None:
    """Return the entry height [m] a set-up may need, with the flights it rests on.

    The most that any manoeuvre needs, surely or by its flights so far; of the one that
    needs most by too few flights, how many come back from there, and the case. None
    where height is not what is wrong, too many never came back, or all of it is sure.
    """
    cases = best_recovery(setup, required_share_pct)
    short = [c for c in cases if outcome(c.shares, required_share_pct) is not Outcome.MET]
    needs: list[tuple[float, CaseResult]] = []
    rough: list[tuple[float, CaseResult]] = []
    for case in short:
        so_far = height_so_far(case, required_share_pct, draws)
        sure = height_to_meet(case, required_share_pct, draws)
        need = so_far[0] if so_far is not None else sure
        if need is None:
            return None
        needs.append((need, case))
        if so_far is not None:
            rough.append((need, case))
    if not rough or all(need <= case.entry_m for need, case in needs):
        return None
    height = max(need for need, _ in needs)
    _, case = max(rough, key=lambda x: x[0] - x[1].entry_m)
    needed = infinite_unless_back(case.rows, s.R_DROP) + case.floor_m
    return height, int((needed <= height).sum()), case


def only_height(setup: SetUpResult, required_share_pct: float, draws: int) -> float | None:
    """Return the entry height [m] a set-up needs, where that is all that is wrong with it.

    The most that any manoeuvre needs, by the set-up's best recovery; None where it meets
    the requirement anyway, or where height would not help.
    """
    cases = best_recovery(setup, required_share_pct)
    short = [c for c in cases if outcome(c.shares, required_share_pct) is not Outcome.MET]
    needs = [height_to_meet(c, required_share_pct, draws) for c in short]
    known = [need for need in needs if need is not None]
    return max(known) if known and len(known) == len(needs) else None
