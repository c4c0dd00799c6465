"""How well an aeroplane's values are known, carried to the draws: assumed.toml.

A value is measured, with the ruler's own error, unless the file lists its key as assumed or as
read off a box; that adds to a draw's spread, as squares add. A swing test takes away.
"""

from dataclasses import dataclass
from math import hypot

from sim import tables
from sim.describe import Aeroplane
from sim.describe.known import AIRFRAME, by_role, covers
from sim.tables.models.assumed import Widening


@dataclass(frozen=True)
class Unmeasured:
    """Keys of a file that were not measured, and what that adds to one draw."""

    keys: tuple[str, ...]
    widening: Widening


def unmeasured(aeroplane: Aeroplane) -> tuple[Unmeasured, ...]:
    """Return everything that an aeroplane's draws are wider by, in the order of the table."""
    roles = {surface.name: surface.role for surface in aeroplane.surfaces}
    listed = {"assumed": aeroplane.assumed, "from_box": aeroplane.from_box}
    if not aeroplane.airframe and AIRFRAME not in aeroplane.assumed:
        listed["assumed"] = (*aeroplane.assumed, AIRFRAME)
    found = []
    for entry in tables.assumed().widening:
        patterns = [pattern.split(".") for pattern in entry.keys]
        keys = tuple(
            key
            for key in listed[entry.how]
            if any(covers(pattern, by_role(key, roles).split(".")) for pattern in patterns)
        )
        if keys:
            found.append(Unmeasured(keys, entry))
    return tuple(found)


def known_sd(aeroplane: Aeroplane, draw: str, usual_sd: float) -> float:
    """Return the standard deviation of a draw, in its own unit, with what was measured or not [-].

    Own: independent errors add as squares; what a measurement leaves stands for all of it.

    Parameters
    ----------
    draw : str
        A name of uncertainty.toml.
    usual_sd : float
        Of an aeroplane that was measured throughout.
    """
    measured = aeroplane.measured
    for entry in tables.assumed().narrowing:
        if entry.draw == draw and measured is not None and measured.has(entry.key):
            return min(entry.sd, usual_sd)
    adds = [x.widening.sd for x in unmeasured(aeroplane) if x.widening.draw == draw]
    return hypot(usual_sd, *adds) if adds else usual_sd
