"""Quaternions (w, x, y, z) from body to NED, and Euler angles."""

from math import asin, atan2, cos, pi, sin, sqrt

from sim.core import kernel


@kernel
def wrapped(angle):
    """Return an angle [rad] folded into -pi..pi.

    Own: rounding to whole turns.
    """
    return angle - 2.0 * pi * round(angle / (2.0 * pi))


@kernel
def quaternion_of_euler(phi, theta, psi, out):
    """Fill ``out`` (4,) with the quaternion of roll, pitch, yaw [rad].

    Source: [stevens2015] eq. 1.8-20 (the usual 3-2-1 sequence).
    """
    cr = cos(0.5 * phi)
    sr = sin(0.5 * phi)
    cp = cos(0.5 * theta)
    sp = sin(0.5 * theta)
    cy = cos(0.5 * psi)
    sy = sin(0.5 * psi)
    out[0] = cr * cp * cy + sr * sp * sy
    out[1] = sr * cp * cy - cr * sp * sy
    out[2] = cr * sp * cy + sr * cp * sy
    out[3] = cr * cp * sy - sr * sp * cy


@kernel
def euler_of_quaternion(q0, q1, q2, q3):
    """Return roll, pitch, yaw [rad] of a unit quaternion, 3-2-1 sequence.

    Inverse of [stevens2015] eq. 1.8-20, from memory.
    """
    phi = atan2(2.0 * (q2 * q3 + q0 * q1), q0 * q0 - q1 * q1 - q2 * q2 + q3 * q3)
    theta = asin(min(1.0, max(-1.0, 2.0 * (q0 * q2 - q1 * q3))))
    psi = atan2(2.0 * (q1 * q2 + q0 * q3), q0 * q0 + q1 * q1 - q2 * q2 - q3 * q3)
    return phi, theta, psi


@kernel
def ned_of_body(q0, q1, q2, q3, a, b, c):
    """Return a body vector's NED components.

    Any unit, kept. The rotation matrix of a quaternion, from memory.
    """
    n = (
        (q0 * q0 + q1 * q1 - q2 * q2 - q3 * q3) * a
        + 2.0 * (q1 * q2 - q0 * q3) * b
        + 2.0 * (q1 * q3 + q0 * q2) * c
    )
    e = (
        2.0 * (q1 * q2 + q0 * q3) * a
        + (q0 * q0 - q1 * q1 + q2 * q2 - q3 * q3) * b
        + 2.0 * (q2 * q3 - q0 * q1) * c
    )
    d = (
        2.0 * (q1 * q3 - q0 * q2) * a
        + 2.0 * (q2 * q3 + q0 * q1) * b
        + (q0 * q0 - q1 * q1 - q2 * q2 + q3 * q3) * c
    )
    return n, e, d


@kernel
def body_of_ned(q0, q1, q2, q3, n, e, d):
    """Return a NED vector's body components.

    Any unit, kept.
    """
    return ned_of_body(q0, -q1, -q2, -q3, n, e, d)


@kernel
def normalise(x, i):
    """Scale the quaternion at ``x[i:i+4]`` to unit length.

    Without unit. Own: keeps rounding from building up.
    """
    k = 1.0 / sqrt(x[i] * x[i] + x[i + 1] * x[i + 1] + x[i + 2] * x[i + 2] + x[i + 3] * x[i + 3])
    for j in range(4):
        x[i + j] *= k
