"""The aeroplane drawn in a view: bodies, booms, surfaces with strips and moving parts."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Polygon

from sim.describe import Aeroplane
from sim.show.drawing.canvas import BLUE, FAINT, INK
from sim.show.shapes.outline import (
    VIEWS,
    body_outline,
    body_sections,
    booms,
    shapes_of,
    wheel_places,
)

BOOM_POINTS = 2.0


def _fill(axes: Axes, points: np.ndarray, **look: str | float) -> None:
    axes.add_patch(Polygon(points, closed=True, **look))


def draw_bodies(axes: Axes, aeroplane: Aeroplane, view: str) -> None:
    """Draw the bodies and their stations in a view."""
    for body in aeroplane.bodies:
        if view == "front":
            for ring in body_sections(body):
                _fill(axes, ring, fc="none", ec=FAINT, lw=0.6)
            continue
        _fill(axes, body_outline(body, view), fc="none", ec=INK, lw=1.0)
        for s in body.stations:
            middle = s.right_mm if view == "top" else s.up_mm
            half = (s.width_mm if view == "top" else s.height_mm) / 2.0
            axes.plot([s.aft_mm] * 2, [middle - half, middle + half], color=FAINT, lw=0.4)


def draw_surfaces(axes: Axes, aeroplane: Aeroplane, view: str, strips: bool = True) -> None:
    """Draw panels with strips, moving parts (filled) and hinge lines (dash-dotted)."""
    columns = list(VIEWS[view])
    for shape in shapes_of(aeroplane):
        for area in shape.moving:
            _fill(axes, area[:, columns], fc=BLUE, ec="none", alpha=0.35)
        if strips:
            for line in shape.strips:
                axes.plot(*line[:, columns].T, color=FAINT, lw=0.4)
        _fill(axes, shape.outline[:, columns], fc="none", ec=INK, lw=1.0)
        for hinge in shape.hinges:
            axes.plot(*hinge[:, columns].T, color=INK, lw=0.8, ls="-.")


def draw_booms(axes: Axes, aeroplane: Aeroplane, view: str) -> None:
    """Draw what carries a tail that no body reaches, a thick line each."""
    for ends in booms(aeroplane):
        axes.plot(*ends[:, list(VIEWS[view])].T, color=INK, lw=BOOM_POINTS, zorder=1)


def draw_aeroplane(axes: Axes, aeroplane: Aeroplane, view: str, strips: bool = True) -> None:
    """Draw bodies, booms and surfaces in the view "top", "side" or "front", in mm to true scale."""
    draw_bodies(axes, aeroplane, view)
    draw_booms(axes, aeroplane, view)
    draw_surfaces(axes, aeroplane, view, strips)
    axes.set_aspect("equal")


def draw_wheels(axes: Axes, aeroplane: Aeroplane) -> None:
    """Mark in the side view where the tyres touch the ground, and the ground between them."""
    points = wheel_places(aeroplane)
    if points:
        axes.plot(*np.transpose(points), "-^", color=INK, mfc="none", ms=8.0, lw=0.8, zorder=4)
