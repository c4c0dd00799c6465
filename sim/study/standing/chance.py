"""What chance alone would show: noise of a rank correlation, limits of a percentile."""

from collections.abc import Sequence
from math import sqrt

import numpy as np
from scipy.stats import quantile_test, t

from sim.study.results.result import Factor

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

    From order statistics, as `scipy.stats.quantile_test` has them; the upper limit is infinite
    where so few values cannot bound it.
    """
    if len(values) == 0:
        return 0.0, np.inf
    ends = quantile_test(values, p=share).confidence_interval(0.95)
    # nan where nothing bounds it
    low, high = np.where(np.isnan(ends), (0.0, np.inf), ends)
    return float(low), float(high)
