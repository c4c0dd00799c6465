"""Wilson limits of counted shares against the source's formula and a library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest, norm

from sim.judge.confidence import wilson


def test_no_failure_in_64():
    # "64 of 64 has a lower Wilson limit of only 94.3 %": 64/(64 + z^2) in closed form
    low, high = wilson(64, 64)
    assert low == pytest.approx(64.0 / (64.0 + norm.ppf(0.975) ** 2), abs=1e-12)
    assert round(100.0 * low, 1) == 94.3
    assert high == pytest.approx(1.0, abs=1e-12)


def test_three_failures_in_64():
    # "61 of 64 came back (95 % limits 87-98 %)"
    assert [round(100.0 * limit) for limit in wilson(61, 64)] == [87, 98]


def test_published_example():
    # R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3 (score, no
    # continuity correction): 81/263 -> .2553 to .3662; 15/148 -> .0624 to .1605;
    # 0/20 -> 0 to .1611; 1/29 -> .0061 to .1718 (from memory, reproduced by scipy)
    for count, total, low, high in (
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ):
        assert wilson(count, total) == pytest.approx((low, high), abs=5e-5)


@given(st.integers(1, 4096).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_against_scipy(counted):
    count, total = counted
    limits = binomtest(count, total).proportion_ci(0.95, method="wilson")
    assert wilson(count, total) == pytest.approx((limits.low, limits.high), abs=1e-12)


def test_no_flights_say_nothing():
    assert wilson(0, 0) == (0.0, 1.0)
