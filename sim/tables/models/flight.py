"""How flights are integrated: flight.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Count, Metres, Seconds, Share, Table

Roughness = Annotated[float, between(0.0, 1.0, "rad/s")]


class Flight(Table):
    """flight.toml."""

    step_s: Annotated[float, between(1e-5, 0.05, "s")]
    control_rate_hz: Annotated[float, between(1.0, 1000.0, "Hz")]
    rough_rps: Roughness
    smooth_rps: Roughness
    finest_parts: Count
    coarsest_steps: Count
    easy_share: Share
    trim_good_mps2: Annotated[float, between(0.0, 10.0, "m/s2")]
    start_step: Annotated[float, between(1.001, 1.5, "")]
    start_most: Annotated[float, between(1.0, 10.0, "")]
    fastest_mps: Annotated[float, between(10.0, 340.0, "m/s")]
    most_drop_m: Metres
    retries_s: Seconds
