"""Where fins stand to the vortices of the strakes ahead of them."""

from math import tan

import numpy as np

from sim.aero.panels import Panel, upright
from sim.core import layout as k


def fill_sidewash(panels: list[Panel], strips: np.ndarray, owner: list[Panel]) -> None:
    """Fill the S_SIDE rows of fins behind a strake, and leave them 0 elsewhere.

    A vortex is taken to leave its strake where half of the panel's area lies ahead, half way
    between root and tip.

    Parameters
    ----------
    panels : list of Panel
        All of the aeroplane.
    strips : float array (N_STRIP_ROWS, n)
    owner : list of Panel (n,)
        Whose each strip is.
    """
    strake = next((p for p in panels if p.surface.role == "strake" and p.side > 0.0), None)
    if strake is None:
        return
    off = strake.root[1] + 0.5 * strake.span
    leaves = strake.root[0] - 0.5 * strake.span * tan(strake.sweep) - 0.5 * strake.chord(0.5)
    for i, panel in enumerate(owner):
        behind = leaves - strips[k.S_RX, i]
        if upright(panel.surface) and behind > 0.0:
            strips[k.S_SIDE, i] = 1.0
            strips[k.S_SIDE_X, i] = behind
            strips[k.S_SIDE_Y, i] = off
            strips[k.S_SIDE_Z, i] = strake.root[2] - strips[k.S_RZ, i]
