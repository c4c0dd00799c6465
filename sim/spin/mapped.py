"""A whole map of spin equilibria: along the balance point, or along sticks moved to a recovery."""

from collections.abc import Sequence
from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane, Manoeuvre, SetUp
from sim.pack.assemble import Assembled, assemble
from sim.spin.births import Birth, births
from sim.spin.long_spin import Ending, ending_near, sharp
from sim.spin.map import SpinMap, Watch, spin_map
from sim.spin.paths import Sticks, along_balance, stops_between, towards


@dataclass(frozen=True)
class Flown:
    """A flight with the controls held on, at a place on the map."""

    at: float
    end: Ending


@dataclass(frozen=True)
class Mapped:
    """A map with what is asked of it.

    ``sticks`` are held (elevator, aileron, rudder, throttle), and moved to ``goal`` where
    that is not None; ``along`` says what the map goes along, ``unit`` follows its numbers;
    ``flown`` is what entries with the controls held on end in, if flown.
    """

    title: str
    sticks: tuple[float, ...]
    goal: tuple[float, ...] | None
    along: str
    unit: str
    found: SpinMap
    births: tuple[Birth, ...]
    flown: tuple[Flown, ...]


def map_along_balance(
    aeroplane: Aeroplane,
    setup: SetUp,
    sticks: Sticks,
    script: Manoeuvre | None,
    reach: tuple[float, float, float | None],
    watch: Watch | None = None,
) -> Mapped:
    """Return the map along the balance point.

    Parameters
    ----------
    script : Manoeuvre or None
        Flown at each stop with its last controls held on, to see where an entry ends.
    reach : tuple
        From, to [mm aft of the datum] and the most between stops, None for the usual.

    Raises
    ------
    FileFault
        A balance point that neither pack nor weights can give.
    ValueError
        From and to in the wrong order, or too many stops.
    """
    values = stops_between(*reach)
    make = along_balance(aeroplane, setup, sticks)
    for end in (values[0], values[-1]):
        make(end)  # out of reach is told before the work begins
    found = spin_map(make, values, watch)
    height = tables.spin_search().height_m
    flown: list[Flown] = []
    if script is not None:
        for value in values:
            ready = sharp(assemble(aeroplane, setup.at_balance(value)))
            flown.append(Flown(value, ending_near(ready, script, height)))
    title = f"{aeroplane.title}, set-up {setup.name}"
    return Mapped(
        title, tuple(sticks), None, "balance point, mm aft of the datum", "mm", found,
        tuple(births(make, found)), tuple(flown),
    )  # fmt: skip


def map_towards(
    assembled: Assembled, sticks: Sequence[float], goal: Sequence[float],
    watch: Watch | None = None,
) -> Mapped:  # fmt: skip
    """Return the map along sticks that move, all together, to where a recovery puts them [%].

    Own: straight from one to the other.
    """
    parts = tables.spin_search().stick_parts
    make = towards(assembled, sticks, goal)
    found = spin_map(make, [100.0 * i / parts for i in range(parts + 1)], watch)
    place = f"{assembled.weighed.balance_aft_mm:.1f} mm"
    title = f"{assembled.aeroplane.title}, set-up {assembled.setup.name}, balanced at {place}"
    return Mapped(
        title, tuple(sticks), tuple(goal), "sticks moved towards the recovery's, % of the way",
        "% of the way", found, tuple(births(make, found)), (),
    )  # fmt: skip
