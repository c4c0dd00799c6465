"""From a flight's history to its summary row: events, heights, spin, peaks."""

from math import pi, sqrt

from sim.core import kernel
from sim.core.flights.hanging import hangs
from sim.core.motion.rotation import wrapped
from sim.core.pilot.stalled import stall_angle
from sim.core.script_layout import (
    H_ALPHA,
    H_BETA,
    H_CLIMB,
    H_LOAD,
    H_OFF,
    H_P,
    H_PATH,
    H_PHI,
    H_Q,
    H_R,
    H_ROTATION,
    H_SPEED,
    H_STAGE,
    H_T,
    H_TORQUE,
    H_UP,
    H_YAW,
    J_ALPHA,
    J_ALPHA_FOR,
    J_BANK,
    J_BANK_PATH,
    J_LEVEL_FOR,
    J_LEVEL_PATH,
    J_SPIN_RATE,
    J_SPIN_TURNS,
    J_STALL_MARGIN,
    J_STALLED_GAP,
    J_STALLED_TURNS,
    J_STOPPED,
    J_TURNS_MARGIN,
    J_WINDOW,
    J_YAW,
    J_YAW_FOR,
    KEPT_SERVOS,
    R_BACK,
    R_DEPARTED,
    R_DROP,
    R_DROP_ENTRY,
    R_HEIGHT_LOST,
    R_HIGH_FOR,
    R_LEAST_ALPHA,
    R_OFF,
    R_PEAK_ALPHA,
    R_PEAK_LOAD,
    R_PEAK_Q,
    R_PEAK_SPEED,
    R_PEAK_YAW,
    R_PULL_OUT,
    R_SPIN_ALPHA,
    R_SPIN_BETA,
    R_SPIN_RATE,
    R_SPIN_SINK,
    R_SPIN_SPEED,
    R_SPIN_SWING,
    R_SPIN_YAW,
    R_SPUN,
    R_STALLED_TURNS,
    R_STATUS,
    R_T_DEPART,
    R_T_LEVEL,
    R_T_RECOVERY,
    R_T_STALL,
    R_T_UNSTALLED,
    R_TIME,
    R_TORQUE,
    R_TURNS_ENTRY,
    R_TURNS_RECOVERY,
    STAGE_ENTRY,
    STATUS_DONE,
)

ABSENT = -1.0  # time of an event that did not happen
TWO_PI = 2.0 * pi


@kernel
def _beyond(alpha, env):
    """Return True beyond the stall, upright or inverted."""
    return abs(alpha) > stall_angle(env, alpha)


@kernel(borrowing=True)
def _peaks(history, n, tick, out):
    """Fill the peaks, and turns about the vertical before and after the first recovery input.

    Angles in rad, rates in rad/s, speeds in m/s, load in g; ``tick`` [s]. Own: turns are the
    rate's sum over 2 pi.
    """
    for k in (R_PEAK_LOAD, R_PEAK_YAW, R_TURNS_ENTRY, R_TURNS_RECOVERY, R_PEAK_Q, R_PEAK_SPEED):
        out[k] = 0.0
    out[R_PEAK_ALPHA] = history[0, H_ALPHA]
    out[R_LEAST_ALPHA] = history[0, H_ALPHA]
    for i in range(n):
        row = history[i]
        out[R_PEAK_ALPHA] = max(out[R_PEAK_ALPHA], row[H_ALPHA])
        out[R_LEAST_ALPHA] = min(out[R_LEAST_ALPHA], row[H_ALPHA])
        if abs(row[H_LOAD]) > abs(out[R_PEAK_LOAD]):
            out[R_PEAK_LOAD] = row[H_LOAD]
        out[R_PEAK_YAW] = max(out[R_PEAK_YAW], abs(row[H_YAW]))
        out[R_PEAK_Q] = max(out[R_PEAK_Q], abs(row[H_Q]))
        out[R_PEAK_SPEED] = max(out[R_PEAK_SPEED], row[H_SPEED])
        if row[H_STAGE] <= STAGE_ENTRY:
            out[R_TURNS_ENTRY] += row[H_YAW] * tick / TWO_PI
        else:
            out[R_TURNS_RECOVERY] += row[H_YAW] * tick / TWO_PI


