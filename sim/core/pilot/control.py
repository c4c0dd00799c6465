"""From sticks to servo targets: throws, mixes, expo, the rate gyro, dead band, blow-back."""

from sim.core import kernel
from sim.core.layout import (
    G_CENTRED,
    G_DELAY,
    G_FILTER,
    G_FULL,
    G_HALF,
    G_HOLD,
    G_HOLD_LIMIT,
    G_IDLE,
    G_ON,
    G_OVERRIDE,
    G_ROLL,
    STICK_AILERON,
    STICK_ELEVATOR,
    STICK_RUDDER,
    STICK_THROTTLE,
    V_DEADBAND,
    V_MAX,
    V_MIN,
    V_MIX_AILERON,
    V_MIX_ELEVATOR,
    V_MIX_RUDDER,
    V_NEGATIVE,
    V_OFFSET,
    V_POSITIVE,
    V_TORQUE,
)
from sim.core.loads.hinge import HM_ASKED, HM_AT, HM_MOMENT, HM_SLOPE

DELAY_SLOTS = 32  # gyro delays up to 0.3 s at 100 Hz
# what the gyro remembers: filtered rates and hold angles about x, y, z, where in the delay
# line it is, and that line, three rates a slot
GM_RATE, GM_HELD, GM_SLOT, GM_LINE = 0, 3, 6, 7
N_GYRO_MEMORY = GM_LINE + 3 * DELAY_SLOTS


@kernel
def command_angle(servo, elevator, aileron, rudder):
    """Return the deflection [rad] that one channel's mix asks for, sticks in -1..1.

    Common practice, no source: linear mixes, clipped.
    """
    f = (
        servo[V_MIX_ELEVATOR] * elevator
        + servo[V_MIX_AILERON] * aileron
        + servo[V_MIX_RUDDER] * rudder
    )
    f = min(1.0, max(-1.0, f))
    return servo[V_OFFSET] + (f * servo[V_POSITIVE] if f >= 0.0 else f * servo[V_NEGATIVE])


@kernel
def expo(stick, share):
    """Return the stick softened about its middle: (1 - e) s + e s^3.

    Stick -1..1, without unit. Common practice, no source: a cubic.
    """
    return (1.0 - share) * stick + share * stick * stick * stick


@kernel
def schedule(gyro, throttle):
    """Return the gyro's gain factor at a throttle stick position 0..1.

    Without unit. Own: straight lines between idle, half and full.
    """
    if throttle < 0.5:
        return gyro[G_IDLE] + 2.0 * throttle * (gyro[G_HALF] - gyro[G_IDLE])
    return gyro[G_HALF] + (2.0 * throttle - 1.0) * (gyro[G_FULL] - gyro[G_HALF])


@kernel(borrowing=True)
def gyro_angles(gyro, memory, p, q, r, sticks, dt, out):
    """Fill ``out`` (3,) with what the gyro adds on roll, pitch, yaw [rad of surface].

    Parameters
    ----------
    memory : float array (N_GYRO_MEMORY,)
        Filtered rates (3), hold angles (3), slot counter, and the delay line.
    sticks : float array (4,)
        Elevator, aileron, rudder, throttle.

    Rates in rad/s, ``dt`` [s]. Common practice, no source: rate feedback with a filter, a
    delay, and hold by the integral.
    """
    out[0] = 0.0
    out[1] = 0.0
    out[2] = 0.0
    if gyro[G_ON] == 0.0:
        return
    slot = int(memory[GM_SLOT]) % DELAY_SLOTS
    late = min(DELAY_SLOTS - 1, max(0, int(gyro[G_DELAY] / dt + 0.5)))
    read = (slot - late + DELAY_SLOTS) % DELAY_SLOTS
    memory[GM_SLOT] += 1.0
    blend = dt / (gyro[G_FILTER] + dt)
    factor = schedule(gyro, sticks[STICK_THROTTLE])
    for axis in range(3):
        rate = p if axis == 0 else (q if axis == 1 else r)
        which = STICK_AILERON if axis == 0 else (STICK_ELEVATOR if axis == 1 else STICK_RUDDER)
        stick = sticks[which]
        memory[GM_RATE + axis] += blend * (rate - memory[GM_RATE + axis])
        memory[GM_LINE + 3 * slot + axis] = memory[GM_RATE + axis]
        seen = memory[GM_LINE + 3 * read + axis] if memory[GM_SLOT] > late else 0.0
        fade = 1.0 - gyro[G_OVERRIDE] * min(1.0, abs(stick))
        if abs(stick) < gyro[G_CENTRED]:
            held = memory[GM_HELD + axis] + seen * dt
            memory[GM_HELD + axis] = min(gyro[G_HOLD_LIMIT], max(-gyro[G_HOLD_LIMIT], held))
        else:
            memory[GM_HELD + axis] = 0.0
        gain = gyro[G_ROLL + axis]
        out[axis] = -factor * fade * gain * (seen + gyro[G_HOLD] * memory[GM_HELD + axis])


