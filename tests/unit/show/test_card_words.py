"""What is set and done by hand: throws in mm at the trailing edge, recoveries stick by stick."""

from math import radians
from types import SimpleNamespace

import numpy as np
import pytest

from sim.aero.geometry.edges import arm_of
from sim.aero.geometry.panels import panels_of
from sim.describe import SetUpBlock, bundled, load_aeroplane, load_recovery, resolve_setup
from sim.describe.controls import FLAP, Throws
from sim.show.console.aeroplane.throws import throw_tables
from sim.show.console.console import render
from sim.show.words.bench.throws import throws_of
from sim.show.words.ladder_ends import ending_text
from sim.show.words.recovery.sticks import recovery_steps
from sim.study.ladder.fit import End, Refused

JET = load_aeroplane("display_jet")


def turned(point, axis_from, axis_to, angle):
    """Rotate a point about a line: O. Rodrigues' formula, 1840."""
    axis = (axis_to - axis_from) / np.linalg.norm(axis_to - axis_from)
    arm = point - axis_from
    return (
        axis_from
        + arm * np.cos(angle)
        + np.cross(axis, arm) * np.sin(angle)
        + axis * (axis @ arm) * (1.0 - np.cos(angle))
    )


@pytest.mark.parametrize("name", bundled("aeroplanes"))
def test_mm_at_the_trailing_edge_by_turning_it_about_its_hinge(name):
    aeroplane = load_aeroplane(name)
    throws = {x.channel: x for x in throws_of(aeroplane, resolve_setup(aeroplane))}
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            if control.kind != "flap":
                continue
            panel, throw = panels_of(surface)[0], throws[control.channel]
            inner, hinge = control.inner_pct / 100.0, 1.0 - control.chord_pct / 100.0
            edge = panel.point(inner, 1.0)
            ends = panel.point(0.0, hinge), panel.point(1.0, hinge)
            moved = turned(edge, *ends, radians(throw.down_deg)) - edge
            normal = np.cross(ends[1] - ends[0], edge - ends[0])
            out = 1000.0 * abs(moved @ normal) / np.linalg.norm(normal)
            assert throw.down_mm == pytest.approx(out, rel=1e-9)


def test_mm_of_an_all_moving_tail_by_hand():
    # root 170, tip 90, sweep 32 degrees, panel 210 mm, pivot at 24 % of the mean chord:
    # mean chord 134.1 at 93.3 mm out, its leading edge 58.3 mm back, pivot 32.2 mm behind
    panel = panels_of(JET.surfaces_as("tail")[0])[0]
    arm = arm_of(panel, JET.surfaces_as("tail")[0].controls[0])
    assert arm == pytest.approx(170.0 - 58.3 - 32.2, abs=0.6)


def test_a_shared_channel_is_told_stick_by_stick():
    delta = load_aeroplane("twin_delta")
    rows = [(x.channel, x.stick, x.up_deg) for x in throws_of(delta, resolve_setup(delta))]
    assert rows == [
        ("elevon", "elevator", pytest.approx(0.6 * 24.0)),
        ("elevon", "aileron", pytest.approx(0.5 * 24.0)),
        ("rudder", "rudder", pytest.approx(20.0)),
    ]


def test_the_flap_stands_among_the_throws_as_what_is_set():
    jet = load_aeroplane("display_jet")
    setup = resolve_setup(jet)
    (surface,) = [x for x in jet.surfaces if any(c.channel == "aileron" for c in x.controls)]
    flapped = [c.model_copy(update={"channel": FLAP}) for c in surface.controls]
    wing = surface.model_copy(update={"controls": tuple(flapped[:1])})
    unmoved = jet.channels["aileron"].stick.model_copy(
        update=dict.fromkeys(("elevator", "aileron", "rudder"), 0.0)
    )
    flap = jet.channels["aileron"].model_copy(update={"stick": unmoved})
    channels = {**jet.channels, FLAP: flap}
    made = jet.model_copy(update={"surfaces": (wing,), "channels": channels})
    throws = {FLAP: Throws(up_deg=0.0, down_deg=25.0)}
    flown = setup.model_copy(update={"throws": throws, "sticks": {FLAP: unmoved}})
    (row,) = throws_of(made, flown)
    assert (row.channel, row.stick, row.up_deg, row.down_deg) == (FLAP, "set", 0.0, 25.0)
    assert row.down_mm > 0.0


def test_held_inputs_are_centred_once_it_flies():
    # inputs held on after the rotation drive into another spin: common practice, no source
    for name in ("rudder_forward", "rudder_aileron_with", "rudder_alone"):
        told = recovery_steps(load_recovery(name))
        assert "until the rotation stops and it is unstalled, then centre at once" in told[-2]
        assert "full rudder against the turn" in told[0]
        assert told[-1].startswith("Wings level")


def test_recovery_in_order_stick_by_stick():
    first, second, last = recovery_steps(load_recovery("rudder_forward"))
    assert first == (
        "Throttle closed, full rudder against the turn, aileron centred, "
        "stick full aft (forward if inverted), for 0.5 s. "
        "Hardly turning: rudder and ailerons centred. Turning the other way: begin anew."
    )
    assert second.startswith("Stick 60 % forward (aft if inverted), the rest held, until")
    assert "throttle 70 %" in last
    centred = recovery_steps(load_recovery("centre_sticks"))[0]
    assert centred.startswith("Throttle closed, all sticks centred")
    assert "Hardly turning" not in centred
    with_turn = recovery_steps(load_recovery("rudder_aileron_with"))[0]
    assert "full aileron with the turn (against if inverted)" in with_turn
    too_long = recovery_steps(load_recovery("rudder_forward_held"))
    assert too_long[2] == "All held, for 4 s."
    assert too_long[3].startswith("All sticks centred, until")
    assert not any("centre at once" in line for line in too_long)


def test_what_is_refused_on_the_way_is_not_told_of_the_wanted_set_up():
    wanted = {"setup": "far", "wanted_mm": 150.0, "reached": False, "steps": ()}
    for place, told in ((178.0, "on the way, at pack 6s_5000, at 178 mm, "), (150.0, "")):
        refused = Refused(End.NOT_MET, "pack 6s_5000", place, manoeuvre="spin_entry")
        text = ending_text(SimpleNamespace(**wanted, refused=refused))
        assert text.startswith(f"THERE IS NO STEP: {told}spin entry was not flown")
        assert text.endswith("far at 150 mm is NOT TO BE FLOWN.")


def test_throws_are_told_in_degrees_and_at_the_trailing_edge():
    """15 mm at 30 mm from the hinge are 30 degrees (arithmetic)."""
    wing = JET.surfaces_as("wing")[0]
    controls = [
        x.model_copy(update={"width_mm": 30.0}) if x.channel == "aileron" else x
        for x in wing.controls
    ]
    surfaces = [
        x.model_copy(update={"controls": tuple(controls)}) if x is wing else x for x in JET.surfaces
    ]
    jet = JET.model_copy(update={"surfaces": tuple(surfaces)})
    block = SetUpBlock(like="club", throws={"aileron": {"up_mm": 15.0, "down_deg": 9.0}})
    told = render(throw_tables(throws_of(jet, resolve_setup(jet, block))))
    assert "30.0°, 15.0 mm" in told
    assert "9.0°, 4.7 mm" in told
    assert throw_tables([]) == []
