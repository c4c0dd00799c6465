"""The bench fit's least squares: constants that move no more than must be, within their spread."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import scipy

SDS = 2.0  # standard deviations in a spread
SETTLED = 1e-4  # of shares and of the sum of squares; a thousandth of what is told
STEP = 1e-3  # of the slopes, in shares of a spread
AT_END = 0.95  # share of a spread; from there a constant counts as at its end
FREED = 5.0  # spreads that such a one is then let go to, to see where it wants to

# how far off measurements (m,) are [sd] at shares (n,) of the spreads
Off = Callable[[np.ndarray], np.ndarray]


@dataclass(frozen=True)
class Strained:
    """A constant at the end of its spread, and where it would meet more if only it might go on.

    Both in the file's unit; ``share`` of its spread that ``wanted`` lies at.
    """

    name: str
    end: float
    wanted: float
    share: float


def least_moved(off: Off, costs: np.ndarray) -> np.ndarray:
    """Return the shares (n,) [-] of their spreads at which constants meet most and move least.

    Own: `scipy.optimize.least_squares` within bounds, the ends of the spreads; one whose moving
    costs nothing may go further.

    Parameters
    ----------
    costs : float array (n,)
        What a whole spread costs [sd].
    """

    def residual(shares: np.ndarray) -> np.ndarray:
        return np.concatenate([off(shares), costs * shares])

    ends = np.where(costs == 0.0, FREED, 1.0)
    return np.asarray(
        scipy.optimize.least_squares(
            residual, np.zeros(costs.size), lambda x: _slopes(residual, x), (-ends, ends),
            xtol=SETTLED, ftol=SETTLED,
        ).x
    )  # fmt: skip


def freed(off: Off, best: np.ndarray, which: int) -> float:
    """Return the share [-] of its spread at which one constant meets most, bound by nothing.

    Own: the same least squares, all others as improbable to move as before.
    """
    costs = np.where(np.arange(best.size) == which, 0.0, SDS)
    return float(least_moved(off, costs)[which])


def _slopes(function: Callable[[np.ndarray], np.ndarray], at: np.ndarray) -> np.ndarray:
    """Return the slopes (m, n) of a function [-]; own: differences inside the bounds."""
    out = []
    for i in range(at.size):
        step = np.zeros(at.size)
        step[i] = STEP if at[i] < 0.0 else -STEP
        out.append((function(at + step) - function(at)) / step[i])
    return np.array(out).T
