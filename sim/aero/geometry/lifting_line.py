"""Prandtl's lifting line by Glauert's Fourier method, for the induced flow of a rolling wing."""

from functools import lru_cache
from math import pi

import numpy as np

from sim.aero.geometry.linear_system import solved

TERMS = 60
SECTION_SLOPE = 2.0 * pi


@lru_cache(maxsize=64)
def roll_damping(aspect_ratio: float, taper: float) -> float:
    """Return Clp [-] of an unswept, straight-tapered wing, [glauert1926] ch. XI.

    Parameters
    ----------
    aspect_ratio, taper : float
        Tip chord over root chord. Section slope 2 pi. Rates are pb/2V.
    """
    theta = pi * np.arange(1, TERMS + 1) / (TERMS + 1)
    y = -np.cos(theta)  # of the half span
    chord = 4.0 / (aspect_ratio * (1.0 + taper)) * (1.0 - (1.0 - taper) * np.abs(y))
    n = np.arange(1, TERMS + 1)
    sine = np.sin(np.outer(theta, n))
    wash = sine * n / np.sin(theta)[:, None]
    each = 0.5 * SECTION_SLOPE * chord
    a = solved(4.0 * sine + each[:, None] * wash, each * y)
    moment = np.sum(4.0 * (sine @ a) * y * np.sin(theta)) * pi / (TERMS + 1)
    return -float(moment) / (4.0 / aspect_ratio)


def rolling_share(aspect_ratio: float, taper: float) -> float:
    """Return how much more a rolling wing is turned by its own flow than an elliptic one [-].

    Own, from [glauert1926]'s damping: the strength of an induced angle linear in span that gives
    strips the lifting line's damping, over the elliptic wing's 2/(pi AR). Strips alone damp with
    a0 (1 + 3 taper)/(12 (1 + taper)).
    """
    strips = SECTION_SLOPE * (1.0 + 3.0 * taper) / (12.0 * (1.0 + taper))
    strength = (strips / -roll_damping(aspect_ratio, taper) - 1.0) / SECTION_SLOPE
    return strength * 0.5 * pi * aspect_ratio
