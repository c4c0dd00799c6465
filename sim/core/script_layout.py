"""Columns of a phase, of the pilot's memory, of a history row and of a flight summary."""

NONE = 1e9  # a condition that is not asked for

# ------------------------------------------------------------------ phase columns
(
    PH_THROTTLE,  # negative: leave as it is
    PH_ELEVATOR,
    PH_AILERON,
    PH_RUDDER,
    PH_FRAME,
    PH_PILOT,
    PH_RAMP,
    PH_AT_LEAST,
    PH_AT_MOST,
    PH_REACTION,
    PH_HOLD_ALPHA,  # what a level pass holds [rad]
    PH_STAGE,
    PH_FOR,
    PH_ALPHA_ABOVE,
    PH_ALPHA_BELOW,
    PH_ALPHA_SIZE_BELOW,
    PH_YAW_RATE_BELOW,
    PH_YAW_RATE_ABOVE,
    PH_ROTATION_BELOW,
    PH_TURNS_ABOVE,
    PH_BANK_ABOVE,
    PH_PITCH_ABOVE,
    PH_SPEED_ABOVE,
    PH_SPEED_BELOW,
    PH_PATH_ABOVE,
    PH_PITCHED_ABOVE,
    PH_ROLLED_ABOVE,
    PH_UNSTALLED,
    PH_STOP,  # a unit stops for good: -1 on the left, +1 on the right, STOP_SIDE that of the draw
    N_PHASE,
) = range(30)
STOP_SIDE = 2.0
FRAME_CENTRE, FRAME_SIDE, FRAME_SPIN = range(3)
PILOT_STICKS, PILOT_LEVEL, PILOT_PULL_OUT, PILOT_WINGS, PILOT_ROCKING = range(5)
# these keep the wings level either way up: sticks, throttle for height, pull within limits
PILOT_EITHER_WAY, PILOT_PASS, PILOT_HARD_PULL = range(5, 8)
# tried: a recovery that is part of a way in, because it does not work
STAGE_TRIED_PULL_OUT, STAGE_TRIED, STAGE_ENTRY, STAGE_RECOVERY, STAGE_PULL_OUT = range(-2, 3)

# ------------------------------------------------------------------ pilot's memory
(
    Q_PHASE,
    Q_SINCE,  # time in the phase [s]
    Q_HELD,  # how long the conditions have held [s]
    Q_WAIT,  # reaction time still to run [s]; negative: not waiting
    Q_ELEVATOR,
    Q_AILERON,
    Q_RUDDER,
    Q_THROTTLE,
    Q_START_E,
    Q_START_A,
    Q_START_R,
    Q_START_T,
    Q_TURNS,
    Q_SIDE,
    Q_SPIN,  # +1: nose goes right
    Q_SLOW,  # 1 where it hardly turned as that was read, else 0
    Q_ERECT,  # +1 erect, -1 inverted
    Q_YAW,  # yaw rate as the pilot sees it
    Q_ALPHA,
    Q_BANK,
    Q_PATH,
    Q_LOAD,
    Q_SUM,  # integral of a flown phase: of its error in path or angle, or of lift still short
    Q_RETRIES,
    Q_AGAIN,  # how long it has been departing again [s]
    Q_PITCHING,  # pitch rate as the pilot sees it
    Q_HANGS,  # 1 once a recovery that is tried hangs in a deep stall
    Q_STOPPED,  # side on which a unit has stopped: -1 left, +1 right, 0 none
    Q_TILT,  # bank as the pilot sees it, from wings level the way up that it is
    Q_PITCHED,  # turned about the body's y since the phase began [rad]
    Q_ROLLED,  # about its x
    Q_START_ALPHA,  # as seen when the phase began [rad]
    Q_LAST_ALPHA,  # as seen a tick before, in a hard pull [rad]
    N_MEMORY,
) = range(34)

# ------------------------------------------------ whether it hangs in a deep stall
# three smoothed; how long it has hung [s]
WATCH_ALPHA, WATCH_TURN, WATCH_STICK, WATCH_HUNG, N_WATCH = range(5)

