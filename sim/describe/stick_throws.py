"""The throw of one stick on a channel that several move, as a delta's elevons.

A set-up says it by the stick's name, ``throws = { elevator = { ... } }``; the throw of the other
sticks stays as it is. Up over down is one number of the whole channel, so it stays too. These
functions read the plain mapping that a file parses into, as `sim.describe.cross_checks` does.
"""

from collections.abc import Iterator, Mapping

from sim.describe.controls import Shares, Throws
from sim.describe.edge_throws import arm_of_channel, edge_mm, throws_deg, travel_faults
from sim.describe.faults import Fault
from sim.describe.plain import Table, number, table
from sim.describe.quantity import MOST_THROW_DEG

STICKS = ("elevator", "aileron", "rudder")
PROPORTION = 0.02  # that up over down may be off: a ruler's reading of a travel (common practice)


def sticks_of(channel: Table) -> list[str]:
    """Return the sticks that move a channel."""
    said = table(channel, "stick")
    return [stick for stick in STICKS if number(said, stick)]


def shared_by(channels: Table, stick: str) -> list[str]:
    """Return the channels that a stick moves together with another."""
    of = {name: sticks_of(table(channels, name)) for name in channels}
    return [name for name, sticks in of.items() if stick in sticks and len(sticks) > 1]


def shared_sticks(channels: Table) -> list[str]:
    """Return the sticks that share a channel with another."""
    return [stick for stick in STICKS if shared_by(channels, stick)]


def whole_faults(aeroplane: Table, name: str, path: str) -> Iterator[Fault]:
    """Yield a fault if a set-up says the whole travel of a channel that several sticks move."""
    channels = table(aeroplane, "channels")
    sticks = sticks_of(table(channels, name))
    if len(sticks) < 2:
        return
    own = ", or ".join(
        f"throws = {{ {stick} = {{ up_mm = 16.0, down_mm = 16.0 }} }}" for stick in sticks
    )
    yield Fault(
        path,
        f"is the whole travel of {name!r}, which the {' and '.join(sticks)} sticks share, and "
        f"hides what either does: say each stick's own throw, such as {own}",
    )


def stick_faults(aeroplane: Table, stick: str, said: Table, path: str) -> Iterator[Fault]:
    """Yield what is wrong with the throw of a stick on the channels that it shares."""
    channels = table(aeroplane, "channels")
    for name in shared_by(channels, stick):
        yield from travel_faults(aeroplane, name, said, path)
        own, told = table(channels, name), throws_deg(aeroplane, name, said)
        up, down = told.get("up_deg"), told.get("down_deg")
        full_up, full_down = number(own, "up_deg"), number(own, "down_deg")
        if up is None or down is None or not full_up or not full_down:
            continue
        key, unit = ("mm", "mm") if "down_mm" in said else ("deg", "degrees")
        if up <= 0.0:
            yield Fault(f"{path}.up_{key}", f"must be above 0; got {up:g}")
            continue
        wanted = up * full_down / full_up
        if abs(down / wanted - 1.0) > PROPORTION:
            arm = arm_of_channel(aeroplane, name)
            shown = edge_mm(arm, wanted) if key == "mm" and arm is not None else wanted
            yield Fault(
                f"{path}.down_{key}",
                f"must be {shown:.4g} {unit} with that much up: one proportion of up to down holds "
                f"for all sticks that move {name!r}, {full_up:.4g} to {full_down:.4g} degrees",
            )
            continue
        full, _ = with_stick(_throws(own), _stick(own), stick, up)
        if max(full.up_deg, full.down_deg) > MOST_THROW_DEG:
            most = f"at most {MOST_THROW_DEG:g} degrees together with what the other sticks move"
            yield Fault(path, f"must leave {name!r} {most} it; got {max(*full_of(full)):.3g}")


def shares_of(said: Mapping[str, float]) -> Shares:
    """Return what each stick moves of a channel [-]."""
    return Shares(**dict(said))


def full_of(throws: Throws) -> tuple[float, float]:
    """Return a channel's throws up and down [degrees]."""
    return throws.up_deg, throws.down_deg


def _throws(channel: Table) -> Throws:
    return Throws.model_construct(
        up_deg=number(channel, "up_deg") or 0.0, down_deg=number(channel, "down_deg") or 0.0
    )


def _stick(channel: Table) -> Shares:
    said = table(channel, "stick")
    return shares_of({x: number(said, x) or 0.0 for x in STICKS})


def with_stick(full: Throws, sticks: Shares, stick: str, up_deg: float) -> tuple[Throws, Shares]:
    """Return a channel's throws and shares with another throw of one stick, the others' kept.

    Each stick moves its share of the whole; arithmetic, the sum of shares kept, and no share
    above 1.

    Parameters
    ----------
    full : Throws
        The whole of the channel.
    sticks : Shares
        What each moves of it.
    stick : str
        Which one is changed.
    up_deg : float
        Its new throw up [degrees].
    """
    travels = {x: full.up_deg * getattr(sticks, x) for x in STICKS}
    travels[stick] = up_deg if travels[stick] > 0.0 else -up_deg
    whole = sum(abs(x) for x in travels.values())
    before = sum(abs(getattr(sticks, x)) for x in STICKS)
    up = max(whole / before, *(abs(x) for x in travels.values()))
    down = up * full.down_deg / full.up_deg
    shares = {x: travel / up for x, travel in travels.items()}
    return Throws.model_construct(up_deg=up, down_deg=down), shares_of(shares)
