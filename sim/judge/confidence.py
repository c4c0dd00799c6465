"""Confidence limits of a share counted in a number of flights."""

from math import sqrt

NORMAL_95 = 1.959963984540054  # two-sided 95 % of the standard normal


def wilson(count: int, total: int, z: float = NORMAL_95) -> tuple[float, float]:
    """Return the lower and upper Wilson limits of a share [-].

    Parameters
    ----------
    count, total : int
        Successes among trials; no trials give (0, 1).
    z : float
        Normal quantile; the default is for 95 %.

    Notes
    -----
    The score interval, [wilson1927] p. 209.
    """
    if total == 0:
        return 0.0, 1.0
    share = count / total
    spread = z * z / total
    middle = (share + 0.5 * spread) / (1.0 + spread)
    half = z * sqrt(share * (1.0 - share) / total + 0.25 * spread / total) / (1.0 + spread)
    # its ends are nought and one exactly where no trial, or every one, succeeded
    low = middle - half if count > 0 else 0.0
    high = middle + half if count < total else 1.0
    return low, high
