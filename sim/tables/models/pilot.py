"""The modelled pilot: pilot.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Angle, Count, Factor, PerSecond, Seconds, Share, Table


class Pilot(Table):
    """pilot.toml; gains are stick per radian, and per radian per second."""

    reaction_s: Seconds
    stick_rate_per_s: PerSecond
    perception_s: Seconds
    alpha_margin_deg: Angle
    load_share: Share
    gain_alpha: Factor
    gain_pitch_rate: Factor
    gain_bank: Factor
    gain_roll_rate: Factor
    gain_path: Factor
    gain_pull_per_s: PerSecond
    aim_path_deg: Angle
    again_for_s: Seconds
    most_retries: Count
    load_from_share: Share
    no_pull_bank_rad: Annotated[float, between(0.01, 4.0, "rad")]
    slowest_mps: Annotated[float, between(0.1, 100.0, "m/s")]
