"""From described parts, surfaces, bodies and packs to lumps of mass in body axes."""

import math
from functools import lru_cache
from itertools import pairwise

import numpy as np

from sim.describe import (
    Aeroplane,
    Body,
    LooseWeight,
    Pack,
    Part,
    Station,
    Surface,
    Tray,
    WeightPlace,
)
from sim.weigh.solids import Array, Lump, bar_moment, box_moment, skin, tube_moment

AXES = {"aft": 0, "right": 1, "up": 2}

# How finely a body's skin is cut; with 24 chords a quarter, a round section's perimeter is
# short by 0.02 % (computed: sin(x)/x at x = π/96).
POINTS_A_CORNER = 25
SLICES = 4


def place(aft_mm: float, right_mm: float, up_mm: float) -> Array:
    """Return a place of a file in body axes from the datum [m], shape (3,).

    Geometry: aft and up of a file are minus x and minus z.
    """
    return np.array([-aft_mm, right_mm, -up_mm]) / 1000.0


def part_lumps(part: Part) -> list[Lump]:
    """Return the lump of a part, and its mirror image if it has one.

    Sizes of a file [mm, g] become SI [m, kg]; solids by `sim.weigh.solids`, by definition.
    """
    mass = part.mass_g / 1000.0
    length = (part.length_mm or 0.0) / 1000.0
    width, height = (part.width_mm or 0.0) / 1000.0, (part.height_mm or 0.0) / 1000.0
    moment = np.zeros((3, 3))
    if part.shape == "bar":
        moment = bar_moment(mass, length, AXES[part.along])
    elif part.shape == "box":
        moment = box_moment(mass, (length, width, height))
    elif part.shape == "shell":
        moment = tube_moment(mass, length, (part.diameter_mm or 0.0) / 1000.0, AXES[part.along])
    centre = place(part.aft_mm, part.right_mm, part.up_mm)
    lump = Lump(part.name, "part", mass, centre, moment)
    return [lump, lump.mirrored()] if part.mirrored else [lump]


def panel_corners(surface: Surface) -> Array:
    """Return the four corners of a surface's (right) panel in body axes [m], shape (4, 3).

    In order: root leading edge, tip leading edge, tip trailing edge, root trailing edge.
    The small turns of incidence and washout are left out: mass does not feel them.
    Geometry.
    """
    dihedral, sweep = math.radians(surface.dihedral_deg), math.radians(surface.sweep_deg)
    span = surface.panel_span_mm / 1000.0
    root = place(surface.root_aft_mm, surface.root_right_mm, surface.root_up_mm)
    tip = root + span * np.array([-math.tan(sweep), math.cos(dihedral), -math.sin(dihedral)])
    root_chord = np.array([-surface.root_chord_mm / 1000.0, 0.0, 0.0])
    tip_chord = np.array([-surface.tip_chord_mm / 1000.0, 0.0, 0.0])
    return np.array([root, tip, tip + tip_chord, root + root_chord])


def surface_lumps(surface: Surface, mass_g: float) -> list[Lump]:
    """Return a surface's panels as thin plates of even weight per area (geometry, see `skin`).

    Parameters
    ----------
    surface : Surface
    mass_g : float [g]
        Of the whole surface, both panels together.
    """
    corners = panel_corners(surface)
    mass = mass_g / 1000.0 / (2 if surface.mirrored else 1)
    centre, moment = skin(mass, corners[[[0, 1, 2], [0, 2, 3]]])
    panel = Lump(surface.name, "airframe", mass, centre, moment)
    return [panel, panel.mirrored()] if surface.mirrored else [panel]


