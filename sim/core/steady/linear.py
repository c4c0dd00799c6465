"""Accelerations about a steady state, lags settled: what the mode matrices are made of."""

import numpy as np

from sim.core import kernel
from sim.core.layout import X_QUAT, X_RATE, X_SERVO, X_VEL
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import RATES
from sim.core.motion.rotation import euler_of_quaternion, quaternion_of_euler
from sim.core.steady.settle import settle_lags
from sim.core.steady.trim import N_TRIM, T_ALPHA, T_THROTTLE, place_level, trim_level

ROUNDS = 200.0  # a float: see `settle_lags`


@kernel
def trimmed_state(model, speed):
    """Return (state, unknowns (6,), remaining acceleration) of level flight at ``speed``.

    ``speed`` [m/s]; sticks -1..1, angles in rad, the rest in m/s2. Own: the first guess only
    begins Newton's method.
    """
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT] = 1.0
    for i in range(x.size - model.strips.shape[1], x.size):
        x[i] = 1.0
    z = np.zeros(N_TRIM)
    z[T_ALPHA] = 0.1
    z[T_THROTTLE] = 0.5
    error = trim_level(x, z, speed, model, inputs, work)
    return x, z, error


@kernel
def accelerations(model, base, z, speed, deltas):
    """Return u, v, w, p, q, r rates (n, 6) at states near a trimmed one.

    Parameters
    ----------
    base : float array
        Trimmed state.
    z : float array (6,)
        Its unknowns (sticks and throttle), held.
    deltas : float array (n, 8)
        Changes of u, v, w, p, q, r [m/s, rad/s] and of bank and pitch [rad].
    """
    work, inputs = scratch(model)
    x = base.copy()
    place_level(x, z, speed, model, inputs, work, ROUNDS)
    phi, theta, psi = euler_of_quaternion(x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3])
    keep = x.copy()
    out = np.zeros((deltas.shape[0], 6))
    for i in range(deltas.shape[0]):
        for j in range(x.size):
            x[j] = keep[j]
        for j in range(3):
            x[X_VEL + j] += deltas[i, j]
            x[X_RATE + j] += deltas[i, 3 + j]
        quaternion_of_euler(phi + deltas[i, 6], theta + deltas[i, 7], psi, x[X_QUAT : X_QUAT + 4])
        settle_lags(x, model, inputs, work, ROUNDS)
        derivative(x, model, inputs, work, RATES, work.k2)
        for j in range(3):
            out[i, j] = work.k2[X_VEL + j]
            out[i, 3 + j] = work.k2[X_RATE + j]
    return out


@kernel
def servo_angles(model, x):
    """Return the servo positions (c,) of a state [rad]."""
    return x[X_SERVO : X_SERVO + model.servos.shape[0]].copy()
