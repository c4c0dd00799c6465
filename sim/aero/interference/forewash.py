"""What nose and strakes do to the wing behind them: their sheet turns its air.

What lifts ahead of a wing leaves a sheet of vortices that washes it down behind and up
outside: slender-body theory [pitts1957] has wing and nose together lift less than the whole
wing, carried through, and the nose do alone, and what the wing loses lies ahead of its
centre. Nose and strakes are taken as one flat plan form ahead of the wing's leading edge.
"""

from functools import lru_cache
from math import tan

import numpy as np

from sim import tables
from sim.aero.geometry.fuselage import outline
from sim.aero.geometry.kinds import facing_sweep
from sim.aero.geometry.lattice import Planform, load_behind
from sim.aero.geometry.panels import MM, Panel, half_span
from sim.core import layout as k
from sim.describe.geometry import Body

STATIONS = 200  # at which a nose is looked at
PLACES = 8  # strips of the lattice across the half span of what lies ahead


def _widest(body: Body, wing: Panel) -> tuple[np.ndarray, np.ndarray]:
    """Return stations [m aft] ahead of a wing's root and a body's greatest half width so far.

    Geometry. None of them where the wing passes clear of the body.
    """
    first, root = body.stations[0].aft_mm * MM, -float(wing.root[0])
    if first >= root or body.stations[-1].aft_mm * MM <= root:
        return np.zeros(0), np.zeros(0)
    at = np.linspace(first, root, STATIONS)
    width, height, up = outline(body, at)
    apart = abs(-float(wing.root[2]) - float(up[-1]))
    if apart > 0.5 * float(height[-1]) * (1.0 + 1e-6):
        return np.zeros(0), np.zeros(0)
    return at, np.maximum.accumulate(0.5 * width)


def _edges_ahead(
    y: np.ndarray, edge: np.ndarray, wing: Panel, strakes: list[Panel], bodies: tuple[Body, ...]
) -> np.ndarray:
    """Return where nose or strake begins ahead of the wing's edge (n,) at ``y`` [m aft].

    Geometry.
    """
    out = edge.copy()
    for body in bodies:
        at, half = _widest(body, wing)
        if at.size:
            inside = y <= half[-1]
            out[inside] = np.minimum(out[inside], np.interp(y[inside], half, at))
    for strake in strakes:
        share = (y - abs(strake.root[1])) / strake.span
        on = (share >= 0.0) & (share <= 1.0)
        leading = -strake.root[0] + share * strake.span * tan(strake.sweep)
        out[on] = np.minimum(out[on], leading[on])
    return out


_load = lru_cache(maxsize=64)(load_behind)  # the same for all set-ups of an aeroplane


def _ahead(wing: Panel, panels: list[Panel], bodies: tuple[Body, ...]) -> Planform | None:
    """Return the plan form ahead of a wing [m], None without nose and strakes.

    Geometry; own: bounds for what a lattice can take, strip_model.toml.
    """
    values = tables.strip_model()
    strakes = [p for p in panels if p.surface.role == "strake" and p.side > 0.0]
    reach = [abs(float(s.root[1])) + s.span for s in strakes]
    for body in bodies:
        _, half = _widest(body, wing)
        reach += [float(half[-1])] if half.size else []
    most = min(max(reach, default=0.0), values.ahead_reach_share * half_span(wing.surface))
    if most <= 0.0:
        return None
    y = np.linspace(0.0, most, PLACES + 1)
    edge = _leading_edge(wing, y)
    first = _edges_ahead(y, edge, wing, strakes, bodies)
    first = np.minimum(first, edge - values.ahead_least_chord_share * wing.root_chord)
    return Planform(tuple(y), tuple(first), tuple(edge - first))


def _leading_edge(wing: Panel, y: np.ndarray) -> np.ndarray:
    """Return the leading edge [m aft] at ``y``, geometry: a wing carried through its body."""
    gap = abs(float(wing.root[1]))
    return np.asarray(-float(wing.root[0]) + np.maximum(y - gap, 0.0) * tan(wing.sweep))


def carried_through(wing: Panel) -> Planform:
    """Return the plan form of a wing [m] carried through to the centreline; geometry."""
    gap, tip = abs(float(wing.root[1])), half_span(wing.surface)
    y = np.array([0.0, gap, tip] if gap > 0.0 else [0.0, tip])
    chord = np.interp(y, [gap, tip], [wing.root_chord, wing.tip_chord])
    return Planform(tuple(y), tuple(_leading_edge(wing, y)), tuple(chord))


def forewash(
    wing: Panel, panels: list[Panel], bodies: tuple[Body, ...], strips: np.ndarray,
    row: np.ndarray, slope: float,
) -> np.ndarray:  # fmt: skip
    """Return the share of its angle of attack that each of a wing's strips loses (n,).

    Own, by the lattice [katz2001]: so much that the strips, with the angle that they induce
    themselves, carry as much less as the lattice of wing and what lies ahead says; negative where
    they gain.

    Parameters
    ----------
    wing : Panel
        Its right panel.
    panels : list of Panel
        All, the strakes among them.
    strips : float array (N_STRIP_ROWS, n)
        All of the wing's, S_INDUCED filled.
    row : float array (N_SURFACE_COLS,)
        Of the wing.
    slope : float
        Lift slope of its strips in air that nothing turns [1/rad].
    """
    ahead = _ahead(wing, panels, bodies)
    if ahead is None:
        return np.zeros(strips.shape[1])
    at, alone, behind = _load(carried_through(wing), ahead)
    return felt_angles(wing, strips, row, slope, at, alone - behind)


def felt_angles(
    panel: Panel, strips: np.ndarray, row: np.ndarray, slope: float, at: np.ndarray,
    lost: np.ndarray,
) -> np.ndarray:  # fmt: skip
    """Return the angle (n,) that each strip of a lying surface must lose, to lift so much less.

    Own: with the angle that the strips induce themselves they carry what the lattice says.

    Parameters
    ----------
    panel : Panel
        Its right panel.
    strips, row, slope
        As of `forewash`, of any lying surface.
    at, lost : float array (m,)
        Middles of the lattice's strips [m]; lift coefficient that each loses.
    """
    tip = half_span(panel.surface)
    ends = np.concatenate([[0.0], 0.5 * (at[1:] + at[:-1]), [tip]])
    total = np.concatenate([[0.0], np.cumsum(lost * np.diff(ends))])
    width = strips[k.S_AREA] * np.cos(facing_sweep(panel.surface)) / strips[k.S_CHORD]
    right = np.abs(strips[k.S_RY])
    inner = np.maximum(right - 0.5 * width, 0.0)
    outer = np.minimum(right + 0.5 * width, ends[-1])
    less = (np.interp(outer, ends, total) - np.interp(inner, ends, total)) / (outer - inner)
    mean = float(np.sum(less * strips[k.S_AREA]) / np.sum(strips[k.S_AREA]))
    return np.asarray(less / slope + strips[k.S_INDUCED] * row[k.F_K0] * mean)
