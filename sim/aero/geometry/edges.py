"""Travel of a trailing edge: degrees at the hinge or pivot, and mm as a ruler reads them."""

from sim.aero.geometry.panels import Panel
from sim.describe import Control
from sim.describe.edge_throws import arm_mm, edge_mm

__all__ = ["arm_of", "edge_mm"]


def arm_of(panel: Panel, control: Control) -> float:
    """Return the distance from hinge line or pivot to the trailing edge [mm]; see `arm_mm`."""
    arm = arm_mm(panel.surface.model_dump(), control.model_dump())
    assert arm is not None  # a described surface has all that it needs
    return arm
