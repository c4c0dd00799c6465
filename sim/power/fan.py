"""A ducted fan: its columns for the kernel."""

import math

import numpy as np

from sim import tables
from sim.core.loads import thrust
from sim.describe.power import Fan, FanUnit


def circle_area(diameter_mm: float) -> float:
    """Return the area [m²] of a circle given by its diameter [mm]. Geometry."""
    return math.pi / 4.0 * (diameter_mm / 1000.0) ** 2


def fan_columns(fan: Fan, unit: FanUnit, nozzle_mm: float | None = None) -> np.ndarray:
    """Return a fan's row for the kernel; the motor's columns are left at zero.

    Parameters
    ----------
    fan : Fan
        Its places, from the datum; they stay so.
    unit : FanUnit
        The kind of fan. Its pressure line is in pressure rise / (rho U_tip²) by definition.
    nozzle_mm : float, optional
        Nozzle diameter [mm]; left out, the fan's own.

    Returns
    -------
    (N_UNIT_COLS,) array
    """
    row = np.zeros(thrust.N_UNIT_COLS)
    tilt = math.radians(fan.thrust_tilt_deg)
    row[thrust.U_KIND] = thrust.FAN
    row[thrust.U_INLET_X : thrust.U_INLET_Z + 1] = (
        np.array([-fan.inlet_aft_mm, fan.right_mm, -fan.inlet_up_mm]) / 1000.0
    )
    row[thrust.U_EXIT_X : thrust.U_EXIT_Z + 1] = (
        np.array([-fan.nozzle_aft_mm, fan.right_mm, -fan.nozzle_up_mm]) / 1000.0
    )
    row[thrust.U_AXIS_X : thrust.U_AXIS_Z + 1] = math.cos(tilt), 0.0, math.sin(tilt)
    row[thrust.U_DUCT_AREA] = circle_area(unit.duct_mm) - circle_area(unit.hub_mm)
    row[thrust.U_NOZZLE_AREA] = circle_area(nozzle_mm or fan.nozzle_mm)
    row[thrust.U_TIP_RADIUS] = unit.duct_mm / 2000.0
    row[thrust.U_PSI_ZERO] = unit.zero_flow_pressure_coefficient
    row[thrust.U_PSI_SLOPE] = unit.pressure_coefficient_slope
    row[thrust.U_EFFICIENCY] = unit.efficiency
    row[thrust.U_DUCT_LOSS] = unit.duct_loss_coefficient
    row[thrust.U_RAM] = unit.ram_recovery
    own = unit.inlet_lip_loss
    row[thrust.U_LIP] = tables.inlet().lip_loss if own is None else own
    return row
