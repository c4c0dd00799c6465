"""Wilson limits of counted shares: R. G. Newcombe (1998), table I, method 3, and a library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest, norm

from sim.judge.confidence import wilson
from tests.validation.rows import absolute, cases, check, each

SOURCE = "newcombe1998"
# score method, no continuity correction, reproduced by scipy
PRINTED = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0, 0.1611),
    (1, 29, 0.0061, 0.1718),
]


def rows():
    yield from each(SOURCE, "score method without continuity correction", (
        (f"{count} of {total}: {name} 95 % limit", value,
         lambda count=count, total=total, i=i: wilson(count, total)[i])
        for count, total, *limits in PRINTED
        for i, (name, value) in enumerate(zip(("lower", "upper"), limits, strict=True))
    ), absolute(5e-5), "from memory")  # fmt: skip
    yield from each("wilson1927", "64/(64 + z²), z = 1.959964", [
        ("64 of 64: lower 95 % limit", 64.0 / (64.0 + 1.959964**2), lambda: wilson(64, 64)[0]),
    ], absolute(1e-7), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_no_failure_in_64():
    # "64 of 64 has a lower Wilson limit of only 94.3 %": 64/(64 + z^2) in closed form
    low, high = wilson(64, 64)
    assert low == pytest.approx(64.0 / (64.0 + norm.ppf(0.975) ** 2), abs=1e-12)
    assert round(100.0 * low, 1) == 94.3
    assert high == pytest.approx(1.0, abs=1e-12)


def test_three_failures_in_64():
    # "61 of 64 came back (95 % limits 87-98 %)"
    assert [round(100.0 * limit) for limit in wilson(61, 64)] == [87, 98]


@given(st.integers(1, 4096).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_against_scipy(counted):
    count, total = counted
    limits = binomtest(count, total).proportion_ci(0.95, method="wilson")
    assert wilson(count, total) == pytest.approx((limits.low, limits.high), abs=1e-12)


def test_no_flights_say_nothing():
    assert wilson(0, 0) == (0.0, 1.0)


def test_the_ends_are_exact_where_none_or_every_trial_succeeded():
    # [newcombe1998]: the score interval touches 0 and 1 just there
    for total in range(1, 400):
        assert wilson(0, total)[0] == 0.0
        assert wilson(total, total)[1] == 1.0
        assert 0.0 < wilson(total, total)[0] < 1.0
