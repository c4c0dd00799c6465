"""Wings, tails and fins as shells with thickness; their moving parts apart, on hinges."""

from math import cos, radians, sin, tan
from typing import NamedTuple

import numpy as np

from sim.aero.geometry.panels import Panel, normal_of
from sim.describe import Control
from sim.show.shapes.outline import pivot_line
from sim.show.shapes.solids import Solid, joined, loft

FRONT_SHARES = (0.0, 0.02, 0.1, 0.3, 0.6)  # of the chord, where a section has points
FORWARD = np.array([1.0, 0.0, 0.0])


class Hinge(NamedTuple):
    """What a moving part turns about: a point (3,) [m] and a unit axis (3,).

    A positive servo angle turns the part right-handed about the axis: the trailing edge of
    a lying surface goes down, that of an upright one to the right, as in the kernel's strips.
    """

    channel: str
    side: float
    point: np.ndarray
    axis: np.ndarray


class Piece(NamedTuple):
    """One shell of a panel; ``hinge`` None for what is fixed, ``flap`` True for a flap."""

    name: str
    solid: Solid
    hinge: Hinge | None = None
    flap: bool = False


def half_thickness(panel: Panel, chordwise: np.ndarray) -> np.ndarray:
    """Return half the thickness (n,) over the chord: drop-shaped, or a sharp-edged lens.

    The sections behind the coefficients are known by thickness and edge only; this shape
    is for the eye.
    """
    half = 0.005 * panel.surface.section.thickness_pct
    if panel.surface.section.edge == "sharp":
        return half * 4.0 * chordwise * (1.0 - chordwise)
    # largest at a third of the chord, where it is 2 / (3 sqrt 3)
    return half * np.sqrt(chordwise) * (1.0 - chordwise) * 1.5 * np.sqrt(3.0)


def drooped(panel: Panel, t: float, chordwise: np.ndarray) -> np.ndarray:
    """Return how far a leading edge hangs down (n,), in chords, at a share of the span."""
    droop = panel.surface.droop
    if droop is None or not droop.inner_pct <= 100.0 * t <= droop.outer_pct:
        return np.zeros_like(chordwise)
    return tan(radians(droop.down_deg)) * np.maximum(0.0, 0.01 * droop.chord_pct - chordwise)


def place(panel: Panel, t: float, chordwise: np.ndarray, above: np.ndarray) -> np.ndarray:
    """Return points (n, 3) [m] at a share of span, shares of chord, and heights in chords.

    The section is set at its incidence less its part of the washout, about the quarter
    chord, as the strips are.
    """
    surface = panel.surface
    twist = radians(surface.incidence_deg - t * surface.washout_deg)
    normal = normal_of(panel)
    along = cos(twist) * FORWARD + sin(twist) * normal
    square = cos(twist) * normal - sin(twist) * FORWARD
    chord = panel.chord(t)
    camber = 0.04 * surface.section.camber_pct * chordwise * (1.0 - chordwise)
    camber = camber - drooped(panel, t, chordwise)
    return (
        panel.point(t, 0.25)
        + np.outer((0.25 - chordwise) * chord, along)
        + np.outer((above + camber) * chord, square)
    )


def _section(panel: Panel, t: float, rear: float) -> np.ndarray:
    """Return the ring (n, 3) of a section from its nose to a share of the chord."""
    shares = np.array([x for x in FRONT_SHARES if x < rear - 0.05] + [rear])
    half = half_thickness(panel, shares)
    upper = place(panel, t, shares[::-1], half[::-1])
    lower = place(panel, t, shares[1:], -half[1:])
    return np.vstack([upper, lower if rear < 1.0 else lower[:-1]])


def _flap_section(panel: Panel, t: float, front: float) -> np.ndarray:
    """Return the ring (n, 3) of a flap, its nose rounded about the hinge."""
    half = float(half_thickness(panel, np.array([front]))[0])
    shares = np.array([1.0, front, front - 0.7 * half, front])
    return place(panel, t, shares, np.array([0.0, half, 0.0, -half]))


def _slab(panel: Panel, inner: float, outer: float, rear: float) -> Solid:
    return loft(np.array([_section(panel, t, rear) for t in (inner, outer)]))


def _axis(panel: Panel, start: np.ndarray, end: np.ndarray) -> np.ndarray:
    """Return the unit vector along a hinge line, pointing as the strips' axes do."""
    along = (end - start) * panel.side
    return along / np.linalg.norm(along)


def _flap(panel: Panel, control: Control) -> tuple[float, float, float, Hinge]:
    inner, outer = (control.inner_pct or 0.0) / 100.0, (control.outer_pct or 0.0) / 100.0
    front = 1.0 - (control.chord_pct or 0.0) / 100.0
    line = [place(panel, t, np.array([front]), np.zeros(1))[0] for t in (inner, outer)]
    side = panel.side if panel.surface.mirrored else 0.0
    return inner, outer, front, Hinge(control.channel, side, line[0], _axis(panel, *line))


def _whole(panel: Panel, control: Control) -> Hinge:
    start, end = pivot_line(panel, control.pivot_pct or 0.0) * np.array([-1e-3, 1e-3, -1e-3])
    side = panel.side if panel.surface.mirrored else 0.0
    return Hinge(control.channel, side, start, _axis(panel, start, end))


def pieces_of(panel: Panel) -> list[Piece]:
    """Return the shells of a panel: what is fixed as one, each moving part as its own."""
    surface = panel.surface
    side = {1.0: " right", -1.0: " left"}[panel.side] if surface.mirrored else ""
    for control in surface.controls:
        if control.kind == "all_moving":
            hinge = _whole(panel, control)
            return [Piece(surface.name + side, _slab(panel, 0.0, 1.0, 1.0), hinge)]
    flaps = sorted((_flap(panel, c) for c in surface.controls), key=lambda f: f[0])
    fixed, moving, at = [], [], 0.0
    for inner, outer, front, hinge in flaps:
        if inner > at:
            fixed.append(_slab(panel, at, inner, 1.0))
        fixed.append(_slab(panel, inner, outer, front))
        flap = loft(np.array([_flap_section(panel, t, front) for t in (inner, outer)]))
        moving.append(Piece(hinge.channel + side, flap, hinge, True))
        at = outer
    if at < 1.0:
        fixed.append(_slab(panel, at, 1.0, 1.0))
    return [Piece(surface.name + side, joined(fixed)), *moving]
