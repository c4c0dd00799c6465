"""Which way surfaces move, and what is wired with the wrong sign: facts of every control check.

Common practice, no source: with the stick back a tail's elevator goes up, a canard's down, elevons
up; stick right, the right aileron goes up; right rudder, its trailing edge goes right, and a
V-tail's right half down. What is built here is no demo aeroplane but made of one.
"""

from dataclasses import replace

import pytest

from sim.core.flights.perturb import perturbed
from sim.describe import FileFault, load_aeroplane, resolve_setup
from sim.pack.assemble import assemble, flown_spreads
from sim.record.models.senses import sense_rows
from sim.show.console.aeroplane.senses import sense_tables
from sim.show.words.bench.control_check import gyro_text, stick_lines, sticks_text
from sim.study.flights.draws import make_draws
from sim.trim.senses import (
    Way,
    demand_senses,
    reversed_faults,
    sense_doubts,
    sense_lines,
    senses,
)

DEMOS = ("club_sport", "display_jet", "twin_delta")
STICKS = ("elevator", "aileron", "rudder")


def rewired(aeroplane, channel, **shares):
    """Return an aeroplane whose channel goes with other shares of the sticks."""
    one = aeroplane.channels[channel]
    stick = one.stick.model_copy(update=shares)
    channels = {**aeroplane.channels, channel: one.model_copy(update={"stick": stick})}
    return aeroplane.model_copy(update={"channels": channels})


def reshaped(aeroplane, name, **keys):
    surfaces = tuple(x.model_copy(update=keys) if x.name == name else x for x in aeroplane.surfaces)
    return aeroplane.model_copy(update={"surfaces": surfaces})


@pytest.fixture(scope="module")
def sport():
    return load_aeroplane("club_sport")


@pytest.fixture(scope="module")
def canard(sport):
    """The tail put ahead of the wing, its elevator wired as it then has to be."""
    moved = reshaped(sport, "tail", role="canard", root_aft_mm=-420.0)
    return rewired(moved, "elevator", elevator=-1.0)


@pytest.fixture(scope="module")
def vee(sport):
    """The tail raised to a V, whose halves are the rudder too, and no fin."""
    raised = reshaped(sport, "tail", dihedral_deg=36.0)
    both = rewired(raised, "elevator", elevator=0.6, rudder=0.5)
    surfaces = tuple(x for x in both.surfaces if x.name != "fin")
    channels = {k: v for k, v in both.channels.items() if k != "rudder"}
    frame = tuple(x for x in both.airframe if x.of != "fin")
    return both.model_copy(update={"surfaces": surfaces, "channels": channels, "airframe": frame})


def switched(aeroplane, way):
    return resolve_setup(aeroplane, "club").model_copy(update={"gyro": way})


def ways(found, stick):
    return [(x.channel, x.right, x.left) for x in found.of(stick)]


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_is_never_said_to_be_wired_wrongly(name):
    """In none of its set-ups, nor with anything of the draws wrong."""
    aeroplane = load_aeroplane(name)
    draws = make_draws(flown_spreads(aeroplane), 8, 5).physical
    for setup in aeroplane.setups:
        ready = assemble(aeroplane, setup)
        assert sense_lines(senses(ready)) == []
    for draw in draws:
        drawn = replace(ready, model=perturbed(ready.model, ready.roles, draw))
        assert sense_lines(senses(drawn)) == []


@pytest.mark.parametrize("name", DEMOS)
def test_a_stick_wired_the_other_way_is_refused_by_its_key(name):
    aeroplane = load_aeroplane(name)
    for stick in STICKS:
        channel = next(n for n, c in aeroplane.channels.items() if getattr(c.stick, stick))
        share = getattr(aeroplane.channels[channel].stick, stick)
        ready = assemble(rewired(aeroplane, channel, **{stick: -share}))
        found = senses(ready)
        assert [x for x in STICKS if found.reverses(x)] == [stick]
        with pytest.raises(FileFault) as fault:
            demand_senses(ready)
        text = str(fault.value)
        assert text.startswith(f"{name}.toml: channels.{channel}.stick.{stick}: {-share:g} sends")
        assert text.endswith(f"its sign is wrong, write {share:g}")
        assert "\n" not in text


