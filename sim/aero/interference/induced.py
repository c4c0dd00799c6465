"""Induced angles and downwash: how much each surface's own loading turns the air.

Two modes a surface: uniform, driven by the mean loading, and linear in span, driven by
the antisymmetric one, each of all that the surface lifts, attached or not (momentum): were
it the attached part alone, a strip that lets go would raise the angle of its neighbours as
if it lifted nothing, and the whole wing would let go at once. For an elliptic wing these
are Prandtl's first two terms exactly.
Their strengths are set so that a plain wing's slope comes out as DATCOM's
[datcom1978] 4.1.3.2; the antisymmetric one is twice as strong on an elliptic wing, and what
the lifting line says of its taper on another.
"""

from functools import lru_cache
from math import pi, radians, sin, tan

import numpy as np

from sim import tables
from sim.aero.geometry.effective import elliptic_induced
from sim.aero.geometry.felt import felt_strength
from sim.aero.geometry.kinds import section_share
from sim.aero.geometry.lattice import Planform, downwash, solve, trapezoid
from sim.aero.geometry.lifting_line import rolling_share
from sim.aero.geometry.panels import (
    MM,
    Panel,
    aspect_ratio,
    half_span,
    panels_of,
    upright,
)
from sim.aero.interference.sidewash import vortex_place
from sim.core import layout as k
from sim.describe.geometry import Surface

CHORDWISE, SPANWISE = 6, 20  # of the lattice; twice as many change the shape by 0.01
TAIL_POINTS = 8  # across a tail panel, for the mean of the downwash