# ------------------------------------------------------------------- history columns
(
    H_T,
    H_N,
    H_E,
    H_UP,
    H_PHI,
    H_THETA,
    H_PSI,
    H_U,
    H_V,
    H_W,
    H_P,
    H_Q,
    H_R,
    H_ALPHA,
    H_BETA,
    H_SPEED,
    H_PATH,
    H_CLIMB,
    H_LOAD,
    H_YAW,  # rate of turn about the vertical
    H_ROTATION,  # rate of turn about the flight path through the air
    H_ELEVATOR,
    H_AILERON,
    H_RUDDER,
    H_THROTTLE,
    H_PHASE,
    H_STAGE,
    H_ROTOR,
    H_CURRENT,
    H_SERVO,  # first of KEPT_SERVOS surface deflections
) = range(30)
KEPT_SERVOS = 8
H_TORQUE = (
    H_SERVO + KEPT_SERVOS
)  # of each what holds it where it is asked to be, against the air [N m]
H_OFF = H_TORQUE + KEPT_SERVOS  # and by how much it is off what sticks and gyro ask for [rad]
N_HISTORY = H_OFF + KEPT_SERVOS

# ------------------------------------------------------------------- summary columns
(
    R_STATUS,
    R_TIME,
    R_DEPARTED,
    R_BACK,
    R_DROP_ENTRY,  # height lost up to the first recovery input
    R_HEIGHT_LOST,  # from the first recovery input to level
    R_DROP,  # from the start of the manoeuvre to the lowest point
    R_PULL_OUT,  # from unstalled and not rotating to level
    R_T_STALL,
    R_T_DEPART,
    R_T_RECOVERY,
    R_T_UNSTALLED,
    R_T_LEVEL,
    R_PEAK_ALPHA,
    R_LEAST_ALPHA,
    R_PEAK_LOAD,
    R_PEAK_YAW,
    R_TURNS_ENTRY,
    R_TURNS_RECOVERY,
    R_SPUN,
    R_SPIN_ALPHA,
    R_SPIN_SWING,
    R_SPIN_YAW,
    R_SPIN_SINK,
    R_SPIN_SPEED,
    R_SPIN_BETA,
    R_PEAK_Q,
    R_TRIM_ERROR,
    R_FASTER,  # own slowest level flight over the nominal stall where it began by that; see `Begun`
    R_PEAK_SPEED,
    R_SPIN_RATE,  # turn about the flight path, mean over the window of the spin
    R_STALLED_TURNS,  # most turns about any one axis while stalled without a break
    R_HIGH_FOR,  # longest time beyond the judge's high angle of attack
    R_HUNG_FOR,  # time that a recovery hung in a deep stall; what follows is over this time
    R_HANG_ALPHA,
    R_HANG_PITCH,  # nose above the horizon
    R_HANG_SWING,  # standard deviation of that
    R_HANG_PERIOD,  # of that swing; 0 where there is none
    R_HANG_WALLOW,  # standard deviation of bank
    R_HANG_TURN,  # about the vertical
    R_HANG_SINK,
    R_HANG_SPEED,
    R_TORQUE,  # first of KEPT_SERVOS: the most that the air asked of each [N m]
) = range(43)
R_OFF = R_TORQUE + KEPT_SERVOS  # and by how much it held each off what was asked for [rad]
N_SUMMARY = R_OFF + KEPT_SERVOS

STATUS_DONE, STATUS_TIME, STATUS_BROKEN, STATUS_NO_TRIM, STATUS_DEPTH, STATUS_NAN = range(6)

# ------------------------------------------------------------------ judge's thresholds
(
    J_STALL_MARGIN,
    J_YAW,
    J_YAW_FOR,
    J_ALPHA,
    J_ALPHA_FOR,
    J_BANK,
    J_SPIN_RATE,
    J_WINDOW,
    J_LEVEL_PATH,
    J_LEVEL_FOR,
    J_STOPPED,
    J_SPIN_TURNS,
    J_STALLED_TURNS,
    J_STALLED_GAP,
    J_TURNS_MARGIN,
    J_HANG_ALPHA,
    J_HANG_MOST_ALPHA,
    J_HANG_MEAN,
    J_HANG_FOR,
    J_HANG_STICK,
    J_HANG_PASSED,  # share of its root mean square by which a rate must pass nought
    J_BANK_PATH,  # a bank angle on a steeper path says nothing [rad]
    N_JUDGE,
) = range(23)
