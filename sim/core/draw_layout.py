"""Columns of a draw: which number of it is what, and the name it has in files.

Names bind, never places: the uncertainty table may list its entries in any order. The
columns stand in the order of the constants; it is also that of the Sobol dimensions, so
moving a column changes every drawn number.
"""

(
    D_WING_FORCE,
    D_TAIL_FORCE,
    D_FIN_FORCE,
    D_STALL_ANGLE,  # in half-widths of the table ends, like all of TABLE_DRAWS
    D_POST_STALL,
    D_BURST_ANGLE,
    D_VORTEX_LIFT,
    D_STALL_REGION,
    D_SIDESLIP_STALL,
    D_HELP,
    D_WAKE_DEPTH,
    D_WAKE_ANGLE,
    D_DOWNWASH,
    D_LAG,
    D_RELAX,
    D_CROSS_FLOW,
    D_PUSH,
    D_MUNK,
    D_FOREBODY,
    D_MASS,
    D_BALANCE_AFT,
    D_BALANCE_RIGHT,
    D_BALANCE_UP,
    D_SPREAD_X,
    D_SPREAD_Y,
    D_SPREAD_Z,
    D_THROW,
    D_LINKAGE,
    D_WING_RIG,
    D_FIN_RIG,
    D_SERVO_RATE,
    D_THRUST,
    D_PILOT_DELAY,
    D_WIND,
    D_TURBULENCE,
    D_STALLED_WASH,
    D_SIDEWASH,
    D_CENTRE,
    D_PLATE_FORCE,
    D_CARRY_OVER,
    D_ERRORS,  # the first of ERROR_NAMES
) = range(41)

# what the build-up may have wrong of the whole aeroplane, in the kernel's order
ERROR_NAMES = (
    "normal_force_error",
    "pitch_error",
    "yaw_stiffness_error",
    "roll_stiffness_error",
    "damping_error",
    "tail_power_error",
    "rudder_power_error",
    "aileron_power_error",
    "axial_force_error",
    "side_force_error",
    "trim_error",
    "aileron_yaw_error",
    "aileron_side_error",
    "tail_lift_error",
    "tail_drag_error",
    "rudder_side_error",
    "rudder_roll_error",
)
N_DRAW = D_ERRORS + len(ERROR_NAMES)

# name in uncertainty.toml and in an aeroplane's [uncertainty] -> column
DRAW_COLUMNS = {
    "wing_force": D_WING_FORCE,
    "tail_force": D_TAIL_FORCE,
    "fin_force": D_FIN_FORCE,
    "stall_angle": D_STALL_ANGLE,
    "post_stall_force": D_POST_STALL,
    "burst_angle": D_BURST_ANGLE,
    "vortex_lift": D_VORTEX_LIFT,
    "stall_region": D_STALL_REGION,
    "sideslip_stall": D_SIDESLIP_STALL,
    "strake_help": D_HELP,
    "wake_depth": D_WAKE_DEPTH,
    "wake_angle": D_WAKE_ANGLE,
    "downwash": D_DOWNWASH,
    "separation_lag": D_LAG,
    "separation_relax": D_RELAX,
    "cross_flow": D_CROSS_FLOW,
    "side_force": D_PUSH,
    "nose_moment": D_MUNK,
    "forebody": D_FOREBODY,
    "mass": D_MASS,
    "balance_aft": D_BALANCE_AFT,
    "balance_right": D_BALANCE_RIGHT,
    "balance_up": D_BALANCE_UP,
    "spread_lengthwise": D_SPREAD_X,
    "spread_sideways": D_SPREAD_Y,
    "spread_upwards": D_SPREAD_Z,
    "throw": D_THROW,
    "linkage": D_LINKAGE,
    "wing_rig": D_WING_RIG,
    "fin_rig": D_FIN_RIG,
    "servo_rate": D_SERVO_RATE,
    "thrust": D_THRUST,
    "pilot_delay": D_PILOT_DELAY,
    "wind": D_WIND,
    "turbulence": D_TURBULENCE,
    "stalled_downwash": D_STALLED_WASH,
    "fin_sidewash": D_SIDEWASH,
    "centre_of_pressure": D_CENTRE,
    "plate_force": D_PLATE_FORCE,
    "carry_over": D_CARRY_OVER,
    **{name: D_ERRORS + i for i, name in enumerate(ERROR_NAMES)},
}

# drawn through the ends of the coefficient tables; the order of Model.table_ends
TABLE_DRAWS = (
    D_STALL_ANGLE,
    D_POST_STALL,
    D_BURST_ANGLE,
    D_VORTEX_LIFT,
    D_STALL_REGION,
    D_CENTRE,
    D_PLATE_FORCE,
)
N_TABLE_ENDS = len(TABLE_DRAWS)

ROLE_WING, ROLE_TAIL, ROLE_FIN = range(3)
ROLE_DRAWS = (D_WING_FORCE, D_TAIL_FORCE, D_FIN_FORCE)  # by role
