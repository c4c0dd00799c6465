"""The tail-damping power factor by hand: areas, arms and the shielding construction."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from sim.spin.tail_damping import (
    area_and_moment,
    cut,
    edges_at,
    open_parts,
    rudder_outlines,
    tail_damping,
)  # fmt: skip


def total(parts, balance_x=0.0):
    found = [(sign, *area_and_moment(outline, balance_x)) for sign, outline in parts]
    return sum(s * a for s, a, _ in found), sum(s * m for s, _, m in found)


def test_a_rectangle_has_its_area_and_its_moment():
    box = np.array([[1.0, 0.0], [1.2, 0.0], [1.2, 0.5], [1.0, 0.5]])
    assert area_and_moment(box, -0.4) == pytest.approx((0.1, 0.1 * 0.7))
    assert area_and_moment(box[::-1], -0.4) == pytest.approx((0.1, 0.1 * 0.7))
    assert area_and_moment(box[:2], 0.0) == (0.0, 0.0)


def test_a_cut_keeps_one_side():
    box = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    half = cut(box, np.array([0.5, 0.5]), np.array([1.0, -1.0]))
    assert area_and_moment(half, 0.0)[0] == pytest.approx(0.5)
    assert len(cut(box, np.array([0.0, 2.0]), np.array([0.0, 1.0]))) == 0


def test_the_shield_of_a_tailplane_worked_by_hand():
    # tailplane edges 1.0 and 1.1 m aft at height 0; rudder 1.1 to 1.2 aft, -0.05 to 0.25 up.
    # 60 deg from the leading edge: h = sqrt(3)(x - 1.0); 30 deg from the trailing edge:
    # h = (x - 1.1)/sqrt(3). Open above: the triangle under the second, 0.1 x 0.1/sqrt(3)/2,
    # and the one over the first, which meets h = 0.25 at x = 1.0 + 0.25/sqrt(3)
    rudder = np.array([[1.1, -0.05], [1.2, -0.05], [1.2, 0.25], [1.1, 0.25]])
    parts = open_parts(rudder, 1.0, 1.1, 0.0)
    low = 0.5 * 0.1 * 0.1 / sqrt(3.0)
    base, height = 0.25 / sqrt(3.0) - 0.1, 0.25 - 0.1 * sqrt(3.0)
    high = 0.5 * base * height
    area, moment = total(parts.above)
    assert area == pytest.approx(low + high)
    assert moment == pytest.approx(low * (1.1 + 0.2 / 3.0) + high * (1.1 + base / 3.0))
    assert total(parts.below) == pytest.approx((0.05 * 0.1, 0.05 * 0.1 * 1.15))


def test_a_rudder_far_ahead_or_without_a_tailplane_over_it_is_open():
    rudder = np.array([[0.5, 0.0], [0.6, 0.0], [0.6, 0.2], [0.5, 0.2]])
    assert total(open_parts(rudder, 1.0, 1.1, 0.0).above)[0] == pytest.approx(0.02)
    assert total(open_parts(rudder, 0.45, 0.45, 0.0).above)[0] == pytest.approx(0.02)


def test_a_tailplane_on_top_shields_nothing():
    rudder = np.array([[1.1, -0.3], [1.2, -0.3], [1.2, -0.01], [1.1, -0.01]])
    parts = open_parts(rudder, 1.0, 1.2, 0.0)
    assert total(parts.above)[0] == 0.0
    assert total(parts.below)[0] == pytest.approx(0.1 * 0.29)


def test_the_edges_follow_the_plan_form(display_jet):
    (tail,) = display_jet.aeroplane.surfaces_as("tail")
    front, rear, up = edges_at(tail, 0.0)
    assert (front, rear, up) == pytest.approx((0.620, 0.790, -0.025))
    front, rear, _ = edges_at(tail, 0.045 + 0.5 * 0.210)
    assert front == pytest.approx(0.620 + 0.105 * np.tan(np.radians(32.0)))
    assert rear - front == pytest.approx(0.130)
    front, rear, _ = edges_at(tail, 0.4)
    assert front == rear


def changed(assembled, **fin):
    aeroplane = assembled.aeroplane
    surfaces = tuple(
        s.model_copy(update=fin) if s.role == "fin" else s for s in aeroplane.surfaces
    )  # fmt: skip
    return replace(assembled, aeroplane=aeroplane.model_copy(update={"surfaces": surfaces}))


def test_a_rudder_below_the_tailplane_is_all_open(display_jet):
    # the fin hung under the tail: upside down, root at the tailplane's height
    hung = tail_damping(changed(display_jet, dihedral_deg=-90.0, root_up_mm=-25.0))
    assert hung.open_below_m2 == pytest.approx(hung.rudder_m2)
    assert hung.open_above_m2 == pytest.approx(0.0, abs=1e-12)


def test_the_factors_of_the_jet_follow_their_definitions(display_jet):
    # by hand: TDR = S_F L^2/(S (b/2)^2), URVC = sum S_R L/(S b/2); a fin hung below is open
    moved = changed(display_jet, dihedral_deg=-90.0, root_up_mm=-25.0)
    found = tail_damping(moved)
    ref, balance = display_jet.weighed.reference, display_jet.weighed.balance_m[0]
    ((outline, right),) = rudder_outlines(moved.aeroplane)
    assert right == pytest.approx(0.0, abs=1e-12)
    moment = area_and_moment(outline, balance)[1]
    assert found.rudder_volume == pytest.approx(moment / (ref.area_m2 * 0.5 * ref.span_m))
    # the body is 80 to 105 mm high there, its middle at nought and the tailplane at -25 mm
    aft = np.linspace(0.620, 0.790, 5001)
    at, height = [0.320, 0.580, 0.760], [0.112, 0.098, 0.080]
    depth = np.where(aft <= 0.760, 0.5 * np.interp(aft, at, height) - 0.025, 0.0)
    area = np.trapezoid(depth, aft)
    arm = np.trapezoid(depth * aft, aft) / area + balance
    assert found.side_area_m2 == pytest.approx(area, rel=0.01)
    expected = area * arm**2 / (ref.area_m2 * (0.5 * ref.span_m) ** 2)
    assert found.damping_ratio == pytest.approx(expected, rel=0.01)
    assert found.power_factor == found.damping_ratio * found.rudder_volume


def test_without_tailplane_or_rudder_there_is_none(display_jet):
    assert tail_damping(changed(display_jet, controls=())) is None
    bare = tuple(s for s in display_jet.aeroplane.surfaces if s.role != "tail")
    aeroplane = display_jet.aeroplane.model_copy(update={"surfaces": bare})
    assert tail_damping(replace(display_jet, aeroplane=aeroplane)) is None
