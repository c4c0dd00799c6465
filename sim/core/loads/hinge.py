"""Moments of the air about the hinges of flaps and the pivots of whole moving surfaces.

Read off what the strips carried in the last evaluation of the right-hand side, which leaves it in
the lanes: nothing of that is reckoned twice. Only servos whose torque is stated are looked at.
"""

from math import sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    S_AREA,
    S_CHORD,
    S_CX,
    S_FORCE,
    S_HINGE,
    S_HINGE_ARM,
    S_HINGE_LEAN,
    S_HINGE_RATIO,
    S_HINGE_SLOPE,
    S_MOVES,
    V_TORQUE,
)
from sim.core.loads.lanes import (
    K_DCM,
    K_DELTA,
    K_EXTRA,
    K_GONE,
    K_LATE_CM,
    K_LATE_CN,
    K_LATE_CN2,
    K_PLACE,
    K_SPEED,
    SPOT_CHANNEL,
    SPOT_LANE,
    SPOT_ROW,
    SPOT_TABLE,
)
from sim.core.loads.lookup import (
    CM,
    CN,
    DCM,
    DCN,
    G0,
    N_COLUMNS,
    N_S,
    NODES_PER_UNIT,
    S_FIRST,
)

# columns of ``hinges``: what pushes [m3], of a whole surface [m2]; a flap's slope, ratio and lean
# (`layout`); a whole surface's arm and what its moment coefficient is multiplied by [m]
HG_PUSH, HG_SLOPE, HG_RATIO, HG_LEAN, HG_ARM, HG_TURN, N_HINGE = range(7)
# columns of ``hinged``: a strip's lane, its row of the table, its table, its servo
HS_LANE, HS_ROW, HS_TABLE, HS_SERVO, N_HINGED = range(5)
# what is told of each servo: the moment that pushes it to plus [N m] and its slope [N m/rad], at
# a deflection [rad]; and what would hold it where it is asked to be [N m] (`control.servo_targets`)
HM_MOMENT, HM_SLOPE, HM_AT, HM_ASKED, N_HINGE_MOMENT = range(5)
MOST_LEAN = 2.0  # a straight pressure along the chord that keeps its sign leans no more
# numerical only: below this share of the torque a servo does not reach it within a tick
SLOPE_FROM = 0.5


@kernel(entry=False)
def pack_hinges(strips, spots, servos):
    """Return what moments need of each strip that a servo of stated torque moves.

    Returns
    -------
    hinges : float array (h, N_HINGE)
    hinged : int array (h, N_HINGED)

    Areas times chords in m3, lengths in m. Own: how it is laid out.
    """
    count = 0
    for i in range(spots.shape[1]):
        if spots[SPOT_CHANNEL, i] >= 0 and servos[spots[SPOT_CHANNEL, i], V_TORQUE] > 0.0:
            count += 1
    hinges, hinged = np.zeros((count, N_HINGE)), np.zeros((count, N_HINGED), np.int64)
    j = 0
    for i in range(spots.shape[1]):
        servo = spots[SPOT_CHANNEL, i]
        if servo < 0 or not servos[servo, V_TORQUE] > 0.0:
            continue
        hinged[j, HS_LANE], hinged[j, HS_ROW] = spots[SPOT_LANE, i], spots[SPOT_ROW, i]
        hinged[j, HS_TABLE], hinged[j, HS_SERVO] = spots[SPOT_TABLE, i], servo
        if strips[S_MOVES, i] > 0.0:
            hinges[j, HG_PUSH] = strips[S_FORCE, i] * strips[S_AREA, i]
            hinges[j, HG_ARM] = strips[S_HINGE_ARM, i]
            hinges[j, HG_TURN] = strips[S_CHORD, i] * strips[S_CX, i]
        else:
            hinges[j, HG_PUSH] = -strips[S_FORCE, i] * strips[S_HINGE, i]
            hinges[j, HG_SLOPE] = strips[S_HINGE_SLOPE, i]
            hinges[j, HG_RATIO] = strips[S_HINGE_RATIO, i]
            hinges[j, HG_LEAN] = strips[S_HINGE_LEAN, i]
        j += 1
    return hinges, hinged


@kernel
def separated_flap(normal, moment, lean):
    """Return a flap's hinge-moment coefficient where flow has let go, closing positive.

    ``normal`` and ``moment`` about the quarter chord are the section's coefficients; ``lean`` is
    1/4 less a sixth of the flap's share of the chord.

    Own: a pressure along the chord that falls on a straight line has one slope for a normal force
    and its moment about the quarter chord; at right angles to the air it is even, and the flap
    takes half of the normal-force coefficient. It keeps its sign along the chord.
    """
    most = MOST_LEAN * abs(normal)
    leans = min(most, max(-most, -12.0 * (0.25 * normal + moment)))
    return 0.5 * normal + lean * leans


