"""The speed that set-ups are compared at."""

from collections.abc import Sequence

from sim import tables
from sim.pack.assemble import Assembled


def cruise_speed(assembled: Sequence[Assembled]) -> float:
    """Return one cruise speed [m/s] at which all set-ups are compared."""
    factor = tables.study().cruise_over_stall
    return factor * max(a.stall.speed_mps for a in assembled)
