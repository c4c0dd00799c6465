"""A leading edge turned down: nothing of it turned is nothing, and where its force points."""

import numpy as np
import pytest

from sim.aero.sections.aerofoil import section_table
from sim.aero.sections.branches import Branch
from sim.aero.sections.drooped import PLAIN, Drooped, let_go, nose_load, turned
from sim.aero.sections.plates import plate_table
from sim.aero.sections.sweeping import across
from sim.core import layout as k
from sim.core.loads.lookup import CC, CM, CN, X0, alpha_of_coordinate, grid
from sim.describe import load_aeroplane
from sim.describe.geometry import Droop
from sim.pack.assemble import assemble

DEGREES = np.degrees(alpha_of_coordinate(grid()))
NOSE = Drooped(np.radians(25.0), 0.2)
TABLES = {
    "section": lambda nose: section_table(9.0, 0.0, "round", 3e5, 5.0, nose=nose),
    "plate": lambda nose: plate_table(2.8, 2.8, nose=nose),
}


def at(table, column, degrees):
    return float(np.interp(degrees, DEGREES, table[:, column]))


def half_gone(table):
    """Return the angle [deg] at which half of the chord has let go."""
    up = (DEGREES > 0.0) & (DEGREES < 60.0)
    return float(np.interp(-0.5, -table[up, X0], DEGREES[up]))


@pytest.mark.parametrize("made", TABLES.values(), ids=TABLES)
def test_it_lifts_later_stalls_later_and_pushes_the_nose_down(made):
    plain, drooped = made(PLAIN), made(NOSE)
    assert at(drooped, CN, 1.0) < at(plain, CN, 1.0)
    assert at(drooped, CM, 4.0) < at(plain, CM, 4.0) - 0.02
    assert half_gone(drooped) == pytest.approx(half_gone(plain) + 0.7 * 25.0 * 0.295, abs=0.5)
    # flying backwards it is no nose
    assert at(drooped, CM, 175.0) == pytest.approx(at(plain, CM, 175.0), abs=1e-3)


@pytest.mark.parametrize("made", TABLES.values(), ids=TABLES)
def test_across_the_flow_the_noses_share_of_the_force_points_forward_by_its_sine(made):
    plain, drooped = made(PLAIN), made(NOSE)
    gained = at(drooped, CC, 90.0) - at(plain, CC, 90.0)
    on_nose = np.interp(90.0, DEGREES, nose_load(NOSE.chord_share)) * at(plain, CN, 90.0)
    assert gained == pytest.approx(np.sin(NOSE.down) * on_nose, rel=0.02)


def test_the_load_leans_to_where_the_air_comes_from():
    # a plate with a wake has its centre 3/4 cos a/(4 + pi sin a) of the chord ahead of the middle
    # [rayleigh1876], and across the flow its load is alike on both halves
    angle = np.radians(40.0)
    ahead = 0.75 * np.cos(angle) / (4.0 + np.pi * np.sin(angle))
    parts = np.linspace(0.02, 0.98, 25)
    front = [np.interp(40.0, DEGREES, nose_load(part)) for part in parts]
    middle = 1.0 - np.trapezoid([0.0, *front, 1.0], [0.0, *parts, 1.0])
    assert 0.5 - middle == pytest.approx(ahead, abs=0.005)
    assert np.interp(90.0, DEGREES, nose_load(0.5)) == pytest.approx(0.5, abs=0.01)
    backwards = np.interp(140.0, DEGREES, nose_load(0.7))
    assert np.interp(40.0, DEGREES, nose_load(0.3)) + backwards == pytest.approx(1.0, abs=1e-4)


def test_the_force_on_the_nose_keeps_its_size():
    cn = np.full(DEGREES.size, 2.0)
    out = let_go(Branch(cn, 0.0 * cn, 0.0 * cn), NOSE)
    share = nose_load(NOSE.chord_share)
    on_nose = np.hypot(out.cn - (1.0 - share) * cn, out.cc)
    assert on_nose == pytest.approx(2.0 * share)


def test_along_the_stream_a_swept_nose_turns_less():
    # simple sweep theory: what strips across the line see of it is the section's own
    lean = np.radians(30.0)
    along, across_it = (turned(NOSE._replace(lean=x)) for x in (lean, 0.0))
    forwards = np.abs(DEGREES) < 50.0
    share = along.edge[forwards] / across_it.edge[forwards]
    assert share == pytest.approx(np.cos(lean))
    seen = across(np.full((DEGREES.size, 8), 1.0), lean)[DEGREES.size // 2, CM]
    assert along.moment[200] * seen == pytest.approx(across_it.moment[200])


def test_a_nose_as_it_is_turns_nothing():
    none = turned(PLAIN)
    assert not none.zero_lift.any()
    assert not none.edge.any()
    assert not none.moment.any()


def test_only_strips_behind_it_look_their_forces_up_in_its_table():
    jet = load_aeroplane("display_jet")
    droop = Droop(down_deg=20.0, chord_pct=20.0, inner_pct=50.0)
    surfaces = tuple(
        s.model_copy(update={"droop": droop}) if s.role == "wing" else s for s in jet.surfaces
    )
    plain, drooped = assemble(jet), assemble(jet.model_copy(update={"surfaces": surfaces}))
    index = drooped.model.strip_index
    moved = index[k.SI_TABLE] == len(surfaces)
    wing = next(j for j, s in enumerate(surfaces) if s.role == "wing")
    strips = drooped.model.strips
    out = np.abs(strips[k.S_ETA]) > 0.5 + 0.5 * surfaces[wing].root_right_mm / 600.0
    assert moved.any()
    assert set(index[k.SI_SURFACE, moved]) == {wing}
    assert moved[(index[k.SI_SURFACE] == wing) & out].all()
    # all the rest as it was, but for the place of the tables
    rest = index[k.SI_TABLE] < len(surfaces)
    assert (index[:, rest] == plain.model.strip_index[:, rest]).all()
    same = np.ones(strips.shape[0], dtype=bool)
    of_separated = [k.S_LATE_CN, k.S_LATE_CN2, k.S_LATE_CM, k.S_FLAP_FELT]
    same[of_separated] = False  # its own table's
    assert (strips[same] == plain.model.strips[same]).all()
    assert (strips[:, rest] == plain.model.strips[:, rest]).all()
