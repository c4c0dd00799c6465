"""A limit that its draws leave wide is searched on by more of them, and only then."""

from dataclasses import replace

import pytest

from sim import tables
from sim.describe.study import AftLimit as Wish
from sim.pack.assemble import assemble
from sim.study.combinations import searches
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Runner
from sim.study.flights.storing import FlightStore
from sim.study.limits.aft import find_limits, is_open
from sim.study.limits.search import Search
from tests.samples.results import limit
from tests.unit.show.test_first import NEVER
from tests.unit.study.test_search import CENTRE, SEED, STALL, sport  # noqa: F401

FEW, MANY = 32, 64
NEAR = {"from_aft_mm": 72.0, "to_aft_mm": 76.0}  # places about the limit, 74 mm


def asking(files, **keys):
    """Return a study whose search asks for other draws, fewer than a file may."""
    wish = files.study.aft_limit.model_copy(update=keys)
    return replace(files, study=files.study.model_copy(update={"aft_limit": wish}))


def test_more_draws_find_what_they_find_alone_and_fly_nothing_twice(sport):  # noqa: F811
    spreads = assemble(sport.aeroplane).spreads
    said = []
    found = []
    for wish in ({"draws": MANY}, {"draws": FEW, "draws_most": MANY}):
        runner = Runner(make_draws(spreads, MANY, SEED), SEED, FlightStore(None), 2)
        said.clear()
        (one,) = find_limits(runner, asking(sport, **NEAR, **wish), 17.0, said.append)
        found.append((one, runner.flown))
    (alone, _), (on, flown) = found
    assert on.recovery == alone.recovery == CENTRE
    assert on.draws_used in (FEW, MANY)
    tolerance = tables.study().search_tolerance_mm
    assert on.aft_mm == pytest.approx(alone.aft_mm, abs=tolerance)
    assert said[-1].endswith(f"by {MANY} draws")
    places = len({x.balance_aft_mm for x in on.steps})
    assert flown <= MANY * places  # one manoeuvre, one recovery: no draw twice at a place


def test_what_is_known_closely_is_left_at_that(sport):  # noqa: F811
    runner = Runner(
        make_draws(assemble(sport.aeroplane).spreads, FEW, SEED), SEED, FlightStore(None)
    )
    ((pack, combination),) = searches(sport.aeroplane, sport.study)
    search = Search(runner, asking(sport, draws=FEW, draws_most=MANY), pack, combination)
    mac_mm = 1000.0 * search.at(70.0).weighed.reference.mean_chord_m
    wide = 0.01 * tables.study().search_wide_pct_mac * mac_mm
    one = replace(limit(pack, 70.0), low_mm=68.0, high_mm=68.0 + 0.9 * wide)
    assert not is_open(one, search)
    assert is_open(replace(one, high_mm=68.0 + 1.1 * wide), search)
    assert is_open(replace(one, low_mm=None), search)
    # where nothing failed, nothing aft of it could be known
    assert not is_open(replace(one, high_mm=None, at_end=True), search)
    # none found: a ban that is shown is shown; what is not may hang on the draws
    assert is_open(replace(one, aft_mm=None), search)
    assert not is_open(replace(one, aft_mm=None, never=(NEVER,)), search)
    assert is_open(replace(one, never=(NEVER, replace(NEVER, shown=False))), search)
    more = search.by_more(MANY)
    assert more.lost is search.lost
    assert (more.wish.draws, search.wish.draws) == (MANY, FEW)
    assert more.bearable >= search.bearable
    assert (STALL, CENTRE) == ("throttle_chop_stall", "centre_sticks")


def test_fewer_at_most_than_at_first_is_refused():
    with pytest.raises(ValueError, match="must be no less than draws, 256; got 128"):
        Wish(from_aft_mm=60.0, to_aft_mm=90.0, draws=256, draws_most=128)
    assert Wish(from_aft_mm=60.0, to_aft_mm=90.0).most == 256
