"""Textbook formulas of the finite wing against independently computed numbers."""

import math

import pytest

from sim.aero.finite_wing import (
    datcom_slope,
    downwash_slope,
    far_wake_downwash_slope,
    helmbold_slope,
    lifting_line_slope,
)
from sim.aero.lattice import solve, trapezoid

# closed forms evaluated by an independent script, a0 = 2 pi: AR, elliptic lifting line,
# Helmbold (= DATCOM without sweep). Tolerance 1e-4 for a formula.
SLOPES = [
    (1, 2.0944, 1.4833),
    (1.5, 2.6928, 2.0944),
    (2, 3.1416, 2.6026),
    (3, 3.7699, 3.3627),
    (4, 4.1888, 3.8832),
    (6, 4.7124, 4.5287),
    (8, 5.0265, 4.9058),
]


@pytest.mark.parametrize(("aspect_ratio", "lifting_line", "helmbold"), SLOPES)
def test_unswept(aspect_ratio, lifting_line, helmbold):
    assert lifting_line_slope(aspect_ratio) == pytest.approx(lifting_line, abs=1e-4)
    assert helmbold_slope(aspect_ratio) == pytest.approx(helmbold, abs=1e-4)
    assert datcom_slope(aspect_ratio, 0.0) == pytest.approx(helmbold, abs=1e-4)


# DATCOM with half-chord sweep, same script
@pytest.mark.parametrize(
    ("aspect_ratio", "sweep_deg", "slope"),
    [(2.5, 30, 2.8498), (3, 25, 3.2126), (3.5, 20, 3.5312), (4, 40, 3.3106)],
)
def test_swept(aspect_ratio, sweep_deg, slope):
    assert datcom_slope(aspect_ratio, math.radians(sweep_deg)) == pytest.approx(slope, abs=1e-4)


def test_textbook_example():
    # J. D. Anderson, Fundamentals of Aerodynamics, Ex. 5.1 (from memory, reproduced):
    # AR 8, tau 0.055: a = 4.97 per rad
    assert lifting_line_slope(8.0, tau=0.055) == pytest.approx(4.9719, abs=1e-4)


def test_downwash():
    # far wake 2 a/(pi AR) with Helmbold at AR 6; DATCOM/Roskam VI, from memory, numbers
    # computed: 1e-3 for the formula
    assert far_wake_downwash_slope(6.0, helmbold_slope(6.0)) == pytest.approx(0.4805, abs=1e-4)
    assert downwash_slope(6.0, 0.5, 0.0, 0.0, 0.5) == pytest.approx(0.4544, abs=1e-3)
    swept = downwash_slope(3.0, 0.4, math.radians(30.0), 0.0, 0.55)
    assert swept == pytest.approx(0.7569, abs=1e-3)


@pytest.mark.parametrize("aspect_ratio", [1.0, 2.0, 4.0, 8.0])
def test_lattice_against_helmbold(aspect_ratio):
    # rectangular wings; Helmbold's formula fits elliptic ones, rectangular ones lie up to
    # 6 % below at aspect ratio 8
    slope = solve(trapezoid(0.5 * aspect_ratio, 1.0, 1.0, 0.0)).slope
    assert slope == pytest.approx(helmbold_slope(aspect_ratio), rel=0.06)
