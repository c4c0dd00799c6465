"""The rule that decides a case: error rates, exact and by simulation with known shares."""

from functools import cache

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.judge import Outcome, can_show, least_draws, looks_for, outcome, shares_of
from sim.judge.confidence import NORMAL_95
from sim.judge.looks import crossing, look_counts


def decide(back: np.ndarray, required: float, most: int) -> tuple[Outcome, int]:
    """Return how a case is decided from which draws come back (most,), and after how many."""
    for n in looks_for(required, most).counts:
        found = called(n, int(back[:n].sum()), required, most)
        if found is not Outcome.OPEN:
            return found, n
    return Outcome.OPEN, n


@cache
def called(n: int, back: int, required: float, most: int) -> Outcome:
    """Return what is called after ``n`` draws of which so many came back."""
    rows = np.zeros((n, s.N_SUMMARY))
    rows[:back, s.R_BACK] = 1.0
    shares = shares_of(rows, 120.0, 40.0, looks_for(required, most).limits)
    return outcome(shares, 100.0 * required)


def trials(share: float, required: float, most: int, count: int, seed: int) -> list:
    random = np.random.default_rng(seed)
    return [decide(random.random(most) < share, required, most) for _ in range(count)]


def test_looks_double_up_to_the_cap():
    assert look_counts(256) == (32, 64, 128, 256)
    assert look_counts(32) == (32,)
    assert look_counts(8) == (8,)


def test_one_look_without_repeats_is_the_usual_limit():
    # 1.96 is the normal quantile of two-sided 95 % (any table of the normal distribution)
    assert pytest.approx(1.96, abs=1e-4) == NORMAL_95
    assert looks_for(0.95, 32).z_low == NORMAL_95


@pytest.mark.parametrize("required", [0.8, 0.9, 0.95, 0.98])
@pytest.mark.parametrize("most", [64, 256, 1024])
def test_exact_error_rates_stay_below_the_stated_ones(required, most):
    looks = looks_for(required, most)
    assert crossing(required, looks.counts, looks.z_low, True, required) <= 0.025
    assert crossing(required, looks.counts, looks.z_high, False, required) <= 0.025


def test_unwidened_limits_looked_at_again_and_again_would_err_more():
    # what the widening is for: at ordinary limits "not met" is called by chance in 8 %
    counts = look_counts(256)
    assert crossing(0.95, counts, NORMAL_95, False, 0.95) > 0.06
    # and a single look at 256 in less than half of that
    assert crossing(0.95, (256,), NORMAL_95, False, 0.95) < 0.035


def test_simulated_errors_are_the_exact_ones():
    # a border case: neither may be called in more than 2.5 %; 1000 trials have a standard
    # error of 0.5 % at that share
    found = [o for o, _ in trials(0.95, 0.95, 256, 1000, 5)]
    met, not_met = found.count(Outcome.MET) / 1000, found.count(Outcome.NOT_MET) / 1000
    looks = looks_for(0.95, 256)
    assert met == pytest.approx(crossing(0.95, looks.counts, looks.z_low, True, 0.95), abs=0.015)
    assert not_met == pytest.approx(
        crossing(0.95, looks.counts, looks.z_high, False, 0.95), abs=0.015
    )
    assert max(met, not_met) <= 0.025 + 0.01


@pytest.mark.parametrize(
    ("share", "called", "at_least", "draws"),
    # far from the border nearly all are decided, and early
    [(0.5, Outcome.NOT_MET, 0.99, 40), (0.8, Outcome.NOT_MET, 0.99, 70),
     (0.998, Outcome.MET, 0.95, 150)],
)  # fmt: skip
def test_cases_far_from_the_border_stop_early(share, called, at_least, draws):
    found = trials(share, 0.95, 256, 300, 9)
    assert np.mean([o is called for o, _ in found]) >= at_least
    assert np.mean([n for _, n in found]) <= draws


def test_wrong_calls_are_rare_on_either_side():
    below = [o for o, _ in trials(0.93, 0.95, 256, 400, 2)]
    above = [o for o, _ in trials(0.97, 0.95, 256, 400, 3)]
    assert below.count(Outcome.MET) <= 0.02 * 400
    assert above.count(Outcome.NOT_MET) <= 0.02 * 400


def test_the_least_draws_that_can_show_a_share():
    # n of n back has the lower Wilson limit n / (n + z^2): 72.99 draws for 95 % at 1.96
    assert least_draws(0.95) == 73
    assert not can_show(0.95, 64)
    assert can_show(0.95, 128)
    assert all(can_show(0.95, most) for most in range(73, 300))
    assert not any(can_show(0.95, most) for most in range(1, 73))
    # 34.6 draws by that for 90 %, but all of 35 come back by chance in 0.9^35 = 2.503 %
    assert least_draws(0.9) == 36
