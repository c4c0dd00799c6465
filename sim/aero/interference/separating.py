"""Per strip: how separation lags, what sideslip does to it, and what a strake's vortex does."""

from math import cos, radians, sin

import numpy as np

from sim import tables
from sim.aero.geometry.kinds import facing_sweep, kind_of
from sim.aero.geometry.panels import MM, Panel, upright
from sim.aero.sections.vortex import burst_alpha
from sim.core import layout as k
from sim.describe.geometry import Surface

NONE = -1


def helper_of(surfaces: tuple[Surface, ...], surface: Surface) -> int:
    """Return the index of the strake whose vortex passes over a wing, `NONE` without one."""
    if surface.role != "wing":
        return NONE
    return next((j for j, s in enumerate(surfaces) if s.role == "strake"), NONE)


def burst_per_sweep(sweep_deg: float) -> float:
    """Return how much the burst angle rises per angle of sweep [deg/deg], by definition its slope.

    Table: vortex_burst.csv [wentz1971].
    """
    half = 2.5  # degrees either side, half the spacing of the table
    return (burst_alpha(sweep_deg + half) - burst_alpha(sweep_deg - half)) / (2.0 * half)


def _sideslip_stall(surface: Surface) -> float:
    """Return the rise of the angle that the right panel's separation answers to, per sideslip [-].

    [knight1931] for the straight wing; own: between it and a delta. Air from the right takes
    sweep from the right panel, whose vortex bursts earlier; a straight wing's right panel then
    stalls later. Between them by the sweep of the leading edge.
    """
    if upright(surface) or not surface.mirrored:
        return 0.0
    values = tables.strip_model()
    burst = burst_per_sweep(surface.sweep_deg) * _across_per_angle(surface)
    low = values.stall_shift_sweep_deg[0]
    if surface.sweep_deg < low and kind_of(surface) != "vortex":
        return -values.stall_shift_per_sideslip * (1.0 - surface.sweep_deg / low)
    return burst * _edge_share(surface)


def _edge_share(surface: Surface) -> float:
    """Return how much of a surface separates as the vortex of a swept edge does, 0 to 1 [-].

    All of it under a leading-edge vortex, else by the sweep of the edge: strip_model.toml. Own.
    """
    if kind_of(surface) == "vortex":
        return 1.0
    return float(np.interp(surface.sweep_deg, tables.strip_model().stall_shift_sweep_deg, [0, 1]))


def _across_per_angle(surface: Surface) -> float:
    """Return the turn of the air across a surface's line over that of the angle of attack [-].

    At the angle where its vortex bursts, which is measured along the stream. Geometry: across a
    line that leans L the tangent of the angle is that along the stream over cos L.
    """
    lean, alpha = facing_sweep(surface), radians(burst_alpha(surface.sweep_deg))
    return cos(lean) / ((cos(alpha) * cos(lean)) ** 2 + sin(alpha) ** 2)


def _help(strake: Surface, right: np.ndarray) -> np.ndarray:
    """Return the delay of the stall [rad] at places right of the centreline (n,) [m].

    Own: falls off straight with the distance; vortex_model.toml [skow1982].
    """
    values = tables.vortex_model()
    span = strake.panel_span_mm * MM
    tip = strake.root_right_mm * MM + span
    out = (np.abs(right) - tip) / (values.help_reach_spans * span)
    return radians(values.help_deg) * np.clip(1.0 - out, 0.0, 1.0)


def _own_edge(strake: Surface, right: np.ndarray, half: np.ndarray) -> np.ndarray:
    """Return the share [-] of strips that has an edge, ``half`` wide to either side (n,) [m].

    Between the tips of the strakes a wing has none of its own: the air comes to it over strakes
    and body, and what holds it on, or lets it go, is their vortex, which comes late by itself.
    tau2 is the lag of what happens at a leading edge [goman1994]. Own: geometry.
    """
    tip = (strake.root_right_mm + strake.panel_span_mm) * MM
    return np.clip((np.abs(right) + half - tip) / np.maximum(2.0 * half, 1e-9), 0.0, 1.0)


def fill_separation(
    surfaces: tuple[Surface, ...], panels: list[Panel], strips: np.ndarray, owner: np.ndarray
) -> None:
    """Fill S_RELAX, S_DELAY, S_SIDESLIP_STALL, S_EDGE_SIDE and S_HELP of all strips.

    Times in chords of travel [goman1994], strip_model.toml; angles [rad].

    Parameters
    ----------
    strips : float array (N_STRIP_ROWS, n)
    owner : int array (n,)
        Surface of each strip.
    """
    values = tables.strip_model()
    for j, surface in enumerate(surfaces):
        mine = owner == j
        if kind_of(surface) == "vortex":
            relax, delay = values.vortex_relax_chords, values.vortex_delay_chords
        else:
            relax, delay = values.separation_relax_chords, values.separation_delay_chords
        strips[k.S_RELAX, mine], strips[k.S_DELAY, mine] = relax, delay
        right = strips[k.S_RY, mine]
        strips[k.S_SIDESLIP_STALL, mine] = np.sign(right) * _sideslip_stall(surface)
        if not upright(surface) and surface.mirrored:
            # sideslip changes the angle across a line that leans; what a burst does is measured
            strips[k.S_EDGE_SIDE, mine] = strips[k.S_CY, mine] * _edge_share(surface)
        helper = helper_of(surfaces, surface)
        if helper != NONE and kind_of(surface) != "vortex":
            strips[k.S_HELP, mine] = _help(surfaces[helper], right)
            half = np.abs(strips[k.S_HALF_Y, mine])
            strips[k.S_DELAY, mine] *= _own_edge(surfaces[helper], right, half)
