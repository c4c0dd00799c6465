"""Whether a recovery hangs in a deep stall: followed tick by tick, in flight and afterwards."""

from math import sqrt

import numpy as np

from sim.core import kernel
from sim.core.motion.rotation import wrapped
from sim.core.pilot.stalled import stall_angle
from sim.core.script_layout import (
    H_ALPHA,
    H_CLIMB,
    H_ELEVATOR,
    H_PATH,
    H_PHI,
    H_Q,
    H_SPEED,
    H_STAGE,
    H_T,
    H_THETA,
    H_YAW,
    J_HANG_ALPHA,
    J_HANG_FOR,
    J_HANG_MEAN,
    J_HANG_MOST_ALPHA,
    J_HANG_PASSED,
    J_HANG_STICK,
    J_LEVEL_PATH,
    J_SPIN_RATE,
    N_WATCH,
    R_HANG_ALPHA,
    R_HANG_PERIOD,
    R_HANG_PITCH,
    R_HANG_SINK,
    R_HANG_SPEED,
    R_HANG_SWING,
    R_HANG_TURN,
    R_HANG_WALLOW,
    R_HUNG_FOR,
    STAGE_ENTRY,
    WATCH_ALPHA,
    WATCH_HUNG,
    WATCH_STICK,
    WATCH_TURN,
)


@kernel(borrowing=True)
def follow(watch, recovering, alpha, yaw, path, stick, env, judge, dt):
    """Update the watch (N_WATCH,) by one tick; return how long it has hung without a break [s].

    It hangs while a recovery is tried, it sinks, and angle of attack, turn about the vertical
    and elevator stick, all smoothed, are those of a deep stall: stalled, between the judge's
    angles, turning slower than a spin, the stick not what holds it there. A swing may take it
    below the stall for a moment, but not through nought.

    Parameters
    ----------
    recovering : bool
        Whether the first recovery input has been made.
    alpha, yaw, path, stick : float
        Angle of attack [rad], turn about the vertical [rad/s], flight path [rad], elevator
        stick (+1 full aft).
    env : float array (N_ENV,)
        Its angles of attack of the stall are used, upright and inverted.

    ``dt`` [s]. Own: thresholds of judge.toml, each with its reason there.
    """
    blend = dt / (judge[J_HANG_MEAN] + dt)
    watch[WATCH_ALPHA] += blend * (alpha - watch[WATCH_ALPHA])
    watch[WATCH_TURN] += blend * (yaw - watch[WATCH_TURN])
    watch[WATCH_STICK] += blend * (stick - watch[WATCH_STICK])
    size, stall = abs(watch[WATCH_ALPHA]), stall_angle(env, watch[WATCH_ALPHA])
    into = watch[WATCH_STICK] if watch[WATCH_ALPHA] > 0.0 else -watch[WATCH_STICK]
    hangs = recovering and path < judge[J_LEVEL_PATH] and alpha * watch[WATCH_ALPHA] > 0.0
    hangs = hangs and max(stall, judge[J_HANG_ALPHA]) < size < judge[J_HANG_MOST_ALPHA]
    hangs = hangs and abs(watch[WATCH_TURN]) < judge[J_SPIN_RATE] and into < judge[J_HANG_STICK]
    watch[WATCH_HUNG] = watch[WATCH_HUNG] + dt if hangs else 0.0
    return watch[WATCH_HUNG]


@kernel
def hangs(history, n, tick, env, judge, out):
    """Fill how long a recovery hung in a deep stall, and what that looked like.

    Stretches shorter than the judge's do not count.

    ``tick`` [s]; angles in rad. Own: see `follow`.
    """
    for k in range(R_HUNG_FOR, R_HANG_SPEED + 1):
        out[k] = 0.0
    watch = np.zeros(N_WATCH)
    begun = -1
    for i in range(n + 1):
        hung = 0.0
        if i < n:
            row = history[i]
            recovering = row[H_STAGE] > STAGE_ENTRY
            hung = follow(
                watch, recovering, row[H_ALPHA], row[H_YAW], row[H_PATH], row[H_ELEVATOR], env,
                judge, tick,
            )  # fmt: skip
        if hung > 0.0 and begun < 0:
            begun = i
        if hung == 0.0 and begun >= 0:
            if (i - begun) * tick >= judge[J_HANG_FOR]:
                _hung(history, begun, i, tick, judge, out)
            begun = -1


@kernel(borrowing=True)
def _hung(history, begun, end, tick, judge, out):
    """Take one stretch, rows ``begun`` to before ``end``, into what hanging looked like.

    Angles in rad, rates in rad/s, speeds in m/s, times in s. Own: means and standard
    deviations, weighted by time over the stretches.
    """
    count = float(end - begun)
    alpha = pitch = pitch_squares = bank = bank_squares = turn = sink = speed = 0.0
    for i in range(begun, end):
        row = history[i]
        alpha += row[H_ALPHA]
        pitch += row[H_THETA]
        pitch_squares += row[H_THETA] * row[H_THETA]
        rolled = wrapped(row[H_PHI] - history[begun, H_PHI])
        bank += rolled
        bank_squares += rolled * rolled
        turn += row[H_YAW]
        sink -= row[H_CLIMB]
        speed += row[H_SPEED]
    swing = sqrt(max(0.0, pitch_squares / count - (pitch / count) ** 2))
    wallow = sqrt(max(0.0, bank_squares / count - (bank / count) ** 2))
    before = out[R_HUNG_FOR]
    out[R_HUNG_FOR] = before + count * tick
    share = count * tick / out[R_HUNG_FOR]
    out[R_HANG_PERIOD] += share * (
        _period(history, begun, end, judge[J_HANG_PASSED]) - out[R_HANG_PERIOD]
    )
    out[R_HANG_ALPHA] += share * (alpha / count - out[R_HANG_ALPHA])
    out[R_HANG_PITCH] += share * (pitch / count - out[R_HANG_PITCH])
    out[R_HANG_SWING] += share * (swing - out[R_HANG_SWING])
    out[R_HANG_WALLOW] += share * (wallow - out[R_HANG_WALLOW])
    out[R_HANG_TURN] += share * (turn / count - out[R_HANG_TURN])
    out[R_HANG_SINK] += share * (sink / count - out[R_HANG_SINK])
    out[R_HANG_SPEED] += share * (speed / count - out[R_HANG_SPEED])


@kernel(borrowing=True)
def _period(history, begun, end, passed):
    """Return the period [s] of the nose's swing, by its pitch rate; 0 without two passes.

    ``passed`` is a share. Own: time between first and last pass over their number less one.
    """
    squares = 0.0
    for i in range(begun, end):
        squares += history[i, H_Q] * history[i, H_Q]
    least = passed * sqrt(squares / (end - begun))
    below = False
    passes = 0
    first = last = 0.0
    for i in range(begun, end):
        if history[i, H_Q] < -least:
            below = True
        elif below and history[i, H_Q] > least:
            below = False
            passes += 1
            last = history[i, H_T]
            if passes == 1:
                first = last
    return (last - first) / (passes - 1) if passes > 1 else 0.0
