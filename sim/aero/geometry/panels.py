"""Cut surfaces into strips: where each is, which way it faces, what moves it.

Which line a strip faces across is `kinds.facing_sweep`'s to say.
"""

from math import atan, cos, radians, sin, tan
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.geometry.pieces import flap_on
from sim.aero.sections.flaps import (
    flap_effect,
    flap_stall_share,
    separated_flap,
    separated_load,
)
from sim.aero.sections.thin_aerofoil import flap_share, hinge_slopes
from sim.core import layout as k
from sim.describe.controls import Throws
from sim.describe.geometry import UPRIGHT_FROM_DEG, Control, Surface

MM = 1e-3  # m in a mm
QUARTER_PCT = 25.0  # of the chord: where attached flow has its centre, thin-aerofoil theory


class Panel(NamedTuple):
    """One straight-tapered panel in SI units, body axes from the datum.

    ``side`` is +1 right, -1 left. ``root`` (3,) is the root's leading edge; ``outward``
    (3,) the unit vector to the tip across the stream.
    """

    surface: Surface
    side: float
    root: np.ndarray
    outward: np.ndarray
    span: float
    root_chord: float
    tip_chord: float
    sweep: float

    def chord(self, t: float) -> float:
        """Return the chord [m] at a share ``t`` of the span; geometry."""
        return self.root_chord + t * (self.tip_chord - self.root_chord)

    def point(self, t: float, chordwise: float) -> np.ndarray:
        """Return the point (3,) [m] at a share of span and of chord; geometry."""
        out = self.root + self.outward * (t * self.span)
        out[0] -= t * self.span * tan(self.sweep) + chordwise * self.chord(t)
        return out

    @property
    def quarter_sweep(self) -> float:
        """Sweep of the quarter-chord line [rad]; geometry."""
        return atan(tan(self.sweep) - (self.root_chord - self.tip_chord) / (4.0 * self.span))

    @property
    def area(self) -> float:
        """Area [m²]; geometry."""
        return 0.5 * (self.root_chord + self.tip_chord) * self.span


def panels_of(surface: Surface) -> list[Panel]:
    """Return the panels of a surface [m, rad]: right and left, or the one it has; geometry."""
    sides = (1.0, -1.0) if surface.mirrored else (1.0,)
    dihedral = radians(surface.dihedral_deg)
    out = []
    for side in sides:
        root = np.array([-surface.root_aft_mm, side * surface.root_right_mm, -surface.root_up_mm])
        outward = np.array([0.0, side * cos(dihedral), -sin(dihedral)])
        out.append(
            Panel(
                surface=surface,
                side=side,
                root=root * MM,
                outward=outward,
                span=surface.panel_span_mm * MM,
                root_chord=surface.root_chord_mm * MM,
                tip_chord=surface.tip_chord_mm * MM,
                sweep=radians(surface.sweep_deg),
            )
        )
    return out


def pivot_x(panel: Panel, pivot_pct: float) -> float:
    """Return how far forward of the datum a whole surface's pivot axis lies [m]; geometry.

    Square to the centreline, at a share of the panel's mean chord, at the span where that chord is.
    """
    taper = panel.tip_chord / panel.root_chord
    t = (1.0 + 2.0 * taper) / (3.0 * (1.0 + taper))
    mean = panel.root_chord * 2.0 / 3.0 * (1.0 + taper + taper**2) / (1.0 + taper)
    return float(panel.root[0]) - t * panel.span * tan(panel.sweep) - pivot_pct / 100.0 * mean


def half_chord_sweep(panel: Panel) -> float:
    """Return the sweep of the half-chord line [rad]; geometry."""
    return atan(tan(panel.sweep) - (panel.root_chord - panel.tip_chord) / (2.0 * panel.span))


def upright(surface: Surface) -> bool:
    """Return True for a surface that stands more than it lies."""
    return abs(surface.dihedral_deg) > UPRIGHT_FROM_DEG


def half_span(surface: Surface) -> float:
    """Return the distance from the centreline to the tip, along y [m]; geometry."""
    return (surface.root_right_mm + surface.panel_span_mm * cos(radians(surface.dihedral_deg))) * MM


def aspect_ratio(surface: Surface) -> float:
    """Return b²/S [-] of a surface, through the body for a lying pair, of the panel if upright.

    By definition.
    """
    mean = 0.5 * (surface.root_chord_mm + surface.tip_chord_mm) * MM
    if upright(surface):
        return surface.panel_span_mm * MM / mean
    span = 2.0 * half_span(surface)
    area = 2.0 * mean * surface.panel_span_mm * MM
    area += 2.0 * surface.root_right_mm * MM * surface.root_chord_mm * MM
    return span * span / area


