"""Equations of motion of a rigid body over a flat, still Earth.

Source: B. L. Stevens, F. L. Lewis, E. N. Johnson, *Aircraft Control and Simulation*
[stevens2015], table 1.7 (flat-Earth, body-axes 6-DOF equations).
"""

from sim.core import kernel
from sim.core.layout import M_INERTIA, M_INVERSE, M_MASS, X_POS, X_QUAT, X_RATE, X_VEL
from sim.core.motion.rotation import body_of_ned, ned_of_body

STANDARD_GRAVITY = 9.80665  # m/s2, third General Conference on Weights and Measures, 1901


@kernel(inlined=True)
def motion(x, mass, gravity, fx, fy, fz, mx, my, mz, hx, hy, hz, out):
    """Fill the first thirteen rates of ``out`` from force, moment and rotor momentum.

    Parameters
    ----------
    x : float array
        State vector: position NED [m], velocity body [m/s], quaternion, rates [rad/s].
    mass : float array (N_MASS,)
        Mass [kg], inertia about the balance point and its inverse, row by row.
    fx, fy, fz, mx, my, mz : float
        Force [N] and moment [N m] without weight, body axes.
    hx, hy, hz : float
        Angular momentum of the rotors relative to the body [N m s].

    ``gravity`` [m/s2]; fills rates in m/s, m/s2, 1/s, rad/s2. Source: [stevens2015] table 1.7;
    own: the rotors' momentum is added to the body's, the full inertia tensor is used.
    """
    u, v, w = x[X_VEL], x[X_VEL + 1], x[X_VEL + 2]
    q0, q1, q2, q3 = x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3]
    p, q, r = x[X_RATE], x[X_RATE + 1], x[X_RATE + 2]
    out[X_POS], out[X_POS + 1], out[X_POS + 2] = ned_of_body(q0, q1, q2, q3, u, v, w)
    gx, gy, gz = body_of_ned(q0, q1, q2, q3, 0.0, 0.0, gravity)
    inverse_mass = 1.0 / mass[M_MASS]
    out[X_VEL] = fx * inverse_mass + gx - (q * w - r * v)
    out[X_VEL + 1] = fy * inverse_mass + gy - (r * u - p * w)
    out[X_VEL + 2] = fz * inverse_mass + gz - (p * v - q * u)
    out[X_QUAT] = 0.5 * (-q1 * p - q2 * q - q3 * r)
    out[X_QUAT + 1] = 0.5 * (q0 * p + q2 * r - q3 * q)
    out[X_QUAT + 2] = 0.5 * (q0 * q - q1 * r + q3 * p)
    out[X_QUAT + 3] = 0.5 * (q0 * r + q1 * q - q2 * p)
    k = M_INERTIA
    jx = mass[k] * p + mass[k + 1] * q + mass[k + 2] * r + hx
    jy = mass[k + 3] * p + mass[k + 4] * q + mass[k + 5] * r + hy
    jz = mass[k + 6] * p + mass[k + 7] * q + mass[k + 8] * r + hz
    tx = mx - (q * jz - r * jy)
    ty = my - (r * jx - p * jz)
    tz = mz - (p * jy - q * jx)
    k = M_INVERSE
    out[X_RATE] = mass[k] * tx + mass[k + 1] * ty + mass[k + 2] * tz
    out[X_RATE + 1] = mass[k + 3] * tx + mass[k + 4] * ty + mass[k + 5] * tz
    out[X_RATE + 2] = mass[k + 6] * tx + mass[k + 7] * ty + mass[k + 8] * tz
