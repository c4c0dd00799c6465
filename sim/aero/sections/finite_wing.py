"""Textbook formulas of the finite wing, per radian."""

import math

TWO_PI = 2.0 * math.pi


def lifting_line_slope(
    aspect_ratio: float, section_slope: float = TWO_PI, tau: float = 0.0
) -> float:
    """Return a0/(1 + a0 (1 + tau)/(pi AR)) [1/rad]; tau 0 for elliptic loading [anderson2011]."""
    return section_slope / (1.0 + section_slope * (1.0 + tau) / (math.pi * aspect_ratio))


def helmbold_slope(aspect_ratio: float, section_slope: float = TWO_PI) -> float:
    """Return the lift slope of a straight wing of any aspect ratio [1/rad].

    a0/(sqrt(1 + k^2) + k), k = a0/(pi AR) [helmbold1942].
    """
    k = section_slope / (math.pi * aspect_ratio)
    return section_slope / (math.sqrt(1.0 + k * k) + k)


def datcom_slope(
    aspect_ratio: float, half_chord_sweep: float, mach: float = 0.0, section_ratio: float = 1.0
) -> float:
    """Return the lift slope of a swept, tapered wing, [datcom1978] section 4.1.3.2.

    Parameters
    ----------
    aspect_ratio : float
        Span squared over area.
    half_chord_sweep : float [rad]
        Of the line of half chords.
    mach : float
        Below the critical Mach number.
    section_ratio : float
        kappa, section lift slope over 2 pi.
    """
    tangent = math.tan(half_chord_sweep)
    term = (aspect_ratio / section_ratio) ** 2 * (1.0 - mach * mach + tangent * tangent)
    return TWO_PI * aspect_ratio / (2.0 + math.sqrt(4.0 + term))


def far_wake_downwash_slope(aspect_ratio: float, lift_slope: float) -> float:
    """Return the turn of the air [-] far behind an elliptic wing, 2 a/(pi AR) (from memory)."""
    return 2.0 * lift_slope / (math.pi * aspect_ratio)
