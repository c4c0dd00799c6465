"""What set-ups can do: figures, what counts, and the best compromises."""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import measured_layout as m
from sim.core import script_layout as s
from sim.describe import (
    FileFault,
    load_aeroplane,
    load_manoeuvre,
    load_recovery,
    load_study_files,
)
from sim.fly.flying import fly_one
from sim.fly.measured import measured
from sim.judge.agility import FIGURES, came_out, done
from sim.pack.assemble import assemble
from sim.study.agility import shown_of, spread
from sim.study.results.agility import Spread
from sim.study.standing.trade import best_compromises, gain_of, less_is_better
from tests.samples.agility import ALL_HEIGHT_M, flights, shown
from tests.samples.results import setup
from tests.trade.flown import jet


def test_a_flight_that_does_not_come_out_counts_as_no_gain():
    one, rest = shown(62.0, lost=9)[0], shown(62.0)[0]
    assert (one.out, one.flights, rest.out) == (7, 16, 16)
    assert one.figure == rest.figure
    assert one.counted.median == 0.0
    assert rest.counted == rest.figure
    radius = shown(62.0, lost=9)[3]
    assert FIGURES["loop"].less
    assert radius.counted.median == np.inf


@pytest.mark.parametrize(
    ("column", "value"),
    [
        (m.M_STATUS, s.STATUS_NO_TRIM),
        (m.M_BACK, 0.0),
        (m.M_FORWARD, 3.0),
        (m.M_ASIDE, np.radians(120.0)),
        (m.M_ANGLE, np.radians(190.0)),
        (m.M_USED, 81.0),
    ],
)
def test_each_way_of_not_coming_out(column, value):
    rows = flights(2, 95.0)
    rows[0, column] = value
    assert came_out(rows, "angle", ALL_HEIGHT_M).tolist() == [False, True]


def test_only_a_draw_that_reaches_the_angle_has_done_it():
    rows = flights(16, 90.0)
    assert 0 < done(rows, "angle").sum() < 16
    assert not done(rows, "somersault").any()


def test_spread_takes_order_statistics_so_that_infinite_ones_stay():
    assert spread(np.arange(11.0)) == Spread(5.0, 1.0, 9.0)
    assert spread(np.array([1.0, np.inf, np.inf])).median == np.inf


def test_best_compromises_are_those_that_nobody_beats():
    wide, near = setup("aft", 195.0, 12), setup("forward", 165.0, 0)
    aft = replace(wide, agility=shown(95.0))
    forward = replace(near, agility=shown(40.0))
    beaten = replace(wide, name="beaten", agility=shown(60.0))
    useless = replace(near, name="useless", agility=shown(60.0, lost=16))
    setups = [forward, aft, beaten, useless]
    assert best_compromises(setups, "pull_through", "lost", 95.0) == ("forward", "aft")
    assert less_is_better(setups, "loop")
    # of two that give the same, the one that risks less
    assert best_compromises([forward, aft], "roll", "lost", 95.0) == ("forward",)
    assert gain_of(aft, "pitch_response") == Spread(410.0, 410.0, 410.0)


@pytest.fixture(scope="module")
def aft():
    return jet(190.0)


@pytest.fixture(scope="module")
def flown(aft):
    names = ("pull_through", "high_alpha_pass", "high_alpha_pass_inverted", "tight_loop",
             "full_roll")  # fmt: skip
    out = load_recovery("fly_on")
    flights = {name: fly_one(aft, load_manoeuvre(name), out) for name in names}
    return {name: (flight, measured(flight)) for name, flight in flights.items()}


def test_pull_through_measures_what_its_history_shows(flown):
    flight, row = flown["pull_through"]
    alpha = flight.to_columns()["alpha_deg"]
    assert np.degrees(row[m.M_ANGLE]) == pytest.approx(alpha.max(), abs=0.1)
    assert row[m.M_ANGLE] == flight.summary[s.R_PEAK_ALPHA]


