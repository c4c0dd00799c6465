"""A lithium-polymer cell: lipo_cell.toml."""

from typing import Annotated, ClassVar

from sim.describe.masses import Condition
from sim.describe.quantity import between
from sim.tables.typed import Curve, Percent, Share, Table

MilliohmAh = Annotated[float, between(1.0, 300.0, "mΩ·Ah")]


class MilliohmAhByCondition(Table):
    """Resistance of one cell times its capacity, by the condition it is in."""

    good: MilliohmAh
    ordinary: MilliohmAh
    tired: MilliohmAh


class LipoCell(Table):
    """lipo_cell.toml."""

    CURVES: ClassVar = (("charge_pct", "open_circuit_v", "open_circuit_sd_v"),)

    charge_pct: Curve
    open_circuit_v: Curve
    open_circuit_sd_v: Curve
    default_charge_pct: Percent
    cell_mohm_ah: MilliohmAhByCondition
    usual_condition: Condition
    resistance_sd_log: Share
    given_resistance_sd_log: Share
    resistance_change_per_c: Annotated[float, between(0.0, 0.1, "per °C")]
    usual_temperature_c: Annotated[float, between(-20.0, 60.0, "°C")]
    low_cell_v: Annotated[float, between(2.5, 3.9, "V")]
