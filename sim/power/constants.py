"""Constants of what drives an aeroplane that nobody measures: read, tried, put back into its file.

Their names and spreads are those of power_fit.toml; each stands in one column of the kernel's
arrays, or scales one of the propeller's table.
"""

import numpy as np

from sim import tables
from sim.core.loads import thrust
from sim.describe.aeroplane import Aeroplane
from sim.power.packing import PowerArrays
from sim.tables.models.power_fit import Uncertain

FAN_COLUMNS = {
    "zero_flow_pressure_coefficient": thrust.U_PSI_ZERO,
    "pressure_coefficient_slope": thrust.U_PSI_SLOPE,
    "efficiency": thrust.U_EFFICIENCY,
    "duct_loss_coefficient": thrust.U_DUCT_LOSS,
    "ram_recovery": thrust.U_RAM,
}
PROPELLER_COLUMNS = {"thrust_factor": thrust.PROP_THRUST, "power_factor": thrust.PROP_TORQUE}
RESISTANCE = "resistance_mohm"


def values_of(aeroplane: Aeroplane) -> dict[str, float]:
    """Return the constants of an aeroplane's fans or propellers and motors, units of its file."""
    motor, _ = aeroplane.power_train
    values = {RESISTANCE: motor.resistance_mohm}
    if aeroplane.fans:
        unit = aeroplane.fan_units[aeroplane.fans[0].fan]
        return {name: getattr(unit, name) for name in FAN_COLUMNS} | values
    blade = aeroplane.propeller_units[aeroplane.propellers[0].propeller]
    return {name: getattr(blade, name) for name in PROPELLER_COLUMNS} | values


def with_values(aeroplane: Aeroplane, values: dict[str, float]) -> Aeroplane:
    """Return an aeroplane with other constants, units of its file."""
    assert aeroplane.drive is not None  # a glider's is not fitted
    name = aeroplane.drive.motor
    motor = aeroplane.motors[name].model_copy(update={RESISTANCE: values[RESISTANCE]})
    update: dict[str, object] = {"motors": {**aeroplane.motors, name: motor}}
    own = {key: value for key, value in values.items() if key != RESISTANCE}
    if aeroplane.fans:
        kind = aeroplane.fans[0].fan
        unit = aeroplane.fan_units[kind].model_copy(update=own)
        update["fan_units"] = {**aeroplane.fan_units, kind: unit}
    else:
        kind = aeroplane.propellers[0].propeller
        blade = aeroplane.propeller_units[kind].model_copy(update=own)
        update["propeller_units"] = {**aeroplane.propeller_units, kind: blade}
    return aeroplane.model_copy(update=update)


def tried(
    power: PowerArrays, before: dict[str, float], values: dict[str, float], controller_mohm: float
) -> PowerArrays:
    """Return power arrays with other constants than they were packed with.

    Motor and controller in series, [ohm] from the file's [mohm]; by definition.

    Parameters
    ----------
    power : PowerArrays
        Packed with ``before``; not changed.
    before, values : dict of str to float
        As `values_of` gives them.
    controller_mohm : float
        Resistance of a controller.
    """
    units, table = power.units.copy(), power.prop_table.copy()
    units[:, thrust.U_CONDUCTANCE] = 1000.0 / (values[RESISTANCE] + controller_mohm)
    for name, column in FAN_COLUMNS.items():
        if name in values:
            units[:, column] = values[name]
    for name, column in PROPELLER_COLUMNS.items():
        if name in values:
            table[:, column] *= values[name] / before[name]
    return power._replace(units=units, prop_table=table)


def uncertain(name: str) -> Uncertain:
    """Return what power_fit.toml says of a constant."""
    return next(x for x in tables.power_fit().constants if x.name == name)


def spread_of(name: str, before: float, volts_measured: bool) -> float:
    """Return by how much a constant may move either way, in its own unit [mohm, -].

    Own: power_fit.toml; a share of its size, or a value.
    """
    entry = uncertain(name)
    spread = entry.spread
    if name == "bench_volts" and volts_measured:
        spread = tables.power_fit().measured_volts_spread
    return spread * abs(before) if entry.kind == "share" else spread


def moved_to(name: str, before: float, spread: float, share: float) -> float:
    """Return a constant [mohm, -] moved by a share (-1 to 1) of its spread, as far as it can be.

    Own: cut at the ends of power_fit.toml.
    """
    entry = uncertain(name)
    return float(np.clip(before + share * spread, entry.least, entry.most))
