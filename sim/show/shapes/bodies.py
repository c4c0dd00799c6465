"""Bodies, canopies, ducts and propellers as shells to look at."""

from math import cos, radians, sin

import numpy as np

from sim.describe import Aeroplane, Body, Fan, Part, Propeller
from sim.show.shapes.outline import section
from sim.show.shapes.solids import Solid, circle, loft

TO_BODY = np.array([-1e-3, 1e-3, -1e-3])  # mm aft, right, up to m in body axes
AFT = np.array([-1.0, 0.0, 0.0])
LIP_MM = 12.0  # how far a nozzle stands out, for the eye
DISC_MM = 4.0
SPINNER_SHARE = 0.09  # of the propeller's diameter, its radius


def body_solid(body: Body) -> Solid:
    """Return a body's shell through its stations."""
    rings = []
    for station in body.stations:
        ring = _ring(station.width_mm, station.height_mm, body.corner_pct)
        ring += np.array([station.aft_mm, station.right_mm, station.up_mm])
        rings.append(ring * TO_BODY)
    return loft(np.array(rings))


def _ring(width: float, height: float, corner_pct: float) -> np.ndarray:
    """Return a section (n, 3) [mm] with three points a corner, aft 0."""
    points = section(width, height, corner_pct)
    kept = points.reshape(4, -1, 2)[:, ::4].reshape(-1, 2)
    return np.column_stack([np.zeros(len(kept)), kept])


def canopies(aeroplane: Aeroplane) -> list[Solid]:
    """Return bubbles over the boxes that the file calls a canopy: they show which way is up."""
    return [_bubble(part) for part in aeroplane.parts if _is_canopy(part)]


def _is_canopy(part: Part) -> bool:
    return "canopy" in part.name and None not in (part.length_mm, part.width_mm, part.height_mm)


def _bubble(part: Part) -> Solid:
    """Return half an egg that fills a part's box and reaches a little below it."""
    length, width, height = part.length_mm or 0.0, part.width_mm or 0.0, part.height_mm or 0.0
    angle = np.linspace(0.0, np.pi, 7)
    rings = []
    for share, size in ((0.0, 0.05), (0.12, 0.6), (0.35, 1.0), (0.65, 0.85), (1.0, 0.05)):
        aft = part.aft_mm + (share - 0.5) * length
        right = part.right_mm + 0.5 * width * size * np.cos(angle)
        up = part.up_mm + height * (1.0 * size * np.sin(angle) - 0.5)
        right = np.append(right, right[[-1, 0]])
        up = np.append(up, [up[0] - 0.6 * height] * 2)
        rings.append(np.column_stack([np.full(right.size, aft), right, up]) * TO_BODY)
    return loft(np.array(rings))


def nozzle(fan: Fan) -> Solid:
    """Return the lip of a fan's nozzle."""
    middle = np.array([fan.nozzle_aft_mm, fan.right_mm, fan.nozzle_up_mm])
    rings = [
        circle((middle + np.array([aft, 0.0, 0.0])) * TO_BODY, 0.5e-3 * fan.nozzle_mm, AFT)
        for aft in (-LIP_MM, LIP_MM)
    ]
    return loft(np.array(rings))


def inlets(aeroplane: Aeroplane, fan: Fan) -> list[tuple[str, Solid]]:
    """Return cheek inlets on the body beside a fan's inlet, where that lies inside a body.

    A fan on the centreline draws from both sides, one off it from its own side.
    """
    body = next((b for b in aeroplane.bodies if _inside(b, fan)), None)
    if body is None:
        return []
    sides = (1.0, -1.0) if fan.right_mm == 0.0 else (float(np.sign(fan.right_mm)),)
    words = {1.0: "right", -1.0: "left"}
    duct = aeroplane.fan_units[fan.fan].duct_mm
    return [(f"inlet {words[side]}", _cheek(body, fan, duct, side)) for side in sides]


def _width_at(body: Body, aft: float) -> tuple[float, float, float]:
    """Return half width, middle to the right and height of a body's section [mm]."""
    at = [x.aft_mm for x in body.stations]
    values = [(0.5 * x.width_mm, x.right_mm, x.height_mm) for x in body.stations]
    a, b, c = (float(np.interp(aft, at, [v[i] for v in values])) for i in range(3))
    return a, b, c


def _inside(body: Body, fan: Fan) -> bool:
    if not body.stations[0].aft_mm < fan.inlet_aft_mm < body.stations[-1].aft_mm:
        return False
    half, middle, _ = _width_at(body, fan.inlet_aft_mm)
    return abs(fan.right_mm - middle) < half


def _cheek(body: Body, fan: Fan, duct: float, side: float) -> Solid:
    """Return a duct that opens forward at the inlet and fades into the body aft of it."""
    rings = []
    for share, out in ((0.0, 0.30), (1.0, 0.26), (2.2, 0.0)):
        aft = fan.inlet_aft_mm + share * duct
        half, middle, height = _width_at(body, aft)
        tall = min(0.8 * duct, 0.7 * height)
        near, far = middle + side * 0.75 * half, middle + side * (half + out * duct)
        corners = ((near, 0.5), (far, 0.36), (far, -0.36), (near, -0.5))
        ring = [[aft, right, fan.inlet_up_mm + up * tall] for right, up in corners]
        rings.append(np.array(ring) * TO_BODY)
    return loft(np.array(rings))


def propeller_solids(aeroplane: Aeroplane, propeller: Propeller) -> list[tuple[str, Solid]]:
    """Return a propeller's disc and its spinner."""
    diameter = aeroplane.propeller_units[propeller.propeller].diameter_mm * 1e-3
    hub = np.array([propeller.aft_mm, propeller.right_mm, propeller.up_mm]) * TO_BODY
    down, right = radians(propeller.thrust_tilt_deg), radians(propeller.side_tilt_deg)
    shaft = np.array([cos(down) * cos(right), cos(down) * sin(right), sin(down)])
    thick = DISC_MM * 0.5e-3
    disc = [circle(hub + shaft * x, 0.5 * diameter, shaft, 24) for x in (-thick, thick)]
    radius = SPINNER_SHARE * diameter
    cone = ((-1.0, 1.0), (0.3, 0.95), (1.2, 0.65), (2.0, 0.05))
    spinner = [circle(hub + shaft * x * radius, r * radius, shaft) for x, r in cone]
    return [("propeller disc", loft(np.array(disc))), ("spinner", loft(np.array(spinner)))]
