"""Where each number of the build-up's own error stands, an array of `layout.Model`."""

# what may be wrong; each has a shape over angle of attack, times the amount that is drawn
(
    Y_NORMAL,  # normal force, coefficient
    Y_PITCH,  # pitching moment, coefficient
    Y_YAW_STIFF,  # yawing moment per sine of sideslip
    Y_ROLL_STIFF,  # rolling moment per sine of sideslip
    Y_DAMPING,  # share of the attached damping
    Y_TAIL_POWER,  # shares of what the controls do in attached flow: in pitch,
    Y_RUDDER_POWER,  # in yaw,
    Y_AILERON_POWER,  # and in roll
    Y_AXIAL,  # force along the body, coefficient
    Y_SIDE,  # side force per sine of sideslip
    Y_TRIM,  # pitching moment the same way for either sign of the angle
    Y_AILERON_YAW,  # yawing moment at the fin by what rolls, of the attached rolling moment
    Y_AILERON_SIDE,  # side force by what rolls that turns nothing, of that moment over the span
    Y_TAIL_LIFT,  # across and along the body by what pitches, of its attached force across it,
    Y_TAIL_DRAG,  # beside what its pitch errs by
    Y_RUDDER_SIDE,  # side force by what yaws beside that, of the attached one
    Y_RUDDER_ROLL,  # rolling moment by what yaws, of its attached yawing moment
    N_ERRORS,
) = range(18)
# columns of the array: sines of the angles of attack at which the shapes have values, from air
# from above to air from below, one over the steps between them, amounts times shapes (0 nominal),
# shapes, damping, fin, rate, servos
LEVEL_NODE = 5  # at no angle; as many below it as above
N_NODES = 2 * LEVEL_NODE + 1
Y_FROM = 0
Y_PER = Y_FROM + N_NODES
Y_DRAWN = Y_PER + N_NODES - 1
Y_SHAPE = Y_DRAWN + N_ERRORS * N_NODES  # by error and angle, sizes included
Y_DAMP = Y_SHAPE + N_ERRORS * N_NODES  # about x, y, z: attached moment per rho V/2 and rate [m5]
Y_PER_ARM = Y_DAMP + 3  # one over the distance from the balance point back to the fins [1/m]
Y_MOST_RATE = Y_PER_ARM + 1  # rate of rotation per airspeed that damping is known to [1/m]
Y_SERVO = Y_MOST_RATE + 1
# by servo: attached force and moment per dynamic pressure and angle [m2, m3]
(Y_DFY, Y_DFZ, Y_DMX, Y_DMY, Y_DMZ, N_SERVO_EFFECTS) = range(6)