def ring(station: Station, corner_pct: float) -> Array:
    """Return points around a body's section in body axes [m], shape (4 POINTS_A_CORNER, 3).

    Each corner is a quarter of an ellipse, ``corner_pct`` of both half sides; the straight
    pieces of the sides run from one corner's end to the next one's beginning. Geometry.
    """
    half = 0.5 * np.array([station.width_mm, station.height_mm])
    radius = corner_pct / 100.0 * half
    quarter = np.linspace(0.0, 0.5 * math.pi, POINTS_A_CORNER)
    turn = np.concatenate([quarter + 0.5 * math.pi * corner for corner in range(4)])
    signs = np.repeat([[1, 1], [-1, 1], [-1, -1], [1, -1]], POINTS_A_CORNER, axis=0)
    arc = signs * (half - radius) + radius * np.column_stack([np.cos(turn), np.sin(turn)])
    aft = np.full(len(arc), station.aft_mm)
    points = np.column_stack([-aft, station.right_mm + arc[:, 0], -station.up_mm - arc[:, 1]])
    return points / 1000.0


def body_skin(body: Body) -> Array:
    """Return a body's skin, open at both ends, twice over as triangles [m], shape (n, 3, 3).

    Geometry: straight lines between stations, and sections turned into each other.
    """
    rings = np.array([ring(station, body.corner_pct) for station in body.stations])
    steps = np.arange(SLICES) / SLICES
    cut = [a + step * (b - a) for a, b in pairwise(rings) for step in steps]
    hoops = np.array([*cut, rings[-1]])
    a, d = hoops[:-1], hoops[1:]
    b, c = np.roll(a, -1, axis=1), np.roll(d, -1, axis=1)
    # a facet between unlike sections is not flat: both ways of halving it, so that left
    # and right stay exact mirror images
    halves = [(a, b, c), (a, c, d), (a, b, d), (b, c, d)]
    return np.concatenate([np.stack(half, axis=2).reshape(-1, 3, 3) for half in halves])


@lru_cache(maxsize=64)
def body_lump(body: Body, mass_g: float) -> Lump:
    """Return a body as a thin skin of even weight per area, open at both ends; mass [g].

    Geometry, see `skin`. Kept: it is most of a weighing, and of all set-ups the same.
    """
    mass = mass_g / 1000.0
    centre, moment = skin(mass, body_skin(body))
    for kept in (centre, moment):
        kept.setflags(write=False)
    return Lump(body.name, "airframe", mass, centre, moment)


def pack_lump(name: str, pack: Pack, tray: Tray, aft_mm: float) -> Lump:
    """Return a pack as a box with its centre on the tray [mm] and its length fore and aft.

    Geometry, see `box_moment`.
    """
    mass = pack.mass_g / 1000.0
    sizes = (pack.length_mm / 1000.0, pack.width_mm / 1000.0, pack.height_mm / 1000.0)
    centre = place(aft_mm, tray.right_mm, tray.up_mm)
    return Lump(f"pack {name}", "pack", mass, centre, box_moment(mass, sizes))


def weight_lump(weight: LooseWeight) -> Lump:
    """Return a loose weight as a point; by definition, file [g, mm] to SI [kg, m]."""
    centre = place(weight.aft_mm, weight.right_mm, weight.up_mm)
    return Lump(weight.name, "loose weight", weight.mass_g / 1000.0, centre, np.zeros((3, 3)))


def added_lump(spot: WeightPlace, mass_kg: float) -> Lump:
    """Return a weight added at a weight place as a point."""
    centre = place(spot.aft_mm, spot.right_mm, spot.up_mm)
    return Lump(f"weight at {spot.name}", "added weight", mass_kg, centre, np.zeros((3, 3)))


def fixed_lumps(aeroplane: Aeroplane) -> list[Lump]:
    """Return what is in the aeroplane in every set-up: airframe and parts."""
    things: dict[str, Surface | Body] = {s.name: s for s in aeroplane.surfaces}
    things.update({body.name: body for body in aeroplane.bodies})
    lumps: list[Lump] = []
    for share in aeroplane.airframe:
        thing = things[share.of]
        if isinstance(thing, Surface):
            lumps += surface_lumps(thing, share.mass_g)
        else:
            lumps.append(body_lump(thing, share.mass_g))
    for part in aeroplane.parts:
        lumps += part_lumps(part)
    return lumps
