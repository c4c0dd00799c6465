"""Travel of a trailing edge: degrees at the hinge or pivot, and mm as a ruler reads them."""

from math import atan, cos, radians, sin, tan

from sim.aero.geometry.panels import Panel, pivot_x
from sim.describe import Control

MM = 1000.0


def edge_mm(arm_mm: float, angle_deg: float) -> float:
    """Return the travel of a trailing edge [mm], square to the surface at rest; by definition."""
    return arm_mm * sin(radians(angle_deg))


def arm_of(panel: Panel, control: Control) -> float:
    """Return the distance from the hinge line to the trailing edge [mm], at the inner end.

    Geometry. A swept hinge line is nearer than the chord along the stream, by the cosine of its
    sweep. A width that was measured stands as it is. An all-moving surface turns about a line
    square to the centreline; it is measured at its root.
    """
    if control.kind == "all_moving":
        return MM * (pivot_x(panel, control.pivot_pct or 0.0) - float(panel.point(0.0, 1.0)[0]))
    if control.width_mm is not None:
        return control.width_mm
    share = (control.chord_pct or 0.0) / 100.0
    back = tan(panel.sweep) - (1.0 - share) * (panel.root_chord - panel.tip_chord) / panel.span
    return MM * share * panel.chord((control.inner_pct or 0.0) / 100.0) * cos(atan(back))
