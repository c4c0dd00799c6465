"""Inertia of solids against closed forms (any mechanics text), and the parallel axis."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.describe import Body, Part, Surface
from sim.weigh.ledger import total
from sim.weigh.parts import body_lump, part_lumps, ring, surface_lumps
from sim.weigh.solids import Lump, bar_moment, box_moment, inertia, skin, tube_moment

place = st.floats(-2.0, 2.0)
# rounding of a sum of products of order 10
ROUNDING = 1e-12


def test_box():
    a, b, c, m = 0.3, 0.2, 0.1, 2.0
    expected = m / 12.0 * np.diag([b**2 + c**2, a**2 + c**2, a**2 + b**2])
    np.testing.assert_allclose(inertia(box_moment(m, (a, b, c))), expected, atol=ROUNDING)


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_bar_has_none_about_its_own_axis(axis):
    across = 0.6 * 0.5**2 / 12.0
    expected = np.full(3, across)
    expected[axis] = 0.0
    np.testing.assert_allclose(np.diag(inertia(bar_moment(0.6, 0.5, axis))), expected)


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_open_thin_tube(axis):
    m, length, radius = 0.4, 0.3, 0.04
    expected = np.full(3, m * (radius**2 / 2.0 + length**2 / 12.0))
    expected[axis] = m * radius**2
    moment = tube_moment(m, length, 2.0 * radius, axis)
    np.testing.assert_allclose(np.diag(inertia(moment)), expected)


def test_tumbling_brick_inertias():
    # E. B. Jackson et al., NASA/TM-2015-218675 vol. II, tables 4-5 p. 13 (slug, ft)
    moment = box_moment(0.155404754, (8.0 / 12.0, 4.0 / 12.0, 2.25 / 12.0))
    printed = [0.001894220, 0.006211019, 0.007194665]
    # seven significant figures are printed
    np.testing.assert_allclose(np.diag(inertia(moment)), printed, rtol=1e-6)


def test_skin_of_a_rectangle_is_a_thin_plate():
    a, b, m = 0.8, 0.3, 1.5
    corners = np.array([[0, 0, 0], [a, 0, 0], [a, b, 0], [0, b, 0]], dtype=float)
    centre, moment = skin(m, corners[[[0, 1, 2], [0, 2, 3]]])
    np.testing.assert_allclose(centre, [a / 2, b / 2, 0.0], atol=ROUNDING)
    expected = m / 12.0 * np.diag([b**2, a**2, a**2 + b**2])
    np.testing.assert_allclose(inertia(moment), expected, atol=ROUNDING)


@given(place, place, place, st.floats(0.01, 5.0))
def test_parallel_axis(x, y, z, mass):
    lump = Lump("x", "part", mass, np.array([x, y, z]), box_moment(mass, (0.3, 0.2, 0.1)))
    about = inertia(lump.moment_about(np.zeros(3)))
    own = inertia(lump.moment_kg_m2)
    steiner = np.array(
        [[y * y + z * z, -x * y, -x * z], [-x * y, x * x + z * z, -y * z], [0, 0, x * x + y * y]]
    )
    steiner[2, :2] = [-x * z, -y * z]
    np.testing.assert_allclose(about, own + mass * steiner, atol=1e-10)


@given(st.floats(-500, 500), st.floats(1, 800), st.floats(-300, 300))
def test_a_mirrored_part_gives_no_products_across(aft, right, up):
    part = Part(
        name="leg", mass_g=70, shape="bar", aft_mm=aft, right_mm=right, up_mm=up,
        length_mm=120, along="up", mirrored=True,
    )  # fmt: skip
    whole = total(part_lumps(part))
    assert whole.mass_kg == pytest.approx(0.14)
    assert whole.centre_m[1] == pytest.approx(0.0, abs=ROUNDING)
    about_datum = sum(lump.moment_about(np.zeros(3)) for lump in part_lumps(part))
    assert about_datum[0, 1] == pytest.approx(0.0, abs=ROUNDING)
    assert about_datum[1, 2] == pytest.approx(0.0, abs=ROUNDING)


def test_signs_of_places_and_of_the_product():
    # ahead and above the centre together with behind and below: Ixz = Σ m x z < 0
    ahead = Part(name="a", mass_g=1000, shape="point", aft_mm=-100, right_mm=0, up_mm=50)
    behind = Part(name="b", mass_g=1000, shape="point", aft_mm=100, right_mm=0, up_mm=-50)
    tensor = total(part_lumps(ahead) + part_lumps(behind)).inertia_kg_m2
    assert part_lumps(ahead)[0].centre_m == pytest.approx([0.1, 0.0, -0.05])
    # the tensor holds -Ixz
    assert tensor[0, 2] == pytest.approx(+2 * 0.1 * 0.05)
    omega = np.array([1.0, 0.0, 0.0])
    momentum = sum(np.cross(r, np.cross(omega, r)) for r in ([0.1, 0, -0.05], [-0.1, 0, 0.05]))
    np.testing.assert_allclose(tensor @ omega, momentum, atol=ROUNDING)


def test_swept_panel_centre():
    # centroid of a trapezoid: spanwise s/3 (1+2λ)/(1+λ), at the middle of its chord there
    surface = Surface.model_validate(
        {
            "name": "w", "role": "wing", "mirrored": True, "root_aft_mm": 0, "root_right_mm": 0,
            "root_up_mm": 0, "panel_span_mm": 600, "root_chord_mm": 300, "tip_chord_mm": 150,
            "sweep_deg": 30, "dihedral_deg": 0, "strips": 8,
            "section": {"thickness_pct": 10, "edge": "round"},
        }
    )  # fmt: skip
    right, left = surface_lumps(surface, 400)
    out = 0.6 / 3.0 * (1 + 2 * 0.5) / (1 + 0.5)

    # ∫ c (x_LE + c/2) ds / ∫ c ds with c = 0.3 - 0.25 s, x_LE = s tan 30°, by Simpson's rule
    # (exact for a cubic)
    def integrand(s, power):
        chord = 0.3 - 0.25 * s
        return chord * ((s * np.tan(np.pi / 6) + chord / 2) if power else 1.0)

    aft = sum(w * integrand(s, 1) for w, s in ((1, 0), (4, 0.3), (1, 0.6))) / sum(
        w * integrand(s, 0) for w, s in ((1, 0), (4, 0.3), (1, 0.6))
    )
    np.testing.assert_allclose(right.centre_m, [-aft, out, 0.0], atol=ROUNDING)
    np.testing.assert_allclose(left.centre_m, [-aft, -out, 0.0], atol=ROUNDING)
    assert right.mass_kg + left.mass_kg == pytest.approx(0.4)


def body(corner_pct, width_mm, height_mm):
    stations = [
        {"aft_mm": aft, "width_mm": width_mm, "height_mm": height_mm} for aft in (-200, 300)
    ]
    return Body.model_validate(
        {"name": "b", "strips": 4, "corner_pct": corner_pct, "stations": stations}
    )


def test_round_body_is_a_thin_tube():
    lump = body_lump(body(100, 100, 100), 300)
    np.testing.assert_allclose(lump.centre_m, [-0.05, 0.0, 0.0], atol=ROUNDING)
    expected = tube_moment(0.3, 0.5, 0.1, 0)
    # a polygon of 96 sides lies inside its circle: (π/96)² = 0.11 % less across
    np.testing.assert_allclose(lump.moment_kg_m2, expected, rtol=1.5e-3, atol=ROUNDING)


def test_square_body_is_four_plates():
    side, mass = 0.1, 0.3
    lump = body_lump(body(0, 100, 100), 1000 * mass)
    # per plate ∫y² dm: two at ±a/2, two spread over a: m/2 (a²/4) + m/2 (a²/12)
    across = mass * side**2 * (1 / 8 + 1 / 24)
    assert lump.moment_kg_m2[1, 1] == pytest.approx(across)
    assert lump.moment_kg_m2[2, 2] == pytest.approx(across)


def test_rings_stay_inside_their_station_box():
    points = ring(body(40, 120, 80).stations[0], 40)
    assert points[:, 1].max() == pytest.approx(0.06)
    assert points[:, 2].min() == pytest.approx(-0.04)
    assert (points[:, 0] == 0.2).all()
