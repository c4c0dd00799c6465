"""How a flight begins: one draw, trimmed in level flight at a multiple of its stall speed.

The stall speed is the nominal aeroplane's, unless the draw cannot fly level at that multiple.
"""

from math import atan2, cos, sqrt
from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.flights.perturb import perturbed
from sim.core.layout import (
    E_STALL_SPEED,
    E_WIND_D,
    E_WIND_E,
    E_WIND_N,
    P_TRIM_AILERON,
    P_TRIM_ELEVATOR,
    P_TRIM_RUDDER,
    P_TRIM_THROTTLE,
    X_POS,
    X_QUAT,
    X_VEL,
)
from sim.core.motion.integrate import scratch
from sim.core.motion.rotation import (
    body_of_ned,
    euler_of_quaternion,
    ned_of_body,
    quaternion_of_euler,
)
from sim.core.steady.trim import (
    N_TRIM,
    T_AILERON,
    T_ALPHA,
    T_BANK,
    T_ELEVATOR,
    T_RUDDER,
    T_THROTTLE,
    trim_level,
)

AS_ASKED, UP, DOWN, BELOW = range(4)  # at which speed level flight is looked for


class Start(NamedTuple):
    """How flights begin: airspeed over the stall speed, height [m] and bank [rad].

    The height above the field sets the air's density. Bank is to the right for side +1; pi
    starts inverted.
    """

    speed_ratio: float
    height_m: float
    bank: float


class Begun(NamedTuple):
    """How a flight began: what its trim left [m/s2], and by what it had to be faster.

    ``faster`` is the draw's own slowest level flight over the nominal stall speed, where no level
    flight was to be had at the multiple that was asked of that; 0 where it was. Below 0: it flies
    level only slower than asked, and began so many times the nominal stall speed.
    """

    error: float
    faster: float


@kernel(entry=False, passed_on=True)
def begin(model, work, inputs, start, pace, x):
    """Put ``x`` into trimmed level flight, not banked yet; return the unknowns and `Begun`.

    The stall speed in the model is set to the draw's own where it had to be.

    ``start`` and ``pace`` as those of `batch.many_flights`. Own: the first guess of angle [rad] and
    throttle only begins Newton's method. A draw whose elevator does not hold its nose up at that
    speed, or whose motor does not carry it, is an aeroplane with a faster slowest flight: who flies
    it enters by that one. It is looked for upwards, in steps; the start is the multiple asked of
    it, or as much of that as it flies level. Where none is found, its motor carries it only slower:
    it begins at the fastest that it does, above the nominal stall.
    """
    z = np.zeros(N_TRIM)
    asked = start.speed_ratio * model.env[E_STALL_SPEED]
    speed, most, slowest, error, at = asked, pace.start_most * asked, 0.0, 0.0, AS_ASKED
    while True:
        for k in range(N_TRIM):
            z[k] = 0.0
        z[T_ALPHA] = 0.1
        z[T_THROTTLE] = 0.5
        for i in range(x.size):
            x[i] = 0.0
        x[X_POS + 2] = -start.height_m
        x[X_QUAT] = 1.0
        for i in range(model.strips.shape[1]):
            x[x.size - 1 - i] = 1.0
        error = trim_level(x, z, speed, model, inputs, work)
        found = error < pace.trim_good_mps2
        if found and at == UP:
            slowest, at = speed, DOWN
            if start.speed_ratio <= 1.0:
                break
            speed *= start.speed_ratio
        elif found:
            break
        elif at == UP and speed * pace.start_step > most:
            at, speed = BELOW, asked / pace.start_step
        elif at == BELOW and speed / pace.start_step > model.env[E_STALL_SPEED]:
            speed /= pace.start_step
        elif at == BELOW:
            break
        elif at == DOWN and speed > slowest:
            speed = max(slowest, speed / pace.start_step)
        elif at == DOWN:
            break
        else:
            at = UP
            speed *= pace.start_step
    faster = 0.0
    if slowest > 0.0:
        faster = slowest / model.env[E_STALL_SPEED]
        model.env[E_STALL_SPEED] = slowest
    elif at == BELOW and error < pace.trim_good_mps2:
        faster = -speed / model.env[E_STALL_SPEED]
    return z, Begun(error, faster)


@kernel(entry=False)
def roll_to(x, bank):
    """Turn the aeroplane of ``x`` about its flight path to a bank angle [rad].

    The body velocity stays, so angle of attack and sideslip do.

    Own: six rounds of pitching the nose by what the path is off level, so that it turns about
    the path.
    """
    q = x[X_QUAT : X_QUAT + 4]
    _, theta, psi = euler_of_quaternion(q[0], q[1], q[2], q[3])
    quaternion_of_euler(bank, theta, psi, q)
    n, e, d = ned_of_body(q[0], q[1], q[2], q[3], x[X_VEL], x[X_VEL + 1], x[X_VEL + 2])
    size = sqrt(n * n + e * e)
    # bring the path back to level by pitching the nose in the vertical plane
    for _ in range(6):
        path = atan2(-d, size)
        theta -= path / max(0.2, abs(cos(bank))) if abs(cos(bank)) > 0.2 else path
        quaternion_of_euler(bank, theta, psi, q)
        n, e, d = ned_of_body(q[0], q[1], q[2], q[3], x[X_VEL], x[X_VEL + 1], x[X_VEL + 2])
        size = sqrt(n * n + e * e)


@kernel(entry=False, passed_on=True)
def started(model, roles, draw, side, start, pace):
    """Draw one aeroplane and trim it; return (model, work, inputs, state, `Begun`).

    The trims found are left in the model's pilot array. Arguments as those of `batch.many_flights`.

    Own: the wind is added to the trimmed state, so that the airspeed is what was trimmed.
    """
    new = perturbed(model, roles, draw)
    work, inputs = scratch(new)
    x = np.zeros(work.k1.size)
    z, begun = begin(new, work, inputs, start, pace, x)
    new.pilot[P_TRIM_ELEVATOR] = z[T_ELEVATOR]
    new.pilot[P_TRIM_AILERON] = z[T_AILERON]
    new.pilot[P_TRIM_RUDDER] = z[T_RUDDER]
    # a glider's is its angle of descent
    new.pilot[P_TRIM_THROTTLE] = z[T_THROTTLE] if new.units.shape[0] > 0 else 0.0
    bank = start.bank * side
    if bank != 0.0:
        roll_to(x, z[T_BANK] + bank)
    inputs.wind[0] = new.env[E_WIND_N]
    inputs.wind[1] = new.env[E_WIND_E]
    inputs.wind[2] = new.env[E_WIND_D]
    q = x[X_QUAT : X_QUAT + 4]
    du, dv, dw = body_of_ned(q[0], q[1], q[2], q[3], inputs.wind[0], inputs.wind[1], inputs.wind[2])
    x[X_VEL] += du
    x[X_VEL + 1] += dv
    x[X_VEL + 2] += dw
    return new, work, inputs, x, begun
