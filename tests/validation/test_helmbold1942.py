"""Straight wings of any aspect ratio: formulas, the lattice and the strip build-up."""

from functools import lru_cache

import pytest

from sim.aero.geometry.lattice import solve, trapezoid
from sim.aero.sections.finite_wing import datcom_slope, helmbold_slope, lifting_line_slope
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.wings import BUILT_SPAN as SPAN
from tests.validation.wings import alone, loads_at, slope_of, surface

MADE_FROM = "sim.aero.sections.finite_wing: datcom_slope"
SOURCE = "helmbold1942"
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


@lru_cache
def strips_slope(ratio):
    return slope_of(surface("wing", SPAN, SPAN / ratio, SPAN / ratio))


def neutral_point():
    """Return the neutral point of a straight wing of aspect ratio 6, share of the chord."""
    model, _ = alone(surface("wing", SPAN, 0.2, 0.2))
    loads = loads_at(model, [-1.0, 1.0])
    return (loads[1, 4] - loads[0, 4]) / (loads[1, 2] - loads[0, 2]) / 0.2


def rows():
    yield from each("glauert1926", "elliptic lifting line a0/(1 + a0/(pi AR))", (
        (f"formula, aspect ratio {ar}: lifting-line slope, 1/rad", line,
         lambda ar=ar: lifting_line_slope(ar))
        for ar, line, _ in SLOPES
    ), absolute(1e-4), "computed")  # fmt: skip
    yield from each(SOURCE, "formula by an independent script", (
        (f"formula, aspect ratio {ar}: lift slope, 1/rad", slope,
         lambda ar=ar: helmbold_slope(ar))
        for ar, _, slope in SLOPES
    ), absolute(1e-4), "computed")  # fmt: skip
    yield from each(SOURCE, "5 % for a strip model", (
        (f"strips, aspect ratio {ar}: lift slope, 1/rad", slope, lambda ar=ar: strips_slope(ar))
        for ar, _, slope in SLOPES
    ), relative(0.05), "computed", made_from=MADE_FROM)  # fmt: skip
    yield from each("closed_form", "thin-aerofoil theory: a quarter of the chord", [
        ("strips, straight wing: neutral point, x/c", 0.25, neutral_point),
    ], absolute(0.005), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize(("aspect_ratio", "_line", "slope"), SLOPES)
def test_datcom_without_sweep_is_helmbold(aspect_ratio, _line, slope):
    assert datcom_slope(aspect_ratio, 0.0) == pytest.approx(slope, abs=1e-4)


@pytest.mark.parametrize("aspect_ratio", [1.0, 2.0, 4.0, 8.0])
def test_lattice_against_helmbold(aspect_ratio):
    # rectangular wings; Helmbold's formula fits elliptic ones, rectangular ones lie up to
    # 6 % below at aspect ratio 8
    slope = solve(trapezoid(0.5 * aspect_ratio, 1.0, 1.0, 0.0)).slope
    assert slope == pytest.approx(helmbold_slope(aspect_ratio), rel=0.06)
