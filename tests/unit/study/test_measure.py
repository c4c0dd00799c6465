"""What measuring would change, reckoned: against thresholds known in closed form."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
from scipy.stats import norm, qmc

from sim import tables
from sim.pack.measurable import Measurement, Narrowed
from sim.study.limits.aft import narrowest
from sim.study.limits.interval import first_lost, limit_interval
from sim.study.measure.reckoning import reckon, towards_entry
from sim.study.measure.thresholds import fit_thresholds
from sim.study.results.aft_limit import FirstLost, ManoeuvreLimit
from tests.samples.results import limit
from tests.unit.study.test_interval import Known

DRAWS, MIDDLE, GRID_MM = 256, 225.0, 2.0
SPREADS = tables.uncertainty().entries[:16]
# mm a standard deviation: three that matter, and thirteen that do not
SLOPES = np.array([9.0, 5.0, 3.0, *[0.0] * 13])


def narrowing(name, *columns, left=0.0):
    """Return a measurement that leaves a part of the standard deviation of some draws."""
    gone = tuple(Narrowed(SPREADS[i].name, "", 1.0, left) for i in columns)
    return Measurement(name, f"the {name}", "a ruler", True, (f"keys.{name}",), gone)


FIRST, SECOND, NOTHING = narrowing("first", 0), narrowing("second", 1, left=0.5), narrowing("no", 9)
WISHES = (NOTHING, SECOND, FIRST)


def drawn(seed):
    points = qmc.Sobol(len(SPREADS), scramble=True, seed=seed).random(DRAWS)
    return np.clip(norm.ppf(points), -2.0, 2.0)


def searched(normal, slopes, seed):
    """Return the aft limit that a search finds, each draw lost from a line in it on."""
    rest = np.random.default_rng(seed).logistic(0.0, 1.5, DRAWS)
    search = Known(MIDDLE + normal @ slopes + rest)
    search.to_aft_mm = 300.0
    good, bad = search.limit("r", ("m",))
    known = search.lost["r", "m"]
    ends = limit_interval(known, search.bearable, DRAWS, 40.0)
    one = ManoeuvreLimit("m", good, ends.low_mm, ends.high_mm, False, bad, first_lost(known))
    whole = narrowest([one])
    return replace(
        limit("p", good), manoeuvres=("m",), low_mm=whole.low_mm, high_mm=whole.high_mm, each=(one,)
    )


def reckoned(found, normal):
    return reckon(found, WISHES, SPREADS, lambda _, which: normal[which])


@pytest.fixture(scope="module")
def told():
    """Return, by seed, draws, the limit searched and what measuring would change of it."""
    out = []
    for seed in range(4):
        normal = drawn(seed)
        found = searched(normal, SLOPES, seed)
        out.append((normal, found, reckoned(found, normal)))
    return out


def test_shares_of_the_spread_are_those_of_the_slopes(told):
    squares = 0.92 * SLOPES**2  # of a normal cut at two standard deviations, by its density
    whole = squares.sum() + np.pi**2 / 3.0 * 1.5**2
    for name, true in (("first", squares[0] / whole), ("second", 0.75 * squares[1] / whole)):
        promises = [next(x for x in m.promises if x.name == name) for *_, m in told]
        assert np.mean([x.share for x in promises]) == pytest.approx(true, abs=0.05)
        # of four 95 % limits two miss once in seventy times
        assert sum(x.share_low < true < x.share_high for x in promises) >= 3


def test_the_limit_becomes_what_a_search_without_that_spread_finds(told):
    gains, ends = [], []
    for seed, (normal, found, measuring) in enumerate(told):
        first = measuring.promises[0]
        assert first.name == "first"
        flown = searched(normal, SLOPES * np.array([0.0, *[1.0] * 15]), seed)
        # a search knows its limit to its grid, here and there
        least, most = first.gain_low_mm - 2 * GRID_MM, first.gain_high_mm + 2 * GRID_MM
        assert least <= flown.aft_mm - found.aft_mm <= most
        gains.append((first.gain_mm, flown.aft_mm - found.aft_mm))
        ends.append((first.high_mm - first.low_mm, flown.high_mm - flown.low_mm))
    mine, true = np.mean(gains, axis=0)
    assert mine == pytest.approx(true, rel=0.15)
    # and its interval narrows as promised
    assert np.mean(ends, axis=0)[0] == pytest.approx(np.mean(ends, axis=0)[1], rel=0.25)
    # closed form: all closes in on the middle, by the root of the variance that is left
    left = sqrt(1.0 - 81.0 / (SLOPES**2).sum())
    closed = np.mean([(MIDDLE - found.aft_mm) * (1.0 - left) for _, found, _ in told])
    assert mine == pytest.approx(closed, rel=0.2)


def test_what_does_not_matter_is_not_told(told):
    for _, found, measuring in told:
        assert [x.name for x in measuring.promises] == ["first", "second"]
        assert measuring.nearest is measuring.promises[0]
        assert measuring.together.gain_mm >= measuring.promises[0].gain_mm
        assert measuring.together.aft_mm == found.aft_mm + measuring.together.gain_mm
        assert measuring.together.share + measuring.method_share + measuring.untraced_share <= 1.0


def test_where_draws_do_not_tell_nothing_stands_out():
    normal = drawn(9)
    found = searched(normal, 0.0 * SLOPES, 9)
    measuring = reckoned(found, normal)
    assert (measuring.promises, measuring.nearest, measuring.own) == ((), None, ())
    assert measuring.together.gain_mm < 1.0
    assert measuring.untraced_share > 0.8


def test_too_few_lost_draws_or_no_limit_tell_nothing(told):
    normal, found, _ = told[0]
    few = FirstLost(np.arange(64), np.full(64, 180.0), np.where(np.arange(64) < 19, 190.0, np.inf))
    one = replace(found.each[0], first_lost=few)
    measuring = reckoned(replace(found, each=(one,)), normal)
    assert (measuring.tells, measuring.together, measuring.lost) == (False, None, 19)
    assert reckoned(replace(found, aft_mm=None), normal) is None
    assert reckoned(replace(found, at_end=True), normal) is None


def test_another_manoeuvre_holds_the_limit_back(told):
    normal, found, measuring = told[0]
    known = found.each[0]
    # little behind it, and with too few draws lost to say what moves it
    near = ManoeuvreLimit("k", found.aft_mm + 1.0, known.low_mm, known.high_mm, False, None)
    both = replace(found, manoeuvres=("m", "k"), each=(known, near))
    assert reckoned(both, normal).nearest.gain_mm <= 1.0 < measuring.nearest.gain_mm


def test_lines_are_found_through_exact_brackets():
    normal = drawn(3)
    at = MIDDLE + normal @ SLOPES
    fit = fit_thresholds(np.floor(at), np.floor(at) + 1.0, normal)
    assert fit.slopes_mm == pytest.approx(SLOPES, abs=0.15)
    assert fit.middle_mm == pytest.approx(MIDDLE, abs=0.15)


def test_what_pulls_to_one_side_counts_towards_the_entry():
    entries = tables.uncertainty().entries
    spreads = [x for x in entries if x.name in ("forebody", "wind")]
    names = [x.name for x in spreads]
    turned = towards_entry(np.ones((2, len(entries))), np.array([1.0, -1.0]), spreads)
    assert turned[:, names.index("forebody")].tolist() == [1.0, -1.0]
    assert turned[:, names.index("wind")].tolist() == [1.0, 1.0]
