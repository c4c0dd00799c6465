"""Loads on a model that a tunnel's sting turns to and fro: the motion given, the flow free.

The rigid body's own equations are not asked, so neither weight nor inertia comes in.
"""

from math import cos, pi, sin

import numpy as np

from sim.core import kernel
from sim.core.layout import E_MOST_LAG, X_RATE, X_VEL
from sim.core.loads.separation import separation_rates
from sim.core.motion.derivative import derivative, offsets
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import RATES
from sim.core.steady.statics import hang


@kernel
def _moved(x, axis, start, angle, rate):
    """Put velocity and rates of ``x`` where the model has turned by ``angle`` [rad].

    The stream stands still and the model turns about ``axis`` (3,), a unit vector of body
    axes, through its origin: seen from the body the stream turns the other way.

    ``rate`` [rad/s], speeds [m/s]. Rodrigues' rotation, from memory.
    """
    c, s = cos(angle), sin(angle)
    dot = axis[0] * start[0] + axis[1] * start[1] + axis[2] * start[2]
    for i in range(3):
        j, k = (i + 1) % 3, (i + 2) % 3
        across = start[j] * axis[k] - start[k] * axis[j]
        x[X_VEL + i] = start[i] * c + across * s + axis[i] * dot * (1.0 - c)
        x[X_RATE + i] = axis[i] * rate


@kernel
def _flow_rates(x, model, inputs, work, axis, turning, out):
    """Fill ``out`` with the rates of the flow's lags under the given motion.

    ``turning`` is the angular acceleration about ``axis`` [rad/s2]. The loads of this
    moment are left in ``work.loads``.

    Speeds in m/s. Own: kinematics of a body that only turns.
    """
    derivative(x, model, inputs, work, RATES, out)
    for i in range(3):
        j, k = (i + 1) % 3, (i + 2) % 3
        out[X_VEL + i] = x[X_VEL + j] * x[X_RATE + k] - x[X_VEL + k] * x[X_RATE + j]
        out[X_RATE + i] = axis[i] * turning
    # again, as what separates answers to the accelerations: now to those of the sting
    _, _, o_induced, o_wash, o_x = offsets(model)
    separation_rates(
        x[X_VEL], x[X_VEL + 1], x[X_VEL + 2], x[X_RATE], x[X_RATE + 1], x[X_RATE + 2], 0.0, 0.0,
        0.0, model.env[E_MOST_LAG], work.spots, work.first_block, work.tables, model.surfaces,
        o_induced, o_wash, o_x, RATES, work.lanes, work.sums, out,
    )  # fmt: skip


@kernel
def oscillated(
    model, speed, alpha, beta, deflections, throttle, axis, amplitude, omega, steps, cycles, skipped
):
    """Return mean, in-phase and out-of-phase loads (3, 6) [N, N m] of a forced oscillation.

    The model turns by amplitude sin(omega t) about ``axis`` through its origin. Loads are
    mean + amplitude (in-phase sin + out-of-phase cos) + what is of other frequencies: the
    first Fourier coefficients over whole cycles, in N or N m per rad.

    Parameters
    ----------
    speed, alpha, beta : float
        Airspeed [m/s] and mean attitude [rad].
    deflections : float array (c,)
        Where each servo stands [rad].
    throttle : float
        Rotors stay as they are at the mean attitude.
    axis : float array (3,)
        Unit vector, body axes.
    amplitude, omega : float
        [rad], [rad/s].
    steps : int
        Runge-Kutta steps [hairer1993] a cycle.
    cycles, skipped : int
        How many are flown, and how many of these are not counted.
    """
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[x.size - model.strips.shape[1] :] = 1.0
    for j in range(model.servos.shape[0]):
        inputs.target[j] = deflections[j]
    hang(x, model, inputs, work, speed, alpha, beta, 0.0, 0.0, 0.0, throttle)
    start = x[X_VEL : X_VEL + 3].copy()
    _, _, o_induced, _, _ = offsets(model)
    slope, total, mid = work.k1, work.total, work.mid
    out = np.zeros((3, 6))
    dt = 2.0 * pi / (omega * steps)
    share = 1.0 / (steps * (cycles - skipped))
    for n in range(steps * cycles):
        for i in range(x.size):
            mid[i] = x[i]
            total[i] = 0.0
        for stage in range(4):
            later = 0.0 if stage == 0 else (dt if stage == 3 else 0.5 * dt)
            phase = 2.0 * pi * (n % steps) / steps + omega * later
            _moved(mid, axis, start, amplitude * sin(phase), amplitude * omega * cos(phase))
            turning = -amplitude * omega * omega * sin(phase)
            _flow_rates(mid, model, inputs, work, axis, turning, slope)
            if stage == 0 and n >= steps * skipped:
                for j in range(6):
                    out[0, j] += share * work.loads[j]
                    out[1, j] += 2.0 * share * work.loads[j] * sin(phase) / amplitude
                    out[2, j] += 2.0 * share * work.loads[j] * cos(phase) / amplitude
            weight = 1.0 if stage == 0 or stage == 3 else 2.0
            ahead = dt if stage == 2 else 0.5 * dt
            for i in range(o_induced, x.size):
                total[i] += weight * slope[i]
                mid[i] = x[i] + ahead * slope[i]
        for i in range(o_induced, x.size):
            x[i] += dt / 6.0 * total[i]
    return out
