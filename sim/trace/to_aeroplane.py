"""What was traced as new values of an aeroplane's keys; what a view cannot see stays."""

from dataclasses import dataclass, field
from math import atan, cos, degrees, radians, sin, tan

import numpy as np

from sim.describe import Aeroplane, Body, Surface
from sim.describe.faults import hint
from sim.trace.frame import Untraceable
from sim.trace.outlines import CLOSE, LEAST_MM, Outline, Panel
from sim.trace.traced import Traced

SEEN_FROM_DEG = 30.0  # of a panel to the line of sight: more slantwise than this is not traced
LENGTH_TOLD = 0.05  # of the body's length: more is told


@dataclass
class Changes:
    """New values by place in the file: surfaces and stations of a body; and what to tell.

    ``known`` are the keys that nobody need assume any longer.
    """

    surfaces: dict[int, dict[str, float]] = field(default_factory=dict)
    stations: dict[int, list[dict[str, float]]] = field(default_factory=dict)
    told: list[str] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    known: set[str] = field(default_factory=set)


def changes_of(aeroplane: Aeroplane, found: Traced) -> Changes:
    """Return what of an aeroplane's geometry a view gives, in the units of `describe`.

    The wing's root, or the point that the file measures from, ties picture and file together.

    Raises
    ------
    Untraceable
        A surface is not in the file, or cannot be seen in this view.
    """
    out = Changes()
    named = {_index(aeroplane, name): panel for name, panel in found.panels.items()}
    if len(named) < len(found.panels):
        raise Untraceable("surfaces", "two of them are the same surface of the file")
    if found.view == "top":
        panels = {i: _to_root(aeroplane.surfaces[i], p, out) for i, p in named.items()}
        nose = _nose_from_above(aeroplane, found, panels)
        for i, panel in panels.items():
            out.surfaces[i] = _lying(aeroplane.surfaces[i], panel, nose)
    else:
        nose = _nose_from_side(aeroplane, found)
        out.surfaces |= {i: _upright(aeroplane.surfaces[i], p, nose) for i, p in named.items()}
        _heights(aeroplane, found, out)
    if found.body is not None:
        at = max(range(len(aeroplane.bodies)), key=lambda i: _length(aeroplane.bodies[i]))
        out.stations[at] = stations_of(aeroplane.bodies[at], found.body, nose, found.view)
        if found.view == "side":  # widths were measured, heights alone may be the kind's
            out.known.add(f"bodies.{aeroplane.bodies[at].name}.stations")
        was = _length(aeroplane.bodies[at])
        if abs(found.length / was - 1.0) > LENGTH_TOLD:
            text = f"the body comes out {found.length:.0f} mm long, it was {was:.0f} mm in the file"
            out.doubts.append(f"{text}: right, if the file was another aeroplane's; else look at "
                              "the known length")  # fmt: skip
    for i, values in out.surfaces.items():
        out.known |= {f"surfaces.{aeroplane.surfaces[i].name}.{key}" for key in values}
    return out


def _length(body: Body) -> float:
    return body.stations[-1].aft_mm - body.stations[0].aft_mm


def _index(aeroplane: Aeroplane, name: str) -> int:
    """Return which surface is meant: by name, or by role if there is one of it."""
    by_name = [i for i, s in enumerate(aeroplane.surfaces) if s.name == name]
    by_role = [i for i, s in enumerate(aeroplane.surfaces) if s.role == name]
    if by_name or len(by_role) == 1:
        return (by_name or by_role)[0]
    names = [s.name for s in aeroplane.surfaces]
    text = f"is not in the aeroplane file; {hint(name, names, 'surfaces')}"
    raise Untraceable(f"surfaces.{name}", text)


def _wing(aeroplane: Aeroplane) -> Surface:
    wings = [s for s in aeroplane.surfaces if s.role == "wing"]
    if not wings:
        raise Untraceable("datum", "is needed: the aeroplane has no wing to begin from")
    return wings[0]


def _to_root(surface: Surface, panel: Panel, out: Changes) -> Panel:
    """Return a panel seen from above with the root where the file has it."""
    if surface.mirrored and surface.root_right_mm < 1.0 and panel.root_out > 1.0:
        out.told.append(f"{surface.name}: carried on from the body's side to the middle, as the "
                        "file has it")  # fmt: skip
        return panel.carried_to(0.0)
    return panel


def _nose_from_above(aeroplane: Aeroplane, found: Traced, panels: dict[int, Panel]) -> float:
    """Return where the nose lies in the file [mm aft of its datum]."""
    if found.datum is not None:
        return -found.datum[0]
    wing = _wing(aeroplane)
    panel = panels.get(aeroplane.surfaces.index(wing))
    if panel is None:
        text = "is needed where the wing is not clicked: the point that the file measures from"
        raise Untraceable("datum", text)
    return wing.root_aft_mm - panel.root_aft


