"""One flight: trim, then ticks of look, decide, move, and two integrator steps or more."""

from math import atan2, sqrt
from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.air.atmosphere import air_density
from sim.core.air.wind import N_AIR_MEMORY, air_motion, begin_turbulence
from sim.core.flights.fork import FORK_TICK, keep, take_up
from sim.core.flights.hanging import follow
from sim.core.flights.row import record
from sim.core.layout import (
    E_AIR,
    E_ELEVATION,
    E_WARMER,
    L_FZ,
    M_MASS,
    N_STICKS,
    P_EXPO_A,
    P_EXPO_E,
    P_EXPO_R,
    P_TRIM_AILERON,
    P_TRIM_ELEVATOR,
    P_TRIM_RUDDER,
    P_TRIM_THROTTLE,
    X_POS,
    X_QUAT,
)
from sim.core.loads.hinge import HM_ASKED, N_HINGE_MOMENT, hinge_moments
from sim.core.loads.thrust import outermost
from sim.core.motion.derivative import offsets
from sim.core.motion.march import march
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.motion.rotation import body_of_ned
from sim.core.pilot.control import N_GYRO_MEMORY, gyro_angles, servo_targets
from sim.core.pilot.pilot import look, move_sticks
from sim.core.pilot.script import Seen, advance, enter
from sim.core.script_layout import (
    H_ALPHA,
    H_LOAD,
    H_OFF,
    H_P,
    H_PATH,
    H_Q,
    H_R,
    H_SPEED,
    H_T,
    H_THETA,
    H_TORQUE,
    H_UP,
    H_YAW,
    J_HANG_FOR,
    KEPT_SERVOS,
    N_MEMORY,
    N_WATCH,
    PH_STAGE,
    PH_STOP,
    Q_ELEVATOR,
    Q_ERECT,
    Q_HANGS,
    Q_PHASE,
    Q_SIDE,
    Q_SPIN,
    Q_STOPPED,
    Q_THROTTLE,
    STAGE_ENTRY,
    STATUS_BROKEN,
    STATUS_DEPTH,
    STATUS_DONE,
    STATUS_NAN,
    STATUS_TIME,
    STOP_SIDE,
)

# every so many ticks the air's moments on the servos are taken, at the last stage of a tick: each
# costs a fifth of an evaluation, and 20 ms are less than a servo's own lag
LOOKS_EVERY = 2
FLIES_ON = -1  # no STATUS yet
# beyond these the numbers tell of no flight any more; angles of attack end at pi
MOST_ALPHA, MOST_SPEED, MOST_ROLL_RATE = 4.0, 400.0, 300.0  # rad, m/s, rad/s


class Pace(NamedTuple):
    """How flights are stepped, and when they are given up (flight.toml).

    A control tick holds a whole number of steps of ``step_s``. A tick whose roughest step is
    rougher than ``rough_rps`` (see `march.march`) is flown again with steps of half the size,
    down to ``finest_parts`` parts of one step; the next ticks begin with what the last one
    needed, and go back to longer ones below ``easy_share`` of the roughness asked. At the break
    of the flow dalpha/dt moves the separation and that dalpha/dt: up to 700 1/s, which steps of
    5 ms cannot follow. A tick is flown in steps of ``coarsest_steps`` times the length where
    even those are no rougher than ``smooth_rps``. A flight ends as lost after ``most_drop_m``;
    ``trim_good_mps2`` is how far from steady its start may be. For a draw that does not
    fly level there, faster starts are looked at, in steps of ``start_step`` up to ``start_most``
    times as fast.
    """

    step_s: float
    control_rate_hz: float
    most_drop_m: float
    rough_rps: float
    smooth_rps: float
    finest_parts: int
    coarsest_steps: int
    easy_share: float
    trim_good_mps2: float
    start_step: float
    start_most: float


class Carried(NamedTuple):
    """What a flight carries from tick to tick beside its state and inputs.

    ``memory`` (N_MEMORY,) of the pilot, ``gyro`` and ``wind`` of their filters, ``watch``
    (N_WATCH,) for a deep stall, ``added`` (3,) by the gyro about x, y, z [rad], ``hinge``
    (c, N_HINGE_MOMENT) the air's moments on the servos as the last tick left them, ``off`` (c,) how
    far it holds them off the wish [rad], ``trims`` and ``expos`` (3,) by STICK index.
    """

    memory: np.ndarray
    gyro: np.ndarray
    wind: np.ndarray
    watch: np.ndarray
    added: np.ndarray
    hinge: np.ndarray
    off: np.ndarray
    trims: np.ndarray
    expos: np.ndarray


