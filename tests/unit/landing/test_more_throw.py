"""How much more throw brings the forward limit to a place, held against throws really changed."""

from dataclasses import replace
from math import radians, sin

import pytest

from sim.core import layout as k
from sim.describe import SetUpBlock, load_aeroplane, resolve_setup
from sim.describe.controls import Throws
from sim.landing.landing import set_up_forward
from sim.landing.more_throw import Ended, more_throw
from sim.pack.assemble import assemble, flown_spreads
from sim.record.models.more_throw import more_throw_row
from sim.show.words.places.more_throw import more_throw_clause, more_throw_short, more_throw_text
from sim.study.flights.draws import make_draws
from tests.unit.landing.test_window import forward

JET = load_aeroplane("display_jet")
CLUB = resolve_setup(JET, "club")  # 14 degrees of up tail


def up(setup):
    return setup.throws["tail"].up_deg


def sought(goal_mm, of, setup=CLUB, now=160.0):
    return more_throw(JET, setup, goal_mm, forward(now), lambda x: forward(of(up(x))))


def test_the_travel_told_is_the_least_whole_degree_of_a_file_with_that_throw():
    """A set-up that states the throw lands from there; one with a degree less does not."""
    jet = JET.model_copy(update={"undercarriage": None})
    draws = make_draws(flown_spreads(jet), 32, 3).physical
    looked = {}

    def limit_of(setup):
        looked[up(setup)] = set_up_forward(jet, setup, draws, 70.0)
        return looked[up(setup)]

    now = limit_of(CLUB)
    goal = now.aft_mm - 12.0
    more = more_throw(jet, CLUB, goal, now, limit_of)
    assert more.reached
    assert more.tried == len(looked) - 1 <= 6
    assert looked[more.best.deg - 1.0].aft_mm > goal - 1.0
    throws = Throws(up_deg=more.best.deg, down_deg=CLUB.throws["tail"].down_deg)
    written = resolve_setup(jet, SetUpBlock(like="club", throws={"tail": throws}))
    assert set_up_forward(jet, written, draws, 70.0).aft_mm == more.best.aft_mm <= goal


def test_a_ruler_at_the_trailing_edge_reads_its_travel():
    """Arm times sine; tail of 150 mm root chord, pivot by its mean chord, from the file."""
    more = sought(150.0, lambda deg: 160.0 - 2.0 * (deg - 14.0))
    assert more.best.deg == 19.0
    arm = more.now.mm / sin(radians(14.0))
    assert more.best.mm == pytest.approx(arm * sin(radians(19.0)))


def test_where_more_does_not_help_that_is_told():
    stalled = sought(150.0, lambda deg: 160.0 + 0.3 * (deg - 14.0))
    assert (stalled.ended, stalled.reached, stalled.tried) == (Ended.NO_HELP, False, 1)
    assert "yet more does not help; by the file's own values alone it does" in more_throw_text(
        stalled
    )
    assert "more throw alone does not do" in more_throw_clause(stalled)
    short = sought(100.0, lambda deg: 160.0 - 0.5 * (deg - 14.0))
    assert (short.ended, short.best.deg) == (Ended.MOST, 30.0)
    assert "no further was looked at." in more_throw_text(short)
    assert more_throw_short(short) == ""
    large = CLUB.model_copy(
        update={"throws": {**CLUB.throws, "tail": Throws(up_deg=31.0, down_deg=9.0)}}
    )
    full = sought(100.0, lambda deg: 160.0, large)
    assert (full.ended, full.best) == (Ended.NOTHING, None)
    assert "already" in more_throw_text(full)
    assert more_throw(JET, CLUB, 100.0, replace(forward(1.0), aft_mm=None), None) is None


def test_it_is_told_in_words_and_in_a_record():
    more = sought(150.0, lambda deg: 160.0 - 2.0 * (deg - 14.0))
    told = more_throw_text(more)
    assert told.startswith("About 19° (")
    assert "of up tail instead of 14° (" in told
    assert "150 mm over the draws (95 % limits 147 to 154)" in told
    assert "if only just (its 95 % limits reach further aft)" in told
    assert "easier to overdo" in told
    row = more_throw_row(more)
    assert (row.best.aft_mm, row.reached, row.up, row.channel) == (150.0, True, True, "tail")
    assert "19° of up tail" in more_throw_short(more)
    assert more_throw_text(None) == more_throw_clause(None) == more_throw_short(None) == ""
    assert more_throw_row(None) is None


def test_elevons_are_told_by_the_elevator_stick_alone():
    delta = load_aeroplane("twin_delta")
    club = resolve_setup(delta, "club")  # 0.6 of 24 degrees up
    looked = []

    def own(setup, stick):
        return getattr(setup.sticks["elevon"], stick) * setup.throws["elevon"].up_deg

    def limit_of(setup):
        looked.append(setup)
        return forward(160.0 - (own(setup, "elevator") - 14.4))

    more = more_throw(delta, club, 153.0, forward(160.0), limit_of)
    assert more.now.deg == pytest.approx(14.4)
    assert more.best.deg == 22.0  # 21.4 reach it
    # what is looked at is the elevator stick's throw alone: the ailerons' stay, by definition
    for one in looked:
        assert own(one, "aileron") == pytest.approx(own(club, "aileron"))
        assert own(one, "elevator") == pytest.approx(round(own(one, "elevator")))
    # 24 up and 18 down of the whole: it says a set-up that can be read, the one looked at
    whole = club.throws["elevon"]
    down = 22.0 * whole.down_deg / whole.up_deg
    assert f"throws = {{ elevator = {{ up_deg = 22, down_deg = {down:.3g} }} }}" in more_throw_text(
        more
    )
    said = {"elevator": {"up_deg": 22.0, "down_deg": float(f"{down:.3g}")}}
    written = resolve_setup(delta, SetUpBlock(like="club", throws=said))
    (same,) = (x for x in looked if own(x, "elevator") == pytest.approx(22.0))
    assert written.throws["elevon"].up_deg == pytest.approx(same.throws["elevon"].up_deg)
    assert written.sticks["elevon"].elevator == pytest.approx(same.sticks["elevon"].elevator)


def test_a_flap_turns_its_wing_by_the_sticks_of_the_set_up():
    # ailerons load each half as a wing of half the aspect ratio (Katz and Plotkin 2001, slender
    # wings), so a flap that goes together by more of its travel turns its wing by less
    delta = load_aeroplane("twin_delta")
    club = assemble(delta, "club")
    said = {"elevator": {"up_deg": 22.0, "down_deg": 16.5}}
    more = assemble(delta, SetUpBlock(like="club", throws=said))
    moved = [x.aero.strips[k.S_TAU] for x in (club, more)]
    assert (moved[1] <= moved[0]).all()
    assert (moved[1] < moved[0]).any()