def test_a_loop_is_as_wide_as_mechanics_has_it(flown):
    """Radius of a turn in the vertical, V^2 / (g (n - 1)) at its bottom (Anderson, from memory).

    Half the height of a loop flown at a limited angle lies below that: it slows and tightens.
    """
    flight, row = flown["tight_loop"]
    most = flight.history[np.argmax(flight.history[:, s.H_LOAD])]  # faster there than at the start
    assert most[s.H_LOAD] == row[m.M_LOAD]
    bottom = most[s.H_SPEED] ** 2 / (9.80665 * (row[m.M_LOAD] - 1.0))
    assert 0.4 * bottom < 0.5 * row[m.M_LOOP_HEIGHT] < 1.2 * bottom
    assert np.isfinite(row[m.M_LOOP_TIME])
    assert flight.history[:, s.H_LOAD].max() < 8.0


def test_a_delta_is_pulled_until_it_flies_level_again():
    """Its nose turns further than its path: once round in pitch, the path is not (kinematics)."""
    flight = fly_one(
        assemble(load_aeroplane("twin_delta")),
        load_manoeuvre("tight_loop"),
        load_recovery("fly_on"),
    )
    entry = flight.history[flight.history[:, s.H_STAGE] <= s.STAGE_ENTRY]
    assert entry[-1, s.H_PATH] > 0.0
    assert entry[-1, s.H_ALPHA] > entry[0, s.H_ALPHA] + np.radians(5.0)
    assert np.isfinite(measured(flight)[m.M_LOOP_TIME])


def test_a_roll_takes_as_long_as_its_rate_says(flown):
    _, row = flown["full_roll"]
    assert 360.0 / np.degrees(row[m.M_ROLL_RATE]) < row[m.M_ROLL_TIME] < 3.0
    assert 150.0 < np.degrees(row[m.M_ROLL_RATE]) < 450.0  # common practice, no source


def test_passes_are_held_level_below_the_speed_they_began_with(flown):
    for name, way in (("high_alpha_pass", 1.0), ("high_alpha_pass_inverted", -1.0)):
        flight, row = flown[name]
        entry = flight.history[flight.history[:, s.H_STAGE] <= s.STAGE_ENTRY]
        assert entry[0, s.H_SPEED] > row[m.M_SLOWEST] > entry[:, s.H_SPEED].min()
        held = entry[300:400]
        assert (way * held[:, s.H_ALPHA]).min() > 0.0
        assert np.ptp(held[:, s.H_UP]) < 6.0


def test_what_shows_nothing_is_refused_by_name(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(
        'schema = "aftlimit.study/1"\nname = "mine"\ntitle = "t"\nstory = "s"\nseed = 1\n'
        'aeroplane = "display_jet"\nagility = ["spin_entry", "pul_through"]\n'
        '[[setups]]\nname = "one"\nlike = "club"\n'
        '[[cases]]\nmanoeuvre = "spin_entry"\nrecoveries = ["centre_sticks"]\n'
    )
    with pytest.raises(FileFault) as fault:
        load_study_files(path)
    text = str(fault.value)
    assert "'spin_entry' does not say what it shows; write in it shows = one of 'angle'" in text
    assert "pull_through" in text


def test_flights_without_trim_show_nothing():
    rows = flights(4, 60.0)
    rows[:, m.M_STATUS] = s.STATUS_NO_TRIM
    one = shown_of("pull_through", "t", "angle", rows, ALL_HEIGHT_M)
    assert (one.done, one.out, one.figure.median) == (0, 0, 0.0)
    assert np.isnan(one.angle_deg.median)


def test_a_loop_is_pulled_once_and_eased_not_pumped():
    """Stick back once and back to trim: its travel is twice its reach (common practice, no source).

    A third more is left for easing on the way; a pilot who takes a cambered wing's load to be
    nought at nought degrees pumps the stick, four times its reach and more.
    """
    sport = assemble(load_aeroplane("club_sport"), "club")
    flight = fly_one(sport, load_manoeuvre("tight_loop"), load_recovery("fly_on"))
    entry = flight.history[flight.history[:, s.H_STAGE] <= s.STAGE_ENTRY]
    stick = entry[:, s.H_ELEVATOR]
    assert np.abs(np.diff(stick)).sum() < 2.67 * np.ptp(stick)
    assert entry[:, s.H_ALPHA].max() < sport.stall.alpha
    assert entry[:, s.H_LOAD].max() < sport.aeroplane.structure.max_load_factor_g
    assert sport.stall.no_lift < 0.0
