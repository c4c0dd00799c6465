"""Margins of a gyro's loop, and what an undescribed gyro is: gyro_loop.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Angle, Count, Factor, PerSecond, Seconds, Share, Table, TurnRate


class GyroLoop(Table):
    """gyro_loop.toml."""

    gain_margin_db: Factor
    phase_margin_deg: Angle
    limit_gain_margin_db: Factor
    limit_phase_margin_deg: Angle
    slowest_rps: PerSecond
    approach_over_stall: Annotated[float, between(1.0, 3.0)]
    speeds: Count
    dive_deg: Angle
    frequencies: Count
    kept_share: Share
    confidence: Share
    draws: Count
    control_power_sd: Share
    delay_sd: Share
    servo_lag_sd: Share
    default_delay_s: Seconds
    default_filter_s: Seconds
    full_throw_dps: TurnRate
    told_doubling_s: Seconds
    hand_turn_deg: Angle
    hand_turn_s: Seconds
