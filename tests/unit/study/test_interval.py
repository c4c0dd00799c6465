"""The interval of an aft limit: its coverage on known curves, searched as studies search."""

from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import gumbel_l, logistic, norm

from sim.judge import looks_for
from sim.judge.looks import most_lost
from sim.study.limits.aft import narrowest
from sim.study.limits.interval import Interval, brackets_of, even_odds_share, limit_interval, near
from sim.study.limits.search import Search
from sim.study.results.aft_limit import ManoeuvreLimit

FRONT, REAR = 158.0, 240.0
CURVES = {
    "logistic": lambda n, r: logistic.rvs(215.0, 8.0, n, random_state=r),
    "normal": lambda n, r: norm.rvs(215.0, 15.0, n, random_state=r),
    "long tail forward": lambda n, r: gumbel_l.rvs(220.0, 10.0, n, random_state=r),
    "two kinds": lambda n, r: np.where(
        r.random(n) < 0.1, norm.rvs(195.0, 6.0, n, random_state=r),
        norm.rvs(225.0, 8.0, n, random_state=r),
    ),
    "sharp": lambda n, r: norm.rvs(200.0, 2.0, n, random_state=r),
}  # fmt: skip


class Known(Search):
    """A search in which each draw is lost from a known balance point on.

    ``thresholds`` (n,), or one such array a manoeuvre; in ``windows`` (draw, from, to) it is
    the other way round.
    """

    def __init__(self, thresholds, windows=()) -> None:
        named = thresholds if isinstance(thresholds, dict) else {"m": thresholds}
        self.thresholds, self.windows, self.flown = named, windows, 0
        thresholds = next(iter(named.values()))
        self.draws = len(thresholds)
        self.step, self.tolerance, self.screening = 13.0, 2.0, 32
        self.fit_share, self.unseen = 0.15, 2
        self.looks = looks_for(0.95, self.draws)
        self.bearable = most_lost(self.looks)
        self.lost, self.lowest, self.bearable_early, self.known = {}, {}, -1, ()
        self.wish = self  # from_aft_mm, to_aft_mm and draws
        self.from_aft_mm, self.to_aft_mm = FRONT, REAR
        self.study = SimpleNamespace(limit_manoeuvres=tuple(named))

    def at(self, balance_mm):
        return self

    def fly(self, balance_mm, wanted):
        for recovery, manoeuvre, which in wanted:
            place = self.there(balance_mm, recovery, manoeuvre)
            new = [n for n in which if n not in place]
            self.flown += len(new)
            place.update((n, self.is_lost(n, balance_mm, manoeuvre)) for n in new)

    def is_lost(self, n, balance_mm, manoeuvre):
        turned = any(n == m and a <= balance_mm < b for m, a, b in self.windows)
        return bool(self.thresholds[manoeuvre][n] <= balance_mm) != turned


def found(thresholds):
    search = Known(thresholds)
    limit, _ = search.limit("r", ("m",))
    interval = limit_interval(search.lost["r", "m"], search.bearable, len(thresholds), 40.0)
    return limit, interval


@pytest.mark.parametrize("name", CURVES)
def test_covers_the_limit_that_other_draws_would_give(name):
    random = np.random.default_rng(7)
    draws, trials = 256, 60
    share = even_odds_share(most_lost(looks_for(0.95, draws)), draws)
    true = np.quantile(CURVES[name](200_000, random), share)
    hit = 0
    for _ in range(trials):
        limit, interval = found(CURVES[name](draws, random))
        low = min(limit, -np.inf if interval.low_mm is None else interval.low_mm)
        high = max(limit, np.inf if interval.high_mm is None else interval.high_mm)
        hit += low <= true <= high
    # 95 % of 60 are 57; 53 or fewer would happen once in 18
    assert hit >= 54


def test_limit_of_a_search_is_where_one_draw_too_many_is_lost():
    thresholds = np.linspace(180.0, 300.0, 256)
    limit, interval = found(thresholds)
    # the sixth smallest threshold is one too many of 256 (5 may be lost); the search knows 2 mm
    assert thresholds[5] - 2.0 <= limit < thresholds[5]
    assert interval.low_mm < limit < interval.high_mm


def flown_by_steps(search, manoeuvres):
    """Every draw at every millimetre going aft: the last point before the first that fails."""
    point = FRONT
    while all(
        np.count_nonzero(manoeuvres[m] <= point) <= search.bearable  # as it is without windows
        for m in manoeuvres
    ):
        point += 1.0
    return point - 1.0


@pytest.mark.parametrize("name", CURVES)
def test_weak_draws_first_finds_what_flying_all_of_them_everywhere_finds(name):
    random = np.random.default_rng(3)
    for _ in range(20):
        both = {m: CURVES[name](256, random) + shift for m, shift in (("m", 0.0), ("k", 6.0))}
        search = Known(both)
        limit, failing = search.limit("r", tuple(both))
        true = flown_by_steps(search, both)
        assert abs(limit - true) <= search.tolerance
        assert true - search.tolerance <= failing - 1.0
        # all draws of both manoeuvres at five points
        assert search.flown < 2_560


