"""How the time of a flight is shared out: the work that its flight time is reckoned from."""

from typing import Annotated

from pydantic import model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, Share, between

WORKS = ("cruise", "manoeuvring", "climb", "high_alpha")
SUM_PCT, ROUNDING_PCT = 100.0, 0.5


class Duty(Described):
    """Shares of a flight's time, the speed of its cruise, and what stays in the pack.

    The four shares are given together; what is left out is that of flight_time.toml.
    ``cruise_mps`` left out is a share of the top speed.
    """

    cruise_pct: Share | None = None
    manoeuvring_pct: Share | None = None
    climb_pct: Share | None = None
    high_alpha_pct: Share | None = None
    cruise_mps: Annotated[float, between(3.0, 150.0, "m/s")] | None = None
    reserve_pct: Annotated[float, between(5.0, 60.0, "% of the pack")] | None = None

    @property
    def shares_pct(self) -> tuple[float, ...] | None:
        """Shares of time in the order of `WORKS`; None where none is given."""
        given = [getattr(self, f"{work}_pct") for work in WORKS]
        return None if given[0] is None else tuple(given)

    @model_validator(mode="after")
    def _is_the_whole_flight(self) -> "Duty":
        given = {f"{work}_pct": getattr(self, f"{work}_pct") for work in WORKS}
        missing = [key for key, value in given.items() if value is None]
        if len(missing) == len(given):
            return self
        refuse(
            (key, "is missing; give all four shares, 0 for what is not flown") for key in missing
        )
        total = sum(value for value in given.values() if value is not None)
        if abs(total - SUM_PCT) > ROUNDING_PCT:
            refuse([("", f"holds shares of {total:g} % together; they must make 100 %")])
        return self
