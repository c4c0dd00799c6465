"""Gyroscopes, steady turns and a published right-hand side through the equations of motion."""

from math import atan, cos, degrees, radians, sin, sqrt, tan

import numpy as np
import pytest
from scipy.optimize import fsolve

from sim.core.derivative import derivative
from sim.core.flight import scratch
from sim.core.layout import N_MASS, X_QUAT, X_RATE, X_SERVO, X_VEL
from sim.core.perturb import invert_inertia
from sim.core.rigid_body import motion
from sim.core.rotation import euler_of_quaternion, ned_of_body, quaternion_of_euler
from sim.core.thrust import (
    N_UNIT_COLS,
    U_AXIS_X,
    U_CONDUCTANCE,
    U_DUCT_AREA,
    U_EFFICIENCY,
    U_MOTOR_CONSTANT,
    U_NOZZLE_AREA,
    U_PSI_SLOPE,
    U_PSI_ZERO,
    U_ROTATION,
    U_ROTOR_INERTIA,
    U_SWEEP_TIME,
    U_TIP_RADIUS,
)

N_RIGID = 13


def mass_of(mass, inertia):
    row = np.zeros(N_MASS)
    row[0] = mass
    row[1:10] = np.asarray(inertia, dtype=float).ravel()
    invert_inertia(row)
    return row


def state(attitude, velocity, rates):
    x = np.zeros(N_RIGID)
    quaternion_of_euler(*attitude, x[X_QUAT : X_QUAT + 4])
    x[X_VEL : X_VEL + 3] = velocity
    x[X_RATE : X_RATE + 3] = rates
    return x


def rates_of(x, mass, gravity, force=(0.0, 0.0, 0.0), moment=(0.0, 0.0, 0.0), rotor=0.0):
    out = np.zeros(N_RIGID)
    motion(x, mass, gravity, *force, *moment, rotor, 0.0, 0.0, out)
    return out


# ------------------------------------------------------------------------ gyroscope
def test_a_steady_moment_makes_a_gyroscope_precess():
    # closed form: a moment M across a spinning rotor h turns it at M/h, with no
    # acceleration; in aircraft axes h along x adds (0, -h r, +h q) to the moments
    h, moment = 3.0, 0.6
    mass = mass_of(1.0, np.diag([0.02, 0.03, 0.04]))
    x = state((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, moment / h))
    still = rates_of(x, mass, 0.0, moment=(0.0, moment, 0.0), rotor=h)
    assert still[X_RATE : X_RATE + 3] == pytest.approx([0.0, 0.0, 0.0], abs=1e-13)
    x = state((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, moment / h, 0.0))
    still = rates_of(x, mass, 0.0, moment=(0.0, 0.0, -moment), rotor=h)
    assert still[X_RATE : X_RATE + 3] == pytest.approx([0.0, 0.0, 0.0], abs=1e-13)


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_fan_turns_the_pitch_of_a_yawing_body(body, way):
    # the same through the whole kernel: a rotor that turns clockwise seen from behind has
    # its momentum forward, so yaw to the right pushes the nose down: qdot = -h r/Iyy.
    # The products p r and p q of the body itself vanish with p = 0.
    unit = np.zeros((1, N_UNIT_COLS))
    unit[0, U_AXIS_X] = 1.0
    unit[0, [U_DUCT_AREA, U_NOZZLE_AREA, U_TIP_RADIUS, U_EFFICIENCY]] = 1e-3, 1e-3, 0.04, 1.0
    unit[0, [U_PSI_ZERO, U_PSI_SLOPE]] = 0.4, -0.7
    unit[0, [U_MOTOR_CONSTANT, U_CONDUCTANCE, U_SWEEP_TIME]] = 1.0, 1.0, 1.0
    unit[0, U_ROTOR_INERTIA] = 4e-5
    unit[0, U_ROTATION] = way
    model = body(2.0, np.diag([0.02, 0.05, 0.06]), units=unit)
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT] = 1.0
    x[X_RATE + 2] = 2.0
    x[X_SERVO] = 3500.0  # rad/s; no servos, so the rotor comes first
    out = np.zeros(x.size)
    derivative(x, model, inputs, work, False, out)
    momentum = way * 4e-5 * 3500.0
    expected = [0.0, -momentum * 2.0 / 0.05, 0.0]
    assert out[X_RATE : X_RATE + 3] == pytest.approx(expected, abs=1e-12)


