"""The mesh of an aeroplane: closed, the right way round, its surfaces moving as flown."""

from collections import Counter
from math import cos, radians

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sim.aero.build import servo_rows
from sim.core.pilot.control import command_angle
from sim.describe import load_aeroplane, resolve_setup
from sim.pack.controls import servo_array
from sim.show.shapes.mesh import mesh_of, servo_names
from sim.show.shapes.solids import Solid, volume

NAMES = ("display_jet", "twin_delta", "club_sport")


@pytest.fixture(scope="module", params=NAMES)
def aeroplane(request):
    return load_aeroplane(request.param)


def solid(part):
    points = np.array(part.vertices, float).reshape(-1, 3)
    return Solid(points, np.array(part.triangles).reshape(-1, 3))


def named(mesh, name):
    return next(p for p in mesh.parts if p.name == name)


def test_every_part_is_closed_and_faces_outwards(aeroplane):
    for part in mesh_of(aeroplane).parts:
        shell = solid(part)
        edges = Counter(
            (int(a), int(b))
            for corners in shell.triangles
            for a, b in zip(corners, np.roll(corners, -1), strict=True)
        )
        assert all(n == 1 and edges[b, a] == 1 for (a, b), n in edges.items()), part.name
        assert volume(shell) > 0.0, part.name


def test_nose_forward_fin_up_wing_as_wide_as_in_the_file(aeroplane):
    mesh = mesh_of(aeroplane)
    body = aeroplane.bodies[0]
    fuselage = solid(named(mesh, body.name)).vertices
    assert fuselage[:, 0].max() == pytest.approx(-1e-3 * body.stations[0].aft_mm, abs=1e-3)
    assert fuselage[:, 0].min() == pytest.approx(-1e-3 * body.stations[-1].aft_mm, abs=1e-3)
    wing = aeroplane.surfaces_as("wing")[0]
    half = wing.root_right_mm + wing.panel_span_mm * cos(radians(wing.dihedral_deg))
    right = solid(named(mesh, f"{wing.name} right")).vertices
    assert right[:, 1].max() == pytest.approx(1e-3 * half, abs=2e-3)
    assert mesh.span_m == pytest.approx(2e-3 * half, abs=4e-3)
    fin = next(p for p in mesh.parts if p.kind == "fin")
    assert solid(fin).vertices[:, 2].min() < fuselage[:, 2].min() - 0.05
    canopy = solid(named(mesh, "canopy")).vertices
    assert canopy[:, 2].mean() < fuselage[:, 2].mean()


def test_left_mirrors_right(aeroplane):
    mesh = mesh_of(aeroplane)
    for part in mesh.parts:
        if not part.name.endswith(" right") or part.name.startswith("inlet"):
            continue
        other = named(mesh, part.name.removesuffix("right") + "left")
        mirrored = solid(part).vertices * np.array([1.0, -1.0, 1.0])
        rows = [sorted(map(tuple, np.round(v, 3).tolist())) for v in (mirrored, solid(other)[0])]
        np.testing.assert_allclose(rows[0], rows[1], atol=1.1e-3)


def test_a_balance_point_moves_the_origin(aeroplane):
    datum, balanced = mesh_of(aeroplane), mesh_of(aeroplane, 150.0)
    for a, b in zip(datum.parts, balanced.parts, strict=True):
        shift = solid(b).vertices - solid(a).vertices
        np.testing.assert_allclose(shift, np.tile([0.15, 0.0, 0.0], (len(shift), 1)), atol=1e-9)


def trailing_edge_moves(aeroplane, elevator, aileron, rudder):
    """Return how far (3,) the rear of each moving part moves, by channel, for given sticks."""
    setup = resolve_setup(aeroplane, None)
    rows = servo_rows(aeroplane)
    servos = servo_array(aeroplane, setup, rows)
    angles = {
        name: command_angle(servos[i], elevator, aileron, rudder)
        for i, name in enumerate(servo_names(aeroplane))
    }
    out = {}
    for part in mesh_of(aeroplane).parts:
        hinge = part.hinge
        if hinge is None:
            continue
        points = solid(part).vertices
        rear = points[points[:, 0].argmin()] - np.array(hinge.point)
        axis = np.array(hinge.axis)
        assert np.linalg.norm(axis) == pytest.approx(1.0, abs=1e-3)
        angle = hinge.sign * angles[hinge.channel]
        out[hinge.channel] = Rotation.from_rotvec(angle * axis).apply(rear) - rear
    assert set(out) == set(angles)
    return out


def test_surfaces_move_as_the_sticks_say(aeroplane):
    """Aft stick lifts the tail's trailing edge, right stick the right aileron's and lowers the
    left one's; right rudder moves the rudder's to the right: common practice, no source.

    The kernel's own mixes turn the sticks into angles.
    """  # fmt: skip
    for channel, move in trailing_edge_moves(aeroplane, 1.0, 0.0, 0.0).items():
        if channel.startswith(("tail", "elevator", "elevon")):
            assert move[2] < -0.005, channel
    for channel, move in trailing_edge_moves(aeroplane, 0.0, 1.0, 0.0).items():
        if channel.startswith(("aileron", "elevon")):
            assert (move[2] < -0.003) == channel.endswith("_right"), channel
            assert abs(move[2]) > 0.003, channel
    for channel, move in trailing_edge_moves(aeroplane, 0.0, 0.0, 1.0).items():
        if channel.startswith("rudder"):
            assert move[1] > 0.005, channel


def test_a_part_turns_about_its_hinge_only(aeroplane):
    # an all-moving tail turns about its pivot share of the mean chord, a flap about its front
    mesh = mesh_of(aeroplane)
    for part in mesh.parts:
        if part.hinge is None:
            continue
        x = solid(part).vertices[:, 0]
        share = (x.max() - part.hinge.point[0]) / np.ptp(x)
        assert share < 0.65 if part.kind == "tail" else share < 0.5, part.name
