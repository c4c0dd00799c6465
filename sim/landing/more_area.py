"""How much more area of the elevator brings the forward limit to a balance point.

A flap grows in chord within its surface; a surface that moves as a whole grows in span. Full aft
stick is asked the same as by `sim.landing.forward`, its throw as it is. Only landing and take-off
are looked at: what the aft limit becomes, flights tell.
"""

from collections.abc import Callable
from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane
from sim.describe.geometry import Surface
from sim.describe.quantity import MOST_FLAP_PCT
from sim.landing.forward import ForwardLimit

CHORD, SPAN = "chord_pct", "panel_span_mm"


@dataclass(frozen=True)
class MoreArea:
    """What a larger elevator does for the forward limit.

    ``goal_mm`` is the balance point [mm aft] it was to reach. ``key`` of ``surface`` was looked at
    up to ``value`` instead of ``now``; the forward limit with it, shown by the draws, with its 95 %
    limits [mm aft]; None where none is found. ``reached``: it does for the goal. ``pieces``: how
    many the file tells the flap in, ``now`` and ``value`` being the first one's.
    """

    goal_mm: float
    surface: str
    key: str
    now: float
    value: float
    aft_mm: float | None
    low_mm: float | None
    high_mm: float | None
    reached: bool
    pieces: int = 1


def more_area(
    aeroplane: Aeroplane, goal_mm: float, limit_of: Callable[[Aeroplane, float], ForwardLimit]
) -> MoreArea | None:
    """Return how much more elevator brings the forward limit to a balance point [mm aft].

    The least of the sizes in landing.toml that does, else the one with the foremost limit; None
    where nothing answers to the elevator stick, or there is no room for more.

    Parameters
    ----------
    limit_of : callable
        Returns the forward limit of an aeroplane, set up as it was, and of its elevator's size,
        so many times what it is.
    """
    looked: list[MoreArea] = []
    for factor in tables.landing().elevator_sizes:
        larger = _larger(aeroplane, factor)
        if larger is None:
            break
        surface, key, now, value, changed = larger
        found = limit_of(changed, factor)
        reached = found.aft_mm is not None and found.aft_mm <= goal_mm
        looked.append(
            MoreArea(
                goal_mm=goal_mm, surface=surface, key=key, now=now, value=value,
                aft_mm=found.aft_mm, low_mm=found.low_mm, high_mm=found.high_mm, reached=reached,
                pieces=_pieces(aeroplane, surface),
            )
        )  # fmt: skip
        if reached:
            return looked[-1]
    known = [x for x in looked if x.aft_mm is not None]
    return min(known, key=lambda x: x.aft_mm or 0.0, default=None)


def _pieces(aeroplane: Aeroplane, name: str) -> int:
    """Return how many controls of a surface the elevator stick moves."""
    (surface,) = (x for x in aeroplane.surfaces if x.name == name)
    return sum(bool(aeroplane.channels[c.channel].stick.elevator) for c in surface.controls)


def _larger(aeroplane: Aeroplane, factor: float) -> tuple[str, str, float, float, Aeroplane] | None:
    """Return surface, key, its value now and larger, and the aeroplane with it."""
    for i, surface in enumerate(aeroplane.surfaces):
        for j, control in enumerate(surface.controls):
            if not aeroplane.channels[control.channel].stick.elevator:
                continue
            key = SPAN if control.chord_pct is None else CHORD
            now = surface.panel_span_mm if control.chord_pct is None else control.chord_pct
            value = float(f"{factor * now:.1f}")
            if key == CHORD and value / now * _widest(surface, control.channel) > MOST_FLAP_PCT:
                return None  # no file could say it
            grown = _grown(surface, j, key, value)
            surfaces = (*aeroplane.surfaces[:i], grown, *aeroplane.surfaces[i + 1 :])
            changed = aeroplane.model_copy(update={"surfaces": surfaces})
            return surface.name, key, now, value, changed
    return None


def _widest(surface: Surface, channel: str) -> float:
    """Return the chord [%] of the widest piece of a channel's flap on a surface."""
    return max(x.chord_pct or 0.0 for x in surface.controls if x.channel == channel)


def _grown(surface: Surface, which: int, key: str, value: float) -> Surface:
    """Return a surface with one number changed: its span, or the chord of a flap.

    Where the flap is told in pieces, all of its channel grow alike.
    """
    if key == SPAN:
        return surface.model_copy(update={SPAN: value})
    first = surface.controls[which]
    factor = 1.0 if first.chord_pct is None else value / first.chord_pct
    controls = tuple(
        x.model_copy(update={CHORD: factor * x.chord_pct})
        if x.channel == first.channel and x.chord_pct is not None
        else x
        for x in surface.controls
    )
    return surface.model_copy(update={"controls": controls})
