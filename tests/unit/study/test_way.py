"""The way from today's set-up to another: one change at a time, never two together."""

import numpy as np
import pytest

from sim.describe import LooseWeight, StudySetUp, load_aeroplane, resolve_setup
from sim.study.ladder.way import (
    BALANCE,
    TODAY,
    balances,
    changes_between,
    find_way,
    largest_step_mm,
)
from sim.weigh import weigh_set_up

JET = load_aeroplane("display_jet")
CHORD_MM = 273.0
STEP_MM = largest_step_mm(CHORD_MM)
CLUB = resolve_setup(JET)


def wanted(**keys):
    return resolve_setup(JET, StudySetUp(name="wanted", **keys))


def everything(balance_mm):
    """Return a set-up that differs from the club's in all that can differ."""
    setup = wanted(
        like="big_throws", pack="6s_3300", balance_aft_mm=balance_mm, gyro="on",
        loose_weights=(LooseWeight(name="canister", mass_g=40.0, aft_mm=660.0),),
    )  # fmt: skip
    return setup.model_copy(update={"nozzle_mm": 66.0})


def way_to(setup, to_wanted=True, aeroplane=JET, today=CLUB):
    ends = [weigh_set_up(aeroplane, x).balance_aft_mm for x in (today, setup)]
    return find_way(aeroplane, today, setup, balances(*ends, STEP_MM), to_wanted)


def differences(before, after, aeroplane=JET):
    """Return in how many things two set-ups differ, balance counted as one."""
    moved = [weigh_set_up(aeroplane, x).balance_aft_mm for x in (before, after)]
    return len(changes_between(before, after)) + (abs(moved[1] - moved[0]) > 0.5)


# 3 to 6 mm, 1 to 2 % of the mean chord a flight: common practice, no source
@pytest.mark.parametrize("end", [184.0, 199.5, 230.0])
@pytest.mark.parametrize("chord", [80.0, CHORD_MM, 900.0])
def test_steps_aft_are_small_and_end_where_wanted(end, chord):
    places = balances(170.0, end, largest_step_mm(chord))
    steps = np.diff(places)
    assert (places[0], places[-1]) == (170.0, end)
    assert (steps > 0.0).all()
    # places are whole millimetres, so a step may be one larger than the rule
    assert steps.max() <= min(6.0, max(3.0, 0.02 * chord)) + 1.0
    assert all(float(x).is_integer() for x in places[:-1])


def test_what_cannot_be_told_apart_on_a_balance_stand_is_one_place():
    assert balances(170.0, 170.3, STEP_MM) == [170.0]
    assert balances(170.0, 172.0, STEP_MM) == [170.0, 172.0]


def test_forward_is_one_step():
    assert balances(190.0, 170.0, STEP_MM) == [190.0, 170.0]


def test_one_thing_changes_at_a_time_and_the_balance_stays_meanwhile():
    # one variable at a time: common practice, no source
    way = way_to(everything(190.0))
    kinds = [stop.kind for stop in way.stops]
    assert kinds == [
        TODAY, "loose_weights", "pack", "throws", "nozzle_mm", "gyro", *[BALANCE] * 3,
    ]  # fmt: skip
    assert way.complete
    for before, after in zip(way.stops, way.stops[1:], strict=False):
        assert differences(before.setup, after.setup) == 1
    at = [weigh_set_up(JET, stop.setup).balance_aft_mm for stop in way.stops]
    assert at[:6] == pytest.approx([178.0] * 6)
    assert at[6:] == pytest.approx([182.0, 186.0, 190.0])
    assert way.stops[0].setup == CLUB
    assert way.stops[-1].setup == everything(190.0)


def test_going_forward_comes_before_the_changes():
    way = way_to(everything(170.0))
    assert [stop.kind for stop in way.stops][:3] == [TODAY, BALANCE, "loose_weights"]
    at = [weigh_set_up(JET, stop.setup).balance_aft_mm for stop in way.stops]
    assert at == pytest.approx([178.0, *[170.0] * 6])


def test_a_change_out_of_the_packs_reach_waits_until_it_can_be_had():
    # the light pack does not reach far enough forward for 178 mm with a canister in the tail
    canister = (LooseWeight(name="canister", mass_g=80.0, aft_mm=660.0),)
    setup = wanted(pack="6s_3300", balance_aft_mm=190.0, loose_weights=canister)
    assert weigh_set_up(JET, setup).added_weights == ()
    # or there is nothing to wait for
    assert weigh_set_up(JET, setup.at_balance(178.0)).added_weights != ()
    way = way_to(setup)
    assert way.complete
    for before, after in zip(way.stops, way.stops[1:], strict=False):
        assert differences(before.setup, after.setup) == 1
        assert weigh_set_up(JET, after.setup).added_weights == ()
    (late, *_) = way.missing
    assert late.balance_aft_mm == 178.0
    assert "at the nose as well" in late.why


def test_what_cannot_be_had_alone_at_all_ends_the_way_and_is_told():
    tray = JET.tray.model_copy(update={"front_aft_mm": -195.0})
    short = JET.model_copy(update={"weight_places": (), "tray": tray})
    today = CLUB.model_copy(update={"balance_aft_mm": 180.0})
    canister = (LooseWeight(name="canister", mass_g=80.0, aft_mm=660.0),)
    setup = wanted(pack="6s_4000", pack_aft_mm=-195.0, loose_weights=canister)
    assert weigh_set_up(short, setup).balance_aft_mm > 190.0
    found = find_way(short, today, setup, balances(180.0, 184.0, STEP_MM), to_wanted=False)
    assert not found.complete
    assert found.missing
    assert all("out of reach" in x.why for x in found.missing)


def test_gains_of_a_gyro_that_is_off_are_no_change():
    other = replace_gain(CLUB)
    assert changes_between(CLUB, other) == ()
    on = other.model_copy(update={"gyro": "on"})
    assert changes_between(CLUB, on) == ("gyro",)


def replace_gain(setup):
    gyro = setup.gyro_settings.model_copy(update={"roll_gain": 0.09})
    return setup.model_copy(update={"gyro_settings": gyro})


def test_the_same_set_up_is_one_stop():
    way = way_to(replace_name(CLUB))
    assert ([stop.kind for stop in way.stops], way.complete) == ([TODAY], True)


def replace_name(setup):
    return setup.model_copy(update={"name": "again"})
