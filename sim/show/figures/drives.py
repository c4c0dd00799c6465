"""Fans and propellers to draw: duct, rotor, nozzle, disc and thrust line."""

from math import cos, radians, sin

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle

from sim.describe import Aeroplane
from sim.describe.power import Fan, Propeller
from sim.show.drawing.canvas import BLUE, INK, MARK
from sim.show.shapes.outline import VIEWS

LONG_DASHES = (0, (9, 3, 2, 3))


def thrust_line(
    start_mm: tuple[float, float, float], tilt_deg: float, side_deg: float, length_mm: float
) -> np.ndarray:
    """Return a thrust line (2, 3) [mm aft, right, up] from a point, ahead by ``length_mm``.

    A positive tilt points downwards ahead, a positive side tilt to the right ahead; a
    negative length draws the line aft of the point.
    """
    tilt, side = radians(tilt_deg), radians(side_deg)
    ahead = np.array([-cos(tilt) * cos(side), sin(side), -sin(tilt)])
    start = np.array(start_mm)
    return np.array([start, start + length_mm * ahead])


def draw_drives(axes: Axes, aeroplane: Aeroplane, view: str, length_mm: float) -> None:
    """Draw fans and propellers in a view; thrust lines run the aeroplane's length."""
    for fan in aeroplane.fans:
        _fan(axes, fan, aeroplane.fan_units[fan.fan].duct_mm, view, length_mm)
    for unit in aeroplane.propellers:
        _propeller(
            axes, unit, aeroplane.propeller_units[unit.propeller].diameter_mm, view, length_mm
        )


def _fan(axes: Axes, fan: Fan, duct_mm: float, view: str, length_mm: float) -> None:
    nozzle = (fan.nozzle_aft_mm, fan.right_mm, fan.nozzle_up_mm)
    if view == "front":
        axes.add_patch(Circle((fan.right_mm, fan.up_mm), duct_mm / 2.0, fc="none", ec=INK, lw=1.0))
        return
    across = VIEWS[view][1]
    inlet = (fan.inlet_aft_mm, fan.right_mm, fan.inlet_up_mm)[across]
    middle = (fan.aft_mm, fan.right_mm, fan.up_mm)[across]
    centres = np.array([inlet, middle, nozzle[across]])
    halves = np.array([duct_mm, duct_mm, fan.nozzle_mm]) / 2.0
    aft = [fan.inlet_aft_mm, fan.aft_mm, fan.nozzle_aft_mm]
    for sign in (-1.0, 1.0):
        axes.plot(aft, centres + sign * halves, color=BLUE, lw=0.9, ls="--")
    rotor = [middle - duct_mm / 2.0, middle + duct_mm / 2.0]
    axes.plot([fan.aft_mm] * 2, rotor, color=INK, lw=2.0, zorder=4)
    _line(axes, thrust_line(nozzle, fan.thrust_tilt_deg, 0.0, length_mm), view)


def _propeller(
    axes: Axes, unit: Propeller, diameter_mm: float, view: str, length_mm: float
) -> None:
    hub = (unit.aft_mm, unit.right_mm, unit.up_mm)
    radius = diameter_mm / 2.0
    if view == "front":
        axes.add_patch(Circle((hub[1], hub[2]), radius, fc="none", ec=INK, lw=0.8, ls="--"))
        return
    middle = hub[VIEWS[view][1]]
    axes.plot([hub[0]] * 2, [middle - radius, middle + radius], color=INK, lw=2.0, zorder=4)
    _line(axes, thrust_line(hub, unit.thrust_tilt_deg, unit.side_tilt_deg, -length_mm), view)


def _line(axes: Axes, line: np.ndarray, view: str) -> None:
    axes.plot(*line[:, list(VIEWS[view])].T, color=MARK, lw=1.0, ls=LONG_DASHES)
