"""At what one unit stopped is looked at: one_out.toml."""

from typing import Annotated

from sim.describe.quantity import Filled, between
from sim.tables.typed import Share, Table


class OneOutTable(Table):
    """one_out.toml."""

    throttles: Filled[Share]
    bank_deg: Annotated[float, between(0.0, 20.0, "degrees")]
    moment_speed_over_stall: Annotated[float, between(1.0, 3.0, "times the stall speed")]
