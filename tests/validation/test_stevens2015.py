"""The F-16 of B. L. Stevens, F. L. Lewis, *Aircraft Control and Simulation*.

Its model test case (thirteen derivatives at one state), a trimmed turn and its linear
models, all from memory and reproduced by an independent computation.
"""

from functools import lru_cache
from math import cos, degrees, sin

import numpy as np
import pytest
from scipy.optimize import fsolve

from sim.core.layout import X_QUAT, X_RATE, X_VEL
from sim.core.motion.rotation import euler_of_quaternion
from sim.trim.modes import lateral_modes, longitudinal_modes
from tests.validation.rigid import mass_row, rates_of, state
from tests.validation.rows import absolute, cases, check, each, relative

SOURCE = "stevens2015"
# In slug, ft, s. Forces and moments are those of its coefficients: qbar 219.72451519 lb/ft2,
# S 300 ft2, CX .0424719081, CY .1826655009, CZ -1.6613130282, thrust 15912.06495 lb.
PUSH = 219.72451519 * 300.0
FORCE = (PUSH * 0.0424719081 + 15912.06495, PUSH * 0.1826655009, PUSH * -1.6613130282)
MOMENT = (114613.615, 19914.4307, -2258.36769)
INERTIA = [[9496.0, 0.0, -982.0], [0.0, 55814.0, 0.0], [-982.0, 0.0, 63100.0]]
SPEED, ALPHA, BETA = 500.0, 0.5, -0.2
GRAVITY = 32.17

# printed to seven digits, reproduced to 3e-7
PRINTED = {
    "VT": -75.23724, "alpha": -0.8813491, "beta": -0.4759990,
    "phi": 2.505734, "theta": 0.3250820, "psi": 2.145926,
    "north": 342.4439, "east": -266.7707, "altitude": 248.1241,
}  # fmt: skip
# with the exact inertias; the book's rounded constants C1..C9 differ by 2e-4
ROTATION = {"p": 12.624271, "q": 0.964905, "r": 0.580916}

# (VT, alpha, theta, q) and (beta, phi, p, r) at its nominal trim
LONGITUDINAL = [
    [-1.9311e-2, 8.8157, -32.170, -0.57499],
    [-2.5389e-4, -1.0189, 0.0, 0.90506],
    [0.0, 0.0, 0.0, 1.0],
    [0.0, 0.82225, 0.0, -1.0774],
]
LATERAL = [
    [-0.3220, 0.0640, 0.0364, -0.9917],
    [0.0, 0.0, 1.0, 0.0369],
    [-30.6492, 0.0, -3.6784, 0.6646],
    [8.5396, 0.0, -0.0254, -0.4764],
]


def wind(alpha, beta, speed):
    """Return the body velocity of an airspeed and its angles."""
    return speed * np.array([cos(alpha) * cos(beta), sin(beta), sin(alpha) * cos(beta)])


@lru_cache
def found():
    """Return the thirteen derivatives of the test case by name, exact inertias, 1/m 1.57e-3."""
    x = state((-1.0, 1.0, -1.0), wind(ALPHA, BETA, SPEED), (0.7, -0.8, 0.9))
    out = rates_of(x, mass_row(1.0 / 1.57e-3, INERTIA), GRAVITY, FORCE, MOMENT, 160.0)
    u, v, w = x[X_VEL : X_VEL + 3]
    du, dv, dw = out[X_VEL : X_VEL + 3]
    speed_rate = (u * du + v * dv + w * dw) / SPEED
    q, dq = x[X_QUAT : X_QUAT + 4], out[X_QUAT : X_QUAT + 4]
    step = 1e-6
    ahead = np.array(euler_of_quaternion(*(q + step * dq)))
    behind = np.array(euler_of_quaternion(*(q - step * dq)))
    phi, theta, psi = (ahead - behind) / (2.0 * step)
    p, q_rate, r = out[X_RATE : X_RATE + 3]
    return {
        "VT": speed_rate,
        "alpha": (u * dw - w * du) / (u * u + w * w),
        "beta": (SPEED * dv - v * speed_rate) / (SPEED**2 * cos(BETA)),
        "phi": phi, "theta": theta, "psi": psi,
        "north": out[0], "east": out[1], "altitude": -out[2],
        "p": p, "q": q_rate, "r": r,
    }  # fmt: skip


