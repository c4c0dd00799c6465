"""Where fins stand to the vortices of the strakes ahead of them."""

from math import tan

import numpy as np

from sim.aero.panels import Panel, upright
from sim.core import layout as k


def fill_sidewash(panels: list[Panel], fin: Panel, row: np.ndarray) -> None:
    """Fill the F_SIDE columns of an upright surface behind a strake; others keep 0.

    A vortex is taken to leave its strake where half of the panel's area lies ahead, half way
    between root and tip.

    Parameters
    ----------
    panels : list of Panel
        All of the aeroplane.
    fin : Panel
        The surface's right, or only, panel.
    row : float array (N_SURFACE_COLS,)
        Of the surface.
    """
    strake = next((p for p in panels if p.surface.role == "strake" and p.side > 0.0), None)
    if strake is None or not upright(fin.surface):
        return
    middle = fin.point(0.4, 0.25)  # of a taper about the mean chord
    leaves = strake.root[0] - 0.5 * strake.span * tan(strake.sweep) - 0.5 * strake.chord(0.5)
    if leaves <= middle[0]:
        return
    row[k.F_SIDE] = 1.0
    row[k.F_SIDE_X] = leaves - middle[0]
    row[k.F_SIDE_Y] = strake.root[1] + 0.5 * strake.span
    row[k.F_SIDE_OUT] = abs(middle[1])
    row[k.F_SIDE_LOW] = strake.root[2] - fin.point(0.0, 0.25)[2]
    row[k.F_SIDE_HIGH] = strake.root[2] - fin.point(1.0, 0.25)[2]
