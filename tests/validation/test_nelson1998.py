"""The Navion of R. C. Nelson, *Flight Stability and Automatic Control*, app. B: slug, ft, s.

Derivatives from memory; the eigenvalues that the book prints were reproduced from them.
"""

from functools import lru_cache
from math import degrees, radians, sin, tan
from types import SimpleNamespace
from unittest.mock import patch

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

import sim.trim.trimming as trimming
from sim.core.layout import X_QUAT, X_RATE, X_VEL
from sim.core.motion.rotation import ned_of_body
from sim.describe import load_aeroplane
from sim.trim.modes import lateral_modes, longitudinal_modes
from sim.weigh import reference
from tests.validation.rigid import mass_row, rates_of, state
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.tunnel import criteria

SOURCE = "nelson1998"
SPEED, DENSITY, GRAVITY = 176.0, 0.002377, 32.17
AREA, SPAN, CHORD = 184.0, 33.4, 5.7
MASS = 2750.0 / 32.17
IX, IY, IZ = 1048.0, 3000.0, 3530.0
CL_A, CM_A = 4.44, -0.683
CN_B, CL_B, CN_DA, CL_DA = 0.071, -0.074, -0.0035, -0.134
PUSH = 0.5 * DENSITY * SPEED * SPEED * AREA
PER_RAD = degrees(1.0)


def longitudinal():
    """Return the (u, w, q, theta) matrix, eq. 4.51 with the w-dot terms."""
    cl, cd, cd_a, cm_adot, cm_q = 0.41, 0.05, 0.33, -4.36, -9.96
    pitch = PUSH * CHORD / IY
    xu, zu = -2.0 * cd * PUSH / (MASS * SPEED), -2.0 * cl * PUSH / (MASS * SPEED)
    xw, zw = -(cd_a - cl) * PUSH / (MASS * SPEED), -(CL_A + cd) * PUSH / (MASS * SPEED)
    mw, mwdot = CM_A * pitch / SPEED, cm_adot * pitch * CHORD / (2.0 * SPEED * SPEED)
    mq = cm_q * pitch * CHORD / (2.0 * SPEED)
    return np.array(
        [
            [xu, xw, 0.0, -GRAVITY],
            [zu, zw, SPEED, 0.0],
            [mwdot * zu, mw + mwdot * zw, mq + mwdot * SPEED, 0.0],
            [0.0, 0.0, 1.0, 0.0],
        ]
    )


def lateral():
    """Return the (v, p, r, phi) matrix, eq. 5.35; no product of inertia."""
    roll, yaw, rate = PUSH * SPAN / IX, PUSH * SPAN / IZ, SPAN / (2.0 * SPEED)
    cy_b, cl_p, cn_p, cl_r, cn_r = -0.564, -0.410, -0.0575, 0.107, -0.125
    return np.array(
        [
            [cy_b * PUSH / (MASS * SPEED), 0.0, -SPEED, GRAVITY],
            [CL_B * roll / SPEED, cl_p * roll * rate, cl_r * roll * rate, 0.0],
            [CN_B * yaw / SPEED, cn_p * yaw * rate, cn_r * yaw * rate, 0.0],
            [0.0, 1.0, 0.0, 0.0],
        ]
    )


@lru_cache
def modes():
    return {m.name: m for m in longitudinal_modes(longitudinal()) + lateral_modes(lateral())}


def neutral_point():
    """Return neutral point and static margin [% of chord] by the product, from CLa and Cma."""

    def polar(_model, _speed, alphas, *_rest):
        loads = np.zeros((alphas.size, 6))
        lift = CL_A * alphas * PUSH
        loads[:, 0], loads[:, 2] = lift * np.sin(alphas), -lift * np.cos(alphas)
        loads[:, 4] = CM_A * alphas * PUSH * CHORD
        return loads

    aeroplane = SimpleNamespace(
        model=None,
        weighed=SimpleNamespace(
            reference=SimpleNamespace(mean_chord_m=CHORD), balance_pct_mac=29.5
        ),
    )
    trim = SimpleNamespace(
        alpha_deg=0.0, speed_mps=SPEED, elevator_stick=0.0, aileron_stick=0.0, rudder_stick=0.0,
        throttle=0.0,
    )  # fmt: skip
    with patch.object(trimming, "polar", polar):
        return trimming.neutral_point_pct(aeroplane, trim)


def navion_criteria(alpha_deg):
    """Return Cn_beta,dyn and LCDP [1/rad]."""
    found = criteria(IZ / IX, CN_B, CL_B, CN_DA, CL_DA, float(alpha_deg))
    return found[0] * PER_RAD, found[1] * PER_RAD


def mean_chord(taper):
    """Return mean chord over root chord of a straight taper."""
    jet = load_aeroplane("display_jet")
    wing = jet.surfaces_as("wing")[0].model_copy(
        update={"root_right_mm": 0.0, "root_chord_mm": 200.0, "tip_chord_mm": 200.0 * taper}
    )
    return reference(jet.model_copy(update={"surfaces": (wing,)})).mean_chord_m / 0.2


def spin_moment():
    """Return the inertial pitching moment [ft lb] at 45° and 150 deg/s, axis vertical."""
    omega, alpha = radians(150.0), radians(45.0)
    x = spinning(alpha, omega, (0.0, 0.0, 0.0))
    out = rates_of(x, mass_row(1.0, np.diag([IX, IY, IZ])), 0.0)
    return out[X_RATE + 1] * IY


