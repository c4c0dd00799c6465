"""Induced angles and downwash: how much each surface's own loading turns the air.

Two modes a surface: uniform, driven by the mean loading, and linear in span, driven by
the antisymmetric one; for an elliptic wing these are Prandtl's first two terms exactly.
Their strengths are set so that a plain wing's slope comes out as DATCOM's
[datcom1978] 4.1.3.2; the antisymmetric one is twice as strong on an elliptic wing, and what
the lifting line says of its taper on another.
"""

from functools import lru_cache
from math import pi

import numpy as np

from sim.aero.choice import elliptic_induced, facing_sweep, section_share
from sim.aero.finite_wing import datcom_slope, downwash_slope
from sim.aero.lattice import solve, trapezoid
from sim.aero.lifting_line import rolling_share
from sim.aero.panels import Panel, aspect_ratio, half_chord_sweep, half_span, panels_of, upright
from sim.aero.tables import read_toml
from sim.core import layout as k
from sim.describe.geometry import Surface

CHORDWISE, SPANWISE = 6, 20  # of the lattice; twice as many change the shape by 0.01
MOST_AND_LEAST = (-1.0, 3.0)


@lru_cache(maxsize=64)
def _plan_form_shape(
    span: float, root_chord: float, tip_chord: float, sweep: float, quarter_sweep: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return places from root to tip (n,) and the induced angle there over its mean (n,)."""
    shape = trapezoid(span, root_chord, tip_chord, sweep)
    found = solve(shape, CHORDWISE, SPANWISE)
    chord = root_chord + found.y / span * (tip_chord - root_chord)
    mean_chord = 0.5 * (root_chord + tip_chord)
    section = found.load * mean_chord * found.slope / chord
    turned = 1.0 - section / (2.0 * pi * np.cos(quarter_sweep))
    return found.y / span, turned / float(np.sum(turned * chord) / np.sum(chord))


def induced_shape(panel: Panel, strips: np.ndarray) -> np.ndarray:
    """Return the induced angle of each strip over the surface's mean (n,).

    From the flat lattice of the plan form, sweep and taper in it: what is left of the angle
    of attack once each section carries the lattice's lift. Sharp taper and sweep leave more
    at the tips, which then stall first. Area-weighted mean 1, so the lift slope stays.

    Parameters
    ----------
    panel : Panel
        The right, or only, panel.
    strips : float array (N_STRIP_ROWS, n)
        All strips of the surface.
    """
    at, shape = _plan_form_shape(
        round(panel.span, 4), round(panel.root_chord, 4), round(panel.tip_chord, 4),
        round(panel.sweep, 4), round(panel.quarter_sweep, 4),
    )  # fmt: skip
    place = (np.abs(strips[k.S_RY]) - abs(panel.root[1])) / panel.span
    out = np.clip(np.interp(place, at, shape), *MOST_AND_LEAST)
    area = strips[k.S_AREA]
    return out * area.sum() / float((out * area).sum())


def own_slope(surface: Surface, slope: float) -> float:
    """Return the lift slope of a lying surface's strips in air that nothing turns [1/rad].

    A plate's is the finite wing's already; a section's is its table's, across its line.

    Parameters
    ----------
    surface : Surface
    slope : float
        Of its section [1/rad].
    """
    share = section_share(surface)
    return ((1.0 - share) * _finite_slope(surface) + share * slope) * float(
        np.cos(facing_sweep(surface))
    )


def felt_strength(surface: Surface, slope: float) -> float:
    """Return the induced angle that strips must feel, per mean loading: none on a plate."""
    if section_share(surface) == 0.0:
        return 0.0
    return max(0.0, 1.0 / _finite_slope(surface) - 1.0 / own_slope(surface, slope))


def _finite_slope(surface: Surface) -> float:
    return datcom_slope(aspect_ratio(surface), half_chord_sweep(panels_of(surface)[0]))


def felt_share(surface: Surface, row: np.ndarray, slope: float) -> float:
    """Return how much of the induced angle of its row a surface's own strips feel, 0 to 1."""
    share = section_share(surface)
    if share in (0.0, 1.0):
        return share
    return felt_strength(surface, slope) / float(row[k.F_K0])


def surface_row(surface: Surface, panel: Panel, strips: np.ndarray, slope: float) -> np.ndarray:
    """Return the row (N_SURFACE_COLS,) of a surface.

    Parameters
    ----------
    surface : Surface
    panel : Panel
        Its right, or only, panel.
    strips : float array (N_STRIP_ROWS, n)
        Its strips, both sides, with S_INDUCED as `induced_shape` gives it.
    slope : float
        Normal-force slope of its section [1/rad].
    """
    values = read_toml("strip_model.toml").values
    row = np.zeros(k.N_SURFACE_COLS)
    area = strips[k.S_AREA]
    row[k.F_AREA] = area.sum()
    row[k.F_AREA_ETA2] = max(1e-9, float((area * strips[k.S_ETA] ** 2).sum()))
    row[k.F_SPAN] = (1.0 if upright(surface) else 2.0) * half_span(surface)
    if upright(surface):
        row[k.F_SPAN] = panel.span
    row[k.F_RATE_MAX] = values["induced_rate_limit_per_s"]
    row[k.F_SPANS] = values["induced_lag_spans"]
    ratio = aspect_ratio(surface)
    share, felt = section_share(surface), felt_strength(surface, slope)
    # a plate's makes downwash, but its own strips feel none of it
    row[k.F_K0] = felt + (1.0 - share) * (elliptic_induced(ratio) - felt)
    if share == 0.0 or not surface.mirrored:
        # a single panel has no other side: no antisymmetric loading, no such angle
        return row
    taper = panel.tip_chord / panel.root_chord
    # the shape across the span acts on the antisymmetric angle too
    eta2 = area * strips[k.S_ETA] ** 2
    acts = float((eta2 * strips[k.S_INDUCED]).sum() / eta2.sum())
    row[k.F_K1] = 2.0 * rolling_share(round(ratio, 3), round(taper, 3)) * row[k.F_K0] / acts
    return row


def add_downwash(
    surfaces: tuple[Surface, ...], panels: list[Panel], rows: np.ndarray, slopes: np.ndarray
) -> None:
    """Fill the downwash gain and arm of the wing's row, for the first tail behind it.

    DATCOM's downwash slope [datcom1978] 4.4.1 over the wing's own induced angle.
    """
    wings = [j for j, s in enumerate(surfaces) if s.role == "wing"]
    tails = [j for j, s in enumerate(surfaces) if s.role == "tail" and not upright(s)]
    if not wings or not tails:
        return
    wing, tail = surfaces[wings[0]], surfaces[tails[0]]
    wp = next(p for p in panels if p.surface is wing)
    tp = next(p for p in panels if p.surface is tail)
    span = 2.0 * half_span(wing)
    arm = float(wp.point(0.4, 0.25)[0] - tp.point(0.4, 0.25)[0])
    height = abs(float(tp.root[2] - wp.root[2]))
    turn = downwash_slope(
        aspect_ratio(wing), wp.tip_chord / wp.root_chord, wp.quarter_sweep, height / span,
        arm / span,
    )  # fmt: skip
    own = rows[wings[0], k.F_K0] * slopes[wings[0]]
    if own <= 0.0:
        own = slopes[wings[0]] / (pi * aspect_ratio(wing))
    rows[wings[0], k.F_WASH_GAIN] = turn / own
    rows[wings[0], k.F_WASH_ARM] = arm
