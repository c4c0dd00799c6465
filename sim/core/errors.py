"""What the build-up itself may have wrong: increments of the whole aeroplane.

Forces and moments on body axes. Each error has an amount, drawn for each flight and nought in
the nominal one, and a shape over the angle between the air and the plane of the wings, made of
straight lines in its sine w/V, so mirrored at 90 degrees; air from above has its own.
"""

from sim.core import kernel
from sim.core.error_layout import (
    LEVEL_NODE,
    N_NODES,
    N_SERVO_EFFECTS,
    Y_AILERON_POWER,
    Y_AILERON_SIDE,
    Y_AILERON_YAW,
    Y_AXIAL,
    Y_DAMP,
    Y_DAMPING,
    Y_DFY,
    Y_DFZ,
    Y_DMX,
    Y_DMY,
    Y_DMZ,
    Y_DRAWN,
    Y_FROM,
    Y_MOST_RATE,
    Y_NORMAL,
    Y_PER,
    Y_PER_ARM,
    Y_PITCH,
    Y_ROLL_STIFF,
    Y_RUDDER_POWER,
    Y_RUDDER_ROLL,
    Y_RUDDER_SIDE,
    Y_SERVO,
    Y_SIDE,
    Y_TAIL_DRAG,
    Y_TAIL_LIFT,
    Y_TAIL_POWER,
    Y_TRIM,
    Y_YAW_STIFF,
)
from sim.core.layout import L_FX, L_FY, L_FZ, L_MX, L_MY, L_MZ, X_SERVO

STILL = 1e-6  # m/s


@kernel(inlined=True)
def _within(rate, most):
    """Return a rate no greater than ``most`` either way."""
    return min(most, max(-most, rate))


@kernel(inlined=True)
def _at(errors, which, node, behind):
    """Return an error at a share ``behind`` of the way from a node to the next.

    Own: straight lines between the nodes of error_model.toml, in the units of the error.
    """
    k = Y_DRAWN + N_NODES * which + node
    return errors[k] + behind * (errors[k + 1] - errors[k])


@kernel(inlined=True, entry=False)
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

    ``rho`` [kg/m3], loads [N, N m]. Own: coefficients times dynamic pressure, as any build-up
    has them; the shapes and their sizes are those of error_model.toml.
    """
    sine = w / (speed + STILL)
    node = LEVEL_NODE if w >= 0.0 else 0
    while node < N_NODES - 2 and sine > errors[Y_FROM + node + 1]:
        node += 1
    behind = min(1.0, max(0.0, (sine - errors[Y_FROM + node]) * errors[Y_PER + node]))
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
    tail = push * _at(errors, Y_TAIL_POWER, node, behind)
    rudder = push * _at(errors, Y_RUDDER_POWER, node, behind)
    aileron = push * _at(errors, Y_AILERON_POWER, node, behind)
    damping = half * _at(errors, Y_DAMPING, node, behind)
    washed = push * _at(errors, Y_AILERON_YAW, node, behind) * mx
    # damping was measured at small rates; further its error grows no more
    most = errors[Y_MOST_RATE] * speed
    sideslip = half * v
    forward = push * _at(errors, Y_AXIAL, node, behind)
    forward += push * _at(errors, Y_TAIL_DRAG, node, behind) * fz
    side = sideslip * _at(errors, Y_SIDE, node, behind) + rudder * fy - washed * errors[Y_PER_ARM]
    down = tail * fz - upwards * _at(errors, Y_NORMAL, node, behind)
    down += push * _at(errors, Y_TAIL_LIFT, node, behind) * fz
    side += push * _at(errors, Y_AILERON_SIDE, node, behind) * mx
    side += push * _at(errors, Y_RUDDER_SIDE, node, behind) * fy
    roll = sideslip * _at(errors, Y_ROLL_STIFF, node, behind) + aileron * mx
    roll += damping * errors[Y_DAMP] * _within(p, most)
    roll += push * _at(errors, Y_RUDDER_ROLL, node, behind) * mz
    pitch = upwards * _at(errors, Y_PITCH, node, behind) + tail * my
    pitch += push * _at(errors, Y_TRIM, node, behind)
    pitch += damping * errors[Y_DAMP + 1] * _within(q, most)
    yaw = sideslip * _at(errors, Y_YAW_STIFF, node, behind) + rudder * mz + washed
    yaw += damping * errors[Y_DAMP + 2] * _within(r, most)
    loads[L_FX] += forward
    loads[L_FY] += side
    loads[L_FZ] += down
    loads[L_MX] += roll
    loads[L_MY] += pitch
    loads[L_MZ] += yaw
