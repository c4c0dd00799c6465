"""Thresholds by which a flight is judged: judge.toml."""

from typing import Annotated, ClassVar

from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Angle, Curve, Factor, Seconds, Share, Table, TurnRate


class SpinModes(Table):
    """Names of spins, and the greatest angle of attack of each."""

    CURVES: ClassVar = (("upper_alpha_deg", "names"),)

    names: Filled[Text]
    upper_alpha_deg: Curve


class Judge(Table):
    """judge.toml."""

    stall_slope_share: Share
    least_stall_deg: Angle
    stall_slope_to_deg: Annotated[int, between(1, 20, "degrees")]
    stall_reach_deg: Annotated[int, between(20, 90, "degrees")]
    least_trimmed_lift: Factor
    stall_margin_deg: Angle
    yaw_rate_dps: TurnRate
    yaw_for_s: Seconds
    alpha_deg: Angle
    alpha_for_s: Seconds
    bank_drop_deg: Angle
    bank_path_rad: Annotated[float, between(0.0, 1.6, "rad")]
    stalled_turns: Factor
    stalled_gap_s: Seconds
    turns_margin_deg: Annotated[float, between(-30.0, 30.0, "degrees")]
    spin_rate_dps: TurnRate
    spin_window_s: Seconds
    spin_turns: Factor
    spin_least_mps: Annotated[float, between(0.1, 10.0, "m/s")]
    level_path_deg: Annotated[float, between(-90.0, 0.0, "degrees")]
    level_for_s: Seconds
    stopped_dps: TurnRate
    deep_stall_alpha_deg: Angle
    deep_stall_most_alpha_deg: Angle
    deep_stall_mean_s: Seconds
    deep_stall_stick: Share
    deep_stall_passed_share: Share
    deep_stall_for_s: Seconds
    deep_stall_share: Share
    deep_stall_ends_share: Share
    seen_level_deg: Angle
    seen_swing_deg: Angle
    seen_turn_dps: TurnRate
    spin_named_from_share: Share
    criteria_to_deg: Angle
    criteria_least_beyond_deg: Angle
    criteria_sideslip_deg: Annotated[float, between(0.1, 20.0, "degrees")]
    criteria_aileron_stick: Annotated[float, between(0.01, 1.0)]
    criteria_least_roll_share: Annotated[float, between(0.0, 0.5)]
    no_spin_yaw: Annotated[float, between(-1.0, 0.0)]
    oscillatory_deg: Angle
    spin_modes: SpinModes
