"""One row of a flight's history."""

from math import asin, atan2, sqrt

from sim.core import kernel
from sim.core.layout import (
    L_CURRENT,
    L_FZ,
    M_MASS,
    X_POS,
    X_QUAT,
    X_RATE,
    X_SERVO,
    X_VEL,
)
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.motion.rotation import body_of_ned, euler_of_quaternion, ned_of_body
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
    H_OFF,
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
    H_TORQUE,
    H_U,
    H_UP,
    H_V,
    H_W,
    H_YAW,
    KEPT_SERVOS,
    Q_AILERON,
    Q_ELEVATOR,
    Q_PHASE,
    Q_RUDDER,
    Q_THROTTLE,
)


# not inlined, and with the few arrays it reads: so speed and angles are rounded in one way,
# whatever stands around the call
@kernel(borrowing=True)
def record(row, t, x, wind, loads, power, mass, units, servos, memory, stage, o_rotor):
    """Fill one history row from the state; needs the ``loads`` of this state.

    ``t`` [s]; angles in rad, rates in rad/s, speeds in m/s, load factor in g (own: force up
    the body over weight).

    Source: [stevens2015] table 1.7 for the axes; alpha = atan2(w, u), sine of beta = v/V (from
    memory).
    """
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
    row[H_LOAD] = -loads[L_FZ] / (mass[M_MASS] * STANDARD_GRAVITY)
    _, _, row[H_YAW] = ned_of_body(q0, q1, q2, q3, x[X_RATE], x[X_RATE + 1], x[X_RATE + 2])
    row[H_ROTATION] = (x[X_RATE] * u + x[X_RATE + 1] * v + x[X_RATE + 2] * w) / speed
    row[H_ELEVATOR] = memory[Q_ELEVATOR]
    row[H_AILERON] = memory[Q_AILERON]
    row[H_RUDDER] = memory[Q_RUDDER]
    row[H_THROTTLE] = memory[Q_THROTTLE]
    row[H_PHASE] = memory[Q_PHASE]
    row[H_STAGE] = stage
    row[H_ROTOR] = x[o_rotor] if units.shape[0] > 0 else 0.0
    row[H_CURRENT] = power[L_CURRENT]
    for i in range(min(KEPT_SERVOS, servos.shape[0])):
        row[H_SERVO + i] = x[X_SERVO + i]
        row[H_TORQUE + i], row[H_OFF + i] = 0.0, 0.0  # until the pilot has moved
