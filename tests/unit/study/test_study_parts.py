"""Parts of a study with a known answer."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_aeroplane, load_manoeuvre, load_study_files
from sim.pack.assemble import assemble
from sim.study.flights.cases import heights, infinite_unless_back, titles_apart
from sim.study.flights.deciding import Trial, asked, fly_cases
from sim.study.flights.running import Leg
from sim.study.gains import trim_line
from sim.study.standing.deep_stalls import hung_setups, lost_by_hanging
from sim.study.study import planned_flights
from sim.trim.cruise import cruise_speed
from tests.samples.results import case, result, summaries


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


def test_a_case_flies_on_while_it_is_undecided_and_an_answer_hangs_on_it():
    def asked_of(**lost):
        """Return what is asked, of 64 draws (or 128) by manoeuvre and recovery, so many lost."""
        cases = [
            case(m, r, summaries(128 if n == 0 else 64, n, 20.0))
            for (m, r), n in ((key.split("__"), n) for key, n in lost.items())
        ]
        on = asked(cases, 95.0)
        return {(c.manoeuvre, c.recovery) for c, x in zip(cases, on, strict=True) if x}

    open_, failed, met = 2, 20, 0
    chop, other = ("chop", "centre"), ("chop", "rudder_forward")
    spin, last = ("spin", "centre"), ("spin", "rudder_forward")
    names = ["__".join(x) for x in (chop, other, spin, last)]

    def of(*lost):
        return asked_of(**dict(zip(names, lost, strict=True)))

    assert of(open_, open_, open_, open_) == {chop, other, spin, last}
    # one recovery meets it in one manoeuvre, then in both
    assert of(met, open_, open_, open_) == {other, spin, last}
    assert of(met, open_, met, open_) == set()
    # one fails: it waits while the other may stand, and for good where that does
    assert of(failed, open_, open_, open_) == {other, last}
    assert of(failed, met, open_, met) == set()
    # both fail: the better one tells its other manoeuvre
    assert of(failed, open_, open_, failed + 9) == {spin}
    assert of(failed + 9, open_, open_, failed) == {other}
    assert of(failed, failed, failed, failed) == set()
    # one flown after one manoeuvre alone does not stand for the set-up, but is told with the rest
    alone = {"spin__rudder_forward": open_}
    assert asked_of(chop__centre=met, spin__centre=open_, **alone) == {spin, last}
    assert asked_of(chop__centre=met, spin__centre=failed, **alone) == set()


class Counted:
    """Stands for a runner: of each leg's draws every so many-th is lost."""

    def __init__(self, every):
        self.every, self.flown = every, {}

    def fly(self, legs):
        out = []
        for leg in legs:
            key = leg.manoeuvre.name, leg.recovery.name
            self.flown[key] = self.flown.get(key, 0) + len(leg.which)
            rows = summaries(len(leg.which), 0, 20.0)
            rows[leg.which % self.every[leg.recovery.name] == 0, s.R_BACK] = 0.0
            out.append(rows)
        return out

    def sides_of(self, leg, which):
        return np.ones(len(which))


def test_cases_fly_until_their_set_up_is_decided_and_what_is_left_out_adds_up():
    files = load_study_files("first_look")
    files = replace(files, study=files.study.model_copy(update={"setups": files.study.setups[:1]}))
    ready = [SimpleNamespace(weighed=SimpleNamespace(reference=SimpleNamespace(span_m=1.0)))]
    for every, flights in (((999, 40), (128, 128)), ((999, 4), (128, 32)), ((7, 4), (64, 32))):
        runner = Counted(dict(zip(("centre_sticks", "rudder_forward"), every, strict=True)))
        less = []
        (cases,) = fly_cases(runner, files, ready, less.append)
        assert [c.shares.flights for c in cases] == [*flights, *flights]
        assert list(runner.flown.values()) == [*flights, *flights]
        assert planned_flights(files) - sum(less) == sum(runner.flown.values())
