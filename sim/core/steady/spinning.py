"""A steady spin for kernels: controls held, the state put where its unknowns say, and flown on.

Unknowns are those of `sim.spin.equilibrium`: velocity, direction of gravity, turn rate, then the
states ``inner`` (rotors and lags), last a moment from outside, which does not act here.
"""

from math import asin, atan2, sqrt
from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    G_HOLD_LIMIT,
    G_ON,
    STICK_THROTTLE,
    X_POS,
    X_QUAT,
    X_RATE,
    X_SERVO,
    X_VEL,
)
from sim.core.loads.hinge import hinge_moments
from sim.core.motion.derivative import derivative, rates_beside
from sim.core.motion.march import march
from sim.core.motion.rates import RATES, TARGETS
from sim.core.motion.rotation import quaternion_of_euler
from sim.core.pilot.control import (
    DELAY_SLOTS,
    GM_HELD,
    GM_LINE,
    GM_RATE,
    GM_SLOT,
    gyro_angles,
    servo_targets,
)

N_RIGID = 7  # velocity (3), direction of gravity (3), turn rate; what follows is ``inner``
NO_TARGET = 1e9  # rad; so far off that a servo's dead band does not hold it


class Controls(NamedTuple):
    """Controls held, with scratch.

    Sticks (4,), trims and expos (3,) [-]; ``added`` (3,) [rad] and ``memory`` (N_GYRO_MEMORY,) of
    the gyro, ``hinge`` (c, N_HINGE_MOMENT) and ``off`` (c,) [rad] of the servos; the air's
    density [kg/m3]; a control tick [s].
    """

    sticks: np.ndarray
    trims: np.ndarray
    expos: np.ndarray
    added: np.ndarray
    memory: np.ndarray
    hinge: np.ndarray
    off: np.ndarray
    density: float
    tick: float


@kernel(entry=False)
def _gyro(x, model, controls):
    """Fill ``controls.added`` [rad] with what the gyro gives in steady rotation, its delay past.

    Own: its hold mode at its limit, on the side of the rotation.
    """
    memory, limit = controls.memory, model.gyro[G_HOLD_LIMIT]
    for i in range(3):
        rate = x[X_RATE + i]
        memory[GM_RATE + i] = rate
        memory[GM_HELD + i] = limit * np.sign(rate)
        for slot in range(DELAY_SLOTS):
            memory[GM_LINE + 3 * slot + i] = rate
    memory[GM_SLOT] = DELAY_SLOTS
    gyro_angles(
        model.gyro, memory, x[X_RATE], x[X_RATE + 1], x[X_RATE + 2], controls.sticks,
        controls.tick, controls.added,
    )  # fmt: skip


@kernel(entry=False)
def _ask(x, model, inputs, controls):
    """Set duties [-] and servo targets [rad] from sticks, gyro and the moments on servos.

    By the kernel's own functions.
    """
    for i in range(inputs.duty.shape[0]):
        inputs.duty[i] = controls.sticks[STICK_THROTTLE]
    if model.gyro[G_ON] > 0.0:
        _gyro(x, model, controls)
    for i in range(inputs.target.shape[0]):
        inputs.target[i] = NO_TARGET
    servo_targets(
        model.servos, controls.sticks, controls.trims, controls.expos, controls.added,
        controls.hinge, inputs.target, controls.off,
    )  # fmt: skip


@kernel
def command(x, model, inputs, work, controls):
    """Set duties [-] and servo targets [rad] to what controls and air make of the state ``x``.

    Own: the air's moments on the servos are those of the last evaluation, as in a flight.
    """
    hinge_moments(
        controls.density, work.hinges, work.hinged, work.lanes, work.tables, model.servos,
        controls.hinge,
    )  # fmt: skip
    _ask(x, model, inputs, controls)


@kernel(entry=False)
def _put_motion(x, model, inputs, controls, velocity, down, rates):
    """Put velocity [m/s], direction of gravity (3,) and rates [rad/s] (3,) in body axes.

    Pitch and bank from gravity, [stevens2015] (from memory), heading nought; sets servo
    targets, no moment on them.
    """
    for i in range(3):
        x[X_VEL + i] = velocity[i]
        x[X_RATE + i] = rates[i]
    size = sqrt(down[0] * down[0] + down[1] * down[1] + down[2] * down[2])
    pitch = asin(min(1.0, max(-1.0, -down[0] / size)))
    quaternion_of_euler(atan2(down[1], down[2]), pitch, 0.0, x[X_QUAT : X_QUAT + 4])
    duties = X_SERVO + model.servos.shape[0] + model.units.shape[0]
    for i in range(model.units.shape[0]):
        x[duties + i] = controls.sticks[STICK_THROTTLE]
    controls.hinge[:] = 0.0
    _ask(x, model, inputs, controls)


