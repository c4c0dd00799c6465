"""The interval of an aft limit: its coverage on known curves, searched as studies search."""

import numpy as np
import pytest
from scipy.stats import gumbel_l, logistic, norm

from sim.judge import looks_for
from sim.study.interval import brackets_of, even_odds_share, limit_interval, near
from sim.study.search import Search, most_lost

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
    """A search in which each draw is lost from a known balance point on."""

    def __init__(self, thresholds: np.ndarray) -> None:
        self.thresholds = thresholds
        self.draws = len(thresholds)
        self.step, self.tolerance, self.screening, self.chunk = 13.0, 2.0, 32, 16
        self.looks = looks_for(0.95, self.draws)
        self.bearable = most_lost(self.looks)
        self.lost = {}
        self.wish = self  # from_aft_mm, to_aft_mm and draws
        self.from_aft_mm, self.to_aft_mm = FRONT, REAR

    def at(self, balance_mm):
        return self

    def _fly_more(self, balance_mm, recovery, manoeuvres, which):
        for name in manoeuvres:
            place = self.there(balance_mm, recovery, name)
            place.update((n, bool(self.thresholds[n] <= balance_mm)) for n in which)


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
