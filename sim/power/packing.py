"""From the aeroplane's power tables to the arrays of the kernel."""

import math
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core.loads import thrust
from sim.describe.aeroplane import Aeroplane
from sim.describe.setup import SetUp
from sim.power.fan import fan_columns
from sim.power.pack import pack_array
from sim.power.propeller import propeller_columns, propeller_table

ROTATION = {"clockwise": 1.0, "anticlockwise": -1.0}


class PowerArrays(NamedTuple):
    """Power as the kernel wants it.

    units : (n, N_UNIT_COLS) array
    prop_table : (k, N_PROP_COLS) array, two rows of zeros without propellers
    pack : (N_PACK,) array
    """

    units: np.ndarray
    prop_table: np.ndarray
    pack: np.ndarray


def motor_columns(aeroplane: Aeroplane, row: np.ndarray) -> None:
    """Fill the columns of motor and controller, one of each to every unit.

    Motor constant [V s/rad] = 1 / Kv, from Kv [rpm/V] by definition; resistance [ohm], currents
    [A]. The controller's resistance is in series with the motor's; its full sweep [s], no quicker
    than control_model.toml has it, and its limit hold for the motor behind it. A rotor lighter
    than a step can follow, K²/R over its inertia [1/s], is as heavy as control_model.toml asks.
    """
    values = tables.control_model()
    motor, controller = aeroplane.power_train
    resistance = (motor.resistance_mohm + controller.resistance_mohm) / 1000.0
    row[thrust.U_MOTOR_CONSTANT] = 30.0 / (math.pi * motor.kv_rpm_per_v)
    row[thrust.U_CONDUCTANCE] = 1.0 / resistance
    row[thrust.U_NO_LOAD] = motor.no_load_current_a
    row[thrust.U_CURRENT_LIMIT] = controller.limit_a
    row[thrust.U_SWEEP_TIME] = max(controller.full_sweep_s, values.least_sweep_s)
    damping = row[thrust.U_MOTOR_CONSTANT] ** 2 * row[thrust.U_CONDUCTANCE]
    least = damping / values.quickest_rotor_per_s
    row[thrust.U_ROTOR_INERTIA] = max(row[thrust.U_ROTOR_INERTIA], least)


def pack_power(aeroplane: Aeroplane, setup: SetUp, charge_pct: float | None = None) -> PowerArrays:
    """Pack fans or propellers, motors and the set-up's battery pack into arrays.

    Parameters
    ----------
    aeroplane : Aeroplane
        Fans or propellers with their drive.
    setup : SetUp
        Names the pack; its nozzle, where given, replaces that of every fan.
    charge_pct : float, optional
        Charge left in the pack [% of capacity]; left out, the default of lipo_cell.toml.

    Returns
    -------
    PowerArrays
        Positions in body axes from the datum [m]; see `about`.
    """
    rows = []
    prop_table = np.zeros((2, thrust.N_PROP_COLS))
    for fan in aeroplane.fans:
        fan_unit = aeroplane.fan_units[fan.fan]
        row = fan_columns(fan, fan_unit, setup.nozzle_mm)
        row[thrust.U_ROTOR_INERTIA] = fan_unit.rotor_inertia_kgm2
        row[thrust.U_ROTATION] = ROTATION[fan_unit.rotates]
        rows.append(row)
    for propeller in aeroplane.propellers:
        unit = aeroplane.propeller_units[propeller.propeller]
        row = propeller_columns(propeller, unit)
        row[thrust.U_ROTOR_INERTIA] = unit.rotor_inertia_kgm2
        row[thrust.U_ROTATION] = ROTATION[unit.rotates]
        rows.append(row)
    if aeroplane.propellers:
        # one kind only: the drive names it
        blade = aeroplane.propeller_units[aeroplane.propellers[0].propeller]
        prop_table = propeller_table(blade)
        prop_table[:, thrust.PROP_THRUST] *= blade.thrust_factor
        prop_table[:, thrust.PROP_TORQUE] *= blade.power_factor
    for row in rows:
        motor_columns(aeroplane, row)
    return PowerArrays(
        np.array(rows).reshape(-1, thrust.N_UNIT_COLS),
        prop_table,
        pack_array(aeroplane.packs[setup.pack], charge_pct),
    )


def about(power: PowerArrays, point_body: np.ndarray) -> PowerArrays:
    """Return the same power with all positions relative to a point.

    Parameters
    ----------
    power : PowerArrays
        Not changed.
    point_body : (3,) array [m]
        In the axes and from the origin that the positions have now.
    """
    units = power.units.copy()
    units[:, thrust.U_INLET_X : thrust.U_INLET_Z + 1] -= point_body
    units[:, thrust.U_EXIT_X : thrust.U_EXIT_Z + 1] -= point_body
    return power._replace(units=units)
