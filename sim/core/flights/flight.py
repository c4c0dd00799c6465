"""One flight: trim, then ticks of look, decide, move, and two integrator steps or more."""

from math import asin, atan2, sqrt

import numpy as np

from sim.core import kernel
from sim.core.air.atmosphere import air_density
from sim.core.air.wind import air_motion, begin_turbulence
from sim.core.flights.fork import F_TICK, keep, take_up
from sim.core.flights.hanging import follow
from sim.core.layout import (
    E_AIR,
    E_ELEVATION,
    E_WARMER,
    M_MASS,
    P_EXPO_A,
    P_EXPO_E,
    P_EXPO_R,
    P_TRIM_AILERON,
    P_TRIM_ELEVATOR,
    P_TRIM_RUDDER,
    X_POS,
    X_QUAT,
    X_RATE,
    X_SERVO,
    X_VEL,
)
from sim.core.motion.derivative import offsets
from sim.core.motion.march import march
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.motion.rotation import body_of_ned, euler_of_quaternion, ned_of_body
from sim.core.pilot.control import DELAY_SLOTS, dynamic_pressure, gyro_angles, servo_targets
from sim.core.pilot.pilot import look, move_sticks
from sim.core.pilot.script import advance, enter
from sim.core.script_layout import (
    H_AILERON,
    H_ALPHA,
    H_BETA,
    H_CLIMB,
    H_CURRENT,
    H_E,
    H_ELEVATOR,
    H_LOAD,
    H_N,
    H_P,
    H_PATH,
    H_PHASE,
    H_PHI,
    H_PSI,
    H_Q,
    H_R,
    H_ROTATION,
    H_ROTOR,
    H_RUDDER,
    H_SERVO,
    H_SPEED,
    H_STAGE,
    H_T,
    H_THETA,
    H_THROTTLE,
    H_U,
    H_UP,
    H_V,
    H_W,
    H_YAW,
    J_HANG_FOR,
    J_STALL_MARGIN,
    J_YAW,
    N_MEMORY,
    N_WATCH,
    PH_STAGE,
    Q_ELEVATOR,
    Q_ERECT,
    Q_HANGS,
    Q_PHASE,
    Q_SIDE,
    Q_SPIN,
    Q_THROTTLE,
    STAGE_ENTRY,
    STATUS_BROKEN,
    STATUS_DEPTH,
    STATUS_DONE,
    STATUS_NAN,
    STATUS_TIME,
)


@kernel
def _record(row, t, x, wind, loads, power, mass, units, servos, memory, stage, o_rotor):
    """Fill one history row from the state; needs the ``loads`` of this state."""
    q0, q1, q2, q3 = x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3]
    wu, wv, ww = body_of_ned(q0, q1, q2, q3, wind[0], wind[1], wind[2])
    u = x[X_VEL] - wu
    v = x[X_VEL + 1] - wv
    w = x[X_VEL + 2] - ww
    speed = sqrt(u * u + v * v + w * w) + 1e-9
    row[H_T] = t
    row[H_N] = x[X_POS]
    row[H_E] = x[X_POS + 1]
    row[H_UP] = -x[X_POS + 2]
    row[H_PHI], row[H_THETA], row[H_PSI] = euler_of_quaternion(q0, q1, q2, q3)
    row[H_U] = u
    row[H_V] = v
    row[H_W] = w
    row[H_P] = x[X_RATE]
    row[H_Q] = x[X_RATE + 1]
    row[H_R] = x[X_RATE + 2]
    row[H_ALPHA] = atan2(w, u)
    row[H_BETA] = asin(min(1.0, max(-1.0, v / speed)))
    row[H_SPEED] = speed
    vn, ve, vd = ned_of_body(q0, q1, q2, q3, x[X_VEL], x[X_VEL + 1], x[X_VEL + 2])
    ground = sqrt(vn * vn + ve * ve + vd * vd) + 1e-9
    row[H_PATH] = asin(min(1.0, max(-1.0, -vd / ground)))
    row[H_CLIMB] = -vd
    row[H_LOAD] = -loads[2] / (mass[M_MASS] * STANDARD_GRAVITY)
    _, _, row[H_YAW] = ned_of_body(q0, q1, q2, q3, x[X_RATE], x[X_RATE + 1], x[X_RATE + 2])
    row[H_ROTATION] = (x[X_RATE] * u + x[X_RATE + 1] * v + x[X_RATE + 2] * w) / speed
    row[H_ELEVATOR] = memory[Q_ELEVATOR]
    row[H_AILERON] = memory[Q_ELEVATOR + 1]
    row[H_RUDDER] = memory[Q_ELEVATOR + 2]
    row[H_THROTTLE] = memory[Q_THROTTLE]
    row[H_PHASE] = memory[Q_PHASE]
    row[H_STAGE] = stage
    row[H_ROTOR] = x[o_rotor] if units.shape[0] > 0 else 0.0
    row[H_CURRENT] = power[9]
    for i in range(min(8, servos.shape[0])):
        row[H_SERVO + i] = x[X_SERVO + i]


