"""How well an aft limit is known: 95 % limits in millimetres, from all flights of its search.

The draws are the same at every balance point, so each draw has one balance point from
which, going aft, it is lost: its threshold. The search has bracketed every draw's threshold
between two balance points, or left it open aft of the last one flown. A logistic curve of
the share lost against balance is fitted to these brackets by maximum likelihood (interval
censoring: J. F. Lawless, *Statistical Models and Methods for Lifetime Data*, 2nd ed. 2003,
sec. 3.5, from memory); only the part near the limit counts, so that a far shape which is not
logistic does not bend it. Which draws a point flies depends only on how the same draws fared
elsewhere, so points that were given up early do no harm.

The limit that a search finds is the balance point at which one draw more is lost than the
requirement bears. The interval is for where that comes to lie over sets of draws: for the
balance point at which the curve says that losing so many is as likely as not. Its ends are
those of the profile likelihood (twice its logarithm falls by the 95 % point of chi square
with one degree of freedom).
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from math import floor

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.special import expit, logit
from scipy.stats import beta, chi2

from sim import tables
from sim.study.results.aft_limit import FirstLost

FALL = 0.5 * float(chi2.ppf(0.95, 1))  # of the log likelihood
WIDTHS, WITHIN = 33, 1e-3  # numerical only: how many at once, how close their logarithms


@dataclass(frozen=True)
class Interval:
    """95 % limits of an aft limit [mm]; an end that nothing bounds is None."""

    low_mm: float | None
    high_mm: float | None


def forward_mm(end_mm: float | None) -> int | None:
    """Return an end of an interval in whole mm, rounded forward: the one in which it is told.

    Forward is the side that keeps the aeroplane; an end that nothing bounds stays None.
    """
    return None if end_mm is None else floor(end_mm)


@dataclass(frozen=True)
class Brackets:
    """Between which balance points draws are first lost: (k,) each, with how many do so.

    ``low`` is -inf where a draw is lost at the foremost point flown, ``high`` +inf where
    it is lost at none.
    """

    low: np.ndarray
    high: np.ndarray
    count: np.ndarray


def first_lost(lost: Mapping[float, Mapping[int, bool]]) -> FirstLost:
    """Return where each draw is first lost, from, by balance point, which draws were lost there."""
    places = sorted(lost)
    which = sorted({n for at in lost.values() for n in at})
    ends = []
    for draw in which:
        low, high = -np.inf, np.inf
        for place in places:
            if draw not in lost[place]:
                continue
            if lost[place][draw]:
                high = place
                break
            low = place
        ends.append((low, high))
    lows, highs = np.array(ends, dtype=float).reshape(-1, 2).T
    return FirstLost(np.array(which, dtype=np.int64), lows, highs)


def brackets_of(lost: Mapping[float, Mapping[int, bool]]) -> Brackets:
    """Return the brackets of all draws from, by balance point, which draws were lost there."""
    found = first_lost(lost)
    counts = Counter(zip(found.low_mm.tolist(), found.high_mm.tolist(), strict=True))
    ends = np.array(list(counts), dtype=float).reshape(-1, 2)
    return Brackets(ends[:, 0], ends[:, 1], np.array(list(counts.values()), dtype=float))


def near(brackets: Brackets, share: float) -> Brackets:
    """Return the brackets with all that is lost beyond a share of the draws left open.

    The cut is the foremost balance point at which that share is known to be lost.
    """
    ends = np.unique(brackets.high[np.isfinite(brackets.high)])
    total = brackets.count.sum()
    cut = next((x for x in ends if brackets.count[brackets.high <= x].sum() >= share * total), None)
    if cut is None:
        return brackets
    beyond = brackets.high > cut
    high = np.where(beyond, np.inf, brackets.high)
    return Brackets(np.where(beyond, np.minimum(brackets.low, cut), brackets.low), high,
                    brackets.count)  # fmt: skip


def even_odds_share(bearable: int, draws: int) -> float:
    """Return the true share lost at which more than ``bearable`` of the draws are as likely as not.

    The median of the beta distribution that belongs to the binomial count.
    """
    return float(beta.ppf(0.5, bearable + 1, draws - bearable))


def limit_interval(
    lost: Mapping[float, Mapping[int, bool]], bearable: int, draws: int, reach_mm: float
) -> Interval:
    """Return the 95 % limits of an aft limit.

    Parameters
    ----------
    lost : mapping of balance point [mm] to mapping of draw to bool
        Which draws were lost where, for one manoeuvre and recovery.
    bearable, draws : int
        How many of how many draws may be lost at a point that passes.
    reach_mm : float
        How far beyond the balance points flown an end is still looked for.
    """
    brackets = near(brackets_of(lost), tables.study().fit_share)
    if not np.isfinite(brackets.high).any():
        return Interval(None, None)
    share = even_odds_share(bearable, draws)
    curve = _Curve(brackets, logit(share))
    known = np.concatenate([brackets.low, brackets.high])
    known = known[np.isfinite(known)]
    ends = float(known.min()) - reach_mm, float(known.max()) + reach_mm
    # the whole stretch first: one search of it may sit on a shoulder
    grid = np.linspace(*ends, 81)
    heights = curve.profile(grid)
    at = int(heights.argmax())
    beside = float(grid[max(at - 1, 0)]), float(grid[min(at + 1, grid.size - 1)])
    best = minimize_scalar(lambda x: -curve.profile_at(x), bounds=beside, method="bounded",
                           options={"xatol": 0.01})  # fmt: skip
    top = float(best.x) if -best.fun > heights[at] else float(grid[at])
    floor = max(-float(best.fun), float(heights[at])) - FALL
    half = 0.5 * tables.study().search_tolerance_mm
    low = _crossing(curve, floor, ends[0], top)
    high = _crossing(curve, floor, ends[1], top)
    # the search itself tells balance points apart only so finely
    return Interval(None if low is None else low - half, None if high is None else high + half)


class _Curve:
    """Log likelihood of a logistic curve through a share lost at a balance point."""

    def __init__(self, brackets: Brackets, level: float) -> None:
        """Fix the logit of the share lost at the balance point that is asked for."""
        self.ends = np.concatenate([brackets.high, brackets.low])
        self.count = brackets.count
        self.level = level
        values = tables.study()
        self.bounds = np.log([values.fit_least_width_mm, values.fit_most_width_mm])

    def profile_at(self, x: float) -> float:
        """Return the log likelihood with the share lost at ``x`` [mm], at its best width."""
        return float(self.profile(np.array([x]))[0])

    def profile(self, x: np.ndarray) -> np.ndarray:
        """Return the log likelihoods (n,) with the share lost at ``x`` (n,) [mm], side by side.

        Each at its own best width: the highest of a row of logarithms, and again finer about it.
        """
        low, high = self.bounds
        widths = np.linspace(low, high, WIDTHS)[None, :].repeat(x.size, 0)
        reach = (high - low) / (WIDTHS - 1)
        while True:
            heights = self.likelihood(x, widths)
            if reach < WITHIN:
                return heights.max(axis=1)
            best = np.take_along_axis(widths, heights.argmax(axis=1)[:, None], 1)
            widths = np.clip(best + np.linspace(-reach, reach, WIDTHS), low, high)
            reach *= 2.0 / (WIDTHS - 1)

    def likelihood(self, x: np.ndarray, widths: np.ndarray) -> np.ndarray:
        """Return log likelihoods (n, k) of curves through ``x`` (n,) [mm] with ln(widths/mm)."""
        away = (self.ends - x[:, None])[:, None, :]
        over = expit(self.level + away * np.exp(-widths)[:, :, None])
        share = over[..., : self.count.size] - over[..., self.count.size :]
        return np.log(np.maximum(share, 1e-300)) @ self.count


def _crossing(curve: _Curve, floor: float, end: float, top: float) -> float | None:
    """Return where between the top and an end the profile falls to the floor, if it does."""
    if curve.profile_at(end) >= floor or abs(end - top) < 1e-9:
        return None
    return float(brentq(lambda x: curve.profile_at(x) - floor, top, end, xtol=0.05))
