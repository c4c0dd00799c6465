"""A curve through points that does not overshoot them."""

from typing import NamedTuple

import numpy as np

Floats = np.ndarray


class Monotone(NamedTuple):
    """A cubic between each two of some knots, which neither rises nor falls beyond their values.

    The same numbers as scipy's ``PchipInterpolator``, to the bit; that half a second of imports
    is what every command would wait for.

    knots : (n,), rising; terms : (4, n - 1), of each stretch by rising powers of the distance
    from its first knot. The first and last stretch go on beyond the ends.
    """

    knots: Floats
    terms: Floats

    def __call__(self, at: Floats | float) -> Floats:
        """Return the curve at any places, of their shape; as the values [-]."""
        first, second, third, fourth, s = self._stretch(at)
        return first + second * s + third * (s * s) + fourth * (s * s * s)

    def slope(self, at: Floats | float) -> Floats:
        """Return its slope at any places, of their shape, in values a unit of the knots [-]."""
        _, second, third, fourth, s = self._stretch(at)
        return second + third * 2.0 * s + fourth * 3.0 * (s * s)

    def _stretch(self, at: Floats | float) -> tuple[Floats, ...]:
        places = np.asarray(at, dtype=float)
        k = np.clip(np.searchsorted(self.knots, places, "right") - 1, 0, self.knots.size - 2)
        return *self.terms[:, k], places - self.knots[k]


def monotone(knots: Floats, values: Floats) -> Monotone:
    """Return the curve through some points, ``knots`` (n >= 2,) rising and ``values`` (n,).

    Slopes inside by [fritsch1984], a weighted harmonic mean of those of the two stretches, 0 at
    a turn; at the ends three points of one side, kept from overshooting, [moler2004] section 3.6.
    All numbers without a unit of their own [-].

    Raises
    ------
    ValueError
        If the knots do not rise or anything is not finite.
    """
    x, y = np.asarray(knots, dtype=float), np.asarray(values, dtype=float)
    if not (np.all(np.diff(x) > 0.0) and np.all(np.isfinite(x)) and np.all(np.isfinite(y))):
        raise ValueError("a curve needs finite values at places that rise")
    width = x[1:] - x[:-1]
    rise = (y[1:] - y[:-1]) / width
    slopes = np.zeros(y.size)
    if y.size == 2:
        slopes[:] = rise[0]
    else:
        slopes[1:-1] = _inside(width, rise)
        slopes[0] = _at_end(width[0], width[1], rise[0], rise[1])
        slopes[-1] = _at_end(width[-1], width[-2], rise[-1], rise[-2])
    bend = (slopes[:-1] + slopes[1:] - 2.0 * rise) / width
    terms = (y[:-1], slopes[:-1], (rise - slopes[:-1]) / width - bend, bend / width)
    return Monotone(x, np.array(terms))


def _inside(width: Floats, rise: Floats) -> Floats:
    """Return the slopes (n - 2,) [-] at the inner knots, [fritsch1984] equation 5."""
    ahead, behind = 2.0 * width[1:] + width[:-1], width[1:] + 2.0 * width[:-1]
    one_way = rise[:-1] * rise[1:] > 0.0
    before, after = np.where(one_way, rise[:-1], 1.0), np.where(one_way, rise[1:], 1.0)
    mean = (ahead / before + behind / after) / (ahead + behind)
    return np.where(one_way, 1.0 / mean, 0.0)


def _at_end(near: float, far: float, rise: float, next_rise: float) -> float:
    """Return the slope [-] at an end from its two stretches' widths and rises, [moler2004]."""
    slope = ((2.0 * near + far) * rise - near * next_rise) / (near + far)
    if np.sign(slope) != np.sign(rise):
        return 0.0
    if np.sign(rise) != np.sign(next_rise) and abs(slope) > 3.0 * abs(rise):
        return 3.0 * rise
    return float(slope)
