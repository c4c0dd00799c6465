"""What heights decide: what a set-up needs to meet the requirement, and the ceiling there is."""

from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum

import numpy as np

from sim import tables
from sim.core import script_layout as s
from sim.describe import Study
from sim.judge import Outcome, looks_for, outcome, shares_of
from sim.study.flights.cases import infinite_unless_back
from sim.study.results.set_up import CaseResult


def ceiling_of(study: Study) -> float:
    """Return the most height [m] that may be used: the study's own, else the usual (card.toml)."""
    return tables.card().ceiling_m if study.ceiling_m is None else study.ceiling_m


class Budget(StrEnum):
    """How the entry height from which a manoeuvre is shown stands against the height there is.

    ``ABOVE``: the study's entry height is enough, but lies above the ceiling, and so does the
    need. ``SHORT``: the need lies below the ceiling, but above the study's
    entry height. ``UNSHOWN``: of those flown enough came back within both, and the draws show it
    from no height. ``NO``: none of these.
    """

    FITS = "fits"
    SHORT = "short"
    ABOVE = "above ceiling"
    UNSHOWN = "unshown"
    NO = "no"


def budget(case: CaseResult, ceiling: float, required_share_pct: float, draws: int) -> Budget:
    """Return how a manoeuvre stands against its entry height and the ceiling [m].

    By `height_to_meet`, the one height that is told to be flown from.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    """
    need = height_to_meet(case, required_share_pct, draws)
    if need is None:
        flown = quantile(needed_heights(case), required_share_pct / 100.0)
        return Budget.UNSHOWN if flown <= min(case.entry_m, ceiling) else Budget.NO
    if need <= case.entry_m:
        return Budget.FITS if need <= ceiling else Budget.ABOVE
    return Budget.SHORT if need <= ceiling else Budget.NO


def shown_from_all(cases: Sequence[CaseResult], required_share_pct: float, draws: int) -> float:
    """Return the entry height [m] that shows the worst of cases; infinite where none does.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    """
    needs = [height_to_meet(case, required_share_pct, draws) for case in cases]
    return max((np.inf if x is None else x for x in needs), default=np.inf)


def needed_heights(case: CaseResult) -> np.ndarray:
    """Return each flight's entry height needed (n,) [m], infinite where it never came back."""
    return infinite_unless_back(case.rows, s.R_DROP) + case.floor_m


def quantile(values: np.ndarray, share: float) -> float:
    """Return a quantile [same unit] that may be infinite, as the study's own tables take it."""
    if len(values) == 0:
        return np.inf
    return float(np.quantile(values, share, method="higher"))


def at_least_m(rows: np.ndarray, column: int, quantile: float) -> float | None:
    """Return a height [m] that a quantile exceeds, from rows (n, N_SUMMARY).

    Flights that never came back count with the height they had lost when the flight was
    ended, so the quantile of what is known lies below the true one. None without rows.
    """
    if len(rows) == 0:
        return None
    known = np.nan_to_num(rows[:, column], posinf=0.0, neginf=0.0)
    return float(np.quantile(known, quantile, method="inverted_cdf"))


def from_height(
    case: CaseResult, height_m: float, required_share_pct: float, draws: int
) -> CaseResult:
    """Return a case as its flights are judged from a height [m], or its own if that is lower.

    Parameters
    ----------
    draws : int
        The most that the study flies; its limits are those of the case.
    """
    looks = looks_for(required_share_pct / 100.0, draws)
    height = min(case.entry_m, height_m)
    shares = shares_of(case.rows, height, case.floor_m, looks.limits)
    return replace(case, entry_m=height, shares=shares)


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
    needed = np.sort(needed_heights(case))
    height = float(needed[n - 1 - bearable]) if bearable < n else case.floor_m
    return height if np.isfinite(height) else None


class Entry(StrEnum):
    """Whether a manoeuvre of a set-up may be entered, and what forbids it.

    ``FAILS``: it is shown not to meet the requirement. ``OPEN``: the draws cannot tell.
    ``NOT_HERE``: it meets it, but not from the ceiling. ``BARRED``: the set-up itself may
    not be flown. ``MAY``: by none of these.
    """

    FAILS = "fails"
    OPEN = "open"
    NOT_HERE = "not here"
    BARRED = "barred"
    MAY = "may"


def entry_of(
    case: CaseResult, required_share_pct: float, draws: int, height_m: float, may_be_flown: bool
) -> Entry:
    """Return whether a manoeuvre may be entered from the ceiling or the study's lower entry height.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    height_m : float
        The ceiling [m].
    may_be_flown : bool
        Whether the set-up may be flown at all.
    """
    stands = outcome(case.shares, required_share_pct)
    if stands is not Outcome.MET:
        return Entry.FAILS if stands is Outcome.NOT_MET else Entry.OPEN
    here = from_height(case, height_m, required_share_pct, draws)
    if outcome(here.shares, required_share_pct) is not Outcome.MET:
        return Entry.NOT_HERE
    return Entry.MAY if may_be_flown else Entry.BARRED
