"""What ends a deep stall: flown from where flights hang, and nothing else is changed by it."""

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_recovery, load_study_files
from sim.fly.flying import fly_one
from sim.judge import has_hung
from sim.study import run_study
from sim.study.flights.again import Again, FlightOfCase
from sim.study.flights.watch import Watch
from sim.study.flights.ways_out import hanging_cases, tried
from tests.samples.brief import briefly

STUDY = """
schema = "aftlimit.study/1"
name = "hanging"
title = "A jet balanced so far aft that it hangs"
story = "Of no use but to hang."
aeroplane = "display_jet"
draws = 16
seed = 3
agility = []

[[setups]]
name = "forward"
pack = "6s_4000"
balance_aft_mm = 105.0

[[setups]]
name = "hangs"
pack = "6s_4000"
balance_aft_mm = 220.0

[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks"]
"""


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    path = tmp_path_factory.mktemp("ways") / "hanging.toml"
    path.write_text(STUDY, encoding="utf-8")
    return load_study_files(path)


@pytest.fixture(scope="module")
def planned():
    """What is told of flights to come, filled by the study."""
    return []


@pytest.fixture(scope="module")
def result(files, planned):
    with briefly("ways_out_draws", landing_draws=8):
        return run_study(files, workers=2, watch=Watch(planned=planned.append))


def test_only_the_set_up_that_hangs_has_ways_out(result, planned):
    forward, hangs = result.setups
    assert forward.deep_stall is None
    found = hangs.deep_stall
    hung = int(has_hung(hangs.cases[0].rows).sum())
    assert hung > 0
    assert [place.hung for place in found.places] == [hung]
    assert [way.flights for way in found.ways] == [hung] * len(found.ways)
    assert found.ways[0].name == "stick_forward_alone"
    for way in found.ways:
        assert 0.0 <= way.low <= way.out / way.flights <= way.high <= 1.0
    assert planned[-1] == sum(way.flights for way in found.ways)


def test_a_way_out_begins_where_that_draw_hung(files, result):
    """Up to there it is the study's own flight, to the last digit."""
    hangs = result.setups[1]
    case = hanging_cases(hangs, 95.0)[0]
    again = Again(files)
    for row in np.flatnonzero(has_hung(case.rows)):
        own = again.fly(FlightOfCase(hangs.name, case, int(row)))
        way = fly_one(
            own.assembled, tried(own.manoeuvre, own.recovery), load_recovery("stick_rocking"),
            own.side, again._draws.physical[case.which[row]], case.entry_m,
        )  # fmt: skip
        first = int(np.argmax(way.history[:, s.H_STAGE] > s.STAGE_ENTRY))
        assert first > 0
        assert np.array_equal(way.history[:first, s.H_ALPHA], own.history[:first, s.H_ALPHA])
        assert way.summary[s.R_T_RECOVERY] - own.summary[s.R_T_RECOVERY] >= 2.0


def test_at_most_so_many_draws_fly_them(files, result, monkeypatch):
    from sim.study.flights import ways_out

    cases = hanging_cases(result.setups[1], 95.0)
    places = ways_out._places(1, cases, files, 2)
    assert sum(place.which.size for place in places) == 2
    assert np.array_equal(places[0].which, cases[0].which[has_hung(cases[0].rows)][:2])
