"""Throws as they are set on the bench: degrees, and mm at the trailing edge."""

from collections.abc import Iterator
from dataclasses import dataclass

from sim.aero.geometry.edges import arm_of, edge_mm
from sim.aero.geometry.panels import Panel, panels_of, upright
from sim.describe import Aeroplane, Control, SetUp
from sim.describe.controls import FLAP

STICKS = ("elevator", "aileron", "rudder")
SET = "set"  # of the flap, by a switch


@dataclass(frozen=True)
class Throw:
    """How far one stick moves one channel's surface at full stick.

    ``arm_mm`` is the distance from hinge or pivot to the trailing edge where it is
    measured; ``sideways`` marks a surface that stands, whose throws are left and right
    instead of up and down.
    """

    channel: str
    stick: str
    up_deg: float
    down_deg: float
    arm_mm: float
    sideways: bool
    all_moving: bool

    @property
    def up_mm(self) -> float:
        """Travel of the trailing edge up (left)."""
        return edge_mm(self.arm_mm, self.up_deg)

    @property
    def down_mm(self) -> float:
        """Travel of the trailing edge down (right)."""
        return edge_mm(self.arm_mm, self.down_deg)


def controls_of(aeroplane: Aeroplane) -> Iterator[tuple[Panel, Control]]:
    """Yield the first panel that each channel moves, with its control."""
    seen = set()
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            if control.channel not in seen:
                seen.add(control.channel)
                yield panels_of(surface)[0], control


def throws_of(aeroplane: Aeroplane, setup: SetUp) -> list[Throw]:
    """Return every stick's throw on every channel it moves, the elevator stick first.

    The channel ``flap`` comes last: no stick moves it, it is set.
    """
    out = []
    for panel, control in controls_of(aeroplane):
        full, shares = setup.throws[control.channel], setup.sticks[control.channel]
        for stick in STICKS:
            share = abs(getattr(shares, stick))
            if share:
                out.append(
                    Throw(
                        channel=control.channel,
                        stick=stick,
                        up_deg=share * full.up_deg,
                        down_deg=share * full.down_deg,
                        arm_mm=arm_of(panel, control),
                        sideways=upright(panel.surface),
                        all_moving=control.kind == "all_moving",
                    )
                )
        if control.channel == FLAP:
            out.append(
                Throw(
                    channel=FLAP,
                    stick=SET,
                    up_deg=full.up_deg,
                    down_deg=full.down_deg,
                    arm_mm=arm_of(panel, control),
                    sideways=upright(panel.surface),
                    all_moving=control.kind == "all_moving",
                )
            )
    return sorted(out, key=lambda x: (*STICKS, SET).index(x.stick))


def pitch_throw(throws: list[Throw]) -> Throw | None:
    """Return the throw of the first surface that the elevator stick moves, if any does."""
    return next((x for x in throws if x.stick == "elevator"), None)
