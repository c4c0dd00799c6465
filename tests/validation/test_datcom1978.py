"""Lift slopes and downwash of DATCOM: its formulas, and the strip build-up against them."""

from functools import lru_cache
from math import atan, degrees, pi, radians, tan

import numpy as np
import pytest

from sim.aero.sections.finite_wing import (
    datcom_slope,
    far_wake_downwash_slope,
    helmbold_slope,
)
from sim.core.motion.derivative import offsets
from sim.core.motion.integrate import scratch
from sim.core.steady.statics import place
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.wings import BUILT_SPAN as SPAN
from tests.validation.wings import DENSITY, SPEED, alone, loads_at, slope_of, surface

MADE_FROM = "sim.aero.sections.finite_wing: datcom_slope"
SOURCE = "datcom1978"
# evaluated by an independent script, a0 = 2 pi: aspect ratio, half-chord sweep, slope
SWEPT = [(2.5, 30, 2.8498), (3, 25, 3.2126), (3.5, 20, 3.5312), (4, 40, 3.3106)]


@lru_cache
def swept_slope(ratio, half_chord_deg, taper):
    root = 2.0 * SPAN / ratio / (1.0 + taper)
    edge = degrees(atan(tan(radians(half_chord_deg)) + root * (1.0 - taper) / SPAN))
    return slope_of(surface("wing", SPAN, root, taper * root, edge))


@lru_cache
def tail_downwash(ratio=6.0, taper=0.5, quarter_deg=0.0, arm_share=0.5):
    """Return the turn of the air at the tail per radian; the arm as a share of the span.

    It runs from the quarter chord of the mean chord of the wing to that of the tail.
    """
    root = 2.0 * SPAN / ratio / (1.0 + taper)
    tip = taper * root
    sweep = degrees(atan(tan(radians(quarter_deg)) + (root - tip) / 4.0 / (0.5 * SPAN)))
    wing = surface("wing", SPAN, root, tip, sweep)
    mean_at = SPAN / 6.0 * (1.0 + 2.0 * taper) / (1.0 + taper) * tan(radians(quarter_deg))
    tail = surface("tail", 0.4, 0.1, 0.1, 0.0, aft=0.25 * root + mean_at + arm_share * SPAN - 0.025)
    model, _ = alone(wing, tail)
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    turned = []
    for alpha in (1.0, 3.0):
        place(x, model, inputs, work, SPEED, radians(alpha), 0.0, 0.0, 0.0, 0.0, np.zeros(4))
        turned.append(x[offsets(model)[3]])
    return (turned[1] - turned[0]) / radians(2.0)


def rows():
    yield from each(SOURCE, "section 4.1.3.2, formula by an independent script", (
        (f"formula, aspect ratio {ar}, half-chord sweep {sweep}°: lift slope, 1/rad", slope,
         lambda ar=ar, sweep=sweep: datcom_slope(ar, radians(sweep)))
        for ar, sweep, slope in SWEPT
    ), absolute(1e-4), "computed")  # fmt: skip
    yield from each(SOURCE, "section 4.1.3.2; 5 % for a strip model", (
        (f"strips, aspect ratio {ar}, half-chord sweep {sweep}°, taper {taper}: lift slope, 1/rad",
         slope, lambda ar=ar, sweep=sweep, taper=taper: swept_slope(ar, sweep, taper))
        for ar, sweep, slope in SWEPT for taper in (1.0, 0.5)
    ), relative(0.05), "computed", made_from=MADE_FROM)  # fmt: skip
    where = "through J. Roskam, Airplane Design VI; numbers computed"
    yield from each(SOURCE, where + "; 20 % as a truth", [
        ("strips, aspect ratio 6, taper 0.5, level tail: downwash slope", 0.4544, tail_downwash),
        ("strips, aspect ratio 3, taper 0.4, sweep 30°: downwash slope", 0.7569,
         lambda: tail_downwash(3.0, 0.4, 30.0, 0.55)),
    ], relative(0.20), "from memory")  # fmt: skip
    yield from each("closed_form", "2 CLa/(pi AR) with Helmbold's slope", [
        ("far wake, aspect ratio 6: downwash slope", 0.4805,
         lambda: far_wake_downwash_slope(6.0, helmbold_slope(6.0))),
    ], absolute(1e-4), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_downwash_at_the_tail_lies_between_near_and_far_wake():
    # no less than half of the far wake's 2 CLa/(pi AR) = 0.4805 with Helmbold's slope
    assert 0.5 * 0.4805 < tail_downwash() < 1.2 * 0.4805


def test_induced_angle():
    # CL/(pi AR e) at aspect ratio 6, rectangular: 1 + tau of Glauert's lifting-line chart
    # (H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, tau about 0.17 there;
    # from memory), so within 1 and 1.25 of the elliptic wing's CL/(pi AR)
    model, area = alone(surface("wing", SPAN, 0.2, 0.2))
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    place(x, model, inputs, work, SPEED, radians(4.0), 0.0, 0.0, 0.0, 0.0, np.zeros(4))
    loads = loads_at(model, [4.0])[0]
    lift = loads[0] * np.sin(radians(4.0)) - loads[2] * np.cos(radians(4.0))
    coefficient = lift / (0.5 * DENSITY * SPEED**2 * area)
    assert 1.0 < x[offsets(model)[2]] / (coefficient / (pi * 6.0)) < 1.25
