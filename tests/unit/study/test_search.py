"""The search for an aft limit against flying everything: real flights, and known thresholds."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import StudyFiles, load_aeroplane, load_manoeuvre, load_recovery, load_study_files
from sim.judge import is_back
from sim.pack.assemble import assemble
from sim.study.combinations import searches
from sim.study.flights.draws import make_draws
from sim.study.flights.running import BATCH, Leg, Runner, jobs_of
from sim.study.flights.storing import FlightStore
from sim.study.limits.interval import limit_interval
from sim.study.limits.never import never_met
from sim.study.limits.places import CHUNK
from sim.study.limits.search import Search
from tests.bench.bench_decisions import PlainSearch
from tests.unit.study.test_interval import CURVES, FRONT, Known

DRAWS, SEED = 32, 5
STALL, CENTRE = "throttle_chop_stall", "centre_sticks"
STUDY = f"""
schema = "aftlimit.study/1"
name = "sport"
title = "The sport model's limit"
story = "Small, so that everything can be flown everywhere."
aeroplane = "club_sport"
seed = {SEED}
required_share_pct = 80.0

[[setups]]
name = "club"
pack = "4s_3300"
balance_aft_mm = 68.0

[[cases]]
manoeuvre = "{STALL}"
recoveries = ["{CENTRE}"]

