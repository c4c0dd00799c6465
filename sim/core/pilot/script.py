"""The manoeuvre as a state machine: which phase is on, and what ends it."""

from typing import NamedTuple

from sim.core import kernel
from sim.core.layout import (
    E_STALL_SPEED,
    P_AGAIN_FOR,
    P_DELAY,
    P_MOST_RETRIES,
)
from sim.core.pilot.frames import is_against
from sim.core.pilot.stalled import stall_angle
from sim.core.script_layout import (
    J_STALL_MARGIN,
    J_YAW,
    NONE,
    PH_ALPHA_ABOVE,
    PH_ALPHA_BELOW,
    PH_ALPHA_SIZE_BELOW,
    PH_AT_LEAST,
    PH_AT_MOST,
    PH_BANK_ABOVE,
    PH_FOR,
    PH_PATH_ABOVE,
    PH_PITCH_ABOVE,
    PH_PITCHED_ABOVE,
    PH_REACTION,
    PH_ROLLED_ABOVE,
    PH_ROTATION_BELOW,
    PH_SPEED_ABOVE,
    PH_SPEED_BELOW,
    PH_STAGE,
    PH_TURNS_ABOVE,
    PH_UNSTALLED,
    PH_YAW_RATE_ABOVE,
    PH_YAW_RATE_BELOW,
    Q_AGAIN,
    Q_ALPHA,
    Q_ELEVATOR,
    Q_ERECT,
    Q_HANGS,
    Q_HELD,
    Q_PHASE,
    Q_PITCHED,
    Q_RETRIES,
    Q_ROLLED,
    Q_SINCE,
    Q_SLOW,
    Q_SPIN,
    Q_START_ALPHA,
    Q_START_E,
    Q_SUM,
    Q_TURNS,
    Q_WAIT,
    Q_YAW,
    STAGE_ENTRY,
    STAGE_PULL_OUT,
    STAGE_RECOVERY,
    STAGE_TRIED,
    STAGE_TRIED_PULL_OUT,
)

TURN = 6.283185307179586  # rad


class Seen(NamedTuple):
    """What the script asks of a tick: angles [rad], rates [rad/s], speed [m/s].

    ``rolling``, ``pitching``, ``yaw_body`` are p, q, r, ``yaw`` the turn about the vertical,
    ``rotation`` the size of the rate.
    """

    alpha: float
    yaw_body: float
    yaw: float
    rotation: float
    bank: float
    pitch: float
    speed: float
    path: float
    rolling: float
    pitching: float


@kernel(borrowing=True)
def _holds(phase, env, memory, seen):
    """Return True if every condition that the phase asks for holds now.

    Angles in rad, rates in rad/s, speeds over the stall's. Own: the conditions of the
    manoeuvres.
    """
    alpha, yaw_body, _, rotation, bank, pitch, speed, path, _, _ = seen
    over_stall = speed / env[E_STALL_SPEED]
    turns = abs(memory[Q_TURNS])
    ok = phase[PH_ALPHA_ABOVE] == NONE or alpha > phase[PH_ALPHA_ABOVE]
    ok = ok and (phase[PH_ALPHA_BELOW] == NONE or alpha < phase[PH_ALPHA_BELOW])
    ok = ok and (phase[PH_ALPHA_SIZE_BELOW] == NONE or abs(alpha) < phase[PH_ALPHA_SIZE_BELOW])
    ok = ok and (phase[PH_YAW_RATE_BELOW] == NONE or abs(yaw_body) < phase[PH_YAW_RATE_BELOW])
    ok = ok and (phase[PH_YAW_RATE_ABOVE] == NONE or abs(yaw_body) > phase[PH_YAW_RATE_ABOVE])
    ok = ok and (phase[PH_ROTATION_BELOW] == NONE or rotation < phase[PH_ROTATION_BELOW])
    ok = ok and (phase[PH_TURNS_ABOVE] == NONE or turns > phase[PH_TURNS_ABOVE])
    ok = ok and (phase[PH_BANK_ABOVE] == NONE or abs(bank) > phase[PH_BANK_ABOVE])
    ok = ok and (phase[PH_PITCH_ABOVE] == NONE or pitch > phase[PH_PITCH_ABOVE])
    ok = ok and (phase[PH_SPEED_ABOVE] == NONE or over_stall > phase[PH_SPEED_ABOVE])
    ok = ok and (phase[PH_SPEED_BELOW] == NONE or over_stall < phase[PH_SPEED_BELOW])
    ok = ok and (phase[PH_PATH_ABOVE] == NONE or path > phase[PH_PATH_ABOVE])
    pitched, rolled = abs(memory[Q_PITCHED]), abs(memory[Q_ROLLED])
    ok = ok and (phase[PH_PITCHED_ABOVE] == NONE or pitched > phase[PH_PITCHED_ABOVE])
    ok = ok and (phase[PH_ROLLED_ABOVE] == NONE or rolled > phase[PH_ROLLED_ABOVE])
    return ok and (phase[PH_UNSTALLED] == 0.0 or abs(alpha) < stall_angle(env, alpha))