def spinning(alpha, omega, velocity):
    """Return a state with wings level that turns about the vertical: p = Om cos a, r = Om sin a."""
    turning = (omega * np.cos(alpha), 0.0, omega * np.sin(alpha))
    return state((0.0, alpha - radians(90.0), 0.0), velocity, turning)


@lru_cache
def spin_radius(alpha_deg, rate_dps):
    """Return the radius [m] at which a force mg/sin a normal to the wing leaves no acceleration.

    The axis lies ahead of the balance point: nose to it, the body moves to its left.
    """
    alpha, omega, gravity, sink = radians(alpha_deg), radians(rate_dps), 9.80665, 12.0
    theta, mass = alpha - radians(90.0), mass_row(1.0, np.eye(3))

    def left_over(radius):
        x = spinning(alpha, omega, (sink * -sin(theta), -radius * omega, sink * np.cos(theta)))
        out = rates_of(x, mass, gravity, force=(0.0, 0.0, -gravity / sin(alpha)))
        return float(np.sum(out[X_VEL : X_VEL + 3] ** 2))

    best = minimize_scalar(left_over, bounds=(0.0, 10.0), options={"xatol": 1e-9}, method="bounded")
    assert left_over(best.x) < (1e-3 * gravity) ** 2
    return best.x


def mode_rows():
    where = (
        "Ex. 4 and 5, recomputed; printed -2.51 ± j2.59, -0.0171 ± j0.213, -8.435, -0.487 ± j2.335"
    )
    expected = (
        ("short period", -2.5086, 2.5915), ("phugoid", -0.01710, 0.21288),
        ("roll", -8.431, None), ("Dutch roll", -0.4867, 2.3467),
    )  # fmt: skip
    for name, real, imaginary in expected:
        yield from each(SOURCE, where, [
            (f"Navion {name}: real part, 1/s", real, lambda name=name: modes()[name].real)
        ], relative(0.005), "from memory")  # fmt: skip
        if imaginary is not None:
            yield from each(SOURCE, where, [
                (f"Navion {name}: imaginary part, 1/s", imaginary,
                 lambda name=name: modes()[name].imaginary)
            ], relative(0.005), "from memory")  # fmt: skip
    yield from each(SOURCE, "recomputed; printed -0.00877: a small difference of large terms", [
        ("Navion spiral: real part, 1/s", -0.00819, lambda: modes()["spiral"].real)
    ], relative(0.10), "from memory")  # fmt: skip


def rows():
    yield from mode_rows()
    yield from each(SOURCE, "xNP/c = xcg/c - Cma/CLa", [
        ("Navion neutral point, % of chord", 44.88, lambda: neutral_point()[0]),
        ("Navion static margin, % of chord", 15.38, lambda: neutral_point()[1]),
    ], absolute(0.005), "computed")  # fmt: skip
    yield from each("closed_form", "2/3 (1 + t + t²)/(1 + t)", (
        (f"mean chord over root chord, taper {taper}", value, lambda taper=taper: mean_chord(taper))
        for taper, value in ((0.5, 0.777778), (0.3, 0.712821))
    ), absolute(5e-7), "computed")  # fmt: skip
    where = "Cnb cos a - (Izz/Ixx) Clb sin a, per rad"
    yield from each("raymer", "eq. 16.65-16.66 on Nelson's derivatives: " + where, (
        (f"Navion Cnb,dyn at {a}°, 1/rad", value, lambda a=a: navion_criteria(a)[0])
        for a, value in ((0, 0.071), (10, 0.113204), (20, 0.151969), (30, 0.186116))
    ), absolute(5e-7), "computed")  # fmt: skip
    yield from each("raymer", "eq. 16.65: Cnb - Clb Cnda/Clda, per rad", [
        ("Navion LCDP, 1/rad", 0.072933, lambda: navion_criteria(0)[1]),
    ], absolute(5e-7), "computed")  # fmt: skip
    yield from each("closed_form", "(Iz - Ix) Om² sin(2a)/2, axis vertical, wings level", [
        ("Navion spinning at 45°, 150 °/s: inertial pitching moment, ft lb", 8505.7, spin_moment),
    ], absolute(0.05), "computed")  # fmt: skip
    yield from each("closed_form", "R = g cot a/Om², force normal to the wing", (
        (f"spin at {a}°, {rate} °/s: radius, m", radius,
         lambda a=a, rate=rate: spin_radius(a, rate))
        for a, rate, radius in ((40, 145, 1.825), (60, 208, 0.430), (45, 120, 2.236))
    ), absolute(6e-4), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize("alpha_deg", [10.0, 20.0, 30.0])
def test_lcdp_does_not_know_the_angle(alpha_deg):
    assert navion_criteria(alpha_deg)[1] == pytest.approx(0.072933, abs=5e-7)


def test_the_axis_of_the_spin_is_the_vertical():
    omega, alpha = radians(150.0), radians(45.0)
    x = spinning(alpha, omega, (0.0, 0.0, 0.0))
    turning = ned_of_body(*x[X_QUAT : X_QUAT + 4], *x[X_RATE : X_RATE + 3])
    assert turning == pytest.approx((0.0, 0.0, omega), abs=1e-12)


def test_spin_radius_is_the_closed_form():
    assert spin_radius(45, 120) == pytest.approx(
        9.80665 / (tan(radians(45.0)) * radians(120.0) ** 2), abs=1e-6
    )
