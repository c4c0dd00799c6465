"""Confidence limits of a share counted in a number of flights."""

from math import comb, sqrt

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


def tolerance_rank(count: int, share: float, confidence: float) -> int:
    """Return which of ``count`` values, from the least up, a share of all lies above.

    Nought: there are too few to say so with that confidence (59 is the least for 95 % and 95 %).

    Parameters
    ----------
    count : int
    share, confidence : float
        [-], between nought and one.

    Notes
    -----
    The r-th least is below the quantile where at least r of ``count`` are, which is binomial
    [-]: [wilks1941].
    """
    below, rank = 0.0, 0
    for fewer in range(count + 1):
        below += comb(count, fewer) * (1.0 - share) ** fewer * share ** (count - fewer)
        if 1.0 - below < confidence:
            break
        rank = fewer + 1
    return rank
