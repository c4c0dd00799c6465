"""What approach, flare and take-off ask of full aft stick: landing.toml."""

from typing import Annotated

from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Angle, Count, Share, SignedAngle, Table

OverStall = Annotated[float, between(1.0, 3.0, "times the stall speed")]


class Landing(Table):
    """landing.toml."""

    approach_over_stall: OverStall
    stalled_power_share: Share
    foreplane_margin_pct: Annotated[float, between(0.0, 40.0, "% MAC")]
    most_throw_deg: Annotated[float, between(5.0, 60.0, "degrees")]
    elevator_sizes: Filled[Annotated[float, between(1.01, 3.0, "times its size")]]
    near_neutral_pct: Annotated[float, between(0.0, 30.0, "% MAC")]
    flare_load_g: Annotated[float, between(1.0, 3.0, "g")]
    touchdown_over_stall: OverStall
    most_touchdown_deg: Angle
    rotate_over_stall: OverStall
    rolling_friction: Share
    draws: Count
    alpha_step_deg: Angle
    least_alpha_deg: SignedAngle
    alpha_reach_deg: Angle
    gusts: Filled[Text]
    gust_draws: Count
    rounds: Count
