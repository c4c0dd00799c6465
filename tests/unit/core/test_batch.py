"""Batches of flights: the same numbers on one thread or two, and a guard against NaN."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.core.draw_layout import N_DRAW
from sim.core.loads.lookup import alpha_of_coordinate, grid
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.flying import fly_many, fly_one, fly_recoveries
from sim.pack.spreads import physical

FLIGHTS = 8


@pytest.fixture(scope="module")
def scripts():
    return load_manoeuvre("spin_entry"), load_recovery("rudder_aileron_with")


@pytest.fixture(scope="module")
def plan(display_jet):
    """Draws, which of them each flight takes, and its side."""
    normal = np.random.default_rng(7).standard_normal((FLIGHTS // 2, N_DRAW))
    draws = physical(display_jet.spreads, normal)
    which = np.repeat(np.arange(FLIGHTS // 2), 2)
    return draws, which, np.tile([1.0, -1.0], FLIGHTS // 2)


@pytest.fixture(scope="module")
def few(plan):
    """Two draws of the plan, to both sides: what must be the same byte for byte is so in any."""
    draws, which, sides = plan
    return draws, which[:4], sides[:4]


@pytest.fixture(scope="module")
def flown(display_jet, scripts, plan):
    return fly_many(display_jet, *scripts, *plan)


def test_two_threads_give_the_same_numbers(display_jet, scripts, plan, flown):
    draws, which, sides = plan
    parts = np.array_split(np.arange(FLIGHTS), 2)
    with ThreadPoolExecutor(2) as pool:
        found = pool.map(
            lambda i: fly_many(display_jet, *scripts, draws, which[i], sides[i]), parts
        )
        np.testing.assert_array_equal(np.vstack(list(found)), flown)


def test_order_does_not_matter(display_jet, scripts, plan, flown):
    draws, which, sides = plan
    order = np.random.default_rng(1).permutation(FLIGHTS)
    shuffled = fly_many(display_jet, *scripts, draws, which[order], sides[order])
    np.testing.assert_array_equal(shuffled, flown[order])


def test_a_flight_alone_is_the_flight_of_the_batch(display_jet, scripts, plan, flown):
    draws, which, sides = plan
    alone = fly_one(display_jet, *scripts, side=sides[3], draw=draws[which[3]])
    np.testing.assert_array_equal(alone.summary, flown[3])


def test_flying_leaves_the_model_as_it_was(display_jet, scripts, plan):
    before = [array.copy() for array in display_jet.model]
    fly_many(display_jet, *scripts, *plan)
    for old, new in zip(before, display_jet.model, strict=True):
        np.testing.assert_array_equal(old, new)


def poisoned(assembled, alpha_deg):
    """Return the aeroplane with NaN in every table beyond an angle of attack."""
    tables = assembled.model.tables.copy()
    tables[:, np.abs(np.degrees(alpha_of_coordinate(grid()))) > alpha_deg] = np.nan
    return replace(assembled, model=assembled.model._replace(tables=tables))


def test_a_nan_in_flight_is_noticed(display_jet, scripts):
    # the compiler may delete NaN checks under full fastmath: this one must fire
    flight = fly_one(poisoned(display_jet, 17.0), *scripts)
    assert flight.summary[s.R_STATUS] == s.STATUS_NAN
    assert len(flight.history) < 1200
    assert flight.summary[s.R_DEPARTED] in (0.0, 1.0)


def test_a_nan_from_the_start_is_noticed(display_jet, scripts):
    # not even a trim: that it is no flight must be said, one way or the other
    flight = fly_one(poisoned(display_jet, 0.0), *scripts)
    assert flight.summary[s.R_STATUS] in (s.STATUS_NAN, s.STATUS_NO_TRIM)
    assert flight.summary[s.R_BACK] == 0.0


RECOVERIES = ("centre_sticks", "rudder_forward", "rudder_aileron_with", "rudder_forward_power")
ENTRIES = ("throttle_chop_stall", "incipient_spin", "fast_pull_and_push", "slow_flight_gust")


@pytest.mark.parametrize("entry", ENTRIES)
def test_recoveries_from_one_entry_are_the_flights_flown_whole(display_jet, few, entry):
    manoeuvre = load_manoeuvre(entry)
    recoveries = [load_recovery(name) for name in RECOVERIES]
    shared = fly_recoveries(display_jet, manoeuvre, recoveries, *few)
    for recovery, found in zip(recoveries, shared, strict=True):
        np.testing.assert_array_equal(found, fly_many(display_jet, manoeuvre, recovery, *few))


def test_a_recovery_without_reaction_begins_when_it_would_alone(display_jet, scripts, few):
    # one waits for the pilot's reaction, the other's first input comes at once
    at_once = (
        scripts[1].phases[0].model_copy(update={"reaction": not scripts[1].phases[0].reaction})
    )
    quick = scripts[1].model_copy(update={"phases": (at_once, *scripts[1].phases[1:])})
    both = [scripts[1], quick, scripts[1]]
    shared = fly_recoveries(display_jet, scripts[0], both, *few)
    assert not np.array_equal(shared[0], shared[1])
    for recovery, found in zip(both, shared, strict=True):
        np.testing.assert_array_equal(found, fly_many(display_jet, scripts[0], recovery, *few))


def test_an_entry_that_is_cut_short_counts_for_each_recovery(display_jet, scripts, plan):
    jet = poisoned(display_jet, 17.0)
    shared = fly_recoveries(jet, scripts[0], [scripts[1]] * 2, *plan)
    assert (shared[..., s.R_STATUS] == s.STATUS_NAN).all()
    np.testing.assert_array_equal(shared[0], shared[1])