@lru_cache(maxsize=64)
def _plan_form_shape(
    span: float, root_chord: float, tip_chord: float, sweep: float, quarter_sweep: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return places from root to tip (n,) and the induced angle there over its mean (n,) [-].

    What the lattice's lift leaves of a section's 2 pi cos(sweep), simple sweep theory [jones1947].
    """
    shape = trapezoid(span, root_chord, tip_chord, sweep)
    found = solve(shape, CHORDWISE, SPANWISE)
    chord = root_chord + found.y / span * (tip_chord - root_chord)
    mean_chord = 0.5 * (root_chord + tip_chord)
    section = found.load * mean_chord * found.slope / chord
    turned = 1.0 - section / (2.0 * pi * np.cos(quarter_sweep))
    return found.y / span, turned / float(np.sum(turned * chord) / np.sum(chord))


def induced_shape(panel: Panel, strips: np.ndarray) -> np.ndarray:
    """Return the induced angle of each strip over the surface's mean (n,) [-].

    Own: from the flat lattice of the plan form, sweep and taper in it: what is left of the angle
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
    out = np.clip(np.interp(place, at, shape), *tables.strip_model().induced_shape_ends)
    area = strips[k.S_AREA]
    return out * area.sum() / float((out * area).sum())


def surface_row(surface: Surface, panel: Panel, strips: np.ndarray, slope: float) -> np.ndarray:
    """Return the row (N_SURFACE_COLS,) of a surface.

    Induced strengths as the module says, [datcom1978] 4.1.3.2 and [glauert1926].

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
    values = tables.strip_model()
    row = np.zeros(k.N_SURFACE_COLS)
    area = strips[k.S_AREA]
    row[k.F_AREA] = area.sum()
    row[k.F_AREA_ETA2] = max(1e-9, float((area * strips[k.S_ETA] ** 2).sum()))
    row[k.F_SPAN] = (1.0 if upright(surface) else 2.0) * half_span(surface)
    if upright(surface):
        row[k.F_SPAN] = panel.span
    row[k.F_RATE_MAX] = values.induced_rate_limit_per_s
    row[k.F_SPANS] = values.induced_lag_spans
    ratio = aspect_ratio(surface)
    share, felt = section_share(surface), felt_strength(surface, slope)
    # a plate's makes downwash, but its own strips feel none of it
    row[k.F_K0] = felt + (1.0 - share) * (elliptic_induced(ratio) - felt)
    if not surface.mirrored:
        # a single panel has no other side: no antisymmetric loading, no such angle
        return row
    taper = panel.tip_chord / panel.root_chord
    # the shape across the span acts on the antisymmetric angle too
    eta2 = area * strips[k.S_ETA] ** 2
    acts = float((eta2 * strips[k.S_INDUCED]).sum() / eta2.sum()) if share > 0.0 else 1.0
    row[k.F_K1] = 2.0 * rolling_share(round(ratio, 3), round(taper, 3)) * row[k.F_K0] / acts
    return row


@lru_cache(maxsize=64)
def _downwash_per_lift(wing: Surface, tail: Surface) -> float:
    """Return the turn of the air over a tail per lift coefficient of a wing [rad].

    Mean over the tail's area of what the lattice of the wing, carried through its body, does at
    the tail's quarter chord; off the wing's plane it falls by DATCOM's K_H [datcom1978] 4.4.1.
    """
    wp, tp = panels_of(wing)[0], panels_of(tail)[0]
    gap = wing.root_right_mm * MM
    y, le, chord = (
        [gap, gap + wp.span],
        [0.0, wp.span * tan(wp.sweep)],
        [wp.root_chord, wp.tip_chord],
    )
    if gap > 0.0:
        y, le, chord = [0.0, *y], [0.0, *le], [wp.root_chord, *chord]
    share = (np.arange(TAIL_POINTS) + 0.5) / TAIL_POINTS
    at = np.array([tp.point(t, 0.25) for t in share])
    weight = np.array([tp.chord(t) for t in share])
    turn = downwash(
        Planform(tuple(y), tuple(le), tuple(chord)), wp.root[0] - at[:, 0], np.abs(at[:, 1]),
        CHORDWISE, SPANWISE,
    )  # fmt: skip
    height = abs(float(tp.root[2] - wp.root[2])) / (2.0 * half_span(wing))
    return float(np.sum(turn * weight) / np.sum(weight)) * max(0.0, 1.0 - height) ** 1.19


def _strake_turn(strake: Panel, tail: Panel, side: float) -> float:
    """Return the turn of the air over a tail per strake normal-force coefficient and area [1/m²].

    A pair of vortices leaves where `vortex_place` says and goes aft with the air: between
    them it is turned down, outside them up. Mean over the tail, the pair as high above it as
    it is at the angle of strip_model.toml, times ``side``: -1 where the air comes from above, and
    carries it down. Cores as wide as the vortices stand off the centreline; circulation by
    Kutta's law [katz2001].
    """
    leaves, off = vortex_place(strake)
    share = (np.arange(TAIL_POINTS) + 0.5) / TAIL_POINTS
    at = np.array([tail.point(t, 0.25) for t in share])
    weight = np.array([tail.chord(t) for t in share])
    angle = side * radians(tables.strip_model().strake_downwash_at_deg)
    below = (leaves - at[:, 0]) * sin(angle) + (at[:, 2] - strake.root[2])
    core = below**2 + off**2
    y = np.abs(at[:, 1])
    turn = (off + y) / ((off + y) ** 2 + core) + (off - y) / ((off - y) ** 2 + core)
    return float(np.sum(turn * weight) / np.sum(weight)) / (8.0 * pi * off)


def add_downwash(surfaces: tuple[Surface, ...], panels: list[Panel], rows: np.ndarray) -> None:
    """Fill downwash gain and arm of the wing's and the strakes' rows, for the first tail [rad, m].

    Arm between quarter chords of mean chords, by definition.
    """
    wings = [j for j, s in enumerate(surfaces) if s.role == "wing"]
    tails = [j for j, s in enumerate(surfaces) if s.role == "tail" and not upright(s)]
    if not wings or not tails:
        return
    wing, tail = surfaces[wings[0]], surfaces[tails[0]]
    wp, tp = (next(p for p in panels if p.surface is s) for s in (wing, tail))
    values = tables.strip_model()
    mean, stalled = values.mean_chord_at_share, values.stalled_downwash_share
    arm = float(wp.point(mean, 0.25)[0] - tp.point(mean, 0.25)[0])
    for j, surface in enumerate(surfaces):
        if surface is wing:
            turn = _downwash_per_lift(wing, tail)
        elif surface.role == "strake":
            strake = next(p for p in panels if p.surface is surface)
            above, below = (_strake_turn(strake, tp, side) for side in (1.0, -1.0))
            turn = above * rows[j, k.F_AREA]
            # none where it is of the other sign: its sign is then still that of the strakes' force
            rows[j, k.F_WASH_BELOW] = max(0.0, below / above) - 1.0 if above else 0.0
        else:
            continue
        rows[j, [k.F_WASH_GAIN, k.F_WASH_STALLED, k.F_WASH_ARM]] = turn, stalled, arm
