"""How flight time is reckoned: flight_time.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Angle, Count, Minutes, Percent, Share, Table

OverStall = Annotated[float, between(1.0, 6.0, "times the stall speed")]


class ShareByCondition(Table):
    """What is left of the capacity on the label, by the condition a pack is in."""

    good: Share
    ordinary: Share
    tired: Share


class FlightTime(Table):
    """flight_time.toml."""

    cruise_pct: Percent
    manoeuvring_pct: Percent
    climb_pct: Percent
    high_alpha_pct: Percent
    mix_sd_log: Share
    reserve_pct: Percent
    cruise_share_of_top: Share
    cruise_share_sd: Share
    least_cruise_over_stall: OverStall
    climb_over_stall: OverStall
    high_alpha_deg: Angle
    drag_sd_pct: Percent
    capacity_share: ShareByCondition
    capacity_share_sd: Share
    measured_sd_log: Share
    draws: Count
    charge_steps: Count
    timer_step_min: Minutes
    timer_share: Share

    @property
    def shares_pct(self) -> tuple[float, float, float, float]:
        """Shares of time: cruise, manoeuvring, climb, high alpha."""
        return self.cruise_pct, self.manoeuvring_pct, self.climb_pct, self.high_alpha_pct
