"""Heights that decide: the ceiling has one home, and what may be entered from it."""

from dataclasses import replace

import pytest

from sim.core import script_layout as s
from sim.describe import load_study
from sim.describe.study import ENTRY_M
from sim.judge import looks_for, shares_of
from sim.study.results.set_up import Heights
from sim.study.standing.heights import (
    Budget,
    Entry,
    budget,
    ceiling_of,
    entry_of,
    from_height,
    height_to_meet,
    shown_from_all,
)
from sim.study.standing.higher import (
    higher_to_fly,
    never_back,
    short_cases,
    short_of_height,
    shortest,
)
from sim.study.standing.mending import Lack, lacks
from tests.samples.results import FLOOR_M, case, result, setup, summaries

ASKED, DRAWS = 95.0, 128


CEILING_M = ceiling_of(load_study("first_look"))  # the usual one, which that study leaves


def needing(height_m, entry_m):
    """Return a case whose 128 flights all need just so much entry height."""
    rows = summaries(DRAWS, 0, 0.0)
    rows[:, s.R_DROP] = height_m - FLOOR_M
    shares = shares_of(rows, entry_m, FLOOR_M, looks_for(ASKED / 100.0, DRAWS).limits)
    need = Heights(height_m, height_m)
    one = case("spin", "centre", rows)
    return replace(one, entry_m=entry_m, shares=shares, entry_height_needed_m=need)


def test_a_study_enters_at_the_usual_ceiling_unless_it_says_otherwise():
    assert CEILING_M == ENTRY_M


@pytest.mark.parametrize(
    ("need", "entry", "told"),
    [
        (100.0, 120.0, Budget.FITS),
        (100.0, 90.0, Budget.SHORT),
        (150.0, 200.0, Budget.ABOVE),
        (150.0, 120.0, Budget.NO),
    ],
)
def test_a_need_stands_against_both_heights(need, entry, told):
    assert budget(needing(need, entry), CEILING_M, ASKED, DRAWS) is told


def test_a_lower_ceiling_is_held_against_as_well():
    assert budget(needing(100.0, 120.0), 90.0, ASKED, DRAWS) is Budget.ABOVE
    assert budget(needing(100.0, 80.0), 90.0, ASKED, DRAWS) is Budget.NO


def test_what_enough_flights_fit_and_none_show_is_not_told_to_fit():
    """4 of 128 lost is 97 %, and its lower limit is below 95 (Wilson: 92 %)."""
    some = needing(100.0, 120.0)
    rows = some.rows.copy()
    rows[:4] = summaries(4, 4, 0.0)
    shares = shares_of(rows, 120.0, FLOOR_M, looks_for(ASKED / 100.0, DRAWS).limits)
    some = replace(some, rows=rows, shares=shares)
    assert budget(some, CEILING_M, ASKED, DRAWS) is Budget.UNSHOWN
    assert shown_from_all([some], ASKED, DRAWS) == float("inf")
    assert shown_from_all([needing(100.0, 120.0)], ASKED, DRAWS) == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("need", "entry", "may", "told"),
    [
        (100.0, 200.0, True, Entry.MAY),
        (100.0, 200.0, False, Entry.BARRED),
        (150.0, 200.0, True, Entry.NOT_HERE),
        (150.0, 120.0, True, Entry.FAILS),
    ],
)
def test_entered_is_only_what_is_shown_from_the_ceiling(need, entry, may, told):
    assert entry_of(needing(need, entry), ASKED, DRAWS, CEILING_M, may) is told


def test_height_that_would_meet_it_does_when_it_is_there():
    low = needing(150.0, 120.0)
    enough = height_to_meet(low, ASKED, DRAWS)
    assert enough == pytest.approx(150.0)
    there = needing(150.0, enough + 1e-9)
    assert entry_of(there, ASKED, DRAWS, enough + 1e-9, True) is Entry.MAY
    assert from_height(there, 120.0, ASKED, DRAWS).shares.back == 0


def of_cases(*cases):
    return replace(setup("one", 180.0, 0), cases=cases, forward=None)


def test_what_more_height_brings_back_is_told_and_what_it_does_not():
    low, deep = needing(150.0, 120.0), needing(300.0, 120.0)
    never = replace(deep, rows=summaries(DRAWS, 60, 20.0))
    short = shortest(short_cases(of_cases(low), ASKED, DRAWS))
    assert (short.need_m, short.lost, short.too_low) == (150.0, DRAWS, DRAWS)
    assert short.sure_m == pytest.approx(150.0)
    assert lacks(of_cases(low), ASKED, DRAWS) == (Lack.HEIGHT,)
    for beyond in (deep, never):  # more than twice the usual ceiling is no height to fly from
        both = of_cases(low, replace(beyond, manoeuvre="chop"))
        assert [x.case for x in short_cases(both, ASKED, DRAWS)] == [both.cases[0]]
        assert short_of_height(both, ASKED, DRAWS) == ()
        assert [x.manoeuvre for x in never_back(both, ASKED)] == ["chop"]
        assert lacks(both, ASKED, DRAWS) == (Lack.NEVER, Lack.HEIGHT)
    assert lacks(of_cases(needing(100.0, 120.0)), ASKED, DRAWS) == ()


def test_a_study_is_flown_again_from_no_lower_than_any_of_its_manoeuvres():
    low = needing(153.0, 120.0)
    spin = replace(needing(100.0, 200.0), manoeuvre="chop")
    study = replace(result(), setups=(of_cases(low),), draws=DRAWS)
    assert higher_to_fly(study).entry_m == 160.0
    study = replace(study, setups=(of_cases(low, spin),))
    assert higher_to_fly(study).entry_m == 200.0
    assert higher_to_fly(study).others == ()
    met = replace(study, setups=(of_cases(needing(100.0, 120.0)),))
    assert higher_to_fly(met) is None
