"""An aeroplane as triangles, from its file: what a replay shows of it."""

import numpy as np

from sim.aero.build import servo_rows
from sim.aero.geometry.panels import panels_of
from sim.describe import Aeroplane
from sim.fly.columns import SIDES
from sim.record.models.recording import Mesh, MeshHinge, MeshPart
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


def mesh_of(aeroplane: Aeroplane, balance_aft_mm: float | None = None) -> Mesh:
    """Return an aeroplane's mesh.

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
    return Mesh(
        unit="m",
        axes=AXES,
        origin_aft_mm=balance_aft_mm or 0.0,
        span_m=float(extent[1]),
        length_m=float(extent[0]),
        parts=[_part(kind, piece, origin) for kind, piece in pieces],
    )


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


def _part(kind: str, piece: Piece, origin: np.ndarray) -> MeshPart:
    return MeshPart(
        name=piece.name,
        kind=kind,
        vertices=(piece.solid.vertices - origin).ravel().tolist(),
        triangles=piece.solid.triangles.ravel().tolist(),
        hinge=None if piece.hinge is None else _hinge(piece.hinge, origin),
    )


def _hinge(hinge: Hinge, origin: np.ndarray) -> MeshHinge:
    return MeshHinge(
        channel=hinge.channel + SIDES[hinge.side],
        point=(hinge.point - origin).tolist(),
        axis=hinge.axis.tolist(),
        sign=1,
    )
