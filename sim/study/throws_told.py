"""Throws of a set-up in words: degrees, and the travel of the trailing edge as a ruler reads it."""

from collections.abc import Mapping

from sim.aero.geometry.edges import arm_of, edge_mm
from sim.aero.geometry.panels import panels_of
from sim.describe import Aeroplane, SetUp
from sim.describe.controls import Throws
from sim.units.quantities import LENGTH


def throws_words(setup: SetUp, aeroplane: Aeroplane) -> str:
    """Return the throws of a set-up in words, up and down of each channel: degrees and mm."""
    return ", ".join(x for x in (_throws(setup.throws, aeroplane), flap_words(setup)) if x)


def flap_words(setup: SetUp) -> str:
    """Return where the flap of a set-up stands in words; empty where it stands neutral."""
    if setup.flap_deg == 0.0:
        return ""
    return f"flap set {abs(setup.flap_deg):g}° {'down' if setup.flap_deg > 0.0 else 'up'}"


def throws_changed(before: SetUp, after: SetUp, aeroplane: Aeroplane) -> str:
    """Return those throws of a set-up in words that differ from an earlier one's."""
    changed = {k: x for k, x in after.throws.items() if x != before.throws.get(k)}
    return _throws(changed, aeroplane)


def _throws(throws: Mapping[str, Throws], aeroplane: Aeroplane) -> str:
    arms = arms_mm(aeroplane)
    return ", ".join(_told(name, x, arms.get(name)) for name, x in throws.items())


def _told(name: str, x: Throws, arm: float | None) -> str:
    """Return "elevator 16.9/14° (18/15 mm)"; degrees alone of a channel that moves nothing."""
    text = f"{name} {x.up_deg:.4g}/{x.down_deg:.4g}°"
    if arm is None:
        return text
    up, down = (LENGTH.figure(edge_mm(arm, deg), ".3g") for deg in (x.up_deg, x.down_deg))
    return f"{text} ({up}/{down} {LENGTH})"


def arms_mm(aeroplane: Aeroplane) -> dict[str, float]:
    """Return of each channel how far its first surface's edge lies behind hinge or pivot [mm]."""
    arms: dict[str, float] = {}
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            if control.channel not in arms:
                arms[control.channel] = arm_of(panels_of(surface)[0], control)
    return arms
