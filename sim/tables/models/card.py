"""The flight card and the ladder of test flights: card.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Count, Metres, Millimetres, Minutes, Percent, Share, Table


class Card(Table):
    """card.toml."""

    least_step_mm: Millimetres
    most_step_mm: Millimetres
    most_step_pct_mac: Percent
    afresh_steps_forward: Count
    same_balance_mm: Millimetres
    same_height_m: Metres
    again_step_m: Metres
    again_most_m: Metres
    ladder_draws: Count
    ceiling_m: Metres
    timed_flight_min: Minutes
    trim_share_of_travel: Share
    least_cell_v: Annotated[float, between(2.0, 4.5, "V")]
    read_deg: Annotated[float, between(0.0, 5.0, "deg")]
    trim_above_m: Metres
