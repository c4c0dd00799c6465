"""Where each number stands in the kernel's arrays.

Every constant here is an index, a count, or a code; no physics. SI units, body axes
(x forward, y right, z down) with the origin at the balance point once a flight begins.
"""

from typing import NamedTuple

import numpy as np

# ------------------------------------------------------------------ state vector
# position NED, velocity body, quaternion body-to-NED, body rates; then servos, rotor
# speeds, duties, induced angles (two a surface), downwash (one a surface), attached
# fraction (one a strip).
X_POS = 0
X_VEL = 3
X_QUAT = 6
X_RATE = 10
X_SERVO = 13

# ------------------------------------------------------------------- strip rows
(
    S_RX,
    S_RY,
    S_RZ,
    S_CX,
    S_CY,
    S_CZ,
    S_NX,
    S_NY,
    S_NZ,
    S_AREA,
    S_CHORD,
    S_ETA,
    S_TAU,  # change of effective angle per radian of deflection, attached
    S_FRAC,  # separated flow's force on what turns, as a share: its tilt along the chord
    S_FRAC_X,  # and along the body, where the hinge is swept otherwise than the strip faces
    S_TILT,  # tilt of the force of attached flow per radian
    S_FLAP_STALL,  # change of the angle that separation answers to, per radian of deflection
    S_FLAP_FELT,  # part of it that goes with the square of the attached share
    S_DCM,  # moment coefficient about the quarter chord per radian, attached
    S_MOVES,  # turn of the angle that separated flow sees, per radian (1 all-moving, 0 a flap)
    S_LATE_CN,  # a flap's normal-force coefficient per radian on separated flow: what goes with the
    S_LATE_CN2,  # share of air along the chord, and what with its square
    S_LATE_CM,  # and its moment coefficient about the quarter chord, with that share
    S_RELAX,  # time for the separation to relax, tau1 [chords]
    S_DELAY,  # by which it comes late, tau2 [chords]
    S_SIDESLIP_STALL,  # rise of the angle that separation answers to, per sine of sideslip [rad]
    S_EDGE_SIDE,  # part of the chord axis to the right that separation does not answer to
    S_HELP,  # delay of the stall under a helper's whole vortex [rad]
    S_FORCE,  # factor on forces
    S_HALF_Y,  # half of the strip across the stream, along its surface [m]
    S_HALF_Z,
    S_TWIST,  # angle added to the strip's own [rad]
    S_INDUCED,  # induced angle here over the surface's mean; 0 where none acts
    S_CARRIED,  # 1 for a strip that carries its surface through the body
    S_AHEAD,  # share of the angle of attack that nose and strakes ahead take away
    S_HINGE,  # of a flap its area times its chord [m3]
    S_HINGE_SLOPE,  # its hinge-moment coefficient per radian of deflection, attached, closing it
    S_HINGE_RATIO,  # what a radian of incidence does to it over one of deflection
    S_HINGE_LEAN,  # 1/4 less a sixth of its share of the chord, for flow that has let go
    S_HINGE_ARM,  # of a whole moving surface: how far its quarter chord lies ahead of its pivot
    S_TURN,  # turn of the air down by another surface, over the state that F_TURNED names,
    N_STRIP_ROWS,  # with its sheet at N_TURNS heights, S_TURN + k: see `loads.turned_air`
) = (*range(41), 46)
N_TURNS = N_STRIP_ROWS - S_TURN
SI_TABLE, SI_CHANNEL, SI_SURFACE, N_STRIP_INDEX = range(4)