@kernel(entry=False)
def _servos_at_target(x, inputs):
    """Put the servos [rad] where they are asked to be."""
    for i in range(inputs.target.shape[0]):
        x[X_SERVO + i] = inputs.target[i]


@kernel(entry=False, passed_on=True)
def _put(x, model, inputs, work, controls, inner, z):
    """Put the state ``x`` [SI] where the unknowns ``z`` say, servos where controls and air have it.

    A steady spin turns about the vertical, [etkin1996] (from memory): rates are turn times
    down.

    Parameters
    ----------
    inner : int array (n,)
        Entries of ``x`` that are unknowns themselves.
    z : float array (N_RIGID + n + 1,)
    """
    down = z[3:6] / sqrt(z[3] * z[3] + z[4] * z[4] + z[5] * z[5])
    _put_motion(x, model, inputs, controls, z[:3], down, z[6] * down)
    for i in range(inner.shape[0]):
        x[inner[i]] = z[N_RIGID + i]
    _servos_at_target(x, inputs)
    if work.hinged.shape[0] > 0:
        derivative(x, model, inputs, work, TARGETS, work.k2)
        command(x, model, inputs, work, controls)
        _servos_at_target(x, inputs)


@kernel
def rates_near(x, model, inputs, work, controls, inner, z, steps, out):
    """Fill ``out`` with the rates at ``z``, then with one unknown after the other moved by a step.

    Lags as target minus state. The state is that of ``z`` afterwards. By definition of a forward
    difference.

    Parameters
    ----------
    z : float array (n,)
        Unknowns as of `_put`.
    steps : float array (n,), or (0,)
        Each in its unknown's unit; none where only the rates at ``z`` are wanted.
    out : float array (n + 1, state_size), or (1, state_size)
    """
    moved = z.copy()
    for i in range(0 if steps.shape[0] > 0 else N_RIGID, N_RIGID + 1):
        if i < N_RIGID:
            moved[i] = z[i] + steps[i]
        _put(x, model, inputs, work, controls, inner, moved)
        derivative(x, model, inputs, work, TARGETS, out[(1 + i) % (1 + N_RIGID)])
        moved[i] = z[i]
    if steps.shape[0] > 0:
        m = inner.shape[0]
        first = 1 + N_RIGID
        rates_beside(
            x, model, inputs, work, inner, steps[N_RIGID : N_RIGID + m], out[first : first + m]
        )
        out[first + m] = out[0]  # the moment from outside does not act in the kernel


@kernel(entry=False, passed_on=True)
def _rates_of(x, model, inputs, work, controls, inner, states, out):
    """Fill ``out`` (state_size,) with the rates of ``states`` (n,) as of `rates_about`, in SI.

    Own: servos' targets as the air at those states leaves them.
    """
    _put_motion(x, model, inputs, controls, states[:3], states[3:6], states[6:9])
    n_servo = model.servos.shape[0]
    for i in range(n_servo):
        x[X_SERVO + i] = states[9 + i]
    for i in range(inner.shape[0]):
        x[inner[i]] = states[9 + n_servo + i]
    for again in range(2 if work.hinged.shape[0] > 0 else 1):
        if again:
            command(x, model, inputs, work, controls)
        derivative(x, model, inputs, work, RATES, out)


@kernel
def rates_about(x, model, inputs, work, controls, inner, states, steps, ahead, behind):
    """Fill two arrays with rates: one state after the other moved by a step ahead, and behind.

    By definition of a central difference.

    Parameters
    ----------
    states, steps : float array (n,)
        Velocity, direction of gravity and rates in body axes, servos, ``inner``; SI.
    ahead, behind : float array (n, state_size)
    """
    moved = states.copy()
    for i in range(states.shape[0]):
        for side in (1.0, -1.0):
            moved[i] = states[i] + side * steps[i]
            out = ahead[i] if side > 0.0 else behind[i]
            _rates_of(x, model, inputs, work, controls, inner, moved, out)
        moved[i] = states[i]


@kernel
def fall(x, model, inputs, work, controls, ticks, steps, out):
    """Fly on from ``x`` with the controls held; fill ``out`` with the last states.

    Own: the height, and so the air's density, stays what it is.

    Parameters
    ----------
    ticks, steps : int
        Control ticks flown, and Runge-Kutta steps in each.
    out : float array (n, state_size)
        After each of the last n ticks.
    """
    down = x[X_POS + 2]
    before = ticks - out.shape[0]
    for tick in range(ticks):
        command(x, model, inputs, work, controls)
        march(x, model, inputs, work, controls.tick / steps, steps)
        x[X_POS + 2] = down
        if tick >= before:
            out[tick - before] = x
