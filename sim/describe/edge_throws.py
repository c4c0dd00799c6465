"""Throws as a ruler has them: travel of the trailing edge in mm, made into degrees.

Square to the surface at rest the edge travels the sine of the angle times its distance from hinge
or pivot, read at the inner end of a flap and at the root of what turns as a whole. These functions
read the plain mapping that a file parses into, as `sim.describe.cross_checks` does.
"""

from collections.abc import Iterator, Mapping
from math import asin, atan, cos, degrees, radians, sin, tan
from typing import Any

from sim.describe.faults import Fault
from sim.describe.plain import Table, number, rows, table
from sim.describe.quantity import MOST_THROW_DEG
from sim.units.factors import UNITS, split

WAYS = ("up", "down")
MM = UNITS["mm"]


def angle_deg(travel_mm: float, arm_mm: float) -> float:
    """Return the angle [degrees] of a trailing edge's travel square to the surface; geometry."""
    return degrees(asin(travel_mm / arm_mm))


def edge_mm(arm_mm: float, angle: float) -> float:
    """Return the travel of a trailing edge [mm] at an angle [degrees]; geometry."""
    return arm_mm * sin(radians(angle))


def arm_mm(surface: Table, control: Table) -> float | None:
    """Return the distance from hinge line or pivot to the trailing edge [mm]; None where unsaid.

    Geometry. A swept hinge line is nearer than the chord along the stream, by the cosine of its
    sweep. A width that was measured stands as it is. An all-moving surface turns about a line
    square to the centreline, at a share of its mean chord; it is measured at its root.
    """
    root, tip = number(surface, "root_chord_mm"), number(surface, "tip_chord_mm")
    span, swept = number(surface, "panel_span_mm"), number(surface, "sweep_deg")
    if not root or not tip or not span or swept is None:
        return None
    lean = tan(radians(swept))
    if control.get("kind") == "all_moving":
        pivot = (number(control, "pivot_pct") or 0.0) / 100.0
        ratio = tip / root
        out = (1.0 + 2.0 * ratio) / (3.0 * (1.0 + ratio))
        mean = root * 2.0 / 3.0 * (1.0 + ratio + ratio**2) / (1.0 + ratio)
        return root - out * span * lean - pivot * mean
    if (width := number(control, "width_mm")) is not None:
        return width
    share, inner = (number(control, key) for key in ("chord_pct", "inner_pct"))
    if share is None or inner is None:
        return None
    back = lean - (1.0 - share / 100.0) * (root - tip) / span
    return share / 100.0 * (root + inner / 100.0 * (tip - root)) * cos(atan(back))


def arm_of_channel(aeroplane: Table, channel: str) -> float | None:
    """Return the distance to the trailing edge [mm] of the first surface that a channel moves."""
    for surface in rows(aeroplane, "surfaces"):
        for control in rows(surface, "controls"):
            if control.get("channel") == channel:
                return arm_mm(surface, control)
    return None


def throws_deg(aeroplane: Table, channel: str, said: Table) -> dict[str, float]:
    """Return up_deg and down_deg of a channel's throws, either of which may be said in mm.

    What cannot be had is left out; `travel_faults` tells it.
    """
    arm, out = arm_of_channel(aeroplane, channel), {}
    for way in WAYS:
        deg, mm = number(said, f"{way}_deg"), number(said, f"{way}_mm")
        if mm is not None and arm is not None and _reached(mm, arm):
            deg = angle_deg(mm, arm)
        if deg is not None:
            out[f"{way}_deg"] = deg
    return out


def travel_faults(aeroplane: Table, channel: str, said: Table, path: str) -> Iterator[Fault]:
    """Yield a fault for each throw in mm that is no angle here."""
    arm = arm_of_channel(aeroplane, channel)
    for way in WAYS:
        mm = number(said, f"{way}_mm")
        if mm is None or (arm is not None and _reached(mm, arm)):
            continue
        text = f"in mm needs a surface whose controls name {channel!r}; give {way}_deg"
        if arm is not None:
            text = f"must be at least 0 and at most {edge_mm(arm, MOST_THROW_DEG):.4g} mm: the "
            text += f"trailing edge lies {arm:.4g} mm behind hinge or pivot, and a throw is at "
            text += f"most {MOST_THROW_DEG:g} degrees; got {mm:g}"
        yield Fault(f"{path}.{way}_mm", text)


def _reached(mm: float, arm: float) -> bool:
    return arm > 0.0 and 0.0 <= mm <= edge_mm(arm, MOST_THROW_DEG)


def channels_in_degrees(raw: Table) -> tuple[Table, list[Fault]]:
    """Return the tables of an aeroplane with the throws of its channels in degrees, and faults.

    A channel's ``up_mm``, or ``up_in``, is made ``up_deg``; one that has a fault is made 0, so that
    it is told once.
    """
    faults: list[Fault] = []
    channels: dict[str, Any] = {}
    for name, channel in table(raw, "channels").items():
        path = f"channels.{name}"
        channels[name] = channel
        travels = _travels(channel) if isinstance(channel, Mapping) else {}
        if not travels:
            continue
        rest = {key: value for key, value in channel.items() if key not in travels}
        said = {}
        for key, (known, mm) in travels.items():
            deg = f"{known.removesuffix('_mm')}_deg"
            if deg in rest or known in said:
                text = f"says the same as {deg if deg in rest else known}, which is given too; "
                faults.append(Fault(f"{path}.{key}", f"{text}keep one of them"))
            else:
                said[known] = mm
        faults += travel_faults(raw, name, said, path)
        zero = {f"{known.removesuffix('_mm')}_deg": 0.0 for known in said}
        channels[name] = {**rest, **zero, **throws_deg(raw, name, said)}
    return ({**raw, "channels": channels} if channels else raw), faults


def _travels(channel: Table) -> dict[str, tuple[str, float]]:
    """Return the keys of a channel that say a throw as a length: as in mm, and how much."""
    out = {}
    for key in channel:
        parts, value = split(str(key)), number(channel, key)
        if parts is None or value is None or parts[0] not in WAYS or parts[1].kind != MM.kind:
            continue
        out[key] = f"{parts[0]}_mm", float(f"{parts[1].to(MM, value):.12g}")
    return out
