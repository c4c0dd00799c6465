"""Steady loads at a given attitude to the air: wind-tunnel curves of the model."""

from math import cos, sin

import numpy as np

from sim.core import kernel
from sim.core.air.atmosphere import air_density
from sim.core.layout import (
    E_AIR,
    E_ELEVATION,
    E_WARMER,
    STICK_AILERON,
    STICK_ELEVATOR,
    STICK_RUDDER,
    STICK_THROTTLE,
    V_TORQUE,
    X_QUAT,
    X_RATE,
    X_SERVO,
    X_VEL,
)
from sim.core.loads.hinge import HM_MOMENT, HM_SLOPE, N_HINGE_MOMENT, hinge_moments
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import TARGETS
from sim.core.pilot.control import command_angle, held_angle
from sim.core.steady.settle import settle_lags, settle_rotors

HELD_ROUNDS, HELD_STEP, HELD_WITHIN = 40, 0.035, 1e-3  # numerical only; rad
ROUNDS = 200.0  # a float: see `settle_lags`


@kernel(passed_on=True)
def hang(x, model, inputs, work, speed, alpha, beta, p, q, r, throttle):
    """Put ``x`` at an attitude to the air with rates [rad/s], lags settled.

    Servos stand at ``inputs.target``; level axes, height as it is.

    ``speed`` [m/s], angles [rad]. The usual wind axes, [stevens2015], from memory.
    """
    x[X_QUAT] = 1.0
    for i in range(1, 4):
        x[X_QUAT + i] = 0.0
    x[X_VEL] = speed * cos(alpha) * cos(beta)
    x[X_VEL + 1] = speed * sin(beta)
    x[X_VEL + 2] = speed * sin(alpha) * cos(beta)
    x[X_RATE] = p
    x[X_RATE + 1] = q
    x[X_RATE + 2] = r
    for i in range(model.servos.shape[0]):
        x[X_SERVO + i] = inputs.target[i]
    for i in range(model.units.shape[0]):
        inputs.duty[i] = throttle
    settle_rotors(x, model, inputs, work)
    settle_lags(x, model, inputs, work, ROUNDS)


def place(x, model, inputs, work, speed, alpha, beta, p, q, r, sticks):
    """Put ``x`` at an attitude as `hang` does, servos where the sticks have them.

    ``sticks`` (4,) are elevator, aileron, rudder, throttle. For callers from Python.
    """
    for i in range(model.servos.shape[0]):
        inputs.target[i] = command_angle(
            model.servos[i], sticks[STICK_ELEVATOR], sticks[STICK_AILERON], sticks[STICK_RUDDER]
        )
    hang(x, model, inputs, work, speed, alpha, beta, p, q, r, sticks[STICK_THROTTLE])


def polar(model, speed, alphas, betas, rates, sticks):
    """Return the loads (n, 6) [N, N m] about the balance point, servos where the sticks are.

    Arguments as those of `held_polar`. By it, of servos that nothing holds back: one kernel
    to compile instead of two.
    """
    return held_polar(unheld(model), speed, alphas, betas, rates, sticks)


def held_polar(model, speed, alphas, betas, rates, sticks):
    """Return the loads (n, 6) [N, N m] about the balance point, body axes, power included.

    Servos go no further than they hold against the air; one without a stated torque stands where
    the sticks have it. The flow is separated at the start.

    ``sticks`` (n, 4) are elevator, aileron, rudder, throttle; the rest as of `loads_at`.
    """
    return loads_at(model, speed, alphas, betas, rates, sticks, np.zeros((0, 0)))


def swept(model, speed, alphas, betas, rates, deflections, throttle):
    """Return the loads (n, 6) [N, N m] about the model's origin, body axes, point by point.

    The flow is attached at the start and follows the points as a slow sweep does.

    ``deflections`` (n, c) [rad] are where each servo stands, ``throttle`` is that of every unit;
    the rest as of `loads_at`.
    """
    sticks = np.zeros((alphas.size, 4))
    sticks[:, STICK_THROTTLE] = throttle
    return loads_at(unheld(model), speed, alphas, betas, rates, sticks, deflections)


def unheld(model):
    """Return the model with servos that nothing holds back."""
    servos = model.servos.copy()
    servos[:, V_TORQUE] = 0.0
    return model._replace(servos=servos)


@kernel
def loads_at(model, speed, alphas, betas, rates, sticks, deflections):
    """Return the loads (n, 6) [N, N m] about the model's origin, body axes, power included.

    Parameters
    ----------
    speed : float
        Airspeed [m/s].
    alphas, betas : float array (n,)
        Angles [rad]; betas are sideslips.
    rates : float array (n, 3)
        p, q, r [rad/s].
    sticks : float array (n, 4)
        Elevator, aileron, rudder, throttle.
    deflections : float array (n, c), or (0, c)
        Where servos stand [rad], whatever the sticks, the flow attached at the start; or none.

    Own: `control.held_angle` at each point in small steps, until nothing moves.
    """
    n = alphas.size
    out = np.zeros((n, 6))
    work, inputs = scratch(model)
    x, hinge = np.zeros(work.k1.size), np.zeros((model.servos.shape[0], N_HINGE_MOMENT))
    rho = model.env[E_AIR] * air_density(0.0, model.env[E_ELEVATION], model.env[E_WARMER])
    turned = deflections.shape[0] > 0
    if turned:
        x[x.size - model.strips.shape[1] :] = 1.0
    for i in range(n):
        for j in range(model.servos.shape[0]):
            inputs.target[j] = deflections[i, j] if turned else _wished(model.servos[j], sticks[i])
        for _ in range(1 + HELD_ROUNDS):
            # lags start from the previous point: a slow sweep
            hang(
                x, model, inputs, work, speed, alphas[i], betas[i], rates[i, 0], rates[i, 1],
                rates[i, 2], sticks[i, STICK_THROTTLE],
            )  # fmt: skip
            derivative(x, model, inputs, work, TARGETS, work.k2)
            hinge_moments(
                rho, work.hinges, work.hinged, work.lanes, work.tables, model.servos, hinge
            )
            if not _let_go(model, inputs, x, sticks[i], hinge):
                break
        for j in range(6):
            out[i, j] = work.loads[j]
    return out


@kernel
def _wished(servo, sticks):
    """Return where the sticks have a servo [rad]."""
    return command_angle(servo, sticks[STICK_ELEVATOR], sticks[STICK_AILERON], sticks[STICK_RUDDER])


@kernel
def _let_go(model, inputs, x, sticks, hinge):
    """Put targets where the air leaves the servos; return whether one has to move.

    Angles in rad, moments in N m. Own: see `loads_at`.
    """
    moves = False
    for j in range(model.servos.shape[0]):
        servo = model.servos[j]
        if servo[V_TORQUE] > 0.0:
            wish = _wished(servo, sticks)
            moment, slope = hinge[j, HM_MOMENT], hinge[j, HM_SLOPE]
            move = held_angle(wish, x[X_SERVO + j], moment, slope, servo) - x[X_SERVO + j]
            inputs.target[j] += min(HELD_STEP, max(-HELD_STEP, move))
            moves = moves or abs(move) > HELD_WITHIN
    return moves