[aft_limit]
from_aft_mm = 64.0
to_aft_mm = 90.0
"""


@pytest.fixture(scope="module")
def sport(tmp_path_factory) -> StudyFiles:
    """Return a small study with fewer draws for its limit than a file may ask."""
    path = tmp_path_factory.mktemp("study") / "sport.toml"
    path.write_text(STUDY, encoding="utf-8")
    files = load_study_files(path)
    few = files.study.aft_limit.model_copy(update={"draws": DRAWS})
    return replace(files, study=files.study.model_copy(update={"aft_limit": few}))


def test_what_no_balance_brings_back_is_flown_out_at_the_foremost(sport):
    # a floor a metre below the entry: no stall is over so soon, common practice, no source
    high = sport.study.model_copy(update={"floor_m": sport.study.entry_m - 1.0})
    files = replace(sport, study=high)
    draws = make_draws(assemble(files.aeroplane).spreads, DRAWS, SEED)
    ((pack, combination),) = searches(files.aeroplane, files.study)
    (never,) = never_met(Search(Runner(draws, SEED, FlightStore(None)), files, pack, combination))
    assert (never.manoeuvre, never.balance_aft_mm) == (STALL, 64.0)
    assert (never.flights, never.lost) == (DRAWS, DRAWS)
    assert never.never < DRAWS  # it does come back, lower
    assert never.need_m is None or never.need_m > high.entry_m
    assert never.lost_high == 1.0


def test_weak_draws_tell_at_every_point_what_all_draws_tell_there(sport):
    draws = make_draws(assemble(sport.aeroplane).spreads, DRAWS, SEED)
    runner = Runner(draws, SEED, FlightStore(None), 2)
    ((pack, combination),) = searches(sport.aeroplane, sport.study)
    search = Search(runner, sport, pack, combination)
    search.screening = DRAWS // 4
    found = search.best(sport.study.limit_recoveries, sport.study.limit_manoeuvres)
    good, bad = found.whole
    assert good < bad <= good + search.tolerance

    def interval():
        return limit_interval(search.lost[CENTRE, STALL], search.bearable, DRAWS, 40.0)

    told, flown = interval(), runner.flown
    # what lies between the last that passes and the first that fails is told neither way
    asked = [x for x in search.lost[CENTRE, STALL] if x <= good or x == bad]
    failing = [search.fails(x, CENTRE, STALL) for x in asked]
    for x in asked:
        search.fly(x, [(CENTRE, STALL, range(DRAWS))])
    assert [search.fails(x, CENTRE, STALL) for x in asked] == failing
    assert any(failing)
    assert not all(failing)
    low, high = interval().low_mm, interval().high_mm
    assert (low, high) == pytest.approx((told.low_mm, told.high_mm), abs=search.tolerance)
    # how many it saves hangs on how many draws are lost: 173 of 197 here, the bench tells of whole
    # studies
    assert flown < runner.flown


def test_a_flight_given_up_at_the_floor_is_lost_and_others_are_the_same():
    jet = assemble(load_aeroplane("display_jet"), "club")
    runner = Runner(make_draws(jet.spreads, 16, SEED), SEED, FlightStore(None), 2)
    scripts = load_manoeuvre("incipient_spin"), load_recovery(CENTRE)
    short = Leg(jet, *scripts, 120.0, np.arange(16), most_drop_m=80.0)
    whole = replace(short, most_drop_m=None)
    (given_up,), (flown,) = runner.fly([short]), runner.fly([whole])
    back = is_back(flown, 120.0, 40.0)
    assert 0 < back.sum() < 16
    assert np.array_equal(is_back(given_up, 120.0, 40.0), back)
    assert np.array_equal(given_up[back], flown[back])
    assert (given_up[~back, s.R_TIME] < flown[~back, s.R_TIME]).all()
    # what was flown to its end serves both, and only that
    assert runner.flown == 32
    assert np.array_equal(runner.fly([short])[0], flown)
    assert runner.flown == 32


def test_few_draws_are_spread_over_small_batches():
    leg = Leg(None, None, None, 120.0, np.arange(3))
    assert [job.which.size for job in jobs_of([leg], [np.arange(3)])] == [1, 1, 1]
    assert {job.which.size for job in jobs_of([leg], [np.arange(256)])} == {BATCH}
    assert sum(job.which.size for job in jobs_of([leg], [np.arange(CHUNK)])) == CHUNK


class Several(Known):
    """Known thresholds (n,) by recovery and manoeuvre."""

    def __init__(self, thresholds):
        super().__init__({m: x for (_, m), x in thresholds.items()})
        self.by_both, self.counts = thresholds, {}

    def fly(self, balance_mm, wanted):
        for recovery, manoeuvre, which in wanted:
            place = self.there(balance_mm, recovery, manoeuvre)
            new = {n: bool(self.by_both[recovery, manoeuvre][n] <= balance_mm) for n in which}
            self.counts[recovery] = self.counts.get(recovery, 0) + len(new.keys() - place.keys())
            place.update(new)


class SeveralPlain(PlainSearch, Several):
    """The same, all draws everywhere."""

    fly = Several.fly
    __init__ = Several.__init__


@pytest.mark.parametrize("name", CURVES)
def test_the_best_recovery_is_found_with_a_third_of_the_flights(name):
    random = np.random.default_rng(11)
    quick_flights = plain_flights = 0
    for _ in range(4):
        base = CURVES[name](256, random)
        known = {
            (r, m): base + shift + random.normal(later, 3.0, 256)
            for r, shift in (("a", 0.0), ("b", 7.0), ("c", -9.0))
            for m, later in (("stall", 0.0), ("spin", 4.0))
        }
        quick, plain = Several(known), SeveralPlain(known)
        found, expected = (x.best("abc", ("stall", "spin")) for x in (quick, plain))
        assert abs(found.whole[0] - expected.whole[0]) <= quick.tolerance
        assert found.whole[0] <= min(good for good, _ in found.each.values())
        assert found.recovery == expected.recovery
        # every draw of both manoeuvres at the limit itself, unless fewer show it
        for m in ("stall", "spin"):
            assert quick.passes(found.whole[0], found.recovery, (m,))
        quick_flights += sum(quick.counts.values())
        plain_flights += sum(plain.counts.values())
        assert quick.counts["c"] < 0.25 * plain.counts["c"]
    assert quick_flights < plain_flights / 3.0


def test_where_no_recovery_stands_the_first_one_tells_so():
    thresholds = {(r, m): np.full(256, FRONT - 5.0) for r in "ab" for m in ("stall", "spin")}
    search = Several(thresholds)
    found = search.best("ab", ("stall", "spin"))
    assert (found.recovery, found.whole) == ("a", (None, FRONT))
    assert set(found.each.values()) == {(None, FRONT)}
    assert sum(search.counts.values()) <= 2 * 2 * search.screening


def test_a_front_that_is_too_nose_heavy_says_nothing_of_what_lies_behind_it():
    # by construction: the same draws, of which twelve are lost forward of 165 mm too. An aft limit
    # is where draws are lost going aft, so it is the one of draws without those
    thresholds = CURVES["normal"](256, np.random.default_rng(3))
    heavy = Known(thresholds, [(n, FRONT, 165.0) for n in range(12)])
    plain = Known(thresholds)
    assert heavy.limit("r", ("m",)) == (None, FRONT)
    start = heavy.first_standing("r", ("m",))
    assert start == min(x for x in heavy._steps_aft() if x >= 165.0)
    heavy.begin_at(start)
    plain.begin_at(start)
    ends = heavy.best("r", ("m",)).whole
    assert ends == plain.best("r", ("m",)).whole
    assert ends[0] > start
    told, expected = (
        limit_interval(x.flown_behind("r", "m"), x.bearable, 256, 40.0) for x in (heavy, plain)
    )
    assert (told.low_mm, told.high_mm) == pytest.approx(
        (expected.low_mm, expected.high_mm), abs=heavy.tolerance
    )
    assert min(heavy.lost["r", "m"]) == FRONT < min(heavy.flown_behind("r", "m"))


def test_where_no_balance_point_stands_no_search_begins_further_aft():
    lost = Known(np.full(256, FRONT - 5.0))
    assert lost.limit("r", ("m",)) == (None, FRONT)
    assert lost.first_standing("r", ("m",)) is None


def test_a_search_goes_on_from_what_the_studys_own_set_ups_flew(sport):
    runner = Runner(make_draws(assemble(sport.aeroplane).spreads, 8, SEED), SEED, FlightStore(None))
    ((pack, combination),) = searches(sport.aeroplane, sport.study)
    entry, floor = sport.study.limit_heights(STALL)
    rows, which = np.zeros((8, s.N_SUMMARY)), np.arange(8)
    rows[:7, s.R_BACK] = 1.0
    case = SimpleNamespace(
        manoeuvre=STALL, recovery=CENTRE, entry_m=entry, floor_m=floor, rows=rows, which=which
    )
    flown = SimpleNamespace(name="club", pack=pack, cases=(case,))
    search = Search(runner, sport, pack, combination, [flown])
    assert search.known == (68.0,)
    assert search.there(68.0, CENTRE, STALL) == {n: n == 7 for n in range(8)}
    # its balance point is one of the first look's
    assert list(search._steps_aft()) == [64.0, 68.0, 79.0, 90.0]
    search.fly(68.0, [(CENTRE, STALL, range(8))])
    assert runner.flown == 0
    # not what was judged from another height, or flown with another pack
    for other in (
        SimpleNamespace(name="club", pack="4s_2600", cases=(case,)),
        SimpleNamespace(
            name="club", pack=pack, cases=(SimpleNamespace(**{**vars(case), "entry_m": 300.0}),)
        ),
    ):
        assert Search(runner, sport, pack, combination, [other]).known == ()