@lru_cache
def turn(alpha, beta, speed, rate):
    """Return bank and pitch [rad] of a level turn without side force, by the kernel."""
    mass, velocity = mass_row(1.0, np.eye(3)), wind(alpha, beta, speed)

    def residual(unknown):
        phi, theta = unknown
        turning = turning_rates(rate, phi, theta)
        out = rates_of(state((phi, theta, 0.0), velocity, turning), mass, GRAVITY)
        return [out[X_VEL + 1], out[2]]

    return fsolve(residual, [1.3, 0.1], xtol=1e-13)


def turning_rates(rate, phi, theta):
    """Return p, q, r of a turn at a rate about the vertical."""
    return -rate * sin(theta), rate * sin(phi) * cos(theta), rate * cos(phi) * cos(theta)


@lru_cache
def roots():
    """Return the real roots (fast, slow) and the swing, long way; roll, spiral and swing."""
    long = longitudinal_modes(np.array(LONGITUDINAL))
    straight = sorted(m.real for m in long if m.period_s is None)
    swing = next(m for m in long if m.name == "longitudinal swing")
    across = {m.name: m for m in lateral_modes(np.array(LATERAL))}
    return {
        "longitudinal, fast root": straight[0],
        "longitudinal, unstable root": straight[1],
        "longitudinal swing, real part": swing.real,
        "longitudinal swing, imaginary part": swing.imaginary,
        "roll": across["roll"].real,
        "spiral": across["spiral"].real,
        "Dutch roll, real part": across["Dutch roll"].real,
        "Dutch roll, imaginary part": across["Dutch roll"].imaginary,
    }


def turn_rows():
    def textbook():
        return turn(0.2485, 4.8e-4, 502.0, 0.3)

    where = "trim at 502 ft/s turning at 0.3 rad/s, alpha .2485, beta 4.8e-4"
    yield from each(SOURCE, where, [
        ("F-16 level turn: bank, rad", 1.3667, lambda: textbook()[0]),
        ("F-16 level turn: pitch, rad", 0.05185, lambda: textbook()[1]),
    ], absolute(1e-4), "from memory")  # fmt: skip
    yield from each(SOURCE, where, (
        (f"F-16 level turn: {name}, rad/s", value,
         lambda i=i: turning_rates(0.3, *textbook())[i])
        for i, (name, value) in enumerate((("p", -0.0155), ("q", 0.2934), ("r", 0.06071)))
    ), absolute(6e-5), "from memory")  # fmt: skip
    yield from each(SOURCE, where, [
        ("F-16 level turn: bank, °", 78.306, lambda: degrees(textbook()[0])),
    ], absolute(5e-3), "computed")  # fmt: skip
    yield from each("closed_form", "tan phi = psidot V/g, no angle of attack", [
        ("the same turn at no angle of attack: bank, °", 77.942,
         lambda: degrees(turn(0.0, 0.0, 502.0, 0.3)[0])),
    ], absolute(5e-4), "computed")  # fmt: skip


def mode_rows():
    # the printed digits of the lateral matrix leave 5e-5 x 30.6/3.6 = 4e-4 open in its
    # fastest root
    where = "eigenvalues of the printed matrices by an independent script"
    expected = {
        "longitudinal, fast root": (-1.9118, 1e-4), "longitudinal, unstable root": (0.0976, 1e-4),
        "longitudinal swing, real part": (-0.1507, 1e-4),
        "longitudinal swing, imaginary part": (0.1153, 1e-4),
        "roll": (-3.6155, 5e-4), "spiral": (-0.0143, 1e-4),
        "Dutch roll, real part": (-0.4235, 5e-4), "Dutch roll, imaginary part": (3.0635, 5e-4),
    }  # fmt: skip
    for name, (value, size) in expected.items():
        yield from each(SOURCE, where, [
            (f"F-16 {name}, 1/s", value, lambda name=name: roots()[name])
        ], absolute(size), "computed")  # fmt: skip


def rows():
    yield from each(SOURCE, "table 3.5-2, model test case, reproduced", (
        (f"F-16 test case: rate of {name}", value, lambda name=name: found()[name])
        for name, value in PRINTED.items()
    ), relative(3e-7), "from memory")  # fmt: skip
    yield from each(SOURCE, "table 3.5-2 with the exact inertias", (
        (f"F-16 test case: rate of {name}", value, lambda name=name: found()[name])
        for name, value in ROTATION.items()
    ), absolute(6e-7), "computed")  # fmt: skip
    yield from turn_rows()
    yield from mode_rows()


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_an_unstable_aeroplane_has_no_phugoid():
    assert all("phugoid" not in m.name for m in longitudinal_modes(np.array(LONGITUDINAL)))
