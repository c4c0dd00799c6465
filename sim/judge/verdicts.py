"""Verdicts: held, recovered, lost or unresolved, for any entry height and floor, and why.

The heights are stored with each flight, so another height or floor needs no new flight.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from sim.core import script_layout as s
from sim.judge.confidence import wilson
from sim.judge.deep_stall import has_hung, hung_away, hung_for_most

Limits = Callable[[int, int], tuple[float, float]]


class Verdict(StrEnum):
    """What became of one flight."""

    HELD = "held"
    RECOVERED = "recovered"
    LOST = "lost"
    UNRESOLVED = "unresolved"


class Reason(StrEnum):
    """Why a flight is lost, or could not be resolved.

    ``ENTRY``: it came back, but the manoeuvre had used up the height before the first
    recovery input. ``SANK``: it never stalled nor departed, yet the recovery did not level it out:
    too little power or elevator for that. ``DEEP_STALL``: it never came back, and hung for most of
    the recovery;
    ``HUNG_LATE``: it came back, but what it sank while it hung put it below the floor.
    ``GUARD``: it left the angles, speeds and rates that can be computed; ``STEP``: its numbers
    ceased to be numbers.
    """

    NONE = ""
    NEVER = "never came back"
    SANK = "sank on unstalled, not levelled out by the recovery's power and elevator"
    DEEP_STALL = "hung in a deep stall"
    HUNG_LATE = "came back from a deep stall below the floor"
    BELOW_FLOOR = "came back below the floor"
    ENTRY = "the manoeuvre itself used the height"
    NO_TRIM = "no level flight to start from, at any speed looked at"
    GUARD = "left what can be computed"
    STEP = "the integration broke off"


# small codes for arrays, in the order of the enums
HELD, RECOVERED, LOST, UNRESOLVED = range(4)
NAMES = tuple(Verdict)
REASONS = tuple(Reason)


@dataclass(frozen=True)
class Shares:
    """How many flights of a case ended how, and why.

    ``lost`` is ``never`` plus ``below_floor`` plus ``entry_used``; ``unresolved`` is
    ``no_trim`` plus ``guard`` plus ``step``, and counts against. ``touched`` held, but
    went beyond the judge's high angle of attack for a moment. ``back_low`` and
    ``back_high`` are the 95 % limits of held plus recovered among all ``flights``.
    ``hung`` in a deep stall, whatever came of it; ``hung_never`` of ``never`` and
    ``hung_late`` of ``below_floor`` are lost for that reason; ``sank_never`` of ``never`` had
    never stalled. ``faster`` began at a multiple of their own slowest level flight, or
    as fast as they fly level, as they hold none at that multiple of the nominal stall speed.
    """

    flights: int
    held: int
    recovered: int
    lost: int
    never: int
    below_floor: int
    entry_used: int
    unresolved: int
    no_trim: int
    guard: int
    step: int
    touched: int
    back_low: float
    back_high: float
    hung: int = 0
    hung_never: int = 0
    hung_late: int = 0
    sank_never: int = 0
    faster: int = 0

    @property
    def back(self) -> int:
        """Flights that held or came back above the floor."""
        return self.held + self.recovered

    @property
    def reasons(self) -> dict[Reason, int]:
        """Why flights did not come back, the commonest first; reasons of none left out."""
        counts = {
            Reason.NEVER: self.never - self.hung_never - self.sank_never,
            Reason.SANK: self.sank_never,
            Reason.DEEP_STALL: self.hung_never,
            Reason.HUNG_LATE: self.hung_late,
            Reason.BELOW_FLOOR: self.below_floor - self.hung_late,
            Reason.ENTRY: self.entry_used,
            Reason.NO_TRIM: self.no_trim,
            Reason.GUARD: self.guard,
            Reason.STEP: self.step,
        }
        return {r: n for r, n in sorted(counts.items(), key=lambda item: -item[1]) if n}


def reason_codes(summaries: np.ndarray, entry_m: float, floor_m: float) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) where in `REASONS` (n,) its reason stands.

    A flight whose summary holds a number that is none is unresolved, whatever it says.
    """
    status = summaries[:, s.R_STATUS]
    odd = ~np.isfinite(summaries).all(axis=1)
    with np.errstate(invalid="ignore"):
        budget = entry_m - floor_m
        gone = ~(summaries[:, s.R_BACK] > 0.0)
        low = ~(summaries[:, s.R_DROP] <= budget)
        conditions = (
            (odd | (status == s.STATUS_NAN), Reason.STEP),
            (status == s.STATUS_NO_TRIM, Reason.NO_TRIM),
            (status == s.STATUS_BROKEN, Reason.GUARD),
            (gone & hung_for_most(summaries), Reason.DEEP_STALL),
            (gone & stayed_attached(summaries), Reason.SANK),
            (gone, Reason.NEVER),
            (~(summaries[:, s.R_DROP_ENTRY] <= budget), Reason.ENTRY),
            (low & hung_away(summaries, budget), Reason.HUNG_LATE),
            (low, Reason.BELOW_FLOOR),
        )
    return np.select(
        [holds for holds, _ in conditions], [REASONS.index(r) for _, r in conditions], 0
    )