# --------------------------------------------------------------- surface columns
(
    F_K0,  # induced angle per mean normal-force coefficient [rad]
    F_K1,  # the same for loading linear in span
    F_AREA,
    F_AREA_ETA2,
    F_SPAN,
    F_WASH_GAIN,  # downwash angle at the tail per mean normal-force coefficient [rad]
    F_WASH_BELOW,  # how much more of it there is, as a share, where that coefficient is negative
    F_WASH_STALLED,  # share of separated normal force that turns the air
    F_WASH_ARM,  # distance to the tail, for the lag [m]
    F_RATE_MAX,  # bound on the induced-flow rate, for the integrator [1/s]
    F_SPANS,  # induced-flow lag [spans]
    F_HELPER,  # surface whose vortex delays the stall of this one; -1: none
    F_VORTEX,  # 1: a strake, whose vortices pass the fins
    F_WASHED,  # 1 where the downwash of wing and strakes turns the air, else 0
    F_SIDE,  # how strongly the strakes' vortices wash a fin sideways; 0 where they do not
    F_SIDE_X,  # distance behind the strakes [m]
    F_SIDE_Y,  # how far off the centreline the vortices leave [m]
    F_SIDE_OUT,  # and how far the fin stands [m]
    F_SIDE_LOW,  # height of its foot and its tip over the strakes [m]
    F_SIDE_HIGH,
    F_SHEET,  # how strongly the wing's vortex sheet washes a fin sideways; 0 where it does not
    F_SHEET_OF,  # surface that the sheet leaves
    F_SHEET_X,  # the fin's distance behind it, in half spans of that surface like the next three
    F_SHEET_OUT,  # how far the fin stands off the centreline
    F_SHEET_LOW,  # height of its foot and its tip over that surface
    F_SHEET_HIGH,
    F_TURNED,  # 1 + lag state, from the first induced angle on, whose flow S_TURN is of; 0: none
    F_TURNED_OVER,  # how high that flow's sheet passes over this surface at no angle of attack,
    F_TURNED_BEHIND,  # how far aft of its source this lies; both in half spans of the source
    N_SURFACE_COLS,
) = range(30)

# what is summed over the strips of a surface, columns of the scratch ``sums``
(
    Z_MEAN,  # loading
    Z_LINEAR,  # loading times the place across the span
    Z_STALLED,  # lift of separated flow
    Z_ASKEW,  # lift of separated flow times the place across the span
    Z_SEPARATED,  # separated fraction, more of it from near the centreline
    Z_ONE_SIDE,  # of that what is on the right less what is on the left
    Z_SIDEWASH,  # by how much of itself the sideslip grows
    Z_SHEETWASH,  # turn of the air to the right by the wing's vortex sheet [rad]
    N_SUMS,
) = range(9)

# ------------------------------------------- wake sources (surfaces seen from above)
(
    W_Z,
    W_X_LE0,
    W_X_TE0,
    W_X_LE1,
    W_X_TE1,
    W_Y1,
    W_SURFACE,  # index of the surface whose separation makes the wake; -1: a body
    W_DEPTH,  # share of dynamic pressure lost in the wake's core
    W_TAN,  # tangent of the angle by which its edges spread
    W_SOFT,  # width of the edges, as a share of the distance from the source
    W_SIN0,  # body only: sine of the angle where its wake begins
    W_SIN1,  # and where it is fully separated
    W_SWEPT,  # sine squared of the sweep that its separated flow answers to; of a body 1
    N_SOURCE_COLS,
) = range(14)

# ------------------------------------------------------------------ body-strip rows
(
    B_X,
    B_Y,
    B_Z,
    B_AREA_SIDE,  # height x length, seen by cross-flow from the side
    B_AREA_FACE,  # width x length, seen by cross-flow from below
    B_DA_SIDE,  # change of the lateral virtual area over the strip, front to rear
    B_DA_FACE,
    B_CD_SIDE,
    B_CD_FACE,
    B_NOSE,  # area on which a lopsided forebody vortex acts
    B_PUSH,  # side force beyond the drag's, per sine of the cross-flow's angle, at first,
    B_PUSH_TOP,  # where the line on which it falls again would begin,
    B_PUSH_FALL,  # how steeply that falls,
    B_PUSH_TAIL,  # and what stays
    N_BODY_ROWS,
) = range(15)
# body scalars
(
    BP_DRAG_AREA,
    BP_X,
    BP_Y,
    BP_Z,
    BP_BOAT_TAIL,
    BP_PUSH_FACTOR,
    BP_CROSS_FACTOR,
    BP_MUNK_FACTOR,
    BP_ASYMMETRY,
    N_BODY_PAR,
) = range(10)

# ------------------------------------------------------------------- servo columns
(
    V_RATE,
    V_LAG,
    V_MIN,
    V_MAX,
    V_DEADBAND,
    V_OFFSET,
    V_TORQUE,  # that it holds [N m]; 0: not stated, never overpowered
    V_POSITIVE,  # deflection at a command of +1
    V_NEGATIVE,  # deflection at a command of -1 (its size)
    V_MIX_ELEVATOR,
    V_MIX_AILERON,
    V_MIX_RUDDER,
    N_SERVO_COLS,
) = range(13)

# ----------------------------------------------------------------- sticks and gyro
STICK_ELEVATOR, STICK_AILERON, STICK_RUDDER, STICK_THROTTLE, N_STICKS = range(5)
(
    G_ON,
    G_ROLL,
    G_PITCH,
    G_YAW,
    G_FILTER,
    G_DELAY,
    G_OVERRIDE,
    G_HOLD,  # angle-holding gain [1/s], 0 in rate mode
    G_HOLD_LIMIT,
    G_IDLE,
    G_HALF,
    G_FULL,
    G_CENTRED,  # a stick nearer to its middle than this lets hold mode integrate
    N_GYRO,
) = range(14)

