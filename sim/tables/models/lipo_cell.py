"""A lithium-polymer cell: lipo_cell.toml."""

from typing import ClassVar

from sim.tables.typed import Curve, Percent, Table


class LipoCell(Table):
    """lipo_cell.toml."""

    CURVES: ClassVar = (("charge_pct", "open_circuit_v"),)

    charge_pct: Curve
    open_circuit_v: Curve
    default_charge_pct: Percent
