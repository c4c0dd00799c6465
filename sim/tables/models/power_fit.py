"""What a bench fit may move, and how good measurements are: power_fit.toml."""

from typing import Annotated, Literal

from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Ends, Factor, Share, Table

Constant = Literal[
    "zero_flow_pressure_coefficient", "pressure_coefficient_slope", "efficiency",
    "duct_loss_coefficient", "ram_recovery", "thrust_factor", "power_factor", "resistance_mohm",
    "drag", "bench_volts", "flight_volts",
]  # fmt: skip
End = Annotated[float, between(-1000.0, 1000.0)]


class Uncertain(Table):
    """One constant that nobody measures; it moves by ``spread`` either way at most."""

    name: Constant
    spread: Annotated[float, between(0.001, 2.0)]
    kind: Literal["share", "value"]
    least: End
    most: End
    text: Text
    source: Text


class Measurement(Table):
    """One measurement; ``sd`` is a share of what was measured."""

    name: Literal["static_thrust_g", "static_current_a", "cruise_throttle_pct", "top_speed_mps"]
    sd: Annotated[float, between(0.001, 1.0)]
    source: Text


class PowerFitTable(Table):
    """power_fit.toml."""

    met_within_sds: Factor
    cell_v: Ends
    constants: Filled[Uncertain]
    measured_volts_spread: Share
    measurements: Filled[Measurement]
