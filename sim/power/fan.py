"""A ducted fan: its columns for the kernel, and the ideal fan it is measured against.

Ideal: one-dimensional, no losses, the jet at ambient pressure at the nozzle (area A_e):
mdot = rho A_e V_e, thrust mdot (V_e - V), power mdot (V_e² - V²) / 2. Momentum and energy
of a stream tube (Rankine, Froude; [glauert1935], from memory); the nozzle takes the place of
the contracted wake.
"""

import math

import numpy as np

from sim.core.loads import thrust
from sim.describe.power import Fan, FanUnit

NEWTON_STEPS = 60


def ideal_jet_speed(power_w: float, nozzle_area_m2: float, speed_mps: float, rho: float) -> float:
    """Return the jet speed V_e [m/s] at which the stream takes up a power.

    The root above V of rho A_e V_e (V_e² - V²) / 2 = P, energy of a stream tube [glauert1935];
    by Newton's steps from above, where the cubic is convex.

    Parameters
    ----------
    power_w : float [W]
        Power that goes into the stream, not negative.
    nozzle_area_m2, speed_mps, rho : float [m²], [m/s], [kg/m³]
    """
    cube = 2.0 * power_w / (rho * nozzle_area_m2)
    jet = abs(speed_mps) + cube ** (1.0 / 3.0)
    for _ in range(NEWTON_STEPS):
        slope = 3.0 * jet * jet - speed_mps * speed_mps
        step = (jet * (jet * jet - speed_mps * speed_mps) - cube) / slope if slope > 0.0 else 0.0
        jet -= step
        if abs(step) <= 1e-15 * jet:
            break
    return jet


def ideal_thrust_at_power(
    power_w: float, nozzle_area_m2: float, speed_mps: float, rho: float
) -> float:
    """Return the thrust [N] of an ideal fan at a power and a speed of flight.

    mdot (V_e - V), momentum of a stream tube [glauert1935].
    """
    jet = ideal_jet_speed(power_w, nozzle_area_m2, speed_mps, rho)
    return rho * nozzle_area_m2 * jet * (jet - speed_mps)


def ideal_static_thrust(power_w: float, nozzle_area_m2: float, rho: float) -> float:
    """Return the static thrust [N] of an ideal fan, (4 rho A_e P²)^(1/3).

    The formulas of the module at V = 0 [glauert1935]; power [W], area [m²], rho [kg/m³].
    """
    return (4.0 * rho * nozzle_area_m2 * power_w**2) ** (1.0 / 3.0)


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
    return row
