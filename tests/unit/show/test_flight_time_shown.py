"""Flight time, timer and warnings as console, report and record tell them."""

from dataclasses import replace

import pytest

from sim.record.models.flight_time import flight_time_row
from sim.show.console.results.flight_time import flight_time_tables, time_cells, time_notes
from sim.show.words.bench.flight_time import timer_minutes, warnings_of
from tests.samples.results import setup
from tests.samples.timed import TIME


@pytest.fixture(scope="module")
def flown():
    return replace(setup("club", 178.0, 3), flight_time=TIME)


def test_minutes_with_their_spread_and_a_timer(flown):
    cells = time_cells(flown)
    assert cells[-3:] == ("5.2 (4.3-6.4)", "4", "9")
    short = replace(flown, flight_time=replace(TIME, timer_min=0.0))
    assert time_cells(short)[-2] == "none"
    assert timer_minutes(short.flight_time) == "under 0.5 min: do not fly"
    assert time_cells(replace(flown, flight_time=None))[0] == "no level flight"


def test_it_says_what_was_assumed_and_why_level_cruise_tells_more(flown):
    told = " ".join(time_notes([flown]))
    assert "60 % cruise at 28 m/s (18 A)" in told
    assert "(59 A, which does not hold it level)" in told
    assert "shares assumed, give your own in [duty]" in told
    assert "Level cruise alone would give 9 min: level flight takes 24 A at 22 m/s, 18 A" in told
    assert "mah_put_back and after_minutes" in told


def test_what_is_too_much_is_said_once_for_all_set_ups(flown):
    one, two = warnings_of([flown, replace(flown, name="other")])
    assert one == (
        "club and other: full throttle asks 67.2 A of a motor whose controller is limited to 60 A."
    )
    assert two.endswith("a cell down to 3.21 V, below 3.3 V: controllers begin to cut power there.")
    assert len(flight_time_tables([flown])) == 5


def test_the_record_holds_the_same_numbers():
    row = flight_time_row(TIME)
    assert row is not None
    told = row.content()
    assert told["minutes"] == {"p10": 4.34, "median": 5.24, "p90": 6.38}
    assert told["mah_put_back"] is None
    assert told["full_throttle"]["too_much"][1] == {"what": "cell", "asked": 3.21, "allowed": 3.3}
    assert flight_time_row(replace(TIME, charged=(900.0, 2.0))).after_minutes == 2.0
    assert flight_time_row(None) is None