@kernel(inlined=True)
def _carried(pilot, side, servos):
    """Return what a flight to a side carries at its start, throttle as trimmed."""
    memory = np.zeros(N_MEMORY)
    memory[Q_SIDE] = side
    memory[Q_SPIN] = side
    memory[Q_ERECT] = 1.0
    memory[Q_THROTTLE] = pilot[P_TRIM_THROTTLE]
    enter(memory, 0)
    return Carried(
        memory=memory,
        gyro=np.zeros(N_GYRO_MEMORY),
        wind=np.zeros(N_AIR_MEMORY),
        watch=np.zeros(N_WATCH),
        added=np.zeros(3),
        hinge=np.zeros((servos, N_HINGE_MOMENT)),
        off=np.zeros(servos),
        trims=np.array([pilot[P_TRIM_ELEVATOR], pilot[P_TRIM_AILERON], pilot[P_TRIM_RUDDER]]),
        expos=np.array([pilot[P_EXPO_E], pilot[P_EXPO_A], pilot[P_EXPO_R]]),
    )


@kernel(inlined=True, borrowing=True)
def _given_up(row, highest, most_drop):
    """Return the STATUS of a flight that is broken or too low [m], else FLIES_ON."""
    tells = abs(row[H_ALPHA]) < MOST_ALPHA and row[H_SPEED] < MOST_SPEED
    if not (tells and abs(row[H_P]) < MOST_ROLL_RATE):
        finite = row[H_SPEED] == row[H_SPEED] and row[H_P] == row[H_P]
        return STATUS_BROKEN if finite else STATUS_NAN
    return STATUS_DEPTH if highest - row[H_UP] > most_drop else FLIES_ON


@kernel(inlined=True, borrowing=True)
def _decide(row, x, stage, phases, model, judge, carried, tick):
    """Let the pilot look at a history row, and the script go on by one tick [s].

    Returns True when the script has ended.

    Own: the order of look, watch and script; units as in the history row, rad, rad/s, m/s.
    """
    memory, env = carried.memory, model.env
    q0, q1, q2, q3 = x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3]
    _, gy, gz = body_of_ned(q0, q1, q2, q3, 0.0, 0.0, 1.0)
    look(model.pilot, memory, row[H_ALPHA], gy, gz, row[H_PATH], row[H_LOAD], row[H_R], tick)
    hung = follow(
        carried.watch, stage < STAGE_ENTRY, row[H_ALPHA], row[H_YAW], row[H_PATH],
        memory[Q_ELEVATOR], env, judge, tick,
    )  # fmt: skip
    memory[Q_HANGS] = 1.0 if hung >= judge[J_HANG_FOR] else 0.0
    seen = Seen(
        alpha=row[H_ALPHA],
        yaw_body=row[H_R],
        yaw=row[H_YAW],
        rotation=sqrt(row[H_P] ** 2 + row[H_Q] ** 2 + row[H_R] ** 2),
        bank=atan2(gy, gz),
        pitch=row[H_THETA],
        speed=row[H_SPEED],
        path=row[H_PATH],
        rolling=row[H_P],
        pitching=row[H_Q],
    )
    return advance(phases, env, model.pilot, judge, memory, seen, tick)


@kernel(inlined=True, borrowing=True)
def _move(row, phase, model, inputs, carried, tick):
    """Put the inputs of one tick [s] from what the pilot and the gyro make of a history row.

    Own: the order of sticks, gyro, servos, air; angles in rad. The air's moments on the servos are
    those that `fly` took last: up to LOOKS_EVERY ticks late, none in the first.
    """
    memory, env = carried.memory, model.env
    move_sticks(model.pilot, memory, phase, row[H_P], row[H_Q], row[H_SPEED], tick)
    sticks = memory[Q_ELEVATOR : Q_ELEVATOR + N_STICKS]
    gyro_angles(model.gyro, carried.gyro, row[H_P], row[H_Q], row[H_R], sticks, tick, carried.added)
    servo_targets(
        model.servos, sticks, carried.trims, carried.expos, carried.added, carried.hinge,
        inputs.target, carried.off,
    )  # fmt: skip
    for i in range(min(KEPT_SERVOS, carried.off.size)):
        row[H_TORQUE + i] = carried.hinge[i, HM_ASKED]
        row[H_OFF + i] = carried.off[i]
    for i in range(model.units.shape[0]):
        inputs.duty[i] = memory[Q_THROTTLE]
    if phase[PH_STOP] != 0.0:
        memory[Q_STOPPED] = memory[Q_SIDE] if phase[PH_STOP] == STOP_SIDE else phase[PH_STOP]
    if memory[Q_STOPPED] != 0.0:
        i = outermost(model.units, memory[Q_STOPPED])
        if i >= 0:
            inputs.duty[i] = 0.0
    air_motion(env, carried.wind, row[H_T], tick, row[H_SPEED], row[H_UP], inputs.wind)


