"""One fan or propeller of several that stops: which it may be, what it drags, the rest's arrays."""

import numpy as np

from sim.core.loads import thrust
from sim.describe.aeroplane import Aeroplane
from sim.power.operating_point import evaluate, operating_point
from sim.power.packing import PowerArrays


def unit_places(aeroplane: Aeroplane) -> list[tuple[str, float]]:
    """Return name and place [mm to the right] of each fan or propeller, as the kernel has them."""
    fans = [(fan.name, fan.right_mm) for fan in aeroplane.fans]
    return fans + [(propeller.name, propeller.right_mm) for propeller in aeroplane.propellers]


def lacks_a_pair(aeroplane: Aeroplane, sides: tuple[float, ...] = (-1.0, 1.0)) -> str | None:
    """Return why no unit can stop on these sides (+1 right, -1 left), or None where one can.

    Geometry: a unit nearer to the middle than OFF_CENTRE [m] stands on neither side.
    """
    units = unit_places(aeroplane)
    kind = "fan" if aeroplane.fans else "propeller"
    if len(units) < 2:
        count = f"one {kind}" if units else "no motor"
        return f"{aeroplane.name} has {count}; nothing is left to fly on"
    for side in sides:
        if not any(side * right > 1000.0 * thrust.OFF_CENTRE for _, right in units):
            where = "right" if side > 0.0 else "left"
            return f"{aeroplane.name} has no {kind} to the {where} of its middle that could stop"
    return None


def stopped_unit(units: np.ndarray, side: float) -> int:
    """Return which row of ``units`` stops on a side (+1 right, -1 left).

    Geometry: the outermost [m].
    """
    return int(thrust.outermost(units, side))


def without_current(units: np.ndarray, index: int) -> np.ndarray:
    """Return the units with one that takes no current [A]: its rotor turns as the air drives it.

    By definition of a dead controller.
    """
    out = units.copy()
    out[index, thrust.U_CONDUCTANCE] = 0.0
    return out


def drag_of_stopped(
    power: PowerArrays, index: int, speed_mps: float, rho: float
) -> tuple[float, float]:
    """Return the drag [N] of one unit without current: driven round by the air, and held still.

    The kernel's own loads in straight flight at a speed [m/s] and density [kg/m³], by definition.
    """
    alone = power._replace(units=without_current(power.units, index)[index : index + 1])
    turning = operating_point(alone, 1.0, speed_mps, rho).net_thrust_n
    _, held = evaluate(alone, np.zeros(1), np.ones(1), speed_mps, rho)
    return -turning, -float(held[0])
