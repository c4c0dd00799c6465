"""A whole map of spin equilibria: along the balance point, or along sticks moved to a recovery."""

from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane, Manoeuvre, Script, SetUp, SetUpBlock, resolve_setup
from sim.pack.assemble import Assembled, assemble
from sim.spin.births import Birth, births
from sim.spin.long_spin import Ending, ending_near, sharp
from sim.spin.map import SpinMap, Watch, equilibria_along
from sim.spin.paths import along_balance, stops_between, towards
from sim.spin.roots import Sticks, sticks_of
from sim.units.quantities import LENGTH


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


def spin_map(
    aeroplane: Aeroplane,
    setup: SetUp | SetUpBlock | str | None,
    held: Script | Sticks,
    *,
    from_mm: float,
    to_mm: float,
    step_mm: float | None = None,
    watch: Watch | None = None,
) -> Mapped:
    """Return every steady spin along the balance point, and where each is born.

    Parameters
    ----------
    aeroplane : Aeroplane
    setup : SetUp, SetUpBlock, str or None
        A set-up, or a block or name to resolve; None is the aeroplane's first.
    held : Manoeuvre, Recovery or four floats
        The sticks held (elevator, aileron, rudder, throttle), or the script whose last ones
        are held; a manoeuvre is flown so at each stop as well, to see where an entry ends.
    from_mm, to_mm : float
        Balance points [mm aft of the datum] that the map begins and ends at.
    step_mm : float, optional
        The most between stops; None for the usual.
    watch : callable, optional
        Told (stops done, stops in all).

    Raises
    ------
    FileFault
        A balance point that neither pack nor weights can give.
    ValueError
        From and to in the wrong order, too many stops, or a script that holds no sticks.
    """
    sticks = sticks_of(held)
    values = stops_between(from_mm, to_mm, step_mm)
    resolved = setup if isinstance(setup, SetUp) else resolve_setup(aeroplane, setup)
    make = along_balance(aeroplane, resolved, sticks)
    for end in (values[0], values[-1]):
        make(end)  # out of reach is told before the work begins
    found = equilibria_along(make, values, watch)
    height = tables.spin_search().height_m
    flown: list[Flown] = []
    if isinstance(held, Manoeuvre):
        for value in values:
            ready = sharp(assemble(aeroplane, resolved.at_balance(value)))
            flown.append(Flown(value, ending_near(ready, held, height)))
    title = f"{aeroplane.title}, set-up {resolved.name}"
    return Mapped(
        title=title,
        sticks=tuple(sticks),
        goal=None,
        along="balance point, mm aft of the datum",
        unit="mm",
        found=found,
        births=tuple(births(make, found)),
        flown=tuple(flown),
    )


def map_towards(
    assembled: Assembled, sticks: Sticks, goal: Sticks,
    watch: Watch | None = None,
) -> Mapped:  # fmt: skip
    """Return the map along sticks that move, all together, to where a recovery puts them [%].

    Own: straight from one to the other.
    """
    parts = tables.spin_search().stick_parts
    make = towards(assembled, sticks, goal)
    found = equilibria_along(make, [100.0 * i / parts for i in range(parts + 1)], watch)
    place = LENGTH(assembled.weighed.balance_aft_mm, ".1f")
    title = f"{assembled.aeroplane.title}, set-up {assembled.setup.name}, balanced at {place}"
    return Mapped(
        title=title,
        sticks=tuple(sticks),
        goal=tuple(goal),
        along="sticks moved towards the recovery's, % of the way",
        unit="% of the way",
        found=found,
        births=tuple(births(make, found)),
        flown=(),
    )