# ---------------------------------------------------------------------------- turns
def test_coordinated_turn_at_no_angle_of_attack():
    # tan phi = psidot V/g: level, no side force, lift mg/cos phi along -z
    speed, rate, gravity, mass = 20.0, 1.2, 9.80665, 2.4
    phi = atan(rate * speed / gravity)
    x = state((phi, 0.0, 0.3), (speed, 0.0, 0.0), (0.0, rate * sin(phi), rate * cos(phi)))
    properties = mass_of(mass, np.diag([0.1, 0.2, 0.25]))
    out = rates_of(x, properties, gravity, force=(0.0, 0.0, -mass * gravity / cos(phi)))
    assert out[:3] == pytest.approx([speed * cos(0.3), speed * sin(0.3), 0.0], abs=1e-12)
    assert out[X_VEL : X_VEL + 3] == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)


def turn(alpha, beta, speed, rate, gravity):
    """Return bank and pitch [rad] of a level turn without side force, by the kernel."""
    velocity = speed * np.array([cos(alpha) * cos(beta), sin(beta), sin(alpha) * cos(beta)])
    mass = mass_of(1.0, np.eye(3))

    def residual(unknown):
        phi, theta = unknown
        turning = (
            -rate * sin(theta), rate * sin(phi) * cos(theta), rate * cos(phi) * cos(theta)
        )  # fmt: skip
        out = rates_of(state((phi, theta, 0.0), velocity, turning), mass, gravity)
        return [out[X_VEL + 1], out[2]]

    return fsolve(residual, [1.3, 0.1], xtol=1e-13)


def test_textbook_turn_at_an_angle_of_attack():
    # B. L. Stevens, F. L. Lewis, Aircraft Control and Simulation, F-16 trim at 502 ft/s
    # turning at 0.3 rad/s: alpha .2485, beta 4.8e-4 -> phi 1.367, theta .05185 (from
    # memory, reproduced); phi = 78.306 deg, against 77.942 by tan phi = psidot V/g
    phi, theta = turn(0.2485, 4.8e-4, 502.0, 0.3, 32.17)
    assert phi == pytest.approx(1.3667, abs=1e-4)
    assert degrees(phi) == pytest.approx(78.306, abs=5e-3)
    assert theta == pytest.approx(0.05185, abs=1e-4)
    rates = (-0.3 * sin(theta), 0.3 * sin(phi) * cos(theta), 0.3 * cos(phi) * cos(theta))
    assert rates == pytest.approx((-0.0155, 0.2934, 0.06071), abs=6e-5)
    simple, _ = turn(0.0, 0.0, 502.0, 0.3, 32.17)
    assert degrees(simple) == pytest.approx(77.942, abs=5e-4)


# ------------------------------------------------------------------------- F-16 case
# B. L. Stevens, F. L. Lewis, Aircraft Control and Simulation, table 3.5-2 ("model test
# case"; from memory, reproduced): thirteen derivatives at one state, in slug, ft, s.
# Forces and moments are those of its coefficients: qbar 219.72451519 lb/ft2, S 300 ft2,
# CX .0424719081, CY .1826655009, CZ -1.6613130282, thrust 15912.06495 lb.
F16_PUSH = 219.72451519 * 300.0
F16_FORCE = (
    F16_PUSH * 0.0424719081 + 15912.06495, F16_PUSH * 0.1826655009, F16_PUSH * -1.6613130282
)  # fmt: skip
F16_MOMENT = (114613.615, 19914.4307, -2258.36769)
F16_INERTIA = [[9496.0, 0.0, -982.0], [0.0, 55814.0, 0.0], [-982.0, 0.0, 63100.0]]
F16_SPEED, F16_ALPHA, F16_BETA = 500.0, 0.5, -0.2


@pytest.fixture(scope="module")
def f16():
    """State and rates of the test case, with the exact inertias and 1/m = 1.57e-3."""
    velocity = F16_SPEED * np.array(
        [
            cos(F16_ALPHA) * cos(F16_BETA),
            sin(F16_BETA),
            sin(F16_ALPHA) * cos(F16_BETA),
        ]
    )
    x = state((-1.0, 1.0, -1.0), velocity, (0.7, -0.8, 0.9))
    mass = mass_of(1.0 / 1.57e-3, F16_INERTIA)
    return x, rates_of(x, mass, 32.17, F16_FORCE, F16_MOMENT, 160.0)