def test_draws_that_come_back_further_aft_are_not_taken_for_safe_forward_of_it():
    random = np.random.default_rng(5)
    seen = 0
    for _ in range(20):
        thresholds = CURVES["logistic"](256, random)
        # three draws that no failing point further aft knows of, lost just forward of the limit
        plain, _ = Known(thresholds).limit("r", ("m",))
        safe = np.flatnonzero(thresholds > REAR)[:3]
        windows = [(n, plain - 12.0, plain + 4.0) for n in safe]
        search = Known(thresholds, windows)
        limit, _ = search.limit("r", ("m",))
        assert limit <= plain
        assert sum(search.lost["r", "m"][limit].values()) <= search.bearable
        assert set(search.lost["r", "m"][limit]) >= set(range(64))
        seen += limit < plain
    assert seen >= 15


def test_draws_lost_just_forward_of_the_limit_alone_are_seen_where_they_would_turn_it():
    # five lost from 190 mm on, as many as are bearable; the sixth at 205 mm
    thresholds = np.concatenate([np.full(5, 190.0), np.linspace(205.0, 300.0, 251)])
    plain, _ = Known(thresholds).limit("r", ("m",))
    assert 203.0 <= plain < 205.0
    # another one lost from 193 mm on, but neither at that limit nor at any point aft of it
    search = Known(thresholds, [(200, 193.0, plain - 0.5)])
    limit, failing = search.limit("r", ("m",))
    assert 191.0 <= limit < 193.0 <= failing <= 195.0
    # with three lost there is room for two that nothing else shows, and all draws are not flown
    roomy = Known(np.concatenate([np.full(3, 190.0), np.linspace(205.0, 220.0, 253)]))
    limit, _ = roomy.limit("r", ("m",))
    assert len(roomy.lost["r", "m"][limit - 2.0]) < 256


def test_a_point_flown_in_one_manoeuvre_alone_is_not_told_as_of_all():
    spin = np.full(128, FRONT - 1.0)  # lost already at the front
    chop = np.linspace(195.0, 260.0, 128)
    search = Known({"chop": chop, "spin": spin})
    assert search.limit("r", ("chop", "spin")) == (None, FRONT)
    limit, _ = search.limit("r", ("chop",))
    steps = {step.balance_aft_mm: step for step in search.steps()}
    assert (steps[FRONT].manoeuvre, steps[FRONT].not_flown) == ("spin", ())
    there = steps[limit]
    assert (there.manoeuvre, there.not_flown) == ("chop", ("spin",))
    assert not there.complete
    assert (there.low, there.back <= there.draws) == (0.0, True)
    whole = Known({"chop": chop, "spin": chop + 20.0})
    limit, _ = whole.limit("r", ("chop", "spin"))
    (there,) = [step for step in whole.steps() if step.balance_aft_mm == limit]
    assert (there.complete, there.not_flown) == (True, ())
    assert there.low > 0.9


def test_nothing_lost_bounds_nothing():
    limit, interval = found(np.full(256, 400.0))
    assert limit == REAR
    assert (interval.low_mm, interval.high_mm) == (None, None)


def test_brackets_hold_every_draw_once():
    lost = {160.0: {0: False, 1: False, 2: True}, 180.0: {0: False, 1: True, 2: True}}
    found = brackets_of(lost)
    told = sorted(zip(found.low, found.high, found.count, strict=True))
    assert told == [(-np.inf, 160.0, 1.0), (160.0, 180.0, 1.0), (180.0, np.inf, 1.0)]
    # what is lost beyond the cut counts as not lost there
    cut = near(found, 0.3)
    assert sorted(cut.high)[0] == 160.0
    assert np.isinf(cut.high).sum() == 2


def test_even_odds_are_the_median_of_the_count():
    from scipy.stats import binom

    for bearable, draws in ((1, 128), (5, 256)):
        assert binom.cdf(bearable, draws, even_odds_share(bearable, draws)) == pytest.approx(0.5)


def test_the_whole_limit_reaches_no_further_aft_than_any_of_its_manoeuvres():
    stall = ManoeuvreLimit(
        manoeuvre="stall",
        aft_mm=150.0,
        low_mm=142.0,
        high_mm=164.0,
        at_end=False,
        first_failure_mm=151.0,
    )
    spin = ManoeuvreLimit(
        manoeuvre="spin",
        aft_mm=150.0,
        low_mm=118.0,
        high_mm=151.0,
        at_end=False,
        first_failure_mm=152.0,
    )
    beyond = ManoeuvreLimit(
        manoeuvre="pull",
        aft_mm=165.0,
        low_mm=150.0,
        high_mm=None,
        at_end=True,
        first_failure_mm=None,
    )
    for each in ((stall, spin, beyond), (spin, stall), (beyond, stall, spin)):
        assert narrowest(each) == Interval(118.0, 151.0)
    assert narrowest((beyond,)) == Interval(150.0, None)


def test_a_search_begins_where_the_balance_can_be_had():
    class Short(Known):
        def at(self, balance_mm):
            return None if balance_mm < 171.0 else self

    thresholds = np.linspace(180.0, 300.0, 256)
    limit, _ = Short(thresholds).limit("r", ("m",))
    assert thresholds[5] - 2.0 <= limit < thresholds[5]
    assert min(Short(thresholds).lost.get(("r", "m"), {171.0: {}})) >= 171.0
