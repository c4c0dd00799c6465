"""What chance alone would show: noise of a rank correlation, limits of a percentile."""

from collections.abc import Sequence
from math import sqrt

import numpy as np
from scipy.stats import binom, t

from sim.study.result import Factor

TWO_SIDED_95 = 0.975


def noise_level(draws: int) -> float:
    """Return the size a rank correlation of ``draws`` flights reaches by chance in 5 of 100.

    r = t / √(n - 2 + t²) with Student's t for n - 2 degrees of freedom, two-sided 95 %: the
    usual test of Spearman's correlation against none (Kendall and Stuart, *The Advanced
    Theory of Statistics*, vol. 2, ch. 31, from memory). 1 where there are too few flights.

    Set-ups and manoeuvres share their draws, so ``draws`` counts those, not all flights.
    """
    if draws < 4:
        return 1.0
    value = float(t.ppf(TWO_SIDED_95, draws - 2))
    return value / sqrt(draws - 2 + value**2)


def told_apart(factors: Sequence[Factor], draws: int) -> list[Factor]:
    """Return the factors stronger than the noise of so many draws, the strongest first."""
    noise = noise_level(draws)
    found = [f for f in factors if abs(f.correlation) > noise]
    return sorted(found, key=lambda f: -abs(f.correlation))


def quantile_limits(values: np.ndarray, share: float) -> tuple[float, float]:
    """Return 95 % limits of a quantile from values (n,), without assuming how they spread.

    Order statistics: the number of values below the true quantile is binomial. The upper
    limit is infinite where so few values cannot bound it.
    """
    n = len(values)
    if n == 0:
        return 0.0, np.inf
    ordered = np.concatenate([[0.0], np.sort(values), [np.inf]])
    low = int(binom.ppf(1.0 - TWO_SIDED_95, n, share))
    high = int(binom.ppf(TWO_SIDED_95, n, share)) + 1
    return float(ordered[low]), float(ordered[min(high, n + 1)])