def _lying(surface: Surface, panel: Panel, nose: float) -> dict[str, float]:
    """Return the keys of a surface seen from above; its dihedral is the file's."""
    if abs(surface.dihedral_deg) > 90.0 - SEEN_FROM_DEG:
        text = f"stands at {surface.dihedral_deg:g} degrees: trace it from the side"
        raise Untraceable(f"surfaces.{surface.name}", text)
    span = (panel.tip_out - panel.root_out) / cos(radians(surface.dihedral_deg))
    keys = _chords(panel, nose, span)
    return keys | ({} if panel.root_out == 0.0 else {"root_right_mm": max(0.0, panel.root_out)})


def _upright(surface: Surface, panel: Panel, nose: float) -> dict[str, float]:
    """Return the keys of a surface seen from the side; its lean is the file's."""
    if abs(surface.dihedral_deg) < SEEN_FROM_DEG:
        text = f"lies at {surface.dihedral_deg:g} degrees: trace it from above"
        raise Untraceable(f"surfaces.{surface.name}", text)
    if surface.dihedral_deg < 0.0:
        text = "hangs below the body, which cannot be traced; measure it with a ruler"
        raise Untraceable(f"surfaces.{surface.name}", text)
    span = (panel.tip_out - panel.root_out) / sin(radians(surface.dihedral_deg))
    return _chords(panel, nose, span) | {"root_up_mm": panel.root_out}


def _chords(panel: Panel, nose: float, span: float) -> dict[str, float]:
    return {
        "root_aft_mm": nose + panel.root_aft, "panel_span_mm": span,
        "root_chord_mm": panel.root_chord, "tip_chord_mm": max(LEAST_MM, panel.tip_chord),
        "sweep_deg": degrees(atan((panel.tip_aft - panel.root_aft) / span)),
    }  # fmt: skip


def _beside(aeroplane: Aeroplane, surface: Surface) -> float:
    """Return how far from a surface's root the body's side is, across [mm]."""
    body = max(aeroplane.bodies, key=_length)
    at = [s.aft_mm for s in body.stations]
    half = 0.5 * float(np.interp(surface.root_aft_mm, at, [s.width_mm for s in body.stations]))
    return max(0.0, half - surface.root_right_mm)


def _nose_from_side(aeroplane: Aeroplane, found: Traced) -> float:
    """Return where the nose lies in the file [mm], by the wing's edge at the body's side."""
    if found.datum is not None:
        return -found.datum[0]
    if found.wing_root is None:
        text = "is needed: the wing's leading edge at the body ties picture and file together"
        raise Untraceable("wing_root", text)
    wing = _wing(aeroplane)
    slope = tan(radians(wing.sweep_deg)) / cos(radians(wing.dihedral_deg))
    return wing.root_aft_mm + _beside(aeroplane, wing) * slope - found.wing_root[0]


def _heights(aeroplane: Aeroplane, found: Traced, out: Changes) -> None:
    """Put in how high wing and tail lie, at their roots."""
    for role, place in (("wing", found.wing_root), ("tail", found.tail_root)):
        fitting = [i for i, s in enumerate(aeroplane.surfaces) if s.role == role]
        if place is None or not fitting:
            continue
        surface = aeroplane.surfaces[fitting[0]]
        rise = _beside(aeroplane, surface) * tan(radians(surface.dihedral_deg))
        out.surfaces.setdefault(fitting[0], {})["root_up_mm"] = place[1] - rise


def stations_of(body: Body, seen: Outline, nose: float, view: str) -> list[dict[str, float]]:
    """Return a body's stations: what was seen new, the rest as it was at the same share of length.

    Places of the file stay as well, but for those close to a clicked one, so that top and
    side can be traced one after the other; geometry.
    """
    was = np.array([s.aft_mm for s in body.stations])
    share = (was - was[0]) / (was[-1] - was[0])
    kept = [x for x in share * seen.length if np.abs(seen.aft - x).min() > CLOSE * seen.length]
    aft = np.sort(np.concatenate([seen.aft, kept]))
    old = {
        key: np.interp(aft / seen.length, share, [getattr(s, key) for s in body.stations])
        for key in ("width_mm", "height_mm", "up_mm", "right_mm")
    }
    size = np.interp(aft, seen.aft, seen.size)
    if view == "top":
        old["width_mm"] = size
    else:
        old |= {"height_mm": size, "up_mm": np.interp(aft, seen.aft, seen.middle)}
    if not np.any(old["right_mm"]):
        del old["right_mm"]
    columns = {"aft_mm": nose + aft, **old}
    return [
        {key: round(float(values[i]), 1) + 0.0 for key, values in columns.items()}
        for i in range(aft.size)
    ]
