"""The pack: voltage at rest against the charge left, its resistance, and what a load draws."""

import math

import numpy as np
from numpy.typing import NDArray

from sim import tables
from sim.describe.duty import Duty
from sim.describe.masses import Pack

Floats = NDArray[np.float64]


def default_charge_pct() -> float:
    """Return the charge taken where nothing else is said [% of capacity] (lipo_cell.toml)."""
    return tables.lipo_cell().default_charge_pct


def cell_voltage(charge_pct: float) -> float:
    """Return the voltage at rest of one cell [V].

    Parameters
    ----------
    charge_pct : float
        Charge left [% of capacity], 0 to 100; beyond, the nearest end holds.
        Table: lipo_cell.toml [common_practice], from memory.
    """
    table = tables.lipo_cell()
    return float(np.interp(charge_pct, table.charge_pct, table.open_circuit_v))


def cell_voltage_sd(charge_pct: float) -> float:
    """Return one standard deviation of `cell_voltage` [V], at a charge [% of capacity].

    Table: lipo_cell.toml [common_practice], from memory.
    """
    table = tables.lipo_cell()
    return float(np.interp(charge_pct, table.charge_pct, table.open_circuit_sd_v))


def resistance_mohm(pack: Pack) -> float:
    """Return the resistance of the whole pack [mohm]: the file's, else by capacity and condition.

    Own: cells in series, each of (resistance x capacity) / capacity, as plates of the same kind
    side by side share the current; with warmth it falls exponentially, about the
    reference temperature. Constants: lipo_cell.toml [common_practice], to a factor of two.
    """
    if pack.resistance_mohm is not None:
        return pack.resistance_mohm
    table = tables.lipo_cell()
    usual: float = getattr(table.cell_mohm_ah, pack.condition or table.usual_condition)
    cell = (pack.cell_mohm_ah or usual) / (pack.capacity_mah / 1000.0)
    warmth = table.usual_temperature_c if pack.temperature_c is None else pack.temperature_c
    colder = table.usual_temperature_c - warmth
    return pack.cells * cell * math.exp(table.resistance_change_per_c * colder)


def resistance_sd_log(pack: Pack) -> float:
    """Return one standard deviation of the resistance's natural logarithm [-].

    Narrower where the file gives the resistance (lipo_cell.toml, [common_practice]).
    """
    table = tables.lipo_cell()
    given = pack.resistance_mohm is not None or pack.cell_mohm_ah is not None
    return table.given_resistance_sd_log if given else table.resistance_sd_log


def pack_array(pack: Pack, charge_pct: float | None = None) -> Floats:
    """Return a pack as the kernel wants it: open-circuit voltage [V], resistance [ohm].

    Parameters
    ----------
    pack : Pack
        Cells in series, by definition; resistance of the whole pack, `resistance_mohm`.
    charge_pct : float, optional
        Charge left [% of capacity]; left out, the default of lipo_cell.toml.
    """
    charge = default_charge_pct() if charge_pct is None else charge_pct
    return np.array([pack.cells * cell_voltage(charge), resistance_mohm(pack) / 1000.0])


def capacity_share(pack: Pack) -> float:
    """Return what a pack in its condition still holds, over the capacity on its label [-].

    Table: flight_time.toml [common_practice].
    """
    condition = pack.condition or tables.lipo_cell().usual_condition
    share: float = getattr(tables.flight_time().capacity_share, condition)
    return share


def reserve_of(*told: Duty | None) -> float:
    """Return what stays in the pack [% of what it holds]: the first told, else flight_time.toml's.

    By definition; [common_practice].
    """
    given = (duty.reserve_pct for duty in told if duty is not None)
    return next((x for x in given if x is not None), tables.flight_time().reserve_pct)


def usable_mah(pack: Pack, reserve_pct: float) -> float:
    """Return how much of a pack may be used in a flight [mAh].

    Own: what it still holds of its label, less the reserve.

    Parameters
    ----------
    reserve_pct : float [% of what it holds]
        What stays in the pack; see `reserve_of`.
    """
    return (1.0 - reserve_pct / 100.0) * capacity_share(pack) * pack.capacity_mah


def current_at_power(power_w: Floats, voltage_v: Floats, resistance_ohm: Floats) -> Floats:
    """Return the current [A] at which a pack gives a power, NaN where it cannot.

    The smaller root of I (V - R I) = P, Kirchhoff's laws, from memory; at most V / (2 R).
    A motor at the same thrust and airspeed asks for the same power whatever the pack's voltage:
    so its current rises as the pack empties.

    Parameters
    ----------
    power_w, voltage_v, resistance_ohm : arrays that broadcast [W], [V], [ohm]
        The voltage is that at rest.
    """
    root = voltage_v * voltage_v - 4.0 * resistance_ohm * power_w
    found = 2.0 * power_w / (voltage_v + np.sqrt(np.maximum(root, 0.0)))
    return np.where(root >= 0.0, found, np.nan)
