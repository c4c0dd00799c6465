"""How much more travel of the pitch surface brings the forward limit to a balance point.

Full aft stick with a longer throw is asked the same as by `sim.landing.forward`, whole degrees
apart. More travel helps until the surface stalls, or until something else sets the limit: the
draws in which the surface has stalled already, or wheels that lie far behind.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, floor

from sim import tables
from sim.aero.geometry.edges import arm_of, edge_mm
from sim.aero.geometry.panels import panels_of
from sim.describe import Aeroplane, Throws
from sim.describe.controls import Shares
from sim.describe.quantity import MOST_THROW_DEG
from sim.describe.setup import SetUp
from sim.describe.stick_throws import with_stick
from sim.landing.forward import ForwardLimit

LEGS = 3  # looked at on the way to the most travel, before halving


class Ended(StrEnum):
    """Why no more travel was looked at."""

    REACHED = "reached"
    NO_HELP = "no help"  # the limit moves aft again
    MOST = "most travel"
    NOTHING = "nothing to add"  # it has as much already


@dataclass(frozen=True)
class Travel:
    """The forward limit with one travel of the pitch surface, edge ``mm`` from its middle.

    ``aft_mm`` is shown by the draws, with its 95 % limits; None where none is found.
    """

    deg: float
    mm: float
    aft_mm: float | None
    low_mm: float | None
    high_mm: float | None
    nominal_mm: float | None
    decided_by: str | None


@dataclass(frozen=True)
class MoreThrow:
    """What more travel with the elevator stick full aft does for the forward limit.

    ``goal_mm`` is the balance point [mm aft] it was to reach. ``channel`` moves the surface whose
    travel, ``up`` or down, is told, at ``now``; ``others`` move in proportion. ``best`` is the
    least travel that was found to reach it, else that with the foremost limit; None where nothing
    was tried. ``other_way`` [-] is how much it goes the other way for each degree, of a channel
    that another stick moves too; None of one that the elevator stick has alone.
    """

    goal_mm: float
    channel: str
    others: tuple[str, ...]
    up: bool
    now: Travel
    best: Travel | None
    tried: int
    ended: Ended
    other_way: float | None = None

    @property
    def reached(self) -> bool:
        """True if the limit shown by draws reaches the balance point."""
        return self.ended is Ended.REACHED

    @property
    def nominally(self) -> bool:
        """True if at least the nominal limit does, with the best travel."""
        nominal = None if self.best is None else self.best.nominal_mm
        return nominal is not None and nominal <= self.goal_mm


def more_throw(
    aeroplane: Aeroplane,
    setup: SetUp,
    goal_mm: float,
    now: ForwardLimit,
    limit_of: Callable[[SetUp], ForwardLimit],
) -> MoreThrow | None:
    """Return how much more travel brings the forward limit to a balance point [mm aft].

    None where nothing answers to the elevator stick, or no forward limit is known. Own: thirds of
    the way to the most travel of landing.toml, as long as each moves the limit forward; then
    halving, to whole degrees.

    Parameters
    ----------
    now : ForwardLimit
        As the set-up stands.
    limit_of : callable
        Returns the forward limit of a set-up.
    """
    arms = _arms(aeroplane)
    if not arms or now.aft_mm is None:
        return None
    channel, *others = arms
    arm_mm = arms[channel]
    share = setup.sticks[channel].elevator
    full, size = setup.throws[channel], abs(share)
    has = size * (full.up_deg if share > 0.0 else full.down_deg)

    def travel(deg: float, limit: ForwardLimit) -> Travel:
        decided = limit.decided_by
        return Travel(
            deg, edge_mm(arm_mm, deg), limit.aft_mm, limit.low_mm, limit.high_mm, limit.nominal_mm,
            None if decided is None else decided.name,
        )  # fmt: skip

    def at(deg: int) -> Travel:
        return travel(deg, limit_of(_thrown(aeroplane, setup, deg / has)))

    first = travel(has, now)
    tried: list[Travel] = []
    ended = Ended.NOTHING
    if has > 0.0:
        most = min(tables.landing().most_throw_deg, has * _most_factor(aeroplane, setup))
        tried, ended = _search(first, floor(most + 1e-9), goal_mm, at)
    reaching = [x for x in tried if _reaches(x, goal_mm)]
    known = [x for x in tried if x.aft_mm is not None]
    best = min(reaching, key=lambda x: x.deg, default=None)
    best = best or min(known, key=lambda x: x.aft_mm or 0.0, default=None)
    up_over_down = full.up_deg / full.down_deg if full.down_deg > 0.0 else 0.0
    ways = (1.0 / up_over_down if up_over_down else 0.0, up_over_down)
    sticks = setup.sticks[channel]
    return MoreThrow(
        goal_mm, channel, tuple(others), share > 0.0, first, best, len(tried), ended,
        ways[0 if share > 0.0 else 1] if sticks.aileron or sticks.rudder else None,
    )  # fmt: skip


def _search(
    now: Travel, most: int, goal_mm: float, at: Callable[[int], Travel]
) -> tuple[list[Travel], Ended]:
    """Return the travels looked at, and why no more were."""
    below = floor(now.deg)
    tried: list[Travel] = []
    last, ended = now, Ended.NOTHING if below >= most else Ended.MOST
    for leg in range(1, LEGS + 1):
        deg = below + ceil(leg * (most - below) / LEGS)
        if ended is Ended.NOTHING or deg <= last.deg:
            continue
        one = at(deg)
        tried.append(one)
        if _reaches(one, goal_mm):
            ended = Ended.REACHED
            break
        if one.aft_mm is None or one.aft_mm >= (last.aft_mm or 0.0):
            ended = Ended.NO_HELP
            break
        last, below = one, deg
    if ended is Ended.REACHED:
        _halve(tried, below, goal_mm, at)
    return tried, ended


def _halve(tried: list[Travel], below: int, goal_mm: float, at: Callable[[int], Travel]) -> None:
    """Add travels between one too short and the last, which reaches, to whole degrees."""
    above = round(tried[-1].deg)
    while above - below > 1:
        middle = (above + below) // 2
        one = at(middle)
        tried.append(one)
        above, below = (middle, below) if _reaches(one, goal_mm) else (above, middle)


def _reaches(travel: Travel, goal_mm: float) -> bool:
    return travel.aft_mm is not None and ceil(travel.aft_mm - 1e-9) <= goal_mm


def _arms(aeroplane: Aeroplane) -> dict[str, float]:
    """Return hinge or pivot to trailing edge [mm] of what the elevator stick moves, by channel."""
    out: dict[str, float] = {}
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            if aeroplane.channels[control.channel].stick.elevator:
                out.setdefault(control.channel, arm_of(panels_of(surface)[0], control))
    return out


def _most_factor(aeroplane: Aeroplane, setup: SetUp) -> float:
    """Return by how much throws may be multiplied until a file could no longer state one.

    Of a channel that other sticks move too, theirs stays as it is.
    """
    out = []
    for name, channel in aeroplane.channels.items():
        if not channel.stick.elevator:
            continue
        whole = max(setup.throws[name].up_deg, setup.throws[name].down_deg)
        own = abs(setup.sticks[name].elevator) * whole
        rest = whole - own if _shared(setup.sticks[name]) else 0.0
        out.append((MOST_THROW_DEG - rest) / (own if _shared(setup.sticks[name]) else whole))
    return min(out)


def _shared(sticks: Shares) -> bool:
    return bool(sticks.aileron or sticks.rudder)


def _thrown(aeroplane: Aeroplane, setup: SetUp, factor: float) -> SetUp:
    """Return a set-up with the throws used by full aft stick multiplied.

    Of a channel that other sticks move too, the elevator's alone, just as a set-up that says it is
    made: theirs stay as they are, and up over down stays.
    """
    throws, sticks = dict(setup.throws), dict(setup.sticks)
    for name, channel in aeroplane.channels.items():
        share, was = channel.stick.elevator, setup.throws[name]
        own = setup.sticks[name]
        if share and _shared(own):
            up_deg = factor * abs(own.elevator) * was.up_deg
            throws[name], sticks[name] = with_stick(was, own, "elevator", up_deg)
        elif share > 0.0:
            throws[name] = Throws(up_deg=factor * was.up_deg, down_deg=was.down_deg)
        elif share < 0.0:
            throws[name] = Throws(up_deg=was.up_deg, down_deg=factor * was.down_deg)
    return setup.model_copy(update={"throws": throws, "sticks": sticks})
