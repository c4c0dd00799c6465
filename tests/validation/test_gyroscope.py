"""Gyroscopes and coordinated turns through the equations of motion, against closed forms."""

from math import atan, cos, sin

import numpy as np
import pytest

from sim.core.layout import X_QUAT, X_RATE, X_SERVO, X_VEL
from sim.core.loads.thrust import (
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
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import scratch
from tests.conftest import bare_model
from tests.validation.rigid import mass_row, rates_of, state
from tests.validation.rows import Row, absolute, cases, check

SOURCE = "closed_form"


def pitch_of_a_yawing_fan(way):
    """Return the pitch acceleration of a body with a spinning fan that yaws to the right.

    A rotor that turns clockwise seen from behind has its momentum forward, so yaw to the
    right pushes the nose down. The products p r and p q of the body itself vanish.
    """
    unit = np.zeros((1, N_UNIT_COLS))
    unit[0, U_AXIS_X] = 1.0
    unit[0, [U_DUCT_AREA, U_NOZZLE_AREA, U_TIP_RADIUS, U_EFFICIENCY]] = 1e-3, 1e-3, 0.04, 1.0
    unit[0, [U_PSI_ZERO, U_PSI_SLOPE]] = 0.4, -0.7
    unit[0, [U_MOTOR_CONSTANT, U_CONDUCTANCE, U_SWEEP_TIME]] = 1.0, 1.0, 1.0
    unit[0, U_ROTOR_INERTIA] = 4e-5
    unit[0, U_ROTATION] = way
    model = bare_model(2.0, np.diag([0.02, 0.05, 0.06]), units=unit)
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT] = 1.0
    x[X_RATE + 2] = 2.0
    x[X_SERVO] = 3500.0  # rad/s; no servos, so the rotor comes first
    out = np.zeros(x.size)
    derivative(x, model, inputs, work, False, out)
    assert out[[X_RATE, X_RATE + 2]] == pytest.approx([0.0, 0.0], abs=1e-12)
    return out[X_RATE + 1]


def rows():
    for way, name in ((1.0, "clockwise"), (-1.0, "anticlockwise")):
        yield Row(
            SOURCE, "qdot = -h r/Iyy", f"fan turning {name}, yaw 2 rad/s: qdot, rad/s²",
            -way * 4e-5 * 3500.0 * 2.0 / 0.05, lambda way=way: pitch_of_a_yawing_fan(way),
            absolute(1e-12), "computed",
        )  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_a_steady_moment_makes_a_gyroscope_precess():
    # a moment M across a spinning rotor h turns it at M/h, with no acceleration; in aircraft
    # axes h along x adds (0, -h r, +h q) to the moments
    h, moment = 3.0, 0.6
    mass = mass_row(1.0, np.diag([0.02, 0.03, 0.04]))
    x = state((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, moment / h))
    still = rates_of(x, mass, 0.0, moment=(0.0, moment, 0.0), rotor=h)
    assert still[X_RATE : X_RATE + 3] == pytest.approx([0.0, 0.0, 0.0], abs=1e-13)
    x = state((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, moment / h, 0.0))
    still = rates_of(x, mass, 0.0, moment=(0.0, 0.0, -moment), rotor=h)
    assert still[X_RATE : X_RATE + 3] == pytest.approx([0.0, 0.0, 0.0], abs=1e-13)


def test_coordinated_turn_at_no_angle_of_attack():
    # tan phi = psidot V/g: level, no side force, lift mg/cos phi along -z
    speed, rate, gravity, mass = 20.0, 1.2, 9.80665, 2.4
    phi = atan(rate * speed / gravity)
    x = state((phi, 0.0, 0.3), (speed, 0.0, 0.0), (0.0, rate * sin(phi), rate * cos(phi)))
    properties = mass_row(mass, np.diag([0.1, 0.2, 0.25]))
    out = rates_of(x, properties, gravity, force=(0.0, 0.0, -mass * gravity / cos(phi)))
    assert out[:3] == pytest.approx([speed * cos(0.3), speed * sin(0.3), 0.0], abs=1e-12)
    assert out[X_VEL : X_VEL + 3] == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)