@kernel(inlined=True, borrowing=True)
def _fly_tick(x, model, inputs, work, tick, parts, pace):
    """Fly one tick [s] in ``parts`` equal steps or more; return in how many to try the next.

    Roughness in rad/s. Own: halving and doubling of the step, see `Pace`.
    """
    steps = max(1, int(tick / pace.step_s + 0.5))
    before = work.k2
    for i in range(x.size):
        before[i] = x[i]
    rough = 0.0
    rougher = True
    while rougher:
        rough = march(x, model, inputs, work, tick / parts, parts)
        most = pace.rough_rps if parts >= steps else pace.smooth_rps
        rougher = rough > most and parts < pace.finest_parts * steps
        if rougher:
            parts *= 2
            for i in range(x.size):
                x[i] = before[i]
    if rough < pace.easy_share * (pace.rough_rps if parts > steps else pace.smooth_rps):
        parts = max(max(1, steps // pace.coarsest_steps), parts // 2)
    return parts


@kernel(entry=False, passed_on=True)
def fly(x, model, inputs, work, phases, judge, side, pace, history, fork):
    """Fly the phases from the state ``x``; return (rows written, status).

    Parameters
    ----------
    x : float array
        Trimmed state; changed in place.
    phases : float array (n, N_PHASE)
        Entry, recovery and pull-out phases, in order.
    judge : float array (N_JUDGE,)
        Thresholds; those for a pull-out that departs again and for a deep stall are used.
    side : float
        +1 to the right, -1 to the left.
    pace : Pace
    history : float array (rows, N_HISTORY)
        One row a tick; its length bounds the flight.
    fork : Fork
        Filled as the recovery begins. One that is filled already is gone on from: its tick
        and those before it must stand in ``history``; ``x`` and the inputs are not looked at.

    Heights in m, ticks in 1/s. Own: by `_fly_on`, which makes no arrays.
    """
    tick = 1.0 / pace.control_rate_hz
    carried = _carried(model.pilot, side, model.servos.shape[0])
    first, parts, highest = 0, max(1, int(tick / pace.step_s + 0.5)), -x[X_POS + 2]
    goes_on = fork.clock[FORK_TICK] >= 0.0
    if goes_on:
        first, parts, highest = take_up(
            fork, x, carried.memory, carried.gyro, carried.wind, inputs.target, carried.hinge
        )
    return _fly_on(
        first, parts, highest, goes_on, x, model, inputs, work, phases, judge, pace, history, fork,
        carried,
    )  # fmt: skip


@kernel(passed_on=True, borrowing=True)
def _fly_on(
    first, parts, highest, goes_on, x, model, inputs, work, phases, judge, pace, history, fork,
    carried,
):  # fmt: skip
    """Fly the ticks from ``first`` on; return (rows written, status).

    ``parts`` of the first tick, ``highest`` [m] so far, ``goes_on`` where its row stands already;
    the rest as of `fly`.

    Ticks in 1/s. Own: a tick is look, decide, move, march.
    """
    tick = 1.0 / pace.control_rate_hz
    o_rotor, _, _, _, _ = offsets(model)
    memory, env = carried.memory, model.env
    begin_turbulence(env, first)
    for n in range(first, history.shape[0]):
        row = history[n]
        if n > first or not goes_on:
            stage = phases[int(memory[Q_PHASE]), PH_STAGE]
            if n == 0:
                work.loads[L_FZ] = -model.mass[M_MASS] * STANDARD_GRAVITY
            record(
                row, n * tick, x, inputs.wind, work.loads, work.power, model.mass, model.units,
                model.servos, memory, stage, o_rotor,
            )  # fmt: skip
            status = _given_up(row, highest, pace.most_drop_m)
            if status != FLIES_ON:
                return n + 1, status
            if _decide(row, x, stage, phases, model, judge, carried, tick):
                return n + 1, STATUS_DONE
            begins = phases[int(memory[Q_PHASE]), PH_STAGE] > STAGE_ENTRY
            if fork.clock[FORK_TICK] < 0.0 and begins:
                keep(
                    fork, x, memory, carried.gyro, carried.wind, inputs.target, carried.hinge, n,
                    parts, highest,
                )  # fmt: skip
        _move(row, phases[int(memory[Q_PHASE])], model, inputs, carried, tick)
        parts = _fly_tick(x, model, inputs, work, tick, parts, pace)
        if work.hinged.shape[0] > 0 and (n + 1) % LOOKS_EVERY == 0:
            rho = env[E_AIR] * air_density(-x[X_POS + 2], env[E_ELEVATION], env[E_WARMER])
            hinge_moments(
                rho, work.hinges, work.hinged, work.lanes, work.tables, model.servos, carried.hinge
            )
    return history.shape[0], STATUS_TIME
