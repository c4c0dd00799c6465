"""Which way each stick moves each surface, and whether the aeroplane follows the stick.

Stick back raises the nose, stick right drops the right wing, right rudder swings the nose right:
what does otherwise is wired with the wrong sign in the file. What is looked at is the moment that
the moved surfaces themselves make, in level flight well above the stall: what sideslip makes of
it later, or separated flow, is no fault of the wiring.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.geometry.panels import normal_of, panels_of, upright
from sim.core import layout as k
from sim.core.steady.statics import polar
from sim.describe import Aeroplane, FileFault, Surface
from sim.describe.faults import Fault
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.pack.stalling import PROBE_SPEED

PITCHING = ("tail", "canard")
STEP = 0.25  # of full stick either way, for slopes


class Stick(NamedTuple):
    """A stick: its mix among a servo's columns, its column of sticks, the moment it is for."""

    name: str
    mix: int
    column: int
    moment: int
    gain: str


STICKS = (
    Stick("elevator", k.V_MIX_ELEVATOR, k.STICK_ELEVATOR, k.L_MY, "pitch_gain"),
    Stick("aileron", k.V_MIX_AILERON, k.STICK_AILERON, k.L_MX, "roll_gain"),
    Stick("rudder", k.V_MIX_RUDDER, k.STICK_RUDDER, k.L_MZ, "yaw_gain"),
)
# how a stick is held, and what a wrong sign does then
HELD = {
    "elevator": ("with the stick back", "the nose goes DOWN"),
    "aileron": ("with the stick right", "it rolls LEFT"),
    "rudder": ("with right rudder", "the nose swings LEFT"),
}


class Way(StrEnum):
    """Where a trailing edge goes."""

    UP = "UP"
    DOWN = "DOWN"
    LEFT = "LEFT"
    RIGHT = "RIGHT"

    @property
    def other(self) -> "Way":
        """The opposite way."""
        pairs = {Way.UP: Way.DOWN, Way.LEFT: Way.RIGHT}
        return {**pairs, **{b: a for a, b in pairs.items()}}[self]


@dataclass(frozen=True)
class Sense:
    """What a stick, back or to the right, does to one channel.

    ``share`` is the file's. ``right`` is where the trailing edge of its right, or only, panel
    goes, ``left`` of the left one, None without such. ``moment_nm`` is what it makes of the stick's
    own moment, by full stick [N m], positive as the stick asks; ``meant`` is False where the
    surface is not for that moment, such as a fin that an aileron stick moves. ``apart`` names
    standing surfaces of the channel whose trailing edge goes the other way than its first one's.
    """

    channel: str
    stick: str
    share: float
    right: Way
    left: Way | None
    moment_nm: float
    meant: bool
    apart: tuple[str, ...] = ()


@dataclass(frozen=True)
class Senses:
    """All that sticks move, and the set-up's gains below nought by their keys.

    ``gyro`` names the sticks whose surfaces its gyro moves; empty where it is off.
    """

    each: tuple[Sense, ...]
    gyro: tuple[str, ...]
    backwards: tuple[tuple[str, float], ...]

    def of(self, stick: str) -> tuple[Sense, ...]:
        """Return what one stick moves."""
        return tuple(x for x in self.each if x.stick == stick)

    @cached_property
    def against(self) -> tuple[Sense, ...]:
        """Channels whose own moment [N m] is against their stick, and no mere trifle of the whole.

        Own: by the share [-] of plausible.toml of all that the stick makes.
        """
        out = []
        for stick in STICKS:
            moved = self.of(stick.name)
            least = tables.plausible().reversed_share * sum(abs(x.moment_nm) for x in moved)
            out += [x for x in moved if x.meant and x.moment_nm < -least]
        return tuple(out)

    def reverses(self, stick: str) -> bool:
        """Tell whether all that a stick moves, together, turns the aeroplane the wrong way."""
        moved = self.of(stick)
        wrong = sum(x.moment_nm for x in moved) < 0.0
        return wrong and any(x.stick == stick for x in self.against)


def senses(ready: Assembled) -> Senses:
    """Return which way each stick moves each surface of a set-up, and what that does, nominal."""
    aeroplane = ready.aeroplane
    out = []
    for channel, surfaces in _moved(aeroplane):
        moments = _moments(ready, channel)
        for stick, moment in zip(STICKS, moments, strict=True):
            share = float(getattr(aeroplane.channels[channel].stick, stick.name))
            if share:
                right, left = _ways(ready, channel, stick, surfaces[0])
                meant = any(_meant(aeroplane, stick.name, x) for x in surfaces)
                apart = _apart(ready, channel, stick, surfaces) if stick.name == "rudder" else ()
                one = Sense(channel, stick.name, share, right, left, float(moment), meant, apart)
                out.append(one)
    gains = ready.setup.gyro_settings
    fitted = {} if gains is None else {x: float(getattr(gains, x.gain)) for x in STICKS}
    on = ready.setup.gyro == "on"
    return Senses(
        each=tuple(sorted(out, key=lambda x: [s.name for s in STICKS].index(x.stick))),
        gyro=tuple(x.name for x, gain in fitted.items() if gain and on),
        backwards=tuple((x.gain, gain) for x, gain in fitted.items() if gain < 0.0 and on),
    )


def _moved(aeroplane: Aeroplane) -> Iterator[tuple[str, list[Surface]]]:
    """Yield each channel with the surfaces that it moves."""
    for name in aeroplane.channels:
        moved = [s for s in aeroplane.surfaces if any(c.channel == name for c in s.controls)]
        if moved:
            yield name, moved


