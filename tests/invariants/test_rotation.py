"""Rotations: round trips, lengths, and the same as an independent library."""

from math import pi, radians

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from sim.core.motion.rotation import (
    body_of_ned,
    euler_of_quaternion,
    ned_of_body,
    normalise,
    quaternion_of_euler,
)

# pitch stops short of straight up, where roll and yaw are one angle
EULER = st.tuples(
    st.floats(-pi + 1e-6, pi - 1e-6),
    st.floats(radians(-89.0), radians(89.0)),
    st.floats(-pi + 1e-6, pi - 1e-6),
)
SPEED = st.floats(-100.0, 100.0)
VECTOR = st.tuples(SPEED, SPEED, SPEED)


def quaternion(angles):
    out = np.zeros(4)
    quaternion_of_euler(*angles, out)
    return out


def library(angles):
    """Return scipy's rotation, NED from body, of roll, pitch and yaw (3-2-1)."""
    return Rotation.from_euler("ZYX", angles[::-1])


@given(EULER)
def test_euler_round_trip(angles):
    assert euler_of_quaternion(*quaternion(angles)) == pytest.approx(angles, abs=1e-9)


@given(EULER)
def test_quaternions_are_unit_and_scipys(angles):
    q = quaternion(angles)
    assert np.linalg.norm(q) == pytest.approx(1.0, abs=1e-14)
    x, y, z, w = library(angles).as_quat()
    sign = np.sign(q @ [w, x, y, z])
    assert sign * q == pytest.approx([w, x, y, z], abs=1e-12)


@given(EULER, VECTOR)
def test_ned_of_body_is_scipys(angles, vector):
    found = ned_of_body(*quaternion(angles), *vector)
    assert found == pytest.approx(library(angles).apply(vector), abs=1e-11)


@given(EULER, VECTOR)
def test_frame_round_trip(angles, vector):
    q = quaternion(angles)
    assert body_of_ned(*q, *ned_of_body(*q, *vector)) == pytest.approx(vector, abs=1e-11)


@given(VECTOR, st.floats(-10.0, 10.0))
def test_normalise(vector, scalar):
    x = np.array([7.0, scalar, *vector, 7.0])
    size = np.linalg.norm(x[1:5])
    assume(size > 1e-6)
    direction = x[1:5] / size
    normalise(x, 1)
    assert x[1:5] == pytest.approx(direction, abs=1e-12)
    assert x[0] == x[5] == 7.0


def test_straight_up_is_no_trouble():
    # the arcsine's argument may leave -1..1 by rounding
    for pitch in (0.5 * pi, -0.5 * pi):
        _, theta, _ = euler_of_quaternion(*quaternion((0.0, pitch, 0.3)))
        assert theta == pytest.approx(pitch, abs=1e-7)