def normal_of(panel: Panel) -> np.ndarray:
    """Return the unit normal (3,) [-] towards the lifting side, without incidence; geometry."""
    s = panel.outward * panel.side
    return np.array([0.0, s[2], -s[1]])


def strip_columns(
    panel: Panel,
    lean: float,
    channels: dict[tuple[str, float], int],
    throws: dict[str, Throws],
    gains: dict[str, float],
) -> tuple[np.ndarray, np.ndarray]:
    """Return (N_STRIP_ROWS, n) floats and the channel (n,) of each strip of a panel.

    Geometry [m, m²]: quarter-chord points, axes turned by sweep, incidence and washout.

    Parameters
    ----------
    panel : Panel
    lean : float
        Sweep of the line that the strips face across [rad].
    channels : dict
        Row of the servo array for (channel, side); ``side`` 0 stands for a shared servo.
    throws : dict
        Throws of every channel; they set how much a flap's effect is reduced.
    gains : dict
        By how much more each channel's flap turns the surface than a section; `finite_flap`.
    """
    n = panel.surface.strips
    rows = np.zeros((k.N_STRIP_ROWS, n))
    index = np.full(n, -1, dtype=np.int64)
    forward = np.array([1.0, 0.0, 0.0])
    normal = normal_of(panel)
    tip = half_span(panel.surface)
    for i in range(n):
        t = (i + 0.5) / n
        rows[k.S_RX : k.S_RZ + 1, i] = panel.point(t, 0.25)
        twist = radians(panel.surface.incidence_deg - t * panel.surface.washout_deg)
        along = cos(lean) * forward + sin(lean) * panel.outward
        rows[k.S_CX : k.S_CZ + 1, i] = cos(twist) * along + sin(twist) * normal
        rows[k.S_NX : k.S_NZ + 1, i] = cos(twist) * normal - sin(twist) * along
        rows[k.S_AREA, i] = panel.chord(t) * panel.span / n
        rows[k.S_CHORD, i] = panel.chord(t) * cos(lean)
        if panel.surface.mirrored and not upright(panel.surface):
            rows[k.S_ETA, i] = rows[k.S_RY, i] / tip
        rows[k.S_FORCE, i] = 1.0
        index[i] = _controls(panel, lean, i, n, rows, channels, throws, gains)
    return rows, index


def _controls(
    panel: Panel,
    lean: float,
    i: int,
    n: int,
    rows: np.ndarray,
    channels: dict[tuple[str, float], int],
    throws: dict[str, Throws],
    gains: dict[str, float],
) -> int:
    """Fill the control rows of strip ``i`` [-, 1/rad]; return its servo row or -1.

    Own: a flap's effect [glauert1926] by how much of the strip it covers; moments about hinge and
    pivot by `_hinge` and `counted_pivot`.
    """
    side = panel.side if panel.surface.mirrored else 0.0
    for control in panel.surface.controls:
        if control.kind == "all_moving":
            rows[k.S_TAU, i] = 1.0
            rows[k.S_FRAC, i] = 1.0
            rows[k.S_TILT, i] = 1.0
            rows[k.S_MOVES, i] = 1.0
            rows[k.S_FLAP_STALL, i] = 1.0
            rows[k.S_HINGE_ARM, i] = rows[k.S_RX, i] - counted_pivot(panel, control)
            return channels[control.channel, side]
    found = flap_on(panel.surface, i)
    if found is None:
        return -1
    control, cover = found
    assert control.chord_pct is not None
    throw = throws[control.channel]
    most = radians(max(throw.up_deg, throw.down_deg))
    tau, moment = flap_effect(control.chord_pct / 100.0, most)
    rows[k.S_TAU, i] = cover * tau * gains[control.channel]
    along, back = _tilt(panel, lean, control.chord_pct / 100.0)
    load = separated_load(control.chord_pct / 100.0, aspect_ratio(panel.surface))
    rows[k.S_FRAC, i] = cover * load * along
    rows[k.S_FRAC_X, i] = cover * load * back
    rows[k.S_TILT, i] = cover * flap_share(control.chord_pct / 100.0)
    rows[k.S_FLAP_STALL, i] = cover * tau * flap_stall_share()
    rows[k.S_DCM, i] = cover * moment
    late = separated_flap(control.chord_pct / 100.0)
    rows[k.S_LATE_CN, i] = cover * late.normal
    rows[k.S_LATE_CN2, i] = cover * late.squared
    rows[k.S_LATE_CM, i] = cover * late.moment
    _hinge(panel, control, cover, i, n, rows)
    return channels[control.channel, side]