FINEST = 8  # a step is never cut into more parts
COARSEST = 2  # nor are more than so many made into one
EASY = 0.03  # this share of the roughness asked, and the next tick tries steps twice as long


@kernel(entry=False)
def fly(x, model, inputs, work, phases, judge, side, throttle, dt, ticks_per_second, most_drop,
        rough_rps, smooth_rps, history, fork):  # fmt: skip
    """Fly the phases from the state ``x``; return (rows written, status).

    A tick is flown in ``parts`` equal steps, half as many as ``dt`` asks for to ``FINEST``
    times as many.

    Parameters
    ----------
    x : float array
        Trimmed state; changed in place.
    phases : float array (n, N_PHASE)
        Entry, recovery and pull-out phases, in order.
    judge : float array (N_JUDGE,)
        Thresholds; two are used here, for a pull-out that departs again.
    side : float
        +1 to the right, -1 to the left.
    throttle : float
        Throttle stick at the start.
    dt : float
        Integrator step [s]; a control tick holds a whole number of them.
    most_drop : float
        Height [m] after which the flight ends as lost.
    rough_rps : float
        A tick whose roughest step is rougher than this [rad/s] (see `march.march`) is flown
        again with steps of half the size, down to ``dt / FINEST``; the next ticks begin
        with what the last one needed. At the break of the flow dalpha/dt moves the
        separation and that dalpha/dt: up to 700 1/s, which steps of 5 ms cannot follow.
    smooth_rps : float
        A tick is flown in steps of ``COARSEST`` times ``dt`` where even those are no
        rougher than this [rad/s].
    history : float array (rows, N_HISTORY)
        One row a tick; its length bounds the flight.
    fork : Fork
        Filled as the recovery begins. One that is filled already is gone on from: its tick
        and those before it must stand in ``history``; ``x`` and the inputs are not looked at.
    """
    tick = 1.0 / ticks_per_second
    steps = max(1, int(tick / dt + 0.5))
    o_rotor, _, _, _, _ = offsets(model)
    servos, units, env, mass = model.servos, model.units, model.env, model.mass
    gyro, pilot = model.gyro, model.pilot
    target, demand, wind = inputs.target, inputs.duty, inputs.wind
    loads, power = work.loads, work.power
    before = work.k2
    least, parts = max(1, steps // COARSEST), steps
    memory = np.zeros(N_MEMORY)
    gyro_memory = np.zeros(7 + 3 * DELAY_SLOTS)
    wind_memory = np.zeros(5)
    added = np.zeros(3)
    watch = np.zeros(N_WATCH)
    trims = np.array([pilot[P_TRIM_ELEVATOR], pilot[P_TRIM_AILERON], pilot[P_TRIM_RUDDER]])
    expos = np.array([pilot[P_EXPO_E], pilot[P_EXPO_A], pilot[P_EXPO_R]])
    goes_on = fork.clock[F_TICK] >= 0.0
    if goes_on:
        first, parts, highest = take_up(fork, x, memory, gyro_memory, wind_memory, target)
    else:
        first, highest = 0, -x[X_POS + 2]
        memory[Q_SIDE] = side
        memory[Q_SPIN] = side
        memory[Q_ERECT] = 1.0
        memory[Q_THROTTLE] = throttle
        enter(memory, 0)
    begin_turbulence(env, first)
    for n in range(first, history.shape[0]):
        t = n * tick
        row = history[n]
        if n > first or not goes_on:
            stage = phases[int(memory[Q_PHASE]), PH_STAGE]
            if n == 0:
                loads[2] = -mass[M_MASS] * STANDARD_GRAVITY
            _record(row, t, x, wind, loads, power, mass, units, servos, memory, stage, o_rotor)
            if not (abs(row[H_ALPHA]) < 4.0 and row[H_SPEED] < 400.0 and abs(row[H_P]) < 300.0):
                finite = row[H_SPEED] == row[H_SPEED] and row[H_P] == row[H_P]
                return n + 1, STATUS_BROKEN if finite else STATUS_NAN
            if highest - row[H_UP] > most_drop:
                return n + 1, STATUS_DEPTH
            q0, q1, q2, q3 = x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3]
            _, gy, gz = body_of_ned(q0, q1, q2, q3, 0.0, 0.0, 1.0)
            look(pilot, memory, row[H_ALPHA], gy, gz, row[H_PATH], row[H_LOAD], row[H_R], tick)
            hung = follow(
                watch, stage < STAGE_ENTRY, row[H_ALPHA], row[H_YAW], row[H_PATH],
                memory[Q_ELEVATOR], env, judge, tick,
            )  # fmt: skip
            memory[Q_HANGS] = 1.0 if hung >= judge[J_HANG_FOR] else 0.0
            rotation = sqrt(row[H_P] ** 2 + row[H_Q] ** 2 + row[H_R] ** 2)
            if advance(
                phases, env, pilot, judge[J_STALL_MARGIN], judge[J_YAW], memory, row[H_ALPHA],
                row[H_R], row[H_YAW], rotation, atan2(gy, gz), row[H_THETA], row[H_SPEED],
                row[H_PATH], tick,
            ):  # fmt: skip
                return n + 1, STATUS_DONE
            if fork.clock[F_TICK] < 0.0 and phases[int(memory[Q_PHASE]), PH_STAGE] > STAGE_ENTRY:
                keep(fork, x, memory, gyro_memory, wind_memory, target, n, parts, highest)
        phase = phases[int(memory[Q_PHASE])]
        move_sticks(pilot, memory, phase, row[H_P], row[H_Q], row[H_SPEED], tick)
        sticks = memory[Q_ELEVATOR : Q_ELEVATOR + 4]
        gyro_angles(gyro, gyro_memory, row[H_P], row[H_Q], row[H_R], sticks, tick, added)
        rho = env[E_AIR] * air_density(row[H_UP], env[E_ELEVATION], env[E_WARMER])
        pressure = dynamic_pressure(rho, row[H_U], row[H_V], row[H_W])
        servo_targets(servos, sticks, trims, expos, added, pressure, target)
        for i in range(units.shape[0]):
            demand[i] = memory[Q_THROTTLE]
        air_motion(env, wind_memory, t, tick, row[H_SPEED], row[H_UP], wind)
        for i in range(x.size):
            before[i] = x[i]
        rougher = True
        while rougher:
            rough = march(x, model, inputs, work, tick / parts, parts)
            most = rough_rps if parts >= steps else smooth_rps
            rougher = rough > most and parts < FINEST * steps
            if rougher:
                parts *= 2
                for i in range(x.size):
                    x[i] = before[i]
        if rough < EASY * (rough_rps if parts > steps else smooth_rps):
            parts = max(least, parts // 2)
    return history.shape[0], STATUS_TIME
