"""Many flights: draw, trim, fly, summarise, one after the other, without the GIL.

Several recoveries from one entry fly that entry once, and each goes on from its end.
"""

from math import atan2, cos, sqrt
from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.flights.flight import fly
from sim.core.flights.fork import FORK_TICK, copied, new_fork
from sim.core.flights.perturb import perturbed
from sim.core.flights.summary import summarise
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
from sim.core.script_layout import (
    N_HISTORY,
    N_SUMMARY,
    PH_REACTION,
    PH_STAGE,
    R_STATUS,
    R_TRIM_ERROR,
    STAGE_ENTRY,
    STATUS_NO_TRIM,
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


class Start(NamedTuple):
    """How flights begin: airspeed over the stall speed, height [m] and bank [rad].

    The height above the field sets the air's density. Bank is to the right for side +1; pi
    starts inverted.
    """

    speed_ratio: float
    height_m: float
    bank: float


@kernel(entry=False, passed_on=True)
def begin(model, work, inputs, speed, height, bank, x):
    """Put ``x`` into trimmed level flight at ``speed``, then at a bank angle [rad].

    The trims found are left in the model's pilot array. Returns the trim's remaining
    acceleration.

    ``speed`` [m/s], ``height`` [m], trim's error [m/s2]. Own: the first guess of angle [rad]
    and throttle only begins Newton's method.
    """
    z = np.zeros(N_TRIM)
    z[T_ALPHA] = 0.1
    z[T_THROTTLE] = 0.5
    for i in range(x.size):
        x[i] = 0.0
    x[X_POS + 2] = -height
    x[X_QUAT] = 1.0
    for i in range(model.strips.shape[1]):
        x[x.size - 1 - i] = 1.0
    error = trim_level(x, z, speed, model, inputs, work)
    model.pilot[P_TRIM_ELEVATOR] = z[T_ELEVATOR]
    model.pilot[P_TRIM_AILERON] = z[T_AILERON]
    model.pilot[P_TRIM_RUDDER] = z[T_RUDDER]
    # a glider's is its angle of descent
    model.pilot[P_TRIM_THROTTLE] = z[T_THROTTLE] if model.units.shape[0] > 0 else 0.0
    if bank != 0.0:
        roll_to(x, z[T_BANK] + bank)
    return error


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
def started(model, roles, draw, side, start):
    """Draw one aeroplane and trim it; return (model, work, inputs, state, trim's error [m/s2]).

    Arguments as those of `one_flight`.

    Own: the wind is added to the trimmed state, so that the airspeed is what was trimmed.
    """
    new = perturbed(model, roles, draw)
    work, inputs = scratch(new)
    x = np.zeros(work.k1.size)
    speed = start.speed_ratio * new.env[E_STALL_SPEED]
    error = begin(new, work, inputs, speed, start.height_m, start.bank * side, x)
    inputs.wind[0] = new.env[E_WIND_N]
    inputs.wind[1] = new.env[E_WIND_E]
    inputs.wind[2] = new.env[E_WIND_D]
    q = x[X_QUAT : X_QUAT + 4]
    du, dv, dw = body_of_ned(q[0], q[1], q[2], q[3], inputs.wind[0], inputs.wind[1], inputs.wind[2])
    x[X_VEL] += du
    x[X_VEL + 1] += dv
    x[X_VEL + 2] += dw
    return new, work, inputs, x, error


@kernel(entry=False, passed_on=True)
def conclude(history, rows, pace, model, judge, status, error, out):
    """Fill the summary ``out`` (N_SUMMARY,) of a flight from its history; ``error`` [m/s2].

    Own: a start too far from steady is no start, flight.toml.
    """
    summarise(history, rows, 1.0 / pace.control_rate_hz, model.env, judge, status, out)
    out[R_TRIM_ERROR] = error
    if not error < pace.trim_good_mps2:
        out[R_STATUS] = STATUS_NO_TRIM


@kernel
def one_flight(model, roles, draw, side, phases, judge, start, pace, history, out):
    """Fly one draw; fill ``history`` and the summary ``out``; return rows written.

    Parameters
    ----------
    roles : int array (m,)
        ROLE_WING, ROLE_TAIL or ROLE_FIN of each surface.
    draw : float array (N_DRAW,)
        Offsets in physical units.
    side : float
        +1 to the right, -1 to the left.
    phases : float array (n, N_PHASE)
    judge : float array (N_JUDGE,)
    start : Start
    pace : Pace
    history : float array (rows, N_HISTORY)
    out : float array (N_SUMMARY,)
    """
    new, work, inputs, x, error = started(model, roles, draw, side, start)
    fork = new_fork(x.size, inputs.target.size)
    rows, status = fly(x, new, inputs, work, phases, judge, side, pace, history, fork)
    conclude(history, rows, pace, new, judge, status, error, out)
    return rows


@kernel(entry=False)
def handed_over_alike(one, two):
    """Return True if two tables of phases hand over to the recovery at the same moment.

    The entry phases are the same; the first recovery phase may wait for a reaction.
    """
    k = 0
    while int(one[k, PH_STAGE]) <= STAGE_ENTRY:
        k += 1
    return one[k, PH_REACTION] == two[k, PH_REACTION]


@kernel
def many_flights(model, roles, draws, sides, which, phases, ends, seconds, judge, start, pace):
    """Fly draw ``which[i]`` to side ``sides[i]`` for each i, with each of some recoveries.

    Parameters
    ----------
    phases : float array (k, n, N_PHASE)
        Table of phases of each recovery, all after the same entry; ``ends`` (k,) says how
        many rows of each count.
    seconds : float array (k,)
        How long a flight with each recovery may last.
    judge, start, pace
        As those of `one_flight`.

    Returns
    -------
    float array (k, which.size, N_SUMMARY)

    Sides +1 right, -1 left; times in s. Own: a history holds as many ticks as the longest
    recovery may last.
    """
    n, recoveries = which.size, ends.size
    out = np.zeros((recoveries, n, N_SUMMARY))
    longest = 0.0
    for k in range(recoveries):
        longest = max(longest, seconds[k])
    history = np.zeros((int(longest * pace.control_rate_hz) + 1, N_HISTORY))
    for i in range(n):
        new, work, inputs, x, error = started(model, roles, draws[which[i]], sides[i], start)
        begun, target, wind = x.copy(), inputs.target.copy(), inputs.wind.copy()
        fork = new_fork(x.size, inputs.target.size)
        of = 0  # the recovery that the fork was kept by
        for k in range(recoveries):
            table = phases[k, : ends[k]]
            most = int(seconds[k] * pace.control_rate_hz) + 1
            if not (fork.clock[FORK_TICK] < most and handed_over_alike(phases[of], table)):
                fork = new_fork(x.size, inputs.target.size)
            if fork.clock[FORK_TICK] < 0.0:
                of = k
                copied(begun, x)
                copied(target, inputs.target)
                copied(wind, inputs.wind)
            rows, status = fly(
                x, new, inputs, work, table, judge, sides[i], pace, history[:most], fork
            )
            conclude(history, rows, pace, new, judge, status, error, out[k, i])
    return out
