"""Which flights of a study are kept for replay: a typical one and the worst of each set-up."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from sim.core import script_layout as s
from sim.judge import Verdict, verdicts_of
from sim.study.flights.again import FlightOfCase
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.outcomes import best_recovery, worst_case

TYPICAL, WORST = "typical", "worst"


class Kept(NamedTuple):
    """A flight kept, and why: ``kind`` is "typical" or "worst"."""

    kind: str
    flight: FlightOfCase


def _heights(case: CaseResult) -> np.ndarray:
    """Return the height lost (n,) of each flight [m], infinite where it never came back."""
    return np.where(case.rows[:, s.R_BACK] > 0.0, case.rows[:, s.R_HEIGHT_LOST], np.inf)


def _resolved(case: CaseResult) -> tuple[np.ndarray, np.ndarray]:
    """Return the rows (k,) that have a verdict, and whether each was lost (k,)."""
    verdicts = np.array(verdicts_of(case.rows, case.entry_m, case.floor_m))
    known = np.flatnonzero(verdicts != Verdict.UNRESOLVED)
    return known, verdicts[known] == Verdict.LOST


def typical_row(case: CaseResult) -> int | None:
    """Return the flight nearest the median height lost; None if no flight is resolved.

    Where the median flight never came back, so did not the one returned: it is the one
    with the median peak angle of attack among those.
    """
    known, _ = _resolved(case)
    if known.size == 0:
        return None
    heights = _heights(case)[known]
    middle = np.sort(heights)[heights.size // 2]
    if np.isfinite(middle):
        return int(known[np.argmin(np.abs(heights - middle))])
    never = known[~np.isfinite(heights)]
    order = np.argsort(case.rows[never, s.R_PEAK_ALPHA], kind="stable")
    return int(never[order[never.size // 2]])


def worst_row(case: CaseResult, other_than: int | None = None) -> int | None:
    """Return the worst flight but one: lost before not, then never back, then most height used."""
    known, lost = _resolved(case)
    never = case.rows[known, s.R_BACK] <= 0.0
    used = case.rows[known, s.R_DROP]
    for i in np.lexsort((used, never, lost))[::-1]:
        if known[i] != other_than:
            return int(known[i])
    return None


def kept_flights(result: StudyResult) -> list[Kept]:
    """Return a typical and the worst flight of each set-up, each under its best recovery.

    The typical ones are all of one manoeuvre, the hardest of the study, so that set-ups can
    be laid over each other; the worst is of the hardest manoeuvre of its own set-up.
    """
    asked = result.required_share_pct
    hardest = worst_case((c for x in result.setups for c in best_recovery(x, asked)), asked)
    if hardest is None:
        return []
    return [k for setup in result.setups for k in _of_setup(setup, hardest.manoeuvre, asked)]


def _of_setup(setup: SetUpResult, manoeuvre: str, asked: float) -> Iterator[Kept]:
    cases = best_recovery(setup, asked)
    own = worst_case(cases, asked)
    if own is None:
        return
    shared = next((c for c in cases if c.manoeuvre == manoeuvre), own)
    typical = typical_row(shared)
    if typical is not None:
        yield Kept(TYPICAL, FlightOfCase(setup.name, shared, typical))
    worst = worst_row(own, typical if own is shared else None)
    if worst is not None:
        yield Kept(WORST, FlightOfCase(setup.name, own, worst))