def test_f16_speed_and_angles(f16):
    x, out = f16
    u, v, w = x[X_VEL : X_VEL + 3]
    du, dv, dw = out[X_VEL : X_VEL + 3]
    speed_rate = (u * du + v * dv + w * dw) / F16_SPEED
    alpha_rate = (u * dw - w * du) / (u * u + w * w)
    beta_rate = (F16_SPEED * dv - v * speed_rate) / (F16_SPEED**2 * cos(F16_BETA))
    # printed to seven digits; expected to 3e-7
    assert speed_rate == pytest.approx(-75.23724, rel=3e-7)
    assert alpha_rate == pytest.approx(-0.8813491, rel=3e-7)
    assert beta_rate == pytest.approx(-0.4759990, rel=3e-7)


def test_f16_place_and_attitude(f16):
    x, out = f16
    assert out[:2] == pytest.approx([342.4439, -266.7707], rel=3e-7)
    assert -out[2] == pytest.approx(248.1241, rel=3e-7)
    q, dq = x[X_QUAT : X_QUAT + 4], out[X_QUAT : X_QUAT + 4]
    step = 1e-6
    ahead = np.array(euler_of_quaternion(*(q + step * dq)))
    behind = np.array(euler_of_quaternion(*(q - step * dq)))
    euler_rates = (ahead - behind) / (2.0 * step)
    assert euler_rates == pytest.approx([2.505734, 0.3250820, 2.145926], rel=3e-7)


def test_f16_rotation(f16):
    # with the exact inertias; the book's rounded constants C1..C9 differ by 2e-4
    _, out = f16
    assert out[X_RATE : X_RATE + 3] == pytest.approx([12.624271, 0.964905, 0.580916], abs=6e-7)


def test_spin_balance_closed_form():
    # checks 7.6 of any spin with wings level about a vertical axis: p = Om cos a,
    # r = Om sin a needs a pitching moment -(Iz - Ix) Om^2 sin(2a)/2; Navion inertias
    # (R. C. Nelson, app. B), 45 deg, 150 deg/s: 8505.7 ft lb of inertia, nose up
    mass = mass_of(1.0, np.diag([1048.0, 3000.0, 3530.0]))
    omega, alpha = radians(150.0), radians(45.0)
    x = state((0.0, alpha - radians(90.0), 0.0), (0.0, 0.0, 0.0),
              (omega * cos(alpha), 0.0, omega * sin(alpha)))  # fmt: skip
    out = rates_of(x, mass, 0.0)
    assert out[X_RATE + 1] * 3000.0 == pytest.approx(8505.7, abs=0.05)
    # and the axis of that rotation is the vertical
    turning = ned_of_body(*x[X_QUAT : X_QUAT + 4], *x[X_RATE : X_RATE + 3])
    assert turning == pytest.approx((0.0, 0.0, omega), abs=1e-12)


@pytest.mark.parametrize(
    ("alpha_deg", "rate_dps", "radius_m"), [(40, 145, 1.825), (60, 208, 0.430), (45, 120, 2.236)]
)
def test_spin_radius_closed_form(alpha_deg, rate_dps, radius_m):
    # R = g cot a/Om^2 for a force normal to the wing: with that force mg/sin a, the body
    # circles at R and sinks steadily, so its acceleration in the turning frame vanishes
    alpha, omega, gravity, sink = radians(alpha_deg), radians(rate_dps), 9.80665, 12.0
    circling = radius_m * omega
    theta = alpha - radians(90.0)
    x = state((0.0, theta, 0.0), (0.0, 0.0, 0.0),
              (omega * cos(alpha), 0.0, omega * sin(alpha)))  # fmt: skip
    # the axis lies ahead of the balance point: nose to it, the body moves to its left
    x[X_VEL : X_VEL + 3] = sink * -sin(theta), -circling, sink * cos(theta)
    out = rates_of(x, mass_of(1.0, np.eye(3)), gravity, force=(0.0, 0.0, -gravity / sin(alpha)))
    size = sqrt(float(np.sum(out[X_VEL : X_VEL + 3] ** 2)))
    assert gravity / (tan(alpha) * omega**2) == pytest.approx(radius_m, abs=6e-4)
    assert size < 1e-3 * gravity
