"""How long a set-up flies, and the work that this is reckoned from."""

from dataclasses import dataclass

from sim.power.full_load import FullLoad


@dataclass(frozen=True)
class Spread:
    """10, 50 and 90 % points over draws."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class Work:
    """One kind of work: its share of the time, its airspeed, and the pack's current.

    ``current_a`` is the median over draws of the mean over a discharge. ``throttle`` is a share
    of full; ``holds`` False: full throttle does not hold it level.
    """

    name: str
    share_pct: float
    speed_mps: float
    throttle: float
    current_a: float
    holds: bool


@dataclass(frozen=True)
class FlightTime:
    """Flight time of a set-up to its pack's reserve, and the timer that follows from it.

    ``assumed``: the shares of time are the table's, nobody gave them. ``charged``: what the
    charger put back [mAh] after how long [min]; it decides then, and the shares have no say.
    ``cruise_alone_min`` is what level flight at the cruise speed would give, all the time,
    ``top_mps`` the top speed level, nominal.
    ``timer_min`` 0: shorter than the least step.
    """

    pack: str
    reserve_pct: float
    usable_mah: float
    works: tuple[Work, ...]
    assumed: bool
    charged: tuple[float, float] | None
    current_a: float
    minutes: Spread
    timer_min: float
    cruise_alone_min: float
    top_mps: float
    load: FullLoad
