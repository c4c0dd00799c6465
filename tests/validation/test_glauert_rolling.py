"""Rolling and yawing derivatives of plain wings by lifting line, H. Glauert (1926), ch. XI.

His Fourier method is worked out here once more, with the local speed of a yawing wing and the
upwash of a rolling one, and held against the strips of the build-up with their two induced
modes; sections without friction in both.
"""

from functools import lru_cache

import numpy as np
import pytest

from sim.core.loads.lookup import alpha_of_coordinate, grid
from tests.validation.rows import cases, check, each, relative
from tests.validation.wings import BUILT_SPAN, Wing, alone, lift_and_drag, surface, table_of

SOURCE = "glauert1926"
TEN_PERCENT = 0.10
STEP = (
    "dihedral changes the angle in a step at the centreline, whose share beyond the part linear in "
    "span is turned less by the wing's own flow than the one antisymmetric mode says; the "
    "handbook lies between"
)
TERMS = 60
SLOPE = 2.0 * np.pi
ALPHA = np.radians(5.0)
DIHEDRAL_DEG = 5.0
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
def built(aspect_ratio, taper, dihedral_deg=0.0):
    mean = BUILT_SPAN / aspect_ratio
    root = 2.0 * mean / (1.0 + taper)
    back = 0.25 * (root - taper * root) / (0.5 * BUILT_SPAN)  # straight quarter-chord line
    shape = surface("wing", BUILT_SPAN, root, taper * root, float(np.degrees(np.arctan(back))))
    model, area = alone(shape.model_copy(update={"dihedral_deg": dihedral_deg}))
    # without friction and with all of the leading edge's suction, as in the lifting line
    alpha = alpha_of_coordinate(grid())
    ideal = table_of(SLOPE * np.sin(alpha), np.zeros_like(alpha))
    return Wing(model._replace(tables=ideal), area, BUILT_SPAN)


def same_lift(aspect_ratio, taper):
    """Return the angle at which the built wing lifts as the lifting line does at 5 degrees."""
    wing = built(aspect_ratio, taper)
    lift, _ = lift_and_drag(wing.model, wing.area, np.degrees([ALPHA]))
    return ALPHA * line(aspect_ratio, taper, ALPHA)[0] / lift[0]


def line_slope(index, aspect_ratio, taper, **rate):
    (name,) = rate
    up = line(aspect_ratio, taper, ALPHA, **rate)[index]
    down = line(aspect_ratio, taper, ALPHA, **{name: -rate[name]})[index]
    return (up - down) / (2.0 * rate[name])


def built_slope(index, aspect_ratio, taper, **rate):
    """Return a derivative at the lifting line's lift, about the wind axes."""
    (name,) = rate
    wing = built(aspect_ratio, taper)
    alpha = same_lift(aspect_ratio, taper)
    up = wing.moments(alpha, **rate)[index - 1]
    down = wing.moments(alpha, **{name: -rate[name]})[index - 1]
    return (up - down) / (2.0 * rate[name])


def built_dihedral(aspect_ratio, taper):
    """Return Clbeta over the dihedral angle, at zero lift."""
    wing, beta = built(aspect_ratio, taper, DIHEDRAL_DEG), np.radians(2.0)
    sides = (wing.moments(0.0, beta=beta)[0], wing.moments(0.0, beta=-beta)[0])
    return (sides[0] - sides[1]) / (2.0 * beta * np.radians(DIHEDRAL_DEG))


def rows():
    for ar, taper in WINGS:
        name = f"aspect ratio {ar:g}, taper {taper:g}: "
        yield from each(SOURCE, "Fourier method, ch. XI", [
            (name + "Clp", line_slope(1, ar, taper, p_hat=0.02),
             lambda ar=ar, taper=taper: built_slope(1, ar, taper, p_hat=0.02)),
        ], relative(TEN_PERCENT), "computed",
        made_from="sim.aero.geometry.lifting_line: rolling_share")  # fmt: skip
        yield from each(SOURCE, "Fourier method, ch. XI", (
            (name + "Clr at the lift of 5°", line_slope(1, ar, taper, r_hat=0.02),
             lambda ar=ar, taper=taper: built_slope(1, ar, taper, r_hat=0.02)),
            (name + "Cnp at the lift of 5°", line_slope(2, ar, taper, p_hat=0.02),
             lambda ar=ar, taper=taper: built_slope(2, ar, taper, p_hat=0.02)),
        ), relative(TEN_PERCENT), "computed")  # fmt: skip
        yield from each(SOURCE, "Fourier method, the halves at angles of opposite sign", [
            (name + "Clbeta over dihedral", line_slope(1, ar, taper, dihedral_slip=0.02),
             lambda ar=ar, taper=taper: built_dihedral(ar, taper)),
        ], relative(TEN_PERCENT), "computed", STEP if ar < 10.0 else "")  # fmt: skip
    yield from each("datcom1978", "fig. 5.1.2.1-29: -0.00023 per degree squared", [
        ("aspect ratio 6, taper 0.5: Clbeta over dihedral, handbook", -0.755,
         lambda: built_dihedral(6.0, 0.5))
    ], relative(TEN_PERCENT), "from memory")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_an_elliptic_wing_rolls_as_the_closed_form_says():
    # Clp = -(a0/8)/(1 + 2 a0/(pi AR)): a check of the lifting line above, taper near an ellipse
    for ar in (6.0, 8.0):
        exact = -(SLOPE / 8.0) / (1.0 + 2.0 * SLOPE / (np.pi * ar))
        assert line_slope(1, ar, 0.4, p_hat=0.02) == pytest.approx(exact, rel=0.06)
