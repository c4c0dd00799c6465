"""Columns of what is measured of a flight that shows what an aeroplane can do."""

from sim.core.script_layout import KEPT_SERVOS

# ------------------------------------------------------- columns of what is measured
(
    M_STATUS,
    M_BACK,  # 1: level flight again
    M_ANGLE,  # greatest from nose to flight path, the way it was swung, may pass pi [rad]
    M_PITCH_RATE,  # greatest [rad/s]
    M_ANGLE_TIME,  # from the first input to the angle of agility.toml [s]; inf: never
    M_OVER_TIME,  # to once round, nose against flight path [s]
    M_LOOP_TIME,  # to the flight path once round in pitch [s]
    M_LOOP_HEIGHT,  # of the loop, lowest before its top to top [m]
    M_ROLL_TIME,  # to once round about its own x [s]
    M_ROLL_RATE,  # greatest mean over the window [rad/s]
    M_SLOWEST,  # least speed of a pass while it was held [m/s]; inf: never held
    M_SLOWEST_ANGLE,  # angle of attack there [rad]
    M_LOAD,  # greatest, either way [g]
    M_USED,  # height from start to lowest point [m]
    M_FORWARD,  # from the last input to pointing along its path again [s]; inf: never
    M_ASIDE,  # most turned about an axis that was not asked for, up to then [rad]
    M_TORQUE,  # first of KEPT_SERVOS: the most that the air asked of each [N m]
) = range(17)
M_OFF = M_TORQUE + KEPT_SERVOS  # and by how much it held each off what was asked for [rad]
N_MEASURED = M_OFF + KEPT_SERVOS