@kernel
def _asks(phase):
    """Return True if the phase has any condition besides its time limits."""
    for k in range(PH_ALPHA_ABOVE, PH_UNSTALLED):
        if phase[k] != NONE:
            return True
    return phase[PH_UNSTALLED] != 0.0


@kernel
def enter(memory, index):
    """Begin phase ``index``: clocks to zero, ramps from where the sticks are now."""
    memory[Q_PHASE] = index
    memory[Q_SINCE] = 0.0
    memory[Q_HELD] = 0.0
    memory[Q_WAIT] = -1.0
    memory[Q_TURNS] = 0.0
    memory[Q_PITCHED] = 0.0
    memory[Q_ROLLED] = 0.0
    memory[Q_START_ALPHA] = memory[Q_ALPHA]
    memory[Q_SUM] = 0.0
    memory[Q_AGAIN] = 0.0
    for k in range(4):
        memory[Q_START_E + k] = memory[Q_ELEVATOR + k]


@kernel
def _read_spin(memory, judge, alpha, yaw):
    """Note, as a recovery begins, which way it turns, whether it hardly does, and if it is erect.

    ``alpha`` [rad], ``yaw`` [rad/s]. Own: below 1e-6 rad/s nothing is seen yet; it hardly turns
    below the rate that a spin counts from (judge.toml).
    """
    seen = memory[Q_YAW]
    if abs(seen) < 1e-6:
        seen = yaw
    memory[Q_ERECT] = 1.0 if alpha >= 0.0 else -1.0
    memory[Q_SLOW] = 1.0 if abs(seen) < judge[J_YAW] else 0.0
    if seen != 0.0:
        memory[Q_SPIN] = 1.0 if seen > 0.0 else -1.0


