"""How a study measures what pilots go aft for: agility.toml."""

from sim.describe.quantity import Text
from sim.tables.typed import Angle, Count, MetresPerSecond, Seconds, Share, Table, WholeTurns


class Agility(Table):
    """agility.toml."""

    draws: Count
    recovery: Text
    angle_deg: Angle
    round_deg: WholeTurns
    held_s: Seconds
    held_bank_deg: Angle
    held_sink_mps: MetresPerSecond
    held_swing_deg: Angle
    held_stick: Share
    lost_bank_deg: Angle
    roll_window_s: Seconds
    forward_sideslip_deg: Angle
    forward_for_s: Seconds
    forward_within_s: Seconds
    aside_deg: Angle
