"""The modelled pilot: pilot.toml."""

from sim.tables.typed import Angle, Factor, PerSecond, Seconds, Share, Table


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
    aim_path_deg: Angle
