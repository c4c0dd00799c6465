"""NASA's names of spin modes by angle of attack: 20-30° steep, to 45, 65 and 90°."""

from math import radians

import pytest
from scipy.optimize import bisect

from sim.judge.spins import mode_name
from tests.validation.rows import absolute, cases, check, each

SOURCE = "nasa_spin_modes"
NAMES = [("steep", 30.0), ("moderately steep", 45.0), ("moderately flat", 65.0), ("flat", 90.0)]


def upper_end(name):
    """Return the angle [deg] up to which an erect spin has a name."""
    others = [text for text, _ in NAMES[: [text for text, _ in NAMES].index(name) + 1]]

    def beyond(alpha_deg):
        words = mode_name(radians(alpha_deg), 0.0).removeprefix("erect, ")
        return -1.0 if words in others else 1.0

    return bisect(beyond, 20.0, 120.0, xtol=1e-9)


def rows():
    yield from each(SOURCE, "steep 20-30°, moderately steep 30-45°, moderately flat 45-65°", (
        (f"{name} spin: up to, °", upper, lambda name=name: upper_end(name))
        for name, upper in NAMES
    ), absolute(1e-6), "published")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


INSIDE = [(25, "steep"), (38, "moderately steep"), (55, "moderately flat"), (80, "flat")]


@pytest.mark.parametrize(("alpha_deg", "name"), INSIDE)
def test_names(alpha_deg, name):
    assert mode_name(radians(alpha_deg), 0.0) == f"erect, {name}"
    assert mode_name(radians(-alpha_deg), 0.0) == f"inverted, {name}"
