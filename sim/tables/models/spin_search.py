"""How spin equilibria are looked for: spin_search.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Count, Curve, Ends, Factor, Metres, Millimetres, Seconds, Share, Table

Residual = Annotated[float, between(0.0, 1e-3, "g")]


class SpinSearch(Table):
    """spin_search.toml."""

    height_m: Metres
    trim_over_stall: Annotated[float, between(1.0, 5.0)]
    iterations: Count
    halvings: Count
    reach: Share
    solved: Residual
    accepted: Residual
    same: Share
    start_alpha_deg: Curve
    start_rates: Curve
    settling_mps: Annotated[float, between(1.0, 100.0, "m/s")]
    start_speed_ends: Ends
    fall_alpha_deg: Curve
    fall_rates: Curve
    fall_s: Seconds
    fall_mean_share: Share
    most_moment: Factor
    most_rate: Factor
    most_steps: Count
    steps: Curve
    near_steps: Factor
    stride_steps: Factor
    branch: Share
    birth_within: Millimetres
    map_step_mm: Millimetres
    most_stops: Count
    stick_parts: Count
    flown_s: Seconds
    flown_last_s: Seconds
