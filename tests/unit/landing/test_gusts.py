"""Gusts on the approach: the peak load of a published formula, and what the gyro takes off."""

from dataclasses import replace
from math import radians

import pytest

from sim.core import layout as k
from sim.core.flights.inertia import invert_inertia
from sim.core.flights.perturb import copied
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.landing.gusts import gust_responses
from sim.pack.assemble import assemble, flown_spreads
from sim.study.flights.draws import make_draws
from sim.trim.trimming import level


@pytest.fixture(scope="module")
def sport():
    return assemble(load_aeroplane("club_sport"))


@pytest.fixture(scope="module")
def responses(sport):
    gusts = [load_manoeuvre("approach_gust_up"), load_manoeuvre("approach_gust_side")]
    few = make_draws(flown_spreads(sport.aeroplane), 8, 1).physical[:4]
    return gust_responses(sport, gusts, load_recovery("centre_sticks"), few)


def test_the_load_of_a_gust_from_below_is_that_of_pratts_formula(sport):
    """Pratt and Walker, NACA Report 1206, 1954 (from memory): K rho U V a/(2 W/S), K from mu.

    For a gust 25 chords long, without pitching (inertias are made a hundred times larger), in
    attached flow (half a metre a second): the formula's own lag of lift is that of another
    aspect ratio, so within 12 %. Pitching into the wind takes off more.
    """
    ref, rho, gust = sport.weighed.reference, sport.density, 0.5
    speed = 1.3 * sport.stall.speed_mps
    one, two = level(sport, speed), level(sport, 1.1 * speed)
    loading = sport.weighed.wing_loading_kg_m2
    lift = [loading * 9.80665 / (0.5 * rho * x.speed_mps**2) for x in (one, two)]
    slope = (lift[0] - lift[1]) / radians(one.alpha_deg - two.alpha_deg)
    mu = 2.0 * loading / (rho * ref.mean_chord_m * slope)
    factor = 0.88 * mu / (5.3 + mu)
    pratt = factor * rho * gust * speed * slope / (2.0 * loading * 9.80665)
    held = copied(sport.model)
    held.mass[[k.M_INERTIA, k.M_INERTIA + 4, k.M_INERTIA + 8]] *= 100.0
    invert_inertia(held.mass)
    up = load_manoeuvre("approach_gust_up")
    start = {"gust_mps": gust, "gust_length_m": 25.0 * ref.mean_chord_m}
    up = up.model_copy(update={"start": up.start.model_copy(update=start)})
    loads = []
    for ready in (replace(sport, model=held), sport):
        flown = fly_one(ready, up, load_recovery("centre_sticks")).to_columns()
        loads.append(flown["load_factor_g"][flown["phase"] == 0].max() - 1.0)
    assert loads[0] == pytest.approx(pratt, rel=0.12)
    assert 0.5 * loads[0] < loads[1] < loads[0]


def test_the_gyro_takes_bank_off_a_gust_from_the_side(responses):
    off, on = responses[2:]
    assert (off.gyro, on.gyro) == (False, True)
    assert on.nominal.bank_deg < off.nominal.bank_deg
    assert off.nominal.bank_deg > 2.0


def test_the_worst_of_the_draws_is_no_better_than_any(responses):
    for x in responses:
        assert x.draws == 4
        assert x.worst.margin_deg <= x.nominal.margin_deg + 2.0
        assert x.worst.most_load_g >= 1.0
        assert 0 <= x.stalled <= x.draws
        assert x.nominal.margin_deg + x.nominal.alpha_deg == pytest.approx(
            x.worst.margin_deg + x.worst.alpha_deg
        )
