"""What the build-up itself may have wrong beyond the stall: increments of the whole aeroplane.

Forces and moments on body axes, nothing in attached flow. Each error has an amount, drawn
for each flight and nought in the nominal one, and a shape over the angle between the air and
the plane of the wings, made of straight lines in its sine w/V, so mirrored at 90 degrees and
for inverted flight.
"""

from sim.core import kernel
from sim.core.layout import (
    N_LINES,
    N_SERVO_EFFECTS,
    X_SERVO,
    Y_AILERON_POWER,
    Y_DAMP,
    Y_DAMPING,
    Y_DFY,
    Y_DFZ,
    Y_DMX,
    Y_DMY,
    Y_DMZ,
    Y_DRAWN,
    Y_FROM,
    Y_NORMAL,
    Y_PER,
    Y_PITCH,
    Y_ROLL_STIFF,
    Y_RUDDER_POWER,
    Y_SERVO,
    Y_TAIL_POWER,
    Y_YAW_STIFF,
)

STILL = 1e-6  # m/s


@kernel(inlined=True)
def _at(errors, which, one, two, three):
    """Return an error at the shares of the three lines that lie behind."""
    k = Y_DRAWN + N_LINES * which
    return one * errors[k] + two * errors[k + 1] + three * errors[k + 2]


@kernel(inlined=True)
def error_loads(v, w, p, q, r, speed, rho, x, n_servo, errors, loads):
    """Add the drawn errors' force and moment about the balance point to ``loads`` (6,).

    Parameters
    ----------
    v, w, p, q, r, speed : float
        Air-relative velocity and its size [m/s], and rates [rad/s], body axes.
    x : float array
        State vector; its servos are read.
    errors : float array
        See `layout.Model`.
    """
    sine = abs(w) / (speed + STILL)
    one = min(1.0, (sine - errors[Y_FROM]) * errors[Y_PER])
    if one <= 0.0:
        return
    two = min(1.0, max(0.0, (sine - errors[Y_FROM + 1]) * errors[Y_PER + 1]))
    three = min(1.0, max(0.0, (sine - errors[Y_FROM + 2]) * errors[Y_PER + 2]))
    # all read before anything is written: the arrays might be one, for all that is known
    fy, fz, mx, my, mz = 0.0, 0.0, 0.0, 0.0, 0.0
    for i in range(n_servo):
        turned = x[X_SERVO + i]
        k = Y_SERVO + N_SERVO_EFFECTS * i
        fy += errors[k + Y_DFY] * turned
        fz += errors[k + Y_DFZ] * turned
        mx += errors[k + Y_DMX] * turned
        my += errors[k + Y_DMY] * turned
        mz += errors[k + Y_DMZ] * turned
    half = 0.5 * rho * speed
    push = half * speed
    upwards = push if w >= 0.0 else -push
    tail = push * _at(errors, Y_TAIL_POWER, one, two, three)
    rudder = push * _at(errors, Y_RUDDER_POWER, one, two, three)
    aileron = push * _at(errors, Y_AILERON_POWER, one, two, three)
    damping = half * _at(errors, Y_DAMPING, one, two, three)
    slip = half * v
    side = rudder * fy
    down = tail * fz - upwards * _at(errors, Y_NORMAL, one, two, three)
    roll = slip * _at(errors, Y_ROLL_STIFF, one, two, three) + aileron * mx
    roll += damping * errors[Y_DAMP] * p
    pitch = upwards * _at(errors, Y_PITCH, one, two, three) + tail * my
    pitch += damping * errors[Y_DAMP + 1] * q
    yaw = slip * _at(errors, Y_YAW_STIFF, one, two, three) + rudder * mz
    yaw += damping * errors[Y_DAMP + 2] * r
    loads[1] += side
    loads[2] += down
    loads[3] += roll
    loads[4] += pitch
    loads[5] += yaw
