"""Parts of a study with a known answer."""

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_aeroplane, load_manoeuvre, load_study_files
from sim.pack.assemble import assemble
from sim.study.cases import heights, infinite_unless_back, titles_apart
from sim.study.deciding import Trial
from sim.study.gains import trim_line
from sim.study.running import Leg
from sim.study.standing.deep_stalls import hung_setups, lost_by_hanging
from sim.study.study import planned_flights
from sim.trim.cruise import cruise_speed
from tests.samples.results import result, summaries


def test_a_height_is_of_a_flight_and_none_where_it_has_no_end():
    assert heights(np.array([])).median is None
    assert heights(np.array([1.0, 2.0, np.inf])).median == 2.0
    rows = summaries(4, 1, 20.0)
    assert np.isinf(infinite_unless_back(rows, s.R_DROP)).tolist() == [True, False, False, False]


def test_titles_that_are_alike_are_told_apart():
    one = load_manoeuvre("spin_entry")
    found = titles_apart({"a": one, "b": one, "c": load_manoeuvre("banked_stall")})
    assert found["a"] == f"{one.title} (a)"
    assert found["c"] == load_manoeuvre("banked_stall").title


def test_gains_are_compared_at_one_speed_above_every_stall():
    ready = [assemble(load_aeroplane("club_sport"), name) for name in ("club", "aerobatic")]
    speed = cruise_speed(ready)
    assert speed > max(a.stall.speed_mps for a in ready)
    # further aft, the same stick pitches it more
    assert (
        trim_line(ready[1], speed).pitch_response_dps2
        > trim_line(ready[0], speed).pitch_response_dps2
    )


def test_nothing_hung_in_a_study_without_deep_stalls():
    assert list(hung_setups(result())) == []
    assert lost_by_hanging(result()) == []


def test_planned_flights_are_setups_times_recoveries_times_draws():
    files = load_study_files("first_look")
    recoveries = sum(len(case.recoveries) for case in files.study.cases)
    wanted = len(files.study.setups) * recoveries * files.study.draws
    assert planned_flights(files) == pytest.approx(wanted)


def test_a_trial_flies_every_draw_once():
    trial = Trial(None, Leg(None, None, None, 120.0, np.arange(0)))
    flown = []
    for count in (32, 64, 128):
        leg = trial.next_leg(count)
        flown += leg.which.tolist()
        trial.rows.append(summaries(len(leg.which), 0, 20.0))
    assert flown == list(range(128))