def counted_pivot(panel: Panel, control: Control) -> float:
    """Return how far forward of the datum the pivot of a whole surface counts [m].

    Own: where the air's force stands along the chord is known to a share of the mean chord
    (control_model.toml), and so is a pivot that somebody drilled. It counts by that further from
    the quarter chord than stated, ahead of it where it lies there or on it.
    """
    stated = control.pivot_pct or 0.0
    doubt = tables.control_model().arm_share * panel.area / panel.span
    return pivot_x(panel, stated) + (doubt if stated <= QUARTER_PCT else -doubt)


def _hinge(panel: Panel, control: Control, cover: float, i: int, n: int, rows: np.ndarray) -> None:
    """Fill what the hinge moment of a flap on strip ``i`` of ``n`` needs [m³, 1/rad, -].

    Coefficients are on its chord squared and its span; the slope with deflection is that of
    control_model.toml, the ratio to that with incidence by [glauert1926].
    """
    share = (control.chord_pct or 0.0) / 100.0
    chord = share * panel.chord((i + 0.5) / n)
    by_incidence, by_flap = hinge_slopes(share)
    rows[k.S_HINGE, i] = cover * panel.span / n * chord * chord
    rows[k.S_HINGE_SLOPE, i] = tables.control_model().flap_per_rad
    rows[k.S_HINGE_RATIO, i] = by_incidence / by_flap
    rows[k.S_HINGE_LEAN, i] = 0.25 - share / 6.0


def _tilt(panel: Panel, lean: float, chord_share: float) -> tuple[float, float]:
    """Return what of the tilt of a flap's normal force lies along its strip's chord and the body.

    Geometry, shares [-]. Pressure on a flap stands across its hinge, which is swept less than the
    strip's line where the panel tapers: the unit vector across it, in the panel's plane, as a sum
    of the other two.
    """
    if abs(lean) < radians(tables.strip_model().least_lean_deg):
        return 1.0, 0.0
    hinge = atan(
        tan(panel.sweep) - (1.0 - chord_share) * (panel.root_chord - panel.tip_chord) / panel.span
    )
    along = sin(hinge) / sin(lean)
    return along, cos(hinge) - along * cos(lean)


def carry_over(panel: Panel, lean: float) -> np.ndarray:
    """Return the one strip (N_STRIP_ROWS, 1) that carries a lying panel through the body [m, m²].

    The gross-wing picture of DATCOM [datcom1978] 4.3.1: a surface and its body lift about
    as the surface carried through to the centreline does. A strake's triangle is carried
    through as slender-body theory has it [pitts1957]: with its body it lifts (1 + r/s)^2
    times what its panels do alone, r the body's half width and s the strake's half span, but
    no more than the body's own area beside it gives.
    """
    gap = abs(panel.root[1])
    inner = panel._replace(
        root=np.array([panel.root[0], 0.0, panel.root[2]]),
        span=gap,
        tip_chord=panel.root_chord,
        sweep=0.0,
    )
    rows = np.zeros((k.N_STRIP_ROWS, 1))
    rows[k.S_RX : k.S_RZ + 1, 0] = inner.point(0.5, 0.25)
    along = cos(lean) * np.array([1.0, 0.0, 0.0]) + sin(lean) * panel.outward
    rows[k.S_CX : k.S_CZ + 1, 0] = along
    rows[k.S_NX : k.S_NZ + 1, 0] = normal_of(panel)
    rows[k.S_AREA, 0] = inner.area
    if panel.surface.role == "strake":
        share = gap / half_span(panel.surface)
        rows[k.S_AREA, 0] = min(inner.area, panel.area * ((1.0 + share) ** 2 - 1.0))
    rows[k.S_CHORD, 0] = panel.root_chord * cos(lean)
    if panel.surface.mirrored:
        rows[k.S_ETA, 0] = rows[k.S_RY, 0] / half_span(panel.surface)
    rows[k.S_FORCE, 0] = 1.0
    rows[k.S_CARRIED, 0] = 1.0
    return rows
