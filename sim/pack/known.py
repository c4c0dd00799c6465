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
from sim.tables.models.uncertainty import Spread


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


def known_spread(
    aeroplane: Aeroplane, usual: Spread, wider: tuple[Unmeasured, ...] | None = None
) -> Spread:
    """Return the spread of a draw with what was measured or not, and what to measure [-].

    Own: independent errors add as squares; what a measurement leaves stands for all of it.

    Parameters
    ----------
    usual : Spread
        Of an aeroplane that was measured throughout.
    wider : tuple of Unmeasured, optional
        What `unmeasured` says of the aeroplane, for who asks after many draws.
    """
    measured = aeroplane.measured
    for entry in tables.assumed().narrowing:
        if entry.draw == usual.name and measured is not None and measured.has(entry.key):
            least = min(entry.sd, usual.sd)
            return usual.model_copy(update={"sd": least, "source": entry.source})
    if wider is None:
        wider = unmeasured(aeroplane)
    adds = [x.widening for x in wider if x.widening.draw == usual.name]
    if not adds:
        return usual
    widest = max(adds, key=lambda x: x.sd)
    told = f"{usual.source}; wider, not measured: {', '.join(x.text for x in adds)}"
    sd = hypot(usual.sd, *(x.sd for x in adds))
    return usual.model_copy(update={"sd": sd, "measure": widest.measure, "source": told})
