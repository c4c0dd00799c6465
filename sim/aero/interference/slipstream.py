"""Which share of each strip lies in the slipstream of a propeller."""

from math import sqrt

import numpy as np

from sim import tables
from sim.aero.geometry.panels import MM, Panel
from sim.describe.aeroplane import Aeroplane


def development(distance: float, radius: float) -> float:
    """Return the share of the far slipstream's extra speed reached behind a disc, 0.5 to 1 [-].

    On the axis of a uniformly loaded disc the induced speed is v (1 + d / sqrt(d^2 + R^2))
    with 2 v far behind: the speed of a semi-infinite tube of vortex rings, as in
    [glauert1935]. Ahead of the disc the kernel's strips feel nothing.
    Distance and radius [m].
    """
    return 0.5 * (1.0 + distance / sqrt(distance * distance + radius * radius))


def inside_circle(start: np.ndarray, end: np.ndarray, radius: float) -> float:
    """Return the share [-] of a line, ``start`` (2,) to ``end``, in a circle about 0; geometry."""
    along = end - start
    a = float(along @ along)
    if a == 0.0:
        return 1.0 if float(start @ start) < radius * radius else 0.0
    b = float(start @ along) / a
    root = b * b - (float(start @ start) - radius * radius) / a
    if root <= 0.0:
        return 0.0
    return max(0.0, min(1.0, -b + sqrt(root)) - max(0.0, -b - sqrt(root)))


def slipstream_shares(
    aeroplane: Aeroplane, panel: Panel, centres: np.ndarray, widths: np.ndarray
) -> np.ndarray:
    """Return the share (n,) of the far slipstream that a panel's strips feel.

    Own: the slipstream is a straight tube along the body's axis behind each hub, of the radius
    in strip_model.toml: true at small angles only. Where two tubes reach one strip their
    shares add, because the kernel gives the mean slipstream over the propellers.

    Parameters
    ----------
    aeroplane : Aeroplane
    panel : Panel
    centres : array (3, n) [m]
        Quarter-chord points of the strips, body axes from the datum.
    widths : array (n,) [m]
        Widths of the strips along the panel.
    """
    shares = np.zeros(widths.size)
    contraction = tables.strip_model().slipstream_radius_share
    for propeller in aeroplane.propellers:
        radius = 0.5 * MM * aeroplane.propeller_units[propeller.propeller].diameter_mm
        hub = MM * np.array([-propeller.aft_mm, propeller.right_mm, -propeller.up_mm])
        for i in range(widths.size):
            behind = hub - centres[:, i]
            if behind[0] <= 0.0:
                continue
            half = 0.5 * widths[i] * panel.outward[1:]
            share = inside_circle(half - behind[1:], -half - behind[1:], contraction * radius)
            shares[i] += share * development(float(behind[0]), radius)
    return shares