def test_surfaces_go_as_a_control_check_wants_them(sport):
    found = senses(assemble(sport))
    assert ways(found, "elevator") == [("elevator", Way.UP, Way.UP)]
    assert ways(found, "aileron") == [("aileron", Way.UP, Way.DOWN)]
    assert ways(found, "rudder") == [("rudder", Way.RIGHT, None)]
    delta = senses(assemble(load_aeroplane("twin_delta")))
    assert ways(delta, "elevator") == [("elevon", Way.UP, Way.UP)]
    assert ways(delta, "aileron") == [("elevon", Way.UP, Way.DOWN)]
    assert ways(delta, "rudder") == [("rudder", Way.RIGHT, Way.RIGHT)]


def test_a_canards_elevator_goes_down_and_a_tails_sign_is_noticed(canard):
    right = senses(assemble(canard))
    assert sense_lines(right) == []
    assert ways(right, "elevator") == [("elevator", Way.DOWN, Way.DOWN)]
    assert len(sense_tables(right)) == 5  # a blank, a heading, a line a stick
    wrong = senses(assemble(rewired(canard, "elevator", elevator=1.0)))
    assert [x.stick for x in sense_rows(wrong) if x.against] == ["elevator"]
    (line,) = reversed_faults(wrong)
    assert line.text == (
        "1 sends the trailing edge UP with the stick back, and the nose goes DOWN; its sign is "
        "wrong, write -1"
    )


def test_a_v_tail_is_judged_by_the_sum_of_what_it_does(vee):
    found = senses(assemble(vee))
    assert sense_lines(found) == []
    assert ways(found, "rudder") == [("elevator", Way.DOWN, Way.UP)]
    assert "right rudder, right elevator DOWN" in stick_lines(found)
    wrong = senses(assemble(rewired(vee, "elevator", rudder=-0.5)))
    assert [x.path for x in reversed_faults(wrong)] == ["channels.elevator.stick.rudder"]


def test_one_of_two_channels_against_the_other_is_a_doubt_and_a_mix_is_none(sport):
    # ailerons that droop with the stick back, and a rudder in the turn, are pilots' mixes
    mixed = rewired(rewired(sport, "aileron", elevator=-0.2), "rudder", aileron=0.2)
    assert sense_lines(senses(assemble(mixed))) == []
    weak = rewired(sport, "aileron", aileron=0.2)
    against = senses(assemble(rewired(weak, "elevator", aileron=-1.0)))
    assert reversed_faults(against) == []
    (line,) = sense_doubts(against)
    assert line.startswith("channels.elevator.stick.aileron: -1 sends the right trailing edge DOWN")
    assert "if that is not meant, write 1" in line


def test_a_rudder_below_its_fin_that_hangs_down_goes_the_other_way_and_is_told(sport):
    """Both halves of one rudder go to the same side: common practice, no source."""
    fin = next(x for x in sport.surfaces if x.name == "fin")
    low = fin.model_copy(update={"name": "keel", "dihedral_deg": -90.0, "span_mm": 60.0})
    hung = sport.model_copy(update={"surfaces": (*sport.surfaces, low)})
    (line,) = sense_doubts(senses(assemble(hung)))
    assert line.startswith("surfaces.keel: its trailing edge goes LEFT with right rudder, the rest")
    assert line.endswith("write it from its lowest end up, with dihedral_deg = 90")
    up = low.model_copy(update={"dihedral_deg": 90.0, "root_up_mm": fin.root_up_mm - 60.0})
    risen = sport.model_copy(update={"surfaces": (*sport.surfaces, up)})
    assert sense_doubts(senses(assemble(risen))) == []


def test_a_gain_below_nought_is_told_where_the_gyro_is_on(sport):
    gyro = sport.gyro.model_copy(update={"pitch_gain": -0.05})
    turned = sport.model_copy(update={"gyro": gyro})
    assert sense_lines(senses(assemble(turned, switched(turned, "off")))) == []
    (line,) = sense_lines(senses(assemble(turned, switched(turned, "on"))))
    assert line.startswith("gyro.pitch_gain: -0.05 is below 0 and feeds every turn")


def test_a_gyro_answers_a_hand_as_the_pilot_would(sport, canard):
    """Nose pushed up: a tail's elevator goes down (common practice, no source)."""
    assert gyro_text(senses(assemble(sport, switched(sport, "on")))) == (
        "Gyro, by hand: nose up, elevator DOWN; right wing down, right aileron DOWN; nose "
        "left, rudder RIGHT."
    )
    assert "nose up, elevator UP;" in gyro_text(senses(assemble(canard, switched(canard, "on"))))
    assert sticks_text(senses(assemble(canard))) == (
        "Stick back, elevator DOWN; stick right, right aileron UP; right rudder, rudder RIGHT."
    )