@kernel(borrowing=True)
def _servos(history, n, out):
    """Fill the most that the air asked of each servo [N m], and held it off its wish [rad].

    By definition of a maximum.
    """
    for k in range(KEPT_SERVOS):
        out[R_TORQUE + k], out[R_OFF + k] = 0.0, 0.0
    for i in range(n):
        row = history[i]
        for k in range(KEPT_SERVOS):
            out[R_TORQUE + k] = max(out[R_TORQUE + k], abs(row[H_TORQUE + k]))
            out[R_OFF + k] = max(out[R_OFF + k], abs(row[H_OFF + k]))


@kernel(borrowing=True)
def _departure(history, n, tick, env, judge, out):
    """Fill when it stalled and departed: turns while stalled, alpha held high, or a wing drop.

    Returns the last row of the stall that turned most, about any axis.

    Times in s, angles in rad. Source of the notion: [milf83691], from memory; the thresholds
    are judge.toml's.
    """
    out[R_T_STALL] = ABSENT
    out[R_T_DEPART] = ABSENT
    out[R_STALLED_TURNS] = 0.0
    out[R_HIGH_FOR] = 0.0
    turning = 0.0
    high = 0.0
    bank = 0.0
    gap = 0.0
    path, roll, pitch, yaw = 0.0, 0.0, 0.0, 0.0
    last = 0
    was_stalled = False
    for i in range(n):
        row = history[i]
        alpha = abs(row[H_ALPHA])
        stall = stall_angle(env, row[H_ALPHA])
        stalled = alpha > stall + judge[J_STALL_MARGIN]
        if alpha > stall and out[R_T_STALL] < 0.0:
            out[R_T_STALL] = row[H_T]
        if stalled and not was_stalled:
            bank = row[H_PHI]
        was_stalled = stalled
        near = alpha > stall + judge[J_TURNS_MARGIN]
        gap = 0.0 if near else gap + tick
        if gap > judge[J_STALLED_GAP]:
            path, roll, pitch, yaw = 0.0, 0.0, 0.0, 0.0
        if near:
            path += row[H_ROTATION] * tick / TWO_PI
            roll += row[H_P] * tick / TWO_PI
            pitch += row[H_Q] * tick / TWO_PI
            yaw += row[H_R] * tick / TWO_PI
            turns = max(max(abs(path), abs(roll)), max(abs(pitch), abs(yaw)))
            if turns > out[R_STALLED_TURNS]:
                out[R_STALLED_TURNS] = turns
                last = i
        turning = turning + tick if stalled and abs(row[H_YAW]) > judge[J_YAW] else 0.0
        high = high + tick if alpha > judge[J_ALPHA] else 0.0
        out[R_HIGH_FOR] = max(out[R_HIGH_FOR], high)
        dropped = stalled and abs(wrapped(row[H_PHI] - bank)) > judge[J_BANK]
        # a bank angle near a vertical nose says nothing
        dropped = dropped and abs(row[H_PATH]) < judge[J_BANK_PATH]
        gone = turning > judge[J_YAW_FOR] or high > judge[J_ALPHA_FOR] or dropped
        gone = gone or out[R_STALLED_TURNS] > judge[J_STALLED_TURNS]
        if gone and out[R_T_DEPART] < 0.0:
            out[R_T_DEPART] = row[H_T]
    out[R_DEPARTED] = 1.0 if out[R_T_DEPART] >= 0.0 else 0.0
    return last