def _meant(aeroplane: Aeroplane, stick: str, surface: Surface) -> bool:
    """Tell whether a surface is for the moment of a stick.

    Own: one that leans enough swings the nose, one that does not stand rolls and pitches; where a
    tail or a canard answers to the elevator stick, a wing's flaps may go with it for their lift.
    """
    if stick == "rudder":
        return abs(surface.dihedral_deg) > tables.plausible().yaws_from_dihedral_deg
    if stick == "elevator" and surface.role not in PITCHING:
        answering = {name for name, channel in aeroplane.channels.items() if channel.stick.elevator}
        tails = [x for x in aeroplane.surfaces if x.role in PITCHING and not upright(x)]
        if any(c.channel in answering for x in tails for c in x.controls):
            return False
    return not upright(surface)


def _moments(ready: Assembled, channel: str) -> Floats:
    """Return what one channel alone makes of each stick's own moment (3,) [N m], by full stick.

    Central differences, power off, at the angle of attack of level flight at a multiple of the
    stall speed (plausible.toml): lift over that at the stall is one over its square.
    """
    servos = ready.model.servos.copy()
    others = [i for (name, _), i in ready.aero.channels.items() if name != channel]
    servos[np.ix_(others, [x.mix for x in STICKS])] = 0.0
    stall, over = ready.stall, tables.plausible().senses_over_stall
    alpha = stall.no_lift + (stall.alpha - stall.no_lift) / over**2
    sticks = np.zeros((6, 4))
    for i, stick in enumerate(STICKS):
        sticks[2 * i : 2 * i + 2, stick.column] = STEP, -STEP
    model = ready.model._replace(servos=servos)
    loads = polar(model, PROBE_SPEED, np.full(6, alpha), np.zeros(6), np.zeros((6, 3)), sticks)
    pairs = [loads[2 * i : 2 * i + 2, stick.moment] for i, stick in enumerate(STICKS)]
    return np.array([(a - b) / (2.0 * STEP) for a, b in pairs])


def _ways(ready: Assembled, channel: str, stick: Stick, surface: Surface) -> tuple[Way, Way | None]:
    """Return where the trailing edges of right and left panel go with a stick.

    Geometry, by signs [-]: a deflection that is positive takes them away from the lifting
    side.
    """
    out = []
    for panel in panels_of(surface):
        row = ready.aero.channels[channel, panel.side if surface.mirrored else 0.0]
        _, right, down = -normal_of(panel) * np.sign(ready.model.servos[row, stick.mix])
        if upright(surface):
            out.append(Way.RIGHT if right > 0.0 else Way.LEFT)
        else:
            out.append(Way.DOWN if down > 0.0 else Way.UP)
    return out[0], out[1] if surface.mirrored else None


def _apart(
    ready: Assembled, channel: str, stick: Stick, surfaces: list[Surface]
) -> tuple[str, ...]:
    """Return the standing surfaces of a channel that go the other way than the first of them."""
    standing = [x for x in surfaces if upright(x)]
    ways = [_ways(ready, channel, stick, x)[0] for x in standing]
    return tuple(x.name for x, way in zip(standing, ways, strict=True) if way is not ways[0])


def demand_senses(ready: Assembled) -> None:
    """Refuse an aeroplane that does not follow its sticks.

    Raises
    ------
    FileFault
        Naming each channel's key whose sign is wrong.
    """
    faults = reversed_faults(senses(ready))
    if faults:
        raise FileFault(f"{ready.aeroplane.name}.toml", faults)


def reversed_faults(found: Senses) -> list[Fault]:
    """Return a fault for each channel that makes the aeroplane turn against its stick."""
    return [
        Fault(_key(x), f"{_does(x)}; its sign is wrong, write {-x.share:g}")
        for x in found.against
        if found.reverses(x.stick)
    ]


def sense_doubts(found: Senses) -> list[str]:
    """Return what looks like a wrong sign though the aeroplane follows its sticks, a line each."""
    lines = [
        f"{_key(x)}: {_does(x)} by this channel alone, against the others; if that is not meant, "
        f"write {-x.share:g}"
        for x in found.against
        if not found.reverses(x.stick)
    ]
    lines += [
        f"surfaces.{name}: its trailing edge goes {x.right.other} with right rudder, the rest of "
        f"{x.channel} {x.right}; write it from its lowest end up, with dihedral_deg = 90"
        for x in found.each
        for name in x.apart
    ]
    return lines + [
        f"gyro.{key}: {gain:g} is below 0 and feeds every turn; write {-gain:g} if that is not "
        "meant"
        for key, gain in found.backwards
    ]


def sense_lines(found: Senses) -> list[str]:
    """Return every line about a wrong sign: key, value, what it does, and how it is mended."""
    return [*(f"{x.path}: {x.text}" for x in reversed_faults(found)), *sense_doubts(found)]


def _key(sense: Sense) -> str:
    return f"channels.{sense.channel}.stick.{sense.stick}"


def _does(sense: Sense) -> str:
    """Return what a channel with a wrong sign does."""
    held, wrong = HELD[sense.stick]
    edges = f"trailing edge {sense.right}"
    if sense.left is not None and sense.left != sense.right:
        edges = f"right trailing edge {sense.right}"
    return f"{sense.share:g} sends the {edges} {held}, and {wrong}"