def stayed_attached(summaries: np.ndarray) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether it neither stalled nor departed, all flight long.

    Its times [s] are negative where there was none.
    """
    calm = ~(summaries[:, s.R_DEPARTED] > 0.0)
    return calm & (summaries[:, s.R_T_STALL] < 0.0)


def verdict_codes(summaries: np.ndarray, entry_m: float, floor_m: float) -> np.ndarray:
    """Return the verdict code (n,) of each summary row (n, N_SUMMARY).

    A flight is lost if it did not come back to level, or if it used more height than
    lies between entry and floor, also where it never departed: the floor wins.
    """
    why = reason_codes(summaries, entry_m, floor_m)
    good = np.where(summaries[:, s.R_DEPARTED] > 0.0, RECOVERED, HELD)
    unresolved = why >= REASONS.index(Reason.NO_TRIM)
    return np.where(unresolved, UNRESOLVED, np.where(why > 0, LOST, good))


def verdicts_of(summaries: np.ndarray, entry_m: float, floor_m: float) -> list[Verdict]:
    """Return the verdict of each summary row (n, N_SUMMARY)."""
    return [NAMES[code] for code in verdict_codes(summaries, entry_m, floor_m)]


def reasons_of(summaries: np.ndarray, entry_m: float, floor_m: float) -> list[Reason]:
    """Return why each summary row (n, N_SUMMARY) did not come back."""
    return [REASONS[code] for code in reason_codes(summaries, entry_m, floor_m)]


def verdict_of(summary: np.ndarray, entry_m: float, floor_m: float) -> Verdict:
    """Return the verdict of one summary (N_SUMMARY,)."""
    return verdicts_of(summary[None, :], entry_m, floor_m)[0]


def is_resolved(summaries: np.ndarray) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether the flight could be resolved at all."""
    return reason_codes(summaries, np.inf, 0.0) < REASONS.index(Reason.NO_TRIM)


def is_back(summaries: np.ndarray, entry_m: float, floor_m: float) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether it held or came back above the floor."""
    return reason_codes(summaries, entry_m, floor_m) == 0


def shares_of(
    summaries: np.ndarray, entry_m: float, floor_m: float, limits: Limits = wilson
) -> Shares:
    """Return how the flights of a case ended, with limits on the share that came back.

    Parameters
    ----------
    limits : callable
        From flights back and flights in all to the limits of the share; that of a
        `looks.Looks` where the flights were looked at more than once.
    """
    codes = verdict_codes(summaries, entry_m, floor_m)
    why = reason_codes(summaries, entry_m, floor_m)
    held, recovered, lost, unresolved = (int((codes == k).sum()) for k in range(4))
    never, sank, hung_never, hung_late, below, entry, no_trim, guard, step = (
        int((why == k).sum()) for k in range(1, len(REASONS))
    )
    touched = int(((codes == HELD) & (summaries[:, s.R_HIGH_FOR] > 0.0)).sum())
    low, high = limits(held + recovered, len(codes))
    return Shares(
        flights=len(codes),
        held=held,
        recovered=recovered,
        lost=lost,
        never=never + sank + hung_never,
        below_floor=below + hung_late,
        entry_used=entry,
        unresolved=unresolved,
        no_trim=no_trim,
        guard=guard,
        step=step,
        touched=touched,
        back_low=low,
        back_high=high,
        hung=int(has_hung(summaries).sum()),
        hung_never=hung_never,
        hung_late=hung_late,
        sank_never=sank,
        faster=int((summaries[:, s.R_FASTER] != 0.0).sum()),
    )
