"""From sticks to servo targets: throws, mixes, expo, the rate gyro, dead band, blow-back."""

from math import sqrt

from sim.core import kernel
from sim.core.layout import (
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
    V_BLOWBACK,
    V_DEADBAND,
    V_MIX_AILERON,
    V_MIX_ELEVATOR,
    V_MIX_RUDDER,
    V_NEGATIVE,
    V_OFFSET,
    V_POSITIVE,
)

DELAY_SLOTS = 32  # gyro delays up to 0.3 s at 100 Hz
CENTRED = 0.05  # a stick nearer to its middle than this lets hold mode integrate


@kernel
def command_angle(servo, elevator, aileron, rudder):
    """Return the deflection [rad] that one channel's mix asks for, sticks in -1..1."""
    f = (
        servo[V_MIX_ELEVATOR] * elevator
        + servo[V_MIX_AILERON] * aileron
        + servo[V_MIX_RUDDER] * rudder
    )
    f = min(1.0, max(-1.0, f))
    return servo[V_OFFSET] + (f * servo[V_POSITIVE] if f >= 0.0 else f * servo[V_NEGATIVE])


@kernel
def expo(stick, share):
    """Return the stick softened about its middle: (1 - e) s + e s^3."""
    return (1.0 - share) * stick + share * stick * stick * stick


@kernel
def schedule(gyro, throttle):
    """Return the gyro's gain factor at a throttle stick position 0..1."""
    if throttle < 0.5:
        return gyro[G_IDLE] + 2.0 * throttle * (gyro[G_HALF] - gyro[G_IDLE])
    return gyro[G_HALF] + (2.0 * throttle - 1.0) * (gyro[G_FULL] - gyro[G_HALF])


@kernel
def gyro_angles(gyro, memory, p, q, r, sticks, dt, out):
    """Fill ``out`` (3,) with what the gyro adds on roll, pitch, yaw [rad of surface].

    Parameters
    ----------
    memory : float array (7 + 3 * DELAY_SLOTS,)
        Filtered rates (3), hold angles (3), slot counter, and the delay line.
    sticks : float array (4,)
        Elevator, aileron, rudder, throttle.
    """
    out[0] = 0.0
    out[1] = 0.0
    out[2] = 0.0
    if gyro[G_ON] == 0.0:
        return
    slot = int(memory[6]) % DELAY_SLOTS
    late = min(DELAY_SLOTS - 1, max(0, int(gyro[G_DELAY] / dt + 0.5)))
    read = (slot - late + DELAY_SLOTS) % DELAY_SLOTS
    memory[6] += 1.0
    blend = dt / (gyro[G_FILTER] + dt)
    factor = schedule(gyro, sticks[3])
    for axis in range(3):
        rate = p if axis == 0 else (q if axis == 1 else r)
        stick = sticks[1] if axis == 0 else (sticks[0] if axis == 1 else sticks[2])
        memory[axis] += blend * (rate - memory[axis])
        memory[7 + 3 * slot + axis] = memory[axis]
        seen = memory[7 + 3 * read + axis] if memory[6] > late else 0.0
        fade = 1.0 - gyro[G_OVERRIDE] * min(1.0, abs(stick))
        if abs(stick) < CENTRED:
            held = memory[3 + axis] + seen * dt
            memory[3 + axis] = min(gyro[G_HOLD_LIMIT], max(-gyro[G_HOLD_LIMIT], held))
        else:
            memory[3 + axis] = 0.0
        gain = gyro[G_ROLL + axis]
        out[axis] = -factor * fade * gain * (seen + gyro[G_HOLD] * memory[3 + axis])


@kernel
def servo_targets(servos, sticks, trims, expos, added, pressure, target):
    """Update ``target`` (c,) from sticks, trims and the gyro's share.

    A servo moves only when the wish differs by more than its dead band, and cannot hold
    more than its torque allows at the dynamic pressure [Pa] of the moment.
    """
    e = min(1.0, max(-1.0, expo(sticks[0], expos[0]) + trims[0]))
    a = min(1.0, max(-1.0, expo(sticks[1], expos[1]) + trims[1]))
    r = min(1.0, max(-1.0, expo(sticks[2], expos[2]) + trims[2]))
    for i in range(servos.shape[0]):
        servo = servos[i]
        wish = command_angle(servo, e, a, r)
        wish += (
            servo[V_MIX_AILERON] * added[0]
            + servo[V_MIX_ELEVATOR] * added[1]
            + servo[V_MIX_RUDDER] * added[2]
        )
        most = servo[V_BLOWBACK] / max(pressure, 1.0)
        wish = min(most, max(-most, wish))
        if abs(wish - target[i]) > servo[V_DEADBAND] or abs(wish - target[i]) < 1e-12:
            target[i] = wish


@kernel
def dynamic_pressure(rho, u, v, w):
    """Return half rho V^2 [Pa]."""
    return 0.5 * rho * (u * u + v * v + w * w)


@kernel
def speed_of(u, v, w):
    """Return the size of a velocity."""
    return sqrt(u * u + v * v + w * w)
