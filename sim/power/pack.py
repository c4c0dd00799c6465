"""The pack: open-circuit voltage against the charge left, and its resistance."""

import numpy as np

from sim import tables
from sim.describe.masses import Pack


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


def pack_array(pack: Pack, charge_pct: float | None = None) -> np.ndarray:
    """Return a pack as the kernel wants it: open-circuit voltage [V], resistance [ohm].

    Parameters
    ----------
    pack : Pack
        Cells in series, by definition; resistance of the whole pack [mohm].
    charge_pct : float, optional
        Charge left [% of capacity]; left out, the default of lipo_cell.toml.
    """
    charge = default_charge_pct() if charge_pct is None else charge_pct
    return np.array([pack.cells * cell_voltage(charge), pack.resistance_mohm / 1000.0])


def usable_mah(pack: Pack) -> float:
    """Return how much of a pack may be used in a flight [mAh] (study.toml, [common_practice])."""
    share = tables.study().usable_pack_share
    return share * pack.capacity_mah
