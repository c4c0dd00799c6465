"""How each draw's threshold goes with what was drawn: a line through brackets.

Each draw of a study has one balance point from which, going aft, it is lost (`limits.interval`);
the search has bracketed it, or left it open. Here that threshold is a line in the standard normal
draws plus a logistic rest, fitted to the brackets: regression on interval-censored data (J. F.
Lawless, *Statistical Models and Methods for Lifetime Data*, 2nd ed. 2003, ch. 6, from memory). With
about as many slopes as draws that tell, few of which matter, slopes are held back by a normal
prior. Its width and that of the rest are those that make the brackets likeliest, in Laplace's
approximation (D. J. C. MacKay, *Bayesian interpolation*, Neural Computation 4, 1992, from memory).
What the prior took off each slope is given back, with its error: else all would be told too small.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np
from scipy.special import expit

from sim.fly.columns import Floats

# numerical: steps of the search over widths, where it begins, its ends [mm]; brackets tell no less
FACTOR, FIRST, LEAST, MOST = 2.0**0.5, 4.0, 1.0, 200.0
ROUNDS, CLOSE, TINY, LEAST_LEFT = 60, 1e-6, 1e-300, 0.1

Widths = tuple[int, int]  # of rest and prior, in steps of FACTOR from FIRST


@dataclass(frozen=True)
class Thresholds:
    """Where draws are lost first: ``middle_mm`` + normal @ ``slopes_mm`` + a logistic rest.

    ``slopes_mm`` (n,) is mm a standard deviation of each draw, ``errors_mm`` (n,) one standard
    deviation of it; ``width_mm`` the width of the logistic rest.
    """

    middle_mm: float
    slopes_mm: Floats
    errors_mm: Floats
    width_mm: float

    @property
    def rest_mm2(self) -> float:
        """Variance of the logistic rest [mm2]: pi2/3 times its width squared."""
        return float(np.pi**2 / 3.0 * self.width_mm**2)


def fit_thresholds(low_mm: Floats, high_mm: Floats, normal: Floats) -> Thresholds:
    """Return the likeliest line through brackets.

    Parameters
    ----------
    low_mm, high_mm : float array (k,)
        Of each draw, the last balance point where it came back and the first where it was lost;
        -inf or +inf where there is none.
    normal : float array (k, n)
        The same draws, standard normal.
    """
    lines = np.column_stack([np.ones(len(normal)), normal])
    fits: dict[Widths, _Fit] = {}

    def fit(at: Widths) -> _Fit:
        if at not in fits:
            rest, prior = (min(MOST, max(LEAST, FIRST * FACTOR**i)) for i in at)
            fits[at] = _Fit(low_mm, high_mm, lines, rest, prior)
        return fits[at]

    best = 0, 0
    for _ in range(ROUNDS):
        around = [(best[0] + i, best[1] + j) for i, j in product((0, 1, -1), repeat=2)]
        better = max(around, key=lambda at: fit(at).evidence)
        if fit(better).evidence <= fit(best).evidence + CLOSE:
            break
        best = better
    found = fit(best)
    held = np.diag(np.linalg.inv(found.curvature))[1:]
    # undone for each slope alone: what a normal prior leaves of it, as draws hardly go together
    left = np.maximum(LEAST_LEFT, 1.0 - held * found.prior[1:])
    return Thresholds(float(found.at[0]), found.at[1:] / left, np.sqrt(held / left), found.rest)


class _Fit:
    """The line through brackets with a rest and a prior of given widths [mm], by Newton's steps.

    The logarithm of a logistic curve's share is concave, so there is one top.
    """

    def __init__(self, low: Floats, high: Floats, lines: Floats, rest: float, prior: float) -> None:
        self.low, self.high, self.lines, self.rest = low, high, lines, rest
        self.prior = np.full(lines.shape[1], prior**-2.0)
        self.prior[0] = 0.0
        known = np.concatenate([low, high])
        self.at = np.zeros(lines.shape[1])
        self.at[0] = known[np.isfinite(known)].max()
        self.top, slope, self.curvature = self._look(self.at)
        for _ in range(ROUNDS):
            step: Floats = np.linalg.solve(self.curvature, slope).astype(np.float64)
            gain = self._climb(step)
            _, slope, self.curvature = self._look(self.at)
            if gain < CLOSE:
                break

    def _climb(self, step: Floats) -> float:
        """Take a step, or half of it, and so on, until it leads up; return by how much it did."""
        for _ in range(ROUNDS):
            top = self._look(self.at + step)[0]
            if top >= self.top:
                gain, self.top = top - self.top, top
                self.at = self.at + step
                return gain
            step = 0.5 * step
        return 0.0

    @cached_property
    def evidence(self) -> float:
        """Logarithm of how likely the brackets are with these widths, but for a constant."""
        _, spread = np.linalg.slogdet(self.curvature)
        return float(self.top + 0.5 * np.log(self.prior[1:]).sum() - 0.5 * spread)

    def _look(self, at: Floats) -> tuple[float, Floats, Floats]:
        """Return the log likelihood with its prior, its slope (n,), and minus its bend (n, n)."""
        line = self.lines @ at
        (high, high_slope, high_bend), (low, low_slope, low_bend) = (
            _logistic((end - line) / self.rest) for end in (self.high, self.low)
        )
        share = np.maximum(high - low, TINY)
        first = (low_slope - high_slope) / self.rest / share
        second = (high_bend - low_bend) / self.rest**2 / share - first**2
        top = float(np.log(share).sum() - 0.5 * (self.prior * at * at).sum())
        # a library that spreads so little work over the cores takes a hundred times as long
        bend = np.diag(self.prior)
        bend -= np.einsum("ki,kj->ij", second[:, None] * self.lines, self.lines)
        return top, self.lines.T @ first - self.prior * at, bend


def _logistic(u: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the logistic function (k,), its slope and its bend."""
    share = expit(u)
    slope = share * (1.0 - share)
    return share, slope, slope * (1.0 - 2.0 * share)
