"""What a flap does to the stall of the strips that it lies on."""

from collections.abc import Mapping

import numpy as np

from sim.aero.geometry.felt import own_slope
from sim.aero.geometry.panels import upright
from sim.aero.geometry.pieces import covered, whole_flaps
from sim.aero.interference.finite_flap import finite_edge, together_share
from sim.core import layout as k
from sim.describe.controls import Shares
from sim.describe.geometry import Control, Surface


def fill_flap_stall(
    surface: Surface, sticks: Mapping[str, Shares], strips: np.ndarray, mine: np.ndarray,
    row: np.ndarray, slope: float,
) -> None:  # fmt: skip
    """Make S_FLAP_STALL of a surface's strips that of a finite wing; fill S_FLAP_FELT.

    A flap moves the stall that begins at a leading edge by what it does to the suction there
    (`finite_edge`). Strips find the angle that they stall at in air which the surface has turned
    [glauert1926], so what the flap's own load turns it by, which they feel already, is given back,
    and what is left counts as incidence does, of which they feel a part. Where no strip feels any
    of it, on a plate, nothing is; on long wings both together are what the section's flap does.
    In flow that has let go a flap's load is what `separated_flap` leaves of it [tulin1955], and no
    more is given back: S_FLAP_FELT is the rest, which goes with the square of the attached share,
    as the flap's load in the kernel does within 0.03 of the whole.
    Own: how the two meet; angles [rad] per radian of flap.

    Parameters
    ----------
    surface : Surface
    sticks : mapping of str to Shares
        Of every channel.
    strips : float array (N_STRIP_ROWS, n)
    mine : bool array (n,)
        Which of them are this surface's, S_INDUCED what they feel.
    row : float array (N_SURFACE_COLS,)
        Of the surface.
    slope : float
        Normal-force slope of its section [1/rad].
    """
    here = np.flatnonzero(mine)
    for control in whole_flaps(surface):
        if control.kind == "all_moving":
            continue
        stick = sticks[control.channel]
        cover = _cover(surface, control, strips[:, here])
        on = cover > 0.0
        turned = np.where(on, strips[k.S_TAU, here], 0.0)
        kept = finite_edge(surface, control, stick) * (
            1.0 - _turned(surface, strips[:, here], row, slope, np.ones(here.size))
        )
        felt = np.zeros(here.size)
        same = 1.0 if upright(surface) or not surface.mirrored else together_share(stick)
        side = np.where(strips[k.S_RY, here] >= 0.0, 1.0, -1.0)
        for share, sign in ((same, np.ones(here.size)), (1.0 - same, side)):
            if share > 0.0:
                felt += share * sign * _turned(surface, strips[:, here], row, slope, sign * turned)
        section = strips[k.S_FLAP_STALL, here]
        strips[k.S_FLAP_STALL, here] = np.where(on, section * kept + cover * felt, section)
        attached = np.where(on, own_slope(surface, slope) * turned, 1.0)
        left = strips[k.S_LATE_CN, here] + strips[k.S_LATE_CN2, here]
        lost = np.where(on, 1.0 - left / attached, 0.0)
        strips[k.S_FLAP_FELT, here] += cover * felt * lost


def _cover(surface: Surface, control: Control, strips: np.ndarray) -> np.ndarray:
    """Return what of each strip [-] a flap covers, by its place along the panel; geometry."""
    n = surface.strips
    at = np.hypot(
        np.abs(strips[k.S_RY]) - 1e-3 * surface.root_right_mm * surface.mirrored,
        strips[k.S_RZ] + 1e-3 * surface.root_up_mm,
    )
    place = np.floor(at / (1e-3 * surface.panel_span_mm) * n).astype(int)
    out = [max(0.0, covered(control, int(i), n)) for i in place]
    return np.where(strips[k.S_CARRIED] > 0.0, 0.0, out)


def _turned(
    surface: Surface, strips: np.ndarray, row: np.ndarray, slope: float, angle: np.ndarray
) -> np.ndarray:
    """Return by how much the load of strips at an angle (n,) [rad] turns the air of each [rad].

    Attached flow at small angles; the two terms of [glauert1926] that the kernel has.
    """
    shape, eta = strips[k.S_INDUCED], strips[k.S_ETA]
    load = own_slope(surface, slope) * strips[k.S_AREA]
    modes = np.stack([np.ones(eta.size), eta])
    strength = np.array([row[k.F_K0] / row[k.F_AREA], row[k.F_K1] / row[k.F_AREA_ETA2]])
    each = strength[:, None] * (modes * load)
    found = np.linalg.solve(np.eye(2) + each @ (modes * shape).T, each @ angle)
    return np.asarray(shape * (found @ modes))