@kernel(borrowing=True)
def _heights(history, n, tick, env, judge, status, out):
    """Fill recovery, unstalled and level times and the heights between them."""
    first = n - 1
    for i in range(n):
        if history[i, H_STAGE] > STAGE_ENTRY:
            first = i
            break
    out[R_T_RECOVERY] = history[first, H_T] if history[first, H_STAGE] > STAGE_ENTRY else ABSENT
    lowest = history[0, H_UP]
    lowest_after = history[first, H_UP]
    last_bad = first
    for i in range(n):
        row = history[i]
        lowest = min(lowest, row[H_UP])
        if i >= first:
            lowest_after = min(lowest_after, row[H_UP])
            if _beyond(row[H_ALPHA], env) or abs(row[H_YAW]) > judge[J_STOPPED]:
                last_bad = i
    level = 0.0
    for i in range(max(0, n - 1 - int(judge[J_LEVEL_FOR] / tick)), n):
        row = history[i]
        if row[H_PATH] < judge[J_LEVEL_PATH] or _beyond(row[H_ALPHA], env):
            level = 1.0
    back = status == STATUS_DONE and level == 0.0
    out[R_BACK] = 1.0 if back else 0.0
    out[R_DROP_ENTRY] = history[0, H_UP] - history[first, H_UP]
    out[R_HEIGHT_LOST] = history[first, H_UP] - lowest_after
    out[R_DROP] = history[0, H_UP] - lowest
    out[R_T_UNSTALLED] = ABSENT
    out[R_T_LEVEL] = ABSENT
    out[R_PULL_OUT] = 0.0
    if back:
        out[R_T_UNSTALLED] = history[last_bad, H_T]
        out[R_T_LEVEL] = history[n - 1, H_T] - judge[J_LEVEL_FOR]
        low = history[last_bad, H_UP]
        for i in range(last_bad, n):
            low = min(low, history[i, H_UP])
        out[R_PULL_OUT] = history[last_bad, H_UP] - low
    return first


@kernel(borrowing=True)
def _window(history, last, tick, judge, out):
    """Fill the means over the window that ends at the row ``last``.

    Angles in rad, rates in rad/s, speeds in m/s; ``tick`` [s]. Own: plain means and a standard
    deviation.
    """
    start = max(0, last - int(judge[J_WINDOW] / tick))
    count = 0.0
    sums = 0.0
    squares = 0.0
    yaw = 0.0
    rate = 0.0
    sink = 0.0
    speed = 0.0
    beta = 0.0
    for i in range(start, last + 1):
        row = history[i]
        count += 1.0
        sums += row[H_ALPHA]
        squares += row[H_ALPHA] * row[H_ALPHA]
        yaw += row[H_YAW]
        rate += row[H_ROTATION]
        sink -= row[H_CLIMB]
        speed += row[H_SPEED]
        beta += row[H_BETA]
    out[R_SPIN_ALPHA] = sums / count
    out[R_SPIN_SWING] = sqrt(max(0.0, squares / count - (sums / count) ** 2))
    out[R_SPIN_YAW] = yaw / count
    out[R_SPIN_RATE] = rate / count
    out[R_SPIN_SINK] = sink / count
    out[R_SPIN_SPEED] = speed / count
    out[R_SPIN_BETA] = beta / count


@kernel(borrowing=True)
def _spin(history, first, turned, tick, env, judge, out):
    """Fill whether it spun, and the means over the window of the spin.

    That window ends at the first recovery input (row ``first``) where the entry ends in a
    spin; else, where it turned too far while stalled, at the end of that (row ``turned``).

    Rates in rad/s; ``tick`` [s]. Source of the notion: [milf83691], from memory; the thresholds
    are judge.toml's.
    """
    _window(history, first, tick, judge, out)
    turns = 0.0
    for i in range(first + 1):
        turns += history[i, H_ROTATION] * tick / TWO_PI
    at_entry = (
        out[R_DEPARTED] > 0.0
        and _beyond(out[R_SPIN_ALPHA], env)
        and abs(out[R_SPIN_RATE]) > judge[J_SPIN_RATE]
        and abs(turns) > judge[J_SPIN_TURNS]
    )
    out[R_SPUN] = 1.0 if at_entry else 0.0
    if not at_entry and out[R_STALLED_TURNS] > judge[J_STALLED_TURNS]:
        out[R_SPUN] = 1.0
        _window(history, turned, tick, judge, out)


@kernel(entry=False, borrowing=True)
def summarise(history, n, tick, env, judge, status, out):
    """Fill ``out`` (N_SUMMARY,) from the first ``n`` rows of a history.

    Parameters
    ----------
    history : float array (rows, N_HISTORY)
        One row a control tick.
    env : float array (N_ENV,)
    judge : float array (N_JUDGE,)
        Thresholds of the judge's table, SI.
    status : int
        How the flight ended, a STATUS code.
    """
    out[R_STATUS] = status
    out[R_TIME] = history[n - 1, H_T]
    _peaks(history, n, tick, out)
    turned = _departure(history, n, tick, env, judge, out)
    first = _heights(history, n, tick, env, judge, status, out)
    _spin(history, first, turned, tick, env, judge, out)
    _servos(history, n, out)
    hangs(history, n, tick, env, judge, out)