@kernel(inlined=True)
def _wished(sticks, trims, expos, k):
    """Return stick ``k`` softened and trimmed, -1..1.

    Own, as `expo`; without unit.
    """
    return min(1.0, max(-1.0, expo(sticks[k], expos[k]) + trims[k]))


@kernel
def held_angle(wish, at, moment, slope, servo):
    """Return where a servo is held or blown to that is asked for ``wish``, standing ``at`` [rad].

    Parameters
    ----------
    moment, slope : float
        Of the air, to plus [N m], and with the deflection [N m/rad].
    servo : float array (N_SERVO_COLS,)
        Its torque is stated.

    Own: a straight line in the deflection. Where the air drives the part back, it stands no
    further than where the moment is the torque. Where a deflection feeds the moment (a pivot behind
    the centre of pressure), it runs to its end stop once the torque is passed, here or on its way.
    """
    torque, least, most = servo[V_TORQUE], servo[V_MIN], servo[V_MAX]
    wish = min(most, max(least, wish))
    if slope < 0.0:
        low, high = at + (torque - moment) / slope, at - (torque + moment) / slope
        return min(most, max(least, min(high, max(low, wish))))
    there = moment + slope * (wish - at)
    if moment > torque or (moment >= -torque and there > torque):
        return most
    if moment < -torque or there < -torque:
        return least
    return wish


@kernel(borrowing=True)
def servo_targets(servos, sticks, trims, expos, added, hinge, target, off):
    """Update ``target`` (c,) from sticks, trims, the gyro's share and what the air allows.

    A servo moves only when the wish differs by more than its dead band, and stands where the air
    leaves it: by ``hinge`` (c, N_HINGE_MOMENT), whose HM_ASKED is filled with the
    moment, or where that blows it back with what it would be at the wish. ``off`` (c,) is filled
    with how far it is held from there.

    Angles in rad, moments in N m. Common practice, no source; own: `held_angle`.
    """
    e = _wished(sticks, trims, expos, STICK_ELEVATOR)
    a = _wished(sticks, trims, expos, STICK_AILERON)
    r = _wished(sticks, trims, expos, STICK_RUDDER)
    for i in range(servos.shape[0]):
        servo = servos[i]
        wish = command_angle(servo, e, a, r)
        wish += (
            servo[V_MIX_AILERON] * added[0]
            + servo[V_MIX_ELEVATOR] * added[1]
            + servo[V_MIX_RUDDER] * added[2]
        )
        off[i] = 0.0
        if servo[V_TORQUE] > 0.0:
            moment, slope, at = hinge[i, HM_MOMENT], hinge[i, HM_SLOPE], hinge[i, HM_AT]
            within = min(servo[V_MAX], max(servo[V_MIN], wish))
            held = held_angle(within, at, moment, slope, servo)
            off[i] = held - within
            hinge[i, HM_ASKED] = moment
            if off[i] != 0.0:
                wish = held
                if slope < 0.0:
                    hinge[i, HM_ASKED] += slope * (within - at)
        if abs(wish - target[i]) > servo[V_DEADBAND] or off[i] != 0.0:
            target[i] = wish
