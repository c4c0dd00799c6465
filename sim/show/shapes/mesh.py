"""An aeroplane as triangles, from its file: what a replay shows of it.

A mesh is ready for JSON: `unit`, `axes`, `origin_aft_mm` (where the origin lies, mm aft of
the datum), `span_m`, `length_m`, and `parts`. A part has `name`, `kind`, `vertices` (x, y, z
after each other), `triangles` (three indices each, seen from outside anticlockwise) and
`hinge`: null, or `channel` (a key of a recording's `surfaces`), `point`, `axis`, `sign`. The
part turns by sign times the servo's angle, right-handed about the axis.
"""

from typing import Any

import numpy as np

from sim.aero.build import servo_rows
from sim.aero.geometry.panels import panels_of
from sim.describe import Aeroplane
from sim.fly.columns import SIDES
from sim.show.shapes.bodies import (
    body_solid,
    canopies,
    inlets,
    nozzle,
    propeller_solids,
)
from sim.show.shapes.panels import Hinge, Piece, pieces_of
from sim.show.shapes.solids import Solid

AXES = "x forward, y right, z down, origin at the balance point or at the datum"
KINDS = {"wing": "wing", "strake": "strake", "tail": "tail", "canard": "tail", "fin": "fin"}


def servo_names(aeroplane: Aeroplane) -> list[str]:
    """Return the name of each servo row: its channel, with its side where there are two."""
    return [name + SIDES[side] for name, side in servo_rows(aeroplane)]


def mesh_of(aeroplane: Aeroplane, balance_aft_mm: float | None = None) -> dict[str, Any]:
    """Return an aeroplane's mesh, ready for JSON.

    Parameters
    ----------
    aeroplane : Aeroplane
    balance_aft_mm : float, optional
        Balance point to put the origin at; None leaves it at the datum. A mesh made for one
        balance point serves another if it is moved forward by the difference to
        ``origin_aft_mm``.
    """
    origin = np.array([-1e-3 * (balance_aft_mm or 0.0), 0.0, 0.0])
    pieces = _pieces(aeroplane)
    points = np.vstack([piece.solid.vertices for _, piece in pieces])
    extent = np.ptp(points, axis=0)
    return {
        "unit": "m",
        "axes": AXES,
        "origin_aft_mm": balance_aft_mm or 0.0,
        "span_m": round(float(extent[1]), 3),
        "length_m": round(float(extent[0]), 3),
        "parts": [_part(kind, piece, origin) for kind, piece in pieces],
    }


def _pieces(aeroplane: Aeroplane) -> list[tuple[str, Piece]]:
    """Return all shells with their kinds, from the datum."""
    out: list[tuple[str, Piece]] = []

    def add(name: str, solid: Solid) -> None:
        out.append(("body", Piece(name, solid)))

    for body in aeroplane.bodies:
        add(body.name, body_solid(body))
    for solid in canopies(aeroplane):
        add("canopy", solid)
    for fan in aeroplane.fans:
        add("nozzle", nozzle(fan))
        for name, solid in inlets(aeroplane, fan):
            add(name, solid)
    for propeller in aeroplane.propellers:
        for name, solid in propeller_solids(aeroplane, propeller):
            add(name, solid)
    for surface in aeroplane.surfaces:
        for panel in panels_of(surface):
            for piece in pieces_of(panel):
                out.append(("control" if piece.flap else KINDS[surface.role], piece))
    return out


def _part(kind: str, piece: Piece, origin: np.ndarray) -> dict[str, Any]:
    return {
        "name": piece.name,
        "kind": kind,
        "vertices": _flat(piece.solid.vertices - origin, 3),
        "triangles": [int(i) for i in piece.solid.triangles.ravel()],
        "hinge": None if piece.hinge is None else _hinge(piece.hinge, origin),
    }


def _hinge(hinge: Hinge, origin: np.ndarray) -> dict[str, Any]:
    return {
        "channel": hinge.channel + SIDES[hinge.side],
        "point": _flat(hinge.point - origin, 4),
        "axis": _flat(hinge.axis, 4),
        "sign": 1,
    }


def _flat(values: np.ndarray, digits: int) -> list[float]:
    return shortest(values.ravel(), digits)


def shortest(values: np.ndarray, digits: int) -> list[float]:
    """Return rounded numbers (n,) as short as JSON allows: whole ones without a point."""
    rounded = np.round(values, digits) + 0.0
    return [int(v) if v == int(v) else float(v) for v in rounded]
