"""Throws of a set-up in words: degrees, and the travel of the trailing edge as a ruler reads it."""

from collections.abc import Iterable

from sim.aero.geometry.edges import arm_of, edge_mm
from sim.aero.geometry.panels import panels_of
from sim.describe import Aeroplane, SetUp
from sim.describe.controls import Throws
from sim.units.quantities import LENGTH


def throws_words(setup: SetUp, aeroplane: Aeroplane) -> str:
    """Return the throws of a set-up in words, up and down of each channel: degrees and mm."""
    told = _throws(setup, setup.throws, aeroplane)
    return ", ".join(x for x in (told, flap_words(setup)) if x)


def flap_words(setup: SetUp) -> str:
    """Return where the flap of a set-up stands in words; empty where it stands neutral."""
    if setup.flap_deg == 0.0:
        return ""
    return f"flap set {abs(setup.flap_deg):g}° {'down' if setup.flap_deg > 0.0 else 'up'}"


def throws_changed(before: SetUp, after: SetUp, aeroplane: Aeroplane) -> str:
    """Return those throws of a set-up in words that differ from an earlier one's."""
    changed = [
        k for k, x in after.throws.items()
        if (x, after.sticks[k]) != (before.throws.get(k), before.sticks.get(k))
    ]  # fmt: skip
    return _throws(after, changed, aeroplane)


def _throws(setup: SetUp, names: Iterable[str], aeroplane: Aeroplane) -> str:
    arms = arms_mm(aeroplane)
    return ", ".join(
        _told(f"{name}{stick}", x, arms.get(name))
        for name in names
        for stick, x in _by_stick(setup, name)
    )


def _by_stick(setup: SetUp, name: str) -> list[tuple[str, Throws]]:
    """Return a channel's throws, of one that several sticks move what each does [degrees]."""
    full, shares = setup.throws[name], setup.sticks[name].model_dump()
    moved = {stick: abs(share) for stick, share in shares.items() if share}
    if len(moved) < 2:
        return [("", full)]
    return [
        (f" as {x}", Throws(up_deg=share * full.up_deg, down_deg=share * full.down_deg))
        for x, share in moved.items()
    ]


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
