"""The aeroplane as lines to draw: panels with their strips and moving parts, bodies."""

from dataclasses import dataclass

import numpy as np

from sim.aero.geometry.panels import Panel, panels_of, pivot_x
from sim.describe import Aeroplane, Body, Control

# Which columns of (aft, right, up) a view shows across and up the sheet.
VIEWS = {"top": (0, 1), "side": (0, 2), "front": (1, 2)}
MM = 1000.0


@dataclass(frozen=True)
class Shape:
    """A closed outline (n, 3) in mm aft, right, up, and lines (2, 3) drawn on it."""

    name: str
    outline: np.ndarray
    strips: tuple[np.ndarray, ...]
    moving: tuple[np.ndarray, ...]
    hinges: tuple[np.ndarray, ...]


def to_mm(points_m: np.ndarray) -> np.ndarray:
    """Return body-axis points (..., 3) [m] as mm aft, right and up of the datum."""
    return np.asarray(points_m) * np.array([-MM, MM, -MM]) + 0.0


def _part(panel: Panel, inner: float, outer: float, front: float, rear: float) -> np.ndarray:
    corners = ((inner, front), (outer, front), (outer, rear), (inner, rear))
    return to_mm(np.array([panel.point(t, c) for t, c in corners]))


def pivot_line(panel: Panel, pivot_pct: float) -> np.ndarray:
    """Return the pivot axis (2, 3) [mm] of an all-moving panel, square to the centreline.

    It lies at a share of the panel's mean chord, at the span where that chord is.
    """
    ends = np.array([panel.root, panel.root + panel.outward * panel.span])
    ends[:, 0] = pivot_x(panel, pivot_pct)
    return to_mm(ends)


def _moving(panel: Panel, control: Control) -> tuple[np.ndarray, np.ndarray]:
    if control.kind == "all_moving":
        return _part(panel, 0.0, 1.0, 0.0, 1.0), pivot_line(panel, control.pivot_pct or 0.0)
    inner, outer = (control.inner_pct or 0.0) / 100.0, (control.outer_pct or 0.0) / 100.0
    front = 1.0 - (control.chord_pct or 0.0) / 100.0
    area = _part(panel, inner, outer, front, 1.0)
    return area, area[:2]


def panel_shape(panel: Panel) -> Shape:
    """Return a panel's outline, strip edges, moving parts and hinge lines."""
    n = panel.surface.strips
    edges = [
        to_mm(np.array([panel.point(i / n, 0.0), panel.point(i / n, 1.0)])) for i in range(1, n)
    ]
    moved = [_moving(panel, control) for control in panel.surface.controls]
    return Shape(
        panel.surface.name,
        _part(panel, 0.0, 1.0, 0.0, 1.0),
        tuple(edges),
        tuple(area for area, _ in moved),
        tuple(hinge for _, hinge in moved),
    )


def shapes_of(aeroplane: Aeroplane) -> list[Shape]:
    """Return the shapes of all panels of an aeroplane."""
    return [panel_shape(p) for surface in aeroplane.surfaces for p in panels_of(surface)]


def body_outline(body: Body, view: str) -> np.ndarray:
    """Return a body's outline (n, 2) [mm] in the top or side view, through its stations."""
    aft = np.array([s.aft_mm for s in body.stations])
    if view == "top":
        middle = np.array([s.right_mm for s in body.stations])
        half = np.array([s.width_mm for s in body.stations]) / 2.0
    else:
        middle = np.array([s.up_mm for s in body.stations])
        half = np.array([s.height_mm for s in body.stations]) / 2.0
    there = np.column_stack([aft, middle + half])
    return np.vstack([there, np.column_stack([aft, middle - half])[::-1]])


def body_sections(body: Body) -> list[np.ndarray]:
    """Return a body's sections (n, 2) [mm right, up] as seen from the front."""
    return [
        section(s.width_mm, s.height_mm, body.corner_pct) + np.array([s.right_mm, s.up_mm])
        for s in body.stations
    ]


def section(width: float, height: float, corner_pct: float) -> np.ndarray:
    """Return a section (n, 2): a box with corners rounded elliptically by a share of each half."""
    share = corner_pct / 100.0
    quarter = np.linspace(0.0, np.pi / 2.0, 9)
    x = 0.5 * width * (1.0 - share + share * np.cos(quarter))
    y = 0.5 * height * (1.0 - share + share * np.sin(quarter))
    right = np.concatenate([x, -x[::-1], -x, x[::-1]])
    up = np.concatenate([y, y[::-1], -y, -y[::-1]])
    return np.column_stack([right, up])


def booms(aeroplane: Aeroplane) -> list[np.ndarray]:
    """Return the bars and tubes that lie mostly fore or aft of all bodies, as ends (2, 3) [mm].

    They are what carries a tail that no body reaches; each of a mirrored pair is there.
    """
    ends = [s.aft_mm for body in aeroplane.bodies for s in body.stations]
    low, high = min(ends, default=0.0), max(ends, default=0.0)
    out = []
    for part in aeroplane.parts:
        length = part.length_mm or 0.0
        reach = part.aft_mm + np.array([-0.5, 0.5]) * length
        outside = max(0.0, low - reach[0]) + max(0.0, reach[1] - high)
        if part.shape not in ("bar", "shell") or part.along != "aft" or outside < 0.5 * length:
            continue
        for side in (1.0, -1.0) if part.mirrored else (1.0,):
            out.append(np.array([(aft, side * part.right_mm, part.up_mm) for aft in reach]))
    return out


def wheel_places(aeroplane: Aeroplane) -> list[tuple[float, float]]:
    """Return (aft, up) [mm] where main and third wheel touch the ground; empty without wheels."""
    gear = aeroplane.undercarriage
    if gear is None:
        return []
    third = (gear.nose_aft_mm, gear.nose_up_mm)
    if not gear.has_nose_wheel:
        third = (gear.tail_aft_mm, gear.tail_up_mm)
    assert third[0] is not None
    assert third[1] is not None
    return [(gear.main_aft_mm, gear.main_up_mm), (third[0], third[1])]
