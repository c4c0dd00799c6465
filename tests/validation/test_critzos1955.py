"""NACA 0012 over 0-180° against C. C. Critzos and others, NACA TN 3361 (1955), summary."""

import numpy as np
import pytest

from sim.core.loads.lookup import CN
from tests.validation.curves import at, drag, lift, symmetric
from tests.validation.rows import absolute, cases, check, each, relative

SOURCE = "critzos1955"
APART = "tables name it only to tell how far it lies from the NACA 0015 they are made from"
LOW = (
    "every section keeps the 1.80 across the flow that SAND80-2114 measured for the NACA 0015; "
    "two-dimensional sections lie between 1.8 and 2.1"
)


def second_peak():
    """Return the angle of the lift peak beyond the stall [deg]."""
    degrees = np.linspace(25.0, 80.0, 551)
    return degrees[np.argmax(lift(symmetric(12.0, 1e6), degrees))]


def rows():
    yield from each(SOURCE, "Re 1,800,000; 10 % as for plates across the flow", [
        ("NACA 0012, Re 1,000,000: CD at 90°", 2.08,
         lambda: drag(symmetric(12.0, 1e6), 90.0)),
    ], relative(0.1), "published", LOW, observed=True, apart=APART)  # fmt: skip
    yield from each(SOURCE, "second lift peak near 45°", [
        ("NACA 0012, Re 1,000,000: angle of the second CL peak, °", 45.0, second_peak),
    ], absolute(5.0), "published", observed=True, apart=APART)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_reynolds_number_matters_little_from_25_to_125_degrees():
    degrees = np.arange(31.0, 126.0, 1.0)  # the model's attached part ends by 31°
    low, high = (at(symmetric(12.0, re), degrees, CN) for re in (80000, 1000000))
    np.testing.assert_allclose(low, high, rtol=0.02)
