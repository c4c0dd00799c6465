"""Everything that a set of points tells, in mm aft of the nose, and out or up."""

from dataclasses import dataclass

from sim.trace.frame import Frame, check_error_pct, frame_of
from sim.trace.outlines import Outline, Panel, half_body, panel_of, side_body
from sim.trace.points import Line, Points, View


@dataclass(frozen=True)
class Traced:
    """What was traced; places are (aft, out or up) [mm] of the nose, None where not clicked."""

    view: View
    length: float
    panels: dict[str, Panel]
    body: Outline | None
    datum: tuple[float, float] | None
    wing_root: tuple[float, float] | None
    tail_root: tuple[float, float] | None
    check_error_pct: float | None


def traced(points: Points) -> Traced:
    """Return what points tell; of a side view heights are above the level line.

    Raises
    ------
    Untraceable
        Points are out of order, or make no shape.
    """
    frame = frame_of(points)
    end = points.end[0]
    if points.view == "top":
        body = half_body(points.edge, end, frame)
    else:
        frame = _on_level(frame, points)
        body = side_body(points.upper, points.lower, end, frame)
    return Traced(
        points.view, frame.place(end)[0],
        {n: panel_of(n, c, frame, points.view == "top") for n, c in points.surfaces.items()},
        body, _one(points.datum, frame), _one(points.wing_root, frame),
        _one(points.tail_root, frame), check_error_pct(points),
    )  # fmt: skip


def _one(line: Line, frame: Frame) -> tuple[float, float] | None:
    return frame.place(line[0]) if line else None


def _on_level(frame: Frame, points: Points) -> Frame:
    """Return the axes with heights from the level line, where one was clicked; geometry."""
    if not points.level:
        return frame
    height = frame.place(points.level[0])[1]
    return Frame(
        frame.origin + frame.out * height / frame.mm_a_pixel, frame.aft, frame.out,
        frame.mm_a_pixel,
    )  # fmt: skip