# ------------------------------------------------------------- mass and environment
# mass, inertia (9), its inverse (9)
M_MASS = 0
M_INERTIA = 1
M_INVERSE = 10
N_MASS = 19
(
    E_ELEVATION,
    E_WARMER,
    E_THRUST_FACTOR,
    E_WIND_N,
    E_WIND_E,
    E_WIND_D,
    E_TURBULENCE,  # standard deviation of vertical gusts [m/s]
    E_GUST,  # height of a 1-cosine gust [m/s]
    E_GUST_START,
    E_GUST_LENGTH,  # [m]
    E_SEED,
    E_STALL_SPEED,
    E_STALL_ALPHA,  # [rad]
    E_STALL_INVERTED,  # its size, inverted [rad]
    E_AIR,  # 1 with air, 0 without (for checks)
    E_MOST_LAG,  # bound on the angle by which separation lags [rad]
    E_WIND_HEAD,  # shares of a drawn wind that come from ahead and from the side
    E_WIND_CROSS,
    E_GUST_SIDE,  # of that gust what blows from the left [m/s]
    N_ENV,
) = range(20)

# ------------------------------------------------------------------------- pilot
(
    P_DELAY,
    P_STICK_RATE,
    P_PERCEPTION,  # first-order lag on what the pilot sees [s]
    P_ALPHA_LIMIT,
    P_LOAD_LIMIT,
    P_K_ALPHA,
    P_K_Q,
    P_K_BANK,
    P_K_P,
    P_K_PATH,
    P_TRIM_ELEVATOR,
    P_TRIM_AILERON,
    P_TRIM_RUDDER,
    P_TRIM_THROTTLE,
    P_EXPO_E,
    P_EXPO_A,
    P_EXPO_R,
    P_AIM_PATH,  # climb that a pull-out aims at [rad]
    P_AGAIN_FOR,  # stalled and turning for so long, a pull-out has departed again [s]
    P_MOST_RETRIES,
    P_LOAD_FROM,  # share of the load limit from which a pull-out heeds it
    P_NO_PULL_BANK,  # nothing is pulled from this bank on, all below half of it [rad]
    P_SLOWEST,  # slower than this the path's own turn is not reckoned [m/s]
    P_NO_LIFT,  # angle of attack without lift [rad]
    P_K_PULL,  # a hard pull adds stick by the lift still short, this share of it a second [1/s]
    N_PILOT,
) = range(26)


# ------------------------------------------------------------------------- loads
L_FX, L_FY, L_FZ, L_MX, L_MY, L_MZ = range(6)  # N, N m, body axes
# beyond them, of the power units alone
L_HX, L_HY, L_HZ = 6, 7, 8  # N m s, angular momentum of the rotors
L_CURRENT = 9  # A, out of the pack
L_JET_SPEED = 10  # m/s, mean over the units
N_LOADS = 11


class Model(NamedTuple):
    """One aeroplane in one set-up, packed.

    Shapes: strips (N_STRIP_ROWS, n); strip_index (N_STRIP_INDEX, n) int64; tables
    (n_table, N_S, 8); table_ends (2 k, n_table, N_S, 8), the tables at the lower and
    upper end of each drawn table parameter; surfaces (m, N_SURFACE_COLS); pairs (j, 2)
    int64 of strip and wake source; sources (s, N_SOURCE_COLS); bodies (N_BODY_ROWS, b);
    body_par (N_BODY_PAR,); units, prop_table, pack: see thrust; servos (c,
    N_SERVO_COLS); gyro (N_GYRO,); mass (N_MASS,); env (N_ENV,); pilot (N_PILOT,); errors
    (Y_SERVO + N_SERVO_EFFECTS c,), see error_layout.
    """

    strips: np.ndarray
    strip_index: np.ndarray
    tables: np.ndarray
    table_ends: np.ndarray
    surfaces: np.ndarray
    pairs: np.ndarray
    sources: np.ndarray
    bodies: np.ndarray
    body_par: np.ndarray
    units: np.ndarray
    prop_table: np.ndarray
    pack: np.ndarray
    servos: np.ndarray
    gyro: np.ndarray
    mass: np.ndarray
    env: np.ndarray
    pilot: np.ndarray
    errors: np.ndarray
