"""The phugoid: F. W. Lanchester, omega = sqrt 2 g/V for a stiff aeroplane."""

from functools import lru_cache
from math import sqrt

import pytest

from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.trim.trimming import level, matrices, modes
from tests.validation.jets import jet_at
from tests.validation.rows import Row, cases, check, each, relative

SOURCE = "lanchester1908"


@lru_cache
def slow_swing(aft_mm):
    """Return the phugoid's frequency over Lanchester's, and the longitudinal matrix."""
    jet = jet_at(aft_mm)
    trim = level(jet, 1.6 * jet.stall.speed_mps)
    assert trim.found
    slow = next(m for m in modes(jet, trim) if m.name == "phugoid")
    lanchester = sqrt(2.0) * STANDARD_GRAVITY / trim.speed_mps
    return slow.frequency_rps / lanchester, matrices(jet, trim)[0], trim.speed_mps


def over_the_reduction(aft_mm):
    """Return the phugoid's frequency over Lanchester's times the root of Mw/(Mw - Zw Mq/V)."""
    share, long, speed = slow_swing(aft_mm)
    zw, mw, mq = long[1, 1], long[2, 1], long[2, 2]
    return share / sqrt(mw / (mw - zw * mq / speed))


def rows():
    yield Row(
        SOURCE, "30 % as a sanity", "display jet balanced at 160 mm: phugoid over sqrt 2 g/V", 1.0,
        lambda: slow_swing(160.0)[0], relative(0.30), "computed",
    )  # fmt: skip
    # with the short period not stiff, omega falls by the root of static over manoeuvre margin
    yield from each(SOURCE, "textbook reduction of the quartic", (
        (f"display jet balanced at {aft:g} mm: phugoid over sqrt 2 g/V with its margin", 1.0,
         lambda aft=aft: over_the_reduction(aft))
        for aft in (150.0, 170.0, 182.0)
    ), relative(0.10), "from memory")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
