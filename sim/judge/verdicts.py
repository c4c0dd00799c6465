"""Verdicts: held, recovered, lost or unresolved, for any entry height and floor.

The heights are stored with each flight, so another height or floor needs no new flight.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from sim.core import script_layout as s
from sim.judge.confidence import wilson


class Verdict(StrEnum):
    """What became of one flight."""

    HELD = "held"
    RECOVERED = "recovered"
    LOST = "lost"
    UNRESOLVED = "unresolved"


# small codes for arrays, in the order of the enum
HELD, RECOVERED, LOST, UNRESOLVED = range(4)
NAMES = tuple(Verdict)


@dataclass(frozen=True)
class Shares:
    """How many flights of a case ended how.

    ``lost`` is ``never`` (did not come back at all) plus ``below_floor`` (came back, or
    never departed, but too low). ``back_low`` and ``back_high`` are the 95 % Wilson
    limits of held plus recovered among the resolved flights.
    """

    flights: int
    held: int
    recovered: int
    lost: int
    never: int
    below_floor: int
    unresolved: int
    back_low: float
    back_high: float

    @property
    def back(self) -> int:
        """Flights that held or came back above the floor."""
        return self.held + self.recovered


def verdict_codes(summaries: np.ndarray, entry_m: float, floor_m: float) -> np.ndarray:
    """Return the verdict code (n,) of each summary row (n, N_SUMMARY).

    A flight is lost if it did not come back to level, or if it used more height than
    lies between entry and floor, also where it never departed: the floor wins.
    """
    status = summaries[:, s.R_STATUS].astype(int)
    broken = (status == s.STATUS_BROKEN) | (status == s.STATUS_NO_TRIM)
    back = summaries[:, s.R_BACK] > 0.0
    high = summaries[:, s.R_DROP] <= entry_m - floor_m
    departed = summaries[:, s.R_DEPARTED] > 0.0
    good = np.where(departed, RECOVERED, HELD)
    return np.where(broken, UNRESOLVED, np.where(back & high, good, LOST))


def verdicts_of(summaries: np.ndarray, entry_m: float, floor_m: float) -> list[Verdict]:
    """Return the verdict of each summary row (n, N_SUMMARY)."""
    return [NAMES[code] for code in verdict_codes(summaries, entry_m, floor_m)]


def verdict_of(summary: np.ndarray, entry_m: float, floor_m: float) -> Verdict:
    """Return the verdict of one summary (N_SUMMARY,)."""
    return verdicts_of(summary[None, :], entry_m, floor_m)[0]


def shares_of(summaries: np.ndarray, entry_m: float, floor_m: float) -> Shares:
    """Return how the flights of a case ended, with limits on the share that came back."""
    codes = verdict_codes(summaries, entry_m, floor_m)
    held, recovered, lost, unresolved = (int((codes == k).sum()) for k in range(4))
    never = int(((codes == LOST) & (summaries[:, s.R_BACK] <= 0.0)).sum())
    low, high = wilson(held + recovered, held + recovered + lost)
    return Shares(len(codes), held, recovered, lost, never, lost - never, unresolved, low, high)
