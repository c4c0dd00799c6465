"""How much of the air that a lying surface turns its own strips feel."""

import numpy as np

from sim.aero.geometry.kinds import facing_sweep, section_share
from sim.aero.geometry.panels import aspect_ratio, half_chord_sweep, panels_of
from sim.aero.sections.finite_wing import datcom_slope
from sim.core import layout as k
from sim.describe.geometry import Surface


def own_slope(surface: Surface, slope: float) -> float:
    """Return the lift slope of a lying surface's strips in air that nothing turns [1/rad].

    A plate's is the finite wing's already [datcom1978]; a section's is its table's, across its
    line [jones1947].

    Parameters
    ----------
    surface : Surface
    slope : float
        Of its section [1/rad].
    """
    share = section_share(surface)
    across = slope * float(np.cos(facing_sweep(surface)))
    return (1.0 - share) * _finite_slope(surface) + share * across


def felt_strength(surface: Surface, slope: float) -> float:
    """Return the induced angle [rad] that strips must feel, per mean loading: none on a plate.

    Own: what brings sections to the finite wing's slope, as lifting-line theory adds 1/slopes.
    """
    if section_share(surface) == 0.0:
        return 0.0
    return max(0.0, 1.0 / _finite_slope(surface) - 1.0 / own_slope(surface, slope))


def _finite_slope(surface: Surface) -> float:
    """Return the lift slope of the whole surface [1/rad], [datcom1978] 4.1.3.2."""
    return datcom_slope(aspect_ratio(surface), half_chord_sweep(panels_of(surface)[0]))


def felt_share(surface: Surface, row: np.ndarray, slope: float) -> float:
    """Return how much of the induced angle of its row a surface's own strips feel, 0 to 1 [-].

    Own: sections all of it, plates none.
    """
    share = section_share(surface)
    if share in (0.0, 1.0):
        return share
    return felt_strength(surface, slope) / float(row[k.F_K0])
