"""Rolling and yawing derivatives of plain wings by lifting line, H. Glauert (1926), ch. XI.

His Fourier method is worked out here once more, with the local speed of a yawing wing and the
upwash of a rolling one, and held against the strips of the build-up with their two induced
modes; sections without friction in both.
"""

from functools import lru_cache

import numpy as np
import pytest

from sim.core.lookup import alpha_of_coordinate, grid
from tests.validation.rows import cases, check, each, relative
from tests.validation.wings import BUILT_SPAN, Wing, alone, surface, table_of

SOURCE = "glauert1926"
TEN_PERCENT = 0.10
TIPS = (
    "a rectangular wing's own flow rises towards its tips, which the uniform induced angle has "
    "not; Cnp is what two terms five times as large leave over"
)
TERMS = 60
SLOPE = 2.0 * np.pi
ALPHA = np.radians(5.0)
# aspect ratio, taper; a lifting line is not meant for much less than 6
WINGS = [(6.0, 1.0), (6.0, 0.5), (8.0, 0.6), (10.0, 0.4)]


def line(aspect_ratio, taper, alpha, p_hat=0.0, r_hat=0.0, dihedral_slip=0.0):
    """Return CL, Cl and Cn of a lifting line, span 2, speed 1.

    ``p_hat``, ``r_hat`` are tip speeds over the airspeed; ``dihedral_slip`` is dihedral times
    sideslip, the change of angle of the right half [rad].
    """
    theta = np.pi * np.arange(1, TERMS + 1) / (TERMS + 1)
    y = -np.cos(theta)
    mean = 2.0 / aspect_ratio
    chord = mean * 2.0 / (1.0 + taper) * (1.0 - (1.0 - taper) * np.abs(y))
    along = 1.0 - r_hat * y
    up = along * alpha + p_hat * y + dihedral_slip * np.sign(y)
    n = np.arange(1, TERMS + 1)
    # gamma = 4 sum A_n sin(n t); t runs from the left tip here
    sine = np.sin(np.outer(theta, n))
    wash = sine * n / np.sin(theta)[:, None]
    a = np.linalg.solve(4.0 * sine + 0.5 * SLOPE * chord[:, None] * wash, 0.5 * SLOPE * chord * up)
    gamma, w = 4.0 * sine @ a, wash @ a
    weight = np.sin(theta) * np.pi / (TERMS + 1)
    area = 2.0 * mean
    lift = gamma * along
    forward = gamma * (p_hat * y - w)
    push = 0.5 * area
    return (
        (lift * weight).sum() / push,
        -(lift * y * weight).sum() / (push * 2.0),
        -(forward * y * weight).sum() / (push * 2.0),
    )


@lru_cache
def built(aspect_ratio, taper):
    mean = BUILT_SPAN / aspect_ratio
    root = 2.0 * mean / (1.0 + taper)
    back = 0.25 * (root - taper * root) / (0.5 * BUILT_SPAN)  # straight quarter-chord line
    model, area = alone(
        surface("wing", BUILT_SPAN, root, taper * root, float(np.degrees(np.arctan(back))))
    )
    # without friction and with all of the leading edge's suction, as in the lifting line
    alpha = alpha_of_coordinate(grid())
    ideal = table_of(SLOPE * np.sin(alpha), np.zeros_like(alpha))
    return Wing(model._replace(tables=ideal), area, BUILT_SPAN)


def line_slope(index, aspect_ratio, taper, **rate):
    (name,) = rate
    up = line(aspect_ratio, taper, ALPHA, **rate)[index]
    down = line(aspect_ratio, taper, ALPHA, **{name: -rate[name]})[index]
    return (up - down) / (2.0 * rate[name])


def built_slope(index, aspect_ratio, taper, **rate):
    """Return a derivative at the lifting line's lift, about the wind axes."""
    (name,) = rate
    wing = built(aspect_ratio, taper)
    up = wing.moments(ALPHA, **rate)[index - 1]
    down = wing.moments(ALPHA, **{name: -rate[name]})[index - 1]
    return (up - down) / (2.0 * rate[name])


def rows():
    for ar, taper in WINGS:
        name = f"aspect ratio {ar:g}, taper {taper:g}: "
        yield from each(SOURCE, "Fourier method, ch. XI", (
            (name + "Clp", line_slope(1, ar, taper, p_hat=0.02),
             lambda ar=ar, taper=taper: built_slope(1, ar, taper, p_hat=0.02)),
            (name + "Clr at 5°", line_slope(1, ar, taper, r_hat=0.02),
             lambda ar=ar, taper=taper: built_slope(1, ar, taper, r_hat=0.02)),
        ), relative(TEN_PERCENT), "computed")  # fmt: skip
        yield from each(SOURCE, "Fourier method, ch. XI", [
            (name + "Cnp at 5°", line_slope(2, ar, taper, p_hat=0.02),
             lambda ar=ar, taper=taper: built_slope(2, ar, taper, p_hat=0.02)),
        ], relative(TEN_PERCENT), "computed", TIPS if taper == 1.0 else "")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_an_elliptic_wing_rolls_as_the_closed_form_says():
    # Clp = -(a0/8)/(1 + 2 a0/(pi AR)): a check of the lifting line above, taper near an ellipse
    for ar in (6.0, 8.0):
        exact = -(SLOPE / 8.0) / (1.0 + 2.0 * SLOPE / (np.pi * ar))
        assert line_slope(1, ar, 0.4, p_hat=0.02) == pytest.approx(exact, rel=0.06)