@kernel(borrowing=True)
def advance(phases, env, pilot, judge, memory, seen, dt):
    """Move the state machine by one tick; return True when the script has ended.

    A phase ends when its conditions have held for as long as it asks (after at least
    ``at_least``), or at ``at_most``; a next phase that needs a reaction starts one pilot
    delay later, with the sticks as they are. A pull-out that departs again, and a recovery that
    turns the other way, go back to the first recovery phase, a few times. A recovery that is tried
    is given up as soon as it hangs in a deep stall.

    ``dt`` [s]. Own: the rules of the manoeuvres' phases.
    """
    index = int(memory[Q_PHASE])
    phase = phases[index]
    alpha, yaw_body = seen.alpha, seen.yaw_body
    memory[Q_SINCE] += dt
    memory[Q_TURNS] += seen.yaw * dt / TURN
    memory[Q_PITCHED] += seen.pitching * dt
    memory[Q_ROLLED] += seen.rolling * dt
    if memory[Q_WAIT] >= 0.0:
        memory[Q_WAIT] -= dt
        if memory[Q_WAIT] > 0.0:
            return False
        return _next(phases, memory, judge, index, alpha, yaw_body)
    if _begins_again(phase, env, pilot, judge, memory, seen, dt):
        memory[Q_RETRIES] += 1.0
        tried = int(phase[PH_STAGE]) < STAGE_ENTRY
        again = STAGE_TRIED if tried else STAGE_RECOVERY
        for k in range(phases.shape[0]):
            if int(phases[k, PH_STAGE]) == again:
                _read_spin(memory, judge, alpha, yaw_body)
                enter(memory, k)
                return False
    if int(phase[PH_STAGE]) < STAGE_ENTRY and memory[Q_HANGS] > 0.0:
        return _way_out(phases, memory, judge, alpha, yaw_body)
    if _asks(phase) and _holds(phase, env, memory, seen):
        memory[Q_HELD] += dt
    else:
        memory[Q_HELD] = 0.0
    done = _asks(phase) and memory[Q_HELD] > phase[PH_FOR] and memory[Q_SINCE] > phase[PH_AT_LEAST]
    if not done and memory[Q_SINCE] < phase[PH_AT_MOST] - 0.5 * dt:
        return False
    if index + 1 < phases.shape[0] and phases[index + 1, PH_REACTION] != 0.0:
        memory[Q_WAIT] = pilot[P_DELAY]
        return False
    return _next(phases, memory, judge, index, alpha, yaw_body)


@kernel(borrowing=True)
def _next(phases, memory, judge, index, alpha, yaw_body):
    """Go to the phase after ``index``; return True if there is none."""
    if index + 1 >= phases.shape[0]:
        return True
    stage = int(phases[index, PH_STAGE])
    after = int(phases[index + 1, PH_STAGE])
    if (stage == STAGE_ENTRY and after != STAGE_ENTRY) or stage < STAGE_ENTRY < after:
        _read_spin(memory, judge, alpha, yaw_body)
    enter(memory, index + 1)
    return False


@kernel(borrowing=True)
def _way_out(phases, memory, judge, alpha, yaw_body):
    """Give up the recovery that is tried; return True if nothing else is left to do."""
    for k in range(phases.shape[0]):
        if int(phases[k, PH_STAGE]) > STAGE_ENTRY:
            _read_spin(memory, judge, alpha, yaw_body)
            enter(memory, k)
            memory[Q_RETRIES] = 0.0
            return False
    return True


@kernel(borrowing=True)
def _begins_again(phase, env, pilot, judge, memory, seen, dt):
    """Return True once the recovery must begin anew: stalled and turning for P_AGAIN_FOR.

    A pull-out that departs again; a recovery with rudder against the turn where the pilot sees it
    turn the other way, or turn where it did not.

    ``dt`` [s]. Own: the rules of pilot.toml.
    """
    stage = int(phase[PH_STAGE])
    turn = seen.yaw
    if stage in (STAGE_RECOVERY, STAGE_TRIED):
        if not (is_against(phase) and _asks(phase)):
            return False
        new = memory[Q_SLOW] > 0.0 or memory[Q_YAW] * memory[Q_SPIN] <= 0.0
        turn = memory[Q_YAW] if new else 0.0
    elif stage not in (STAGE_PULL_OUT, STAGE_TRIED_PULL_OUT):
        return False
    if memory[Q_RETRIES] >= pilot[P_MOST_RETRIES]:
        return False
    stalled = abs(seen.alpha) > stall_angle(env, seen.alpha) + judge[J_STALL_MARGIN]
    if stalled and abs(turn) > judge[J_YAW]:
        memory[Q_AGAIN] += dt
    else:
        memory[Q_AGAIN] = 0.0
    return memory[Q_AGAIN] > pilot[P_AGAIN_FOR]
