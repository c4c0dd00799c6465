"""A set-up says the throw of one stick on elevons; the other stick's stays (arithmetic)."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.describe import FileFault, load_aeroplane, resolve_setup
from sim.describe.controls import Shares, Throws
from sim.describe.setup import SetUpBlock
from sim.describe.stick_throws import shared_by, shared_sticks, with_stick
from sim.pack.assemble import assemble
from sim.show.words.bench.throws import throws_of
from sim.study.throws_told import throws_changed

DELTA = load_aeroplane("twin_delta")
TODAY = resolve_setup(DELTA)


def tried(**throws):
    said = {name: {"up_deg": up, "down_deg": down} for name, (up, down) in throws.items()}
    return resolve_setup(DELTA, SetUpBlock(like=DELTA.first_setup, throws=said))


def read(setup):
    return {x.stick: x.up_deg for x in throws_of(DELTA, setup) if x.channel == "elevon"}


def test_more_elevator_leaves_the_ailerons_alone():
    today, full = read(TODAY), TODAY.throws["elevon"]
    proportion = full.down_deg / full.up_deg
    up = today["elevator"] + 6.0
    more = tried(elevator=(up, up * proportion))
    assert read(more) == pytest.approx({**today, "elevator": up})
    whole = more.throws["elevon"]
    assert whole.down_deg / whole.up_deg == pytest.approx(proportion)
    # the same again is the same set-up
    same = tried(elevator=(today["elevator"], today["elevator"] * proportion))
    assert same.throws["elevon"].up_deg == pytest.approx(full.up_deg)
    both = tried(elevator=(up, up * proportion), aileron=(15.0, 15.0 * proportion))
    assert read(both) == pytest.approx({"elevator": up, "aileron": 15.0})
    assert throws_changed(TODAY, more, DELTA).startswith("elevon as elevator")


def test_it_is_flown_so():
    """Full stick moves a servo by its mix times the throw of that way, [rad]."""
    up = read(TODAY)["elevator"] + 6.0
    full = TODAY.throws["elevon"]
    more = tried(elevator=(up, up * full.down_deg / full.up_deg))
    servo = assemble(DELTA, more).model.servos[0]
    elevator, aileron = (
        np.degrees(abs(servo[mix]) * servo[k.V_NEGATIVE])
        for mix in (k.V_MIX_ELEVATOR, k.V_MIX_AILERON)
    )
    assert elevator == pytest.approx(up)
    assert aileron == pytest.approx(read(TODAY)["aileron"])


@pytest.mark.parametrize(
    ("throws", "said"),
    [
        ({"elevon": (20.0, 20.0)}, "is the whole travel of 'elevon', which the elevator and aile"),
        ({"elevator": (20.0, 5.0)}, "elevator.down_deg: must be "),
        ({"elevator": (0.0, 5.0)}, "elevator.up_deg: must be above 0"),
        ({"elevators": (20.0, 20.0)}, "did you mean 'elevator'"),
    ],
)
def test_what_hides_a_throw_or_cannot_be_is_refused_in_words(throws, said):
    with pytest.raises(FileFault, match=said):
        tried(**throws)


def test_more_than_a_file_may_have_together_is_refused():
    full = TODAY.throws["elevon"]
    with pytest.raises(FileFault, match="at most 60 degrees together with what the other sticks"):
        tried(elevator=(58.0, 58.0 * full.down_deg / full.up_deg))


def test_what_a_stick_shares_and_its_arithmetic():
    channels = {
        "elevon": {"stick": {"elevator": 0.6, "aileron": 0.5}},
        "rudder": {"stick": {"rudder": 1.0}},
    }
    assert (shared_by(channels, "elevator"), shared_by(channels, "rudder")) == (["elevon"], [])
    assert shared_sticks(channels) == ["elevator", "aileron"]
    # 14.4 and 12 degrees of a whole of 24; 20.4 and 12 make (32.4 / 1.1) of one
    full, shares = with_stick(
        Throws(up_deg=24.0, down_deg=18.0), Shares(elevator=-0.6, aileron=0.5), "elevator", 20.4
    )
    assert full.up_deg == pytest.approx(32.4 / 1.1)
    assert full.down_deg == pytest.approx(0.75 * full.up_deg)
    assert shares.elevator * full.up_deg == pytest.approx(-20.4)
    assert shares.aileron * full.up_deg == pytest.approx(12.0)
