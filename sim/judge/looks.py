"""When enough draws have been flown: a group-sequential rule with exact error rates.

A case flies its draws in chunks that double, and is looked at after each. Looking again
and again at ordinary 95 % limits would call a border case too often, so the limits are
widened until the chance of ever crossing the share asked for, where the true share is
just that, is at most 2.5 % on either side (study.toml). The chance is summed up exactly, draw
count by draw count (a walk of binomial steps over the looks, those that crossed taken out; the
method of [armitage1969], from memory).
"""

from dataclasses import dataclass
from functools import lru_cache
from math import floor

import numpy as np

from sim import tables
from sim.judge.confidence import NORMAL_95, wilson

WIDEST = 12.0  # normal quantile at which nothing is ever decided


@dataclass(frozen=True)
class Looks:
    """After how many draws a case is looked at, and how its limits are set then.

    ``z_low`` and ``z_high`` are the normal quantiles of the lower and the upper Wilson
    limit; with one look only they are as near the usual 1.96 as the counts allow.
    """

    required: float
    counts: tuple[int, ...]
    z_low: float
    z_high: float

    def limits(self, back: int, flights: int) -> tuple[float, float]:
        """Return the lower and upper limit of the share of ``flights`` that came back."""
        return wilson(back, flights, self.z_low)[0], wilson(back, flights, self.z_high)[1]


def look_counts(most: int) -> tuple[int, ...]:
    """Return after how many draws a case is looked at: doubling, up to ``most``."""
    counts, first = [most], tables.study().looks_first_draws
    while counts[0] > first and counts[0] % 2 == 0:
        counts.insert(0, counts[0] // 2)
    return tuple(counts)


@lru_cache(maxsize=64)
def looks_for(required: float, most: int) -> Looks:
    """Return the rule for a share asked for (0 to 1) and the most draws a case may fly."""
    counts = look_counts(most)
    low = _quantile(required, counts, lower=True)
    return Looks(required, counts, low, _quantile(required, counts, lower=False))


def can_show(required: float, most: int) -> bool:
    """Return True if the rule can show a share (0 to 1) at all: with every draw back."""
    low = _quantile(required, look_counts(most), lower=True)
    return wilson(most, most, low)[0] >= required


@lru_cache(maxsize=64)
def least_draws(required: float) -> int:
    """Return the least number of draws that can show a share (0 to 1) [-]: 73 for 0.95.

    Wilson's lower limit [wilson1927] of n of n is n / (n + z^2), so that no fewer than
    z^2 required / (1 - required) will do; widened limits may ask for more.
    """
    most = max(1, floor(required / (1.0 - required) * NORMAL_95**2))
    while not can_show(required, most):
        most += 1
    return most


def most_lost(looks: Looks, count: int | None = None) -> int:
    """Return how many of ``count`` draws may be lost with the lower limit still at the share.

    Of the most draws where no count is given. -1 where even none lost is not enough, as with
    fewer than 73 draws for 95 %.
    """
    draws, lost = count or looks.counts[-1], -1
    while lost + 1 <= draws and looks.limits(draws - lost - 1, draws)[0] >= looks.required:
        lost += 1
    return lost


def crossing(required: float, counts: tuple[int, ...], z: float, lower: bool, p: float) -> float:
    """Return the chance that limits of quantile ``z`` ever cross the share asked for [-].

    Summed up exactly, look by look, those that crossed taken out [armitage1969].

    Parameters
    ----------
    required : float
        The share asked for.
    lower : bool
        True: the lower limit comes to lie at or above it (met); False: the upper below it.
    p : float
        The true share.
    """
    from scipy.stats import binom  # half a second to import, and most commands ask for no share

    state, gone, before = np.ones(1), 0.0, 0
    for n in counts:
        steps = binom.pmf(np.arange(n - before + 1), n - before, p)
        state = np.convolve(state, steps)
        crossed = _crossed(required, n, z, lower)
        gone += float(state[crossed].sum())
        state[crossed] = 0.0
        before = n
    return gone


def _crossed(required: float, n: int, z: float, lower: bool) -> np.ndarray:
    """Return for 0 to n draws back whether the limit has crossed the share asked for."""
    ends = [wilson(back, n, z)[0 if lower else 1] for back in range(n + 1)]
    return np.array([end >= required if lower else end < required for end in ends])


def _quantile(required: float, counts: tuple[int, ...], lower: bool) -> float:
    """Return the least normal quantile [-], no less than the usual, that keeps the error rate.

    Own: the same widening at every look [armitage1969]; bisected.
    """
    low, high, error = NORMAL_95, WIDEST, tables.study().looks_error_share
    if crossing(required, counts, low, lower, required) <= error:
        return low
    while high - low > 1e-3:
        middle = 0.5 * (low + high)
        if crossing(required, counts, middle, lower, required) <= error:
            high = middle
        else:
            low = middle
    return high
