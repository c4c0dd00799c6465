"""The check of the step: its sample, its numbers on any workers, what it tells."""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import Settings
from sim.judge import Verdict
from sim.pack.assemble import assemble
from sim.show.words.steps import step_sentence
from sim.study.checks.step_check import FlownLeg, check_step, sampled
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Leg, Runner
from sim.study.flights.storing import FlightStore

SEED = 5
ENTRY_M, FLOOR_M = 120.0, 30.0


@pytest.fixture(scope="module")
def flown():
    """Two legs of eight flights, as a study flies them, and their draws."""
    jet = assemble(load_aeroplane("display_jet"), "club")
    draws = make_draws(jet.spreads, 8, SEED)
    runner = Runner(draws, SEED, FlightStore(None), 2)
    entry = load_manoeuvre("throttle_chop_stall")
    legs = [
        Leg(jet, entry, load_recovery(name), ENTRY_M, np.arange(8))
        for name in ("centre_sticks", "rudder_forward")
    ]
    rows = runner.fly(legs)
    told = [
        FlownLeg(
            assembled=x.assembled,
            manoeuvre=x.manoeuvre,
            recovery=x.recovery,
            entry_m=ENTRY_M,
            floor_m=FLOOR_M,
            which=x.which,
            sides=runner.sides_of(x),
            rows=r,
        )
        for x, r in zip(legs, rows, strict=True)
    ]
    return told, draws


def test_the_sample_is_spread_and_repeats():
    chosen = sampled([64] * 12, 32, SEED)
    counts = [rows.size for rows in chosen]
    assert sum(counts) == 32
    assert set(counts) == {2, 3}
    assert all(np.unique(rows).size == rows.size for rows in chosen)
    again = sampled([64] * 12, 32, SEED)
    assert all(np.array_equal(a, b) for a, b in zip(chosen, again, strict=True))
    other = sampled([64] * 12, 32, SEED + 1)
    assert any(not np.array_equal(a, b) for a, b in zip(chosen, other, strict=True))


def test_a_sample_larger_than_the_study_is_all_of_it():
    assert [rows.size for rows in sampled([3, 0, 5], 32, SEED)] == [3, 0, 5]


def test_same_numbers_on_one_worker_and_two(flown):
    legs, draws = flown
    one = check_step(legs, draws, Settings.standard(), 6, SEED, workers=1)
    two = check_step(legs, draws, Settings.standard(), 6, SEED, workers=2)
    assert one == two
    assert one.flights == 6
    assert 0.0 < one.median_m <= max(one.most_lowest_m, one.most_lost_m)


def test_it_finds_a_flight_that_was_told_otherwise(flown):
    # a row spoilt on purpose: as if the study had flown it 200 m deeper than it is
    legs, draws = flown
    rows = legs[0].rows.copy()
    rows[3, s.R_DROP] += 200.0
    spoilt = [legs[0]._replace(rows=rows), legs[1]]
    sound = check_step(legs, draws, Settings.standard(), 16, SEED)
    found = check_step(spoilt, draws, Settings.standard(), 16, SEED)
    assert found.beyond_metre == sound.beyond_metre + 1
    assert found.most_lowest_m == pytest.approx(200.0, abs=10.0)
    (turned,) = [t for t in found.turned if t not in sound.turned]
    assert (turned.manoeuvre, turned.recovery) == ("throttle_chop_stall", "centre_sticks")
    assert turned.draw == 3
    assert turned.side == legs[0].sides[3]
    assert turned.was is Verdict.LOST
    assert turned.became is not Verdict.LOST


def test_the_sentence_tells_what_was_found(flown):
    legs, draws = flown
    check = check_step(legs, draws, Settings.standard(), 4, SEED)
    calm = replace(
        check, flights=32, median_m=0.0004, most_lost_m=2.4, most_lowest_m=0.3,
        beyond_centimetre=3, beyond_metre=1, turned=(),
    )  # fmt: skip
    text = step_sentence(calm)
    assert "(2.5 ms)" in text
    assert "within 1 cm in 29 of them" in text
    assert "0.4 mm" in text
    assert "differs by 2 m" in text
    assert text.endswith("no verdict turned.")
    assert "No flight" in step_sentence(replace(check, flights=0))