@kernel(inlined=True)
def _strip_moment(j, hinges, hinged, lanes):
    """Return one strip's moment towards plus over rho/2, and a flap's slope with its deflection.

    In m5/s2. Own: attached flow by the slope of control_model.toml and the ratio of both slopes by
    [glauert1926], the incidence without the flap's own share; of a flat plate pressures go with
    its sine times its cosine; what has separated by `separated_flap`; a whole surface by its
    force and moment about its pivot. Coefficients as `strips._block_forces` has them.
    """
    o, row = np.uint32(hinged[j, HS_LANE]), np.uint32(hinged[j, HS_ROW])
    gone, delta = lanes[o + K_GONE], lanes[o + K_DELTA]
    attached = 1.0 - gone
    root = 0.5 * (1.0 + sqrt(attached))
    excess = (root * root - 0.25) * (1.0 / 0.75) - lanes[row + G0]
    s = S_FIRST + lanes[o + K_PLACE] * (1.0 / NODES_PER_UNIT)
    along = 1.0 - abs(s)
    bent = gone * along
    late_cn = bent * (lanes[o + K_LATE_CN] + abs(along) * lanes[o + K_LATE_CN2])
    late_cm = bent * lanes[o + K_LATE_CM]
    cn = lanes[row + CN] + excess * lanes[row + DCN] + delta * late_cn
    cm = lanes[row + CM] + excess * lanes[row + DCM]
    cm += delta * (attached * lanes[o + K_DCM] + late_cm)
    push = lanes[o + K_SPEED] * lanes[o + K_SPEED] * hinges[j, HG_PUSH]
    if hinges[j, HG_TURN] > 0.0:
        return push * (cn * hinges[j, HG_ARM] + cm * hinges[j, HG_TURN]), 0.0
    ahead = max(0.0, along)
    incidence = s * ahead / (ahead * ahead + s * s) - attached * lanes[o + K_EXTRA] * delta
    stiff = attached * hinges[j, HG_SLOPE]
    lean = hinges[j, HG_LEAN]
    here = stiff * (delta + hinges[j, HG_RATIO] * incidence) + gone * separated_flap(cn, cm, lean)
    # by as much as its own deflection bends what has separated, at least: the flap closes
    later = max(0.0, separated_flap(late_cn, late_cm, lean))
    return push * here, push * (stiff + gone * later)


@kernel(inlined=True)
def _whole_slope(j, hinges, hinged, lanes, tables):
    """Return a whole strip's slope of its moment with its deflection, over rho/2.

    In m5/s2 a radian. By definition: the tables' own slope at the strip's place in them, what has
    separated as it is.
    """
    o, row = np.uint32(hinged[j, HS_LANE]), np.uint32(hinged[j, HS_ROW])
    root = 0.5 * (1.0 + sqrt(1.0 - lanes[o + K_GONE]))
    excess = (root * root - 0.25) * (1.0 / 0.75) - lanes[row + G0]
    k = min(N_S - 2, max(0, int(lanes[o + K_PLACE])))
    t = hinged[j, HS_TABLE] + N_COLUMNS * k
    n = t + N_COLUMNS
    rise = tables[n + G0] - tables[t + G0]
    cn = tables[n + CN] - tables[t + CN] + excess * (tables[n + DCN] - tables[t + DCN])
    cm = tables[n + CM] - tables[t + CM] + excess * (tables[n + DCM] - tables[t + DCM])
    cn -= rise * lanes[row + DCN]
    cm -= rise * lanes[row + DCM]
    s = abs(S_FIRST + lanes[o + K_PLACE] * (1.0 / NODES_PER_UNIT))
    s = min(s, 2.0 - s)
    nodes = NODES_PER_UNIT * ((1.0 - s) * (1.0 - s) + s * s)  # a radian of angle
    push = lanes[o + K_SPEED] * lanes[o + K_SPEED] * hinges[j, HG_PUSH]
    return push * nodes * (cn * hinges[j, HG_ARM] + cm * hinges[j, HG_TURN])


@kernel(borrowing=True)
def hinge_moments(rho, hinges, hinged, lanes, tables, servos, out):
    """Fill ``out`` (c, N_HINGE_MOMENT) but for HM_ASKED: what the air does to each servo.

    Parameters
    ----------
    rho : float
        Air density [kg/m3].
    hinges, hinged
        From `pack_hinges`.
    lanes, tables
        As the right-hand side left them (`integrate.Work`).
    servos : float array (c, N_SERVO_COLS)

    Moments [N m] push the deflection to plus: a flap down, a whole surface nose up; slopes
    [N m/rad], those of whole surfaces only where the moment is near the torque. The part's own
    mass is left out, and the linkage turns it as far as the servo turns.

    Own: sums of the strips' `_strip_moment`.
    """
    half_rho = 0.5 * rho
    for i in range(out.shape[0]):
        out[i, HM_MOMENT], out[i, HM_SLOPE] = 0.0, 0.0
    for j in range(hinged.shape[0]):
        moment, slope = _strip_moment(j, hinges, hinged, lanes)
        i = hinged[j, HS_SERVO]
        out[i, HM_MOMENT] += half_rho * moment
        out[i, HM_SLOPE] += half_rho * slope
        out[i, HM_AT] = lanes[np.uint32(hinged[j, HS_LANE]) + K_DELTA]
    for j in range(hinged.shape[0]):
        i = hinged[j, HS_SERVO]
        near = abs(out[i, HM_MOMENT]) > SLOPE_FROM * servos[i, V_TORQUE]
        if near and hinges[j, HG_TURN] > 0.0:
            out[i, HM_SLOPE] += half_rho * _whole_slope(j, hinges, hinged, lanes, tables)
