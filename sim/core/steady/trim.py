"""Steady level flight, or a glide: six unknowns, six accelerations, by Newton's method.

Without a fan or propeller the place of the throttle holds the angle of descent [rad], so that
what flies level under power glides at the same speed without.
"""

from math import asin, atan, cos, sin, sqrt, tan

import numpy as np

from sim.core import kernel
from sim.core.layout import X_QUAT, X_RATE, X_SERVO, X_VEL
from sim.core.motion.derivative import derivative
from sim.core.motion.rates import RATES
from sim.core.motion.rotation import quaternion_of_euler
from sim.core.pilot.control import command_angle
from sim.core.steady.settle import settle_lags, settle_rotors

# unknowns
T_ALPHA, T_ELEVATOR, T_THROTTLE, T_AILERON, T_RUDDER, T_BANK, N_TRIM = range(7)
ROUNDS_FIRST = 80.0  # floats: see `settle_lags`
ROUNDS = 25.0
NEWTON = 30
DEAD_THROTTLE = 1e-3  # m/s2 per whole throttle; less than this does nothing
GUESSED_THRUST = 10.0  # m/s2 per whole throttle, to get out of where it does nothing
FOUND = 1e-3  # m/s2, 10 rad/s2; more than this is left where there is no such flight


@kernel(entry=False, passed_on=True)
def place_level(x, z, speed, model, inputs, work, rounds):
    """Put ``x`` into level flight at ``speed`` with the unknowns ``z``, lags settled.

    ``speed`` [m/s], angles [rad]. Level path: tan(theta) = tan(alpha) cos(phi) without
    sideslip, from memory. A path that descends by gamma, from that of the body's axes in it:
    sin(theta - theta of a level one) = -sin(gamma) / sqrt(cos(alpha)^2 + (sin(alpha) cos(phi))^2).
    """
    alpha = z[T_ALPHA]
    bank = z[T_BANK]
    theta = atan(tan(alpha) * cos(bank))
    if model.units.shape[0] == 0:
        across = sin(alpha) * cos(bank)
        theta -= asin(min(1.0, sin(z[T_THROTTLE]) / sqrt(cos(alpha) ** 2 + across**2)))
    x[X_VEL] = speed * cos(alpha)
    x[X_VEL + 1] = 0.0
    x[X_VEL + 2] = speed * sin(alpha)
    quaternion_of_euler(bank, theta, 0.0, x[X_QUAT : X_QUAT + 4])
    for i in range(3):
        x[X_RATE + i] = 0.0
    for i in range(model.servos.shape[0]):
        inputs.target[i] = command_angle(model.servos[i], z[T_ELEVATOR], z[T_AILERON], z[T_RUDDER])
        x[X_SERVO + i] = inputs.target[i]
    for i in range(model.units.shape[0]):
        inputs.duty[i] = z[T_THROTTLE]
    settle_rotors(x, model, inputs, work)
    settle_lags(x, model, inputs, work, rounds)


@kernel(passed_on=True)
def _residual(x, z, speed, model, inputs, work, rounds, out):
    """Fill ``out`` (6,) with the accelerations, and put ``x`` there.

    In m/s2 and 10 rad/s2. Own: the tenth brings both kinds to one size.
    """
    place_level(x, z, speed, model, inputs, work, rounds)
    derivative(x, model, inputs, work, RATES, work.k2)
    for i in range(3):
        out[i] = work.k2[X_VEL + i]
        out[3 + i] = work.k2[X_RATE + i] * 0.1


@kernel
def solve_linear(a, b):
    """Solve ``a @ y = b`` in place by elimination with row pivots; ``b`` becomes ``y``.

    Any units. Gauss, from memory.
    """
    n = b.size
    for k in range(n):
        pivot = k
        for i in range(k + 1, n):
            if abs(a[i, k]) > abs(a[pivot, k]):
                pivot = i
        if pivot != k:
            for j in range(n):
                keep = a[k, j]
                a[k, j] = a[pivot, j]
                a[pivot, j] = keep
            keep = b[k]
            b[k] = b[pivot]
            b[pivot] = keep
        head = a[k, k]
        if abs(head) < 1e-12:
            head = 1e-12
        for i in range(k + 1, n):
            factor = a[i, k] / head
            for j in range(k, n):
                a[i, j] -= factor * a[k, j]
            b[i] -= factor * b[k]
    for k in range(n - 1, -1, -1):
        for j in range(k + 1, n):
            b[k] -= a[k, j] * b[j]
        head = a[k, k]
        b[k] /= head if abs(head) > 1e-12 else 1e-12


@kernel(entry=False, passed_on=True)
def trim_level(x, z, speed, model, inputs, work):
    """Find level flight at ``speed`` [m/s], starting from the unknowns in ``z`` (6,).

    Returns
    -------
    float
        Largest remaining acceleration [m/s2, 10 rad/s2]; above 1e-3 it was not found
        (too slow, too little power, or out of throw).

    Own: Newton's method with bounded steps; where it finds nothing, once more from no angle of
    attack. From a guess near the stall its steps may go to and fro across the bend of the lift for
    ever; below it the lift is straight. What is not found then either stays as it was left first.
    """
    here = np.zeros(N_TRIM)
    there = np.zeros(N_TRIM)
    jacobian = np.zeros((N_TRIM, N_TRIM))
    guess, left = z.copy(), z.copy()
    remains = 0.0
    for attempt in range(3):  # the guess, none, and back to where the first one ended
        rounds = ROUNDS_FIRST
        for _ in range(NEWTON if attempt < 2 else 0):
            _residual(x, z, speed, model, inputs, work, rounds, here)
            remains = 0.0
            for i in range(N_TRIM):
                remains = max(remains, abs(here[i]))  # what is no number a flight notices
            if remains < 1e-7:
                break
            rounds = ROUNDS
            for k in range(N_TRIM):
                step = 1e-4
                keep = z[k]
                z[k] = keep + step
                _residual(x, z, speed, model, inputs, work, rounds, there)
                z[k] = keep
                for i in range(N_TRIM):
                    jacobian[i, k] = (there[i] - here[i]) / step
            if abs(jacobian[0, T_THROTTLE]) < DEAD_THROTTLE:
                # a propeller that windmills faster than the motor would turn it
                jacobian[0, T_THROTTLE] = GUESSED_THRUST
            solve_linear(jacobian, here)
            for k in range(N_TRIM):
                z[k] -= min(0.15, max(-0.15, here[k]))
            z[T_ALPHA] = min(0.6, max(-0.3, z[T_ALPHA]))
            z[T_THROTTLE] = min(1.0, max(0.0, z[T_THROTTLE]))
            for k in (T_ELEVATOR, T_AILERON, T_RUDDER):
                z[k] = min(1.0, max(-1.0, z[k]))
        _residual(x, z, speed, model, inputs, work, ROUNDS_FIRST, here)
        remains = 0.0
        for i in range(N_TRIM):
            remains = max(remains, abs(here[i]))
        if remains < FOUND:
            break
        if attempt == 0:
            for k in range(N_TRIM):
                left[k] = z[k]
                z[k] = 0.0
            z[T_THROTTLE] = guess[T_THROTTLE]
        else:
            for k in range(N_TRIM):
                z[k] = left[k]
    return remains
