"""Forces on the strips of wings, tails, fins and strakes.

Each strip sees its own air (`strip_air`), looks up its coefficients over the whole circle, and
pushes along axes that turn with its moving part. Two passes over the blocks of `lanes` after
those of the air: coefficients, forces. All but the first run several lanes at once.
"""

from math import sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    F_AREA,
    F_AREA_ETA2,
    F_K0,
    F_K1,
    F_RATE_MAX,
    F_SPAN,
    F_SPANS,
    F_WASH_ARM,
    F_WASH_BELOW,
    F_WASH_GAIN,
    F_WASH_STALLED,
    L_FX,
    L_FY,
    L_FZ,
    L_MX,
    L_MY,
    L_MZ,
    Z_ASKEW,
    Z_LINEAR,
    Z_MEAN,
    Z_STALLED,
)
from sim.core.loads.lanes import (
    BLOCK,
    K_A0,
    K_AREA,
    K_CX,
    K_CY,
    K_CZ,
    K_DCM,
    K_DELTA,
    K_ETA,
    K_FORCE,
    K_FRAC,
    K_FRAC_X,
    K_GONE,
    K_LATE_CM,
    K_LATE_CN,
    K_LATE_CN2,
    K_NX,
    K_NY,
    K_NZ,
    K_PLACE,
    K_PX,
    K_PY,
    K_PZ,
    K_RCX,
    K_RCY,
    K_RCZ,
    K_RNX,
    K_RNY,
    K_RNZ,
    K_ROW,
    K_SPEED,
    K_TILT,
    K_Y,
    K_Z,
    LANES,
    SPOT_LANE,
    SPOT_ROW,
    SPOT_TABLE,
)
from sim.core.loads.lookup import (
    CC,
    CM,
    CN,
    DCC,
    DCM,
    DCN,
    G0,
    N_COLUMNS,
    N_S,
    NODES_PER_UNIT,
    S_FIRST,
)
from sim.core.loads.strip_air import SLOWEST, turned


@kernel(inlined=True)
def _look_up(spots, tables, lanes):
    """Fill each lane's row of the tables, straight between the nodes.

    All is read before anything is written, so that the compiler takes several columns at once;
    unsigned numbers as in `_block_air`.

    Coefficients, without unit. Own: straight lines between the nodes of `lookup`.
    """
    for i in range(spots.shape[1]):
        spot = lanes[np.uint32(spots[SPOT_LANE, i]) + K_PLACE]
        k = min(N_S - 2, max(0, int(spot)))
        f = spot - k
        o = np.uint32(spots[SPOT_ROW, i])
        t = np.uint32(spots[SPOT_TABLE, i] + N_COLUMNS * k)
        n = t + N_COLUMNS
        a0, a1, a2, a3 = tables[t], tables[t + 1], tables[t + 2], tables[t + 3]
        a4, a5, a6, a7 = tables[t + 4], tables[t + 5], tables[t + 6], tables[t + 7]
        b0, b1, b2, b3 = tables[n], tables[n + 1], tables[n + 2], tables[n + 3]
        b4, b5, b6, b7 = tables[n + 4], tables[n + 5], tables[n + 6], tables[n + 7]
        lanes[o] = a0 + f * (b0 - a0)
        lanes[o + 1] = a1 + f * (b1 - a1)
        lanes[o + 2] = a2 + f * (b2 - a2)
        lanes[o + 3] = a3 + f * (b3 - a3)
        lanes[o + 4] = a4 + f * (b4 - a4)
        lanes[o + 5] = a5 + f * (b5 - a5)
        lanes[o + 6] = a6 + f * (b6 - a6)
        lanes[o + 7] = a7 + f * (b7 - a7)


@kernel(inlined=True)
def _block_forces(o, lanes):
    """Return one block's loads per rho/2, and loading sums.

    Returns force and moment (6), mean and linear circulation, and the same of separated lift.

    In m4/s2 and m5/s2, circulation in m3/s. Source: [goman1994] for the attached share; own:
    what flaps do to flow that has let go, see the comments.
    """
    fx, fy, fz = 0.0, 0.0, 0.0
    mx, my, mz = 0.0, 0.0, 0.0
    mean, linear, stalled, askew = 0.0, 0.0, 0.0, 0.0
    for k in range(LANES):
        i = o + k
        row = o + K_ROW + N_COLUMNS * k
        speed, delta = lanes[i + K_SPEED], lanes[i + K_DELTA]
        gone = lanes[i + K_GONE]
        attached = 1.0 - gone
        root = 0.5 * (1.0 + sqrt(attached))
        excess = (root * root - 0.25) * (1.0 / 0.75) - lanes[row + G0]
        # what a flap does to separated flow falls with the share of air along the chord
        along = 1.0 - abs(S_FIRST + lanes[i + K_PLACE] * (1.0 / NODES_PER_UNIT))
        late = gone * delta * along
        cn = lanes[row + CN] + excess * lanes[row + DCN]
        cn += late * (lanes[i + K_LATE_CN] + abs(along) * lanes[i + K_LATE_CN2])
        cc = lanes[row + CC] + excess * lanes[row + DCC]
        cm = lanes[row + CM] + excess * lanes[row + DCM]
        cm += attached * lanes[i + K_DCM] * delta + late * lanes[i + K_LATE_CM]
        loading = cn * lanes[i + K_AREA]
        # the induced flow answers to the circulation, which goes with the speed itself, and to what
        # pushes the air down without: the lift of what has let go, its force's part across the air
        circulating = attached * loading * speed
        mean += circulating
        let_go = gone * loading * max(0.0, lanes[i + K_A0])
        stalled += let_go
        askew += let_go * lanes[i + K_ETA]
        linear += circulating * lanes[i + K_ETA]
        push = speed * speed * lanes[i + K_FORCE]
        # flow that has let go pushes as hard on the flap as on the rest of the chord, and across
        # its hinge, which need not be swept as the strip is: the rest of that lies along the body
        turn = (lanes[i + K_FRAC] + attached * lanes[i + K_TILT]) * delta
        back = gone * lanes[i + K_FRAC_X] * delta * cn * push
        along, normal = turned(cc, cn, turn)
        along *= push
        normal *= push
        pitch = push * cm
        fx += along * lanes[i + K_CX] + normal * lanes[i + K_NX] - back
        fy += along * lanes[i + K_CY] + normal * lanes[i + K_NY]
        fz += along * lanes[i + K_CZ] + normal * lanes[i + K_NZ]
        mx += along * lanes[i + K_RCX] + normal * lanes[i + K_RNX] + pitch * lanes[i + K_PX]
        my += along * lanes[i + K_RCY] + normal * lanes[i + K_RNY] + pitch * lanes[i + K_PY]
        my -= back * lanes[i + K_Z]
        mz += along * lanes[i + K_RCZ] + normal * lanes[i + K_RNZ] + pitch * lanes[i + K_PZ]
        mz += back * lanes[i + K_Y]
    return fx, fy, fz, mx, my, mz, mean, linear, stalled, askew


@kernel(inlined=True, entry=False)
def strip_loads(
    x, speed, rho, spots, first_block, tables, surfaces, o_induced, o_wash, steady, lanes, sums,
    loads, out,
):  # fmt: skip
    """Add the strips' force and moment to ``loads`` and fill the induced rates in ``out``.

    Parameters
    ----------
    x : float array
        State vector.
    speed, rho : float
        Airspeed of the balance point [m/s] and air density [kg/m3].
    steady : float
        1: fill ``out`` with target minus state instead of a rate (0). A factor, not a
        branch, which would be taken out of the loops and double them.
    tables : float array
        All tables laid out flat.
    lanes
        As `strip_air` left them.
    sums : float array (m, N_SUMS)
        Z_MEAN, Z_LINEAR, Z_STALLED and Z_ASKEW are filled with each surface's loading.

    Loads [N, N m]. Own: strip theory, sums of forces and of moments.
    """
    _look_up(spots, tables, lanes)
    inverse_v = 1.0 / max(speed, SLOWEST)
    fx, fy, fz, mx, my, mz = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for j in range(surfaces.shape[0]):
        mean, linear, stalled, askew = 0.0, 0.0, 0.0, 0.0
        for block in range(first_block[j], first_block[j + 1]):
            dx, dy, dz, ex, ey, ez, one, two, three, four = _block_forces(
                np.uint32(block * BLOCK), lanes
            )
            fx, fy, fz = fx + dx, fy + dy, fz + dz
            mx, my, mz = mx + ex, my + ey, mz + ez
            mean, linear = mean + one, linear + two
            stalled, askew = stalled + three, askew + four
        sums[j, Z_MEAN] = mean * inverse_v
        sums[j, Z_LINEAR] = linear * inverse_v
        sums[j, Z_STALLED] = stalled * inverse_v
        sums[j, Z_ASKEW] = askew * inverse_v
    half_rho = 0.5 * rho
    loads[L_FX] += half_rho * fx
    loads[L_FY] += half_rho * fy
    loads[L_FZ] += half_rho * fz
    loads[L_MX] += half_rho * mx
    loads[L_MY] += half_rho * my
    loads[L_MZ] += half_rho * mz
    for j in range(surfaces.shape[0]):
        _lag_rates(x, j, speed, surfaces, sums, o_induced, o_wash, steady, out)


@kernel(inlined=True)
def _lag_rates(x, j, speed, surfaces, sums, o_induced, o_wash, steady, out):
    """Fill the rates of one surface's two induced angles, of its downwash and of its sheet.

    Speed in m/s, rates in rad/s. Lifting line by [glauert1926] for the induced angles; own:
    lags by travelled lengths, see strip_model.toml.
    """
    vel = max(speed, SLOWEST)
    bound = surfaces[j, F_RATE_MAX]
    moving = 1.0 - steady
    rate = steady + moving * min(bound, vel / (surfaces[j, F_SPANS] * surfaces[j, F_SPAN]))
    i0 = o_induced + 2 * j
    mean = sums[j, Z_MEAN] / surfaces[j, F_AREA]
    linear = sums[j, Z_LINEAR] / surfaces[j, F_AREA_ETA2]
    # a stalled wing still pushes air down: the whole of its lift turns the air (momentum)
    stalled = sums[j, Z_STALLED] / surfaces[j, F_AREA]
    askew = sums[j, Z_ASKEW] / surfaces[j, F_AREA_ETA2]
    out[i0] = rate * (surfaces[j, F_K0] * (mean + stalled) - x[i0])
    out[i0 + 1] = rate * (surfaces[j, F_K1] * (linear + askew) - x[i0 + 1])
    share = surfaces[j, F_WASH_STALLED]
    turning = mean + share * stalled
    turn = surfaces[j, F_WASH_GAIN] * turning
    turn *= 1.0 + surfaces[j, F_WASH_BELOW] if turning < 0.0 else 1.0
    slow = steady + moving * min(bound, vel / max(surfaces[j, F_WASH_ARM], 1e-3))
    out[o_wash + j] = slow * (turn - x[o_wash + j])
    sheet = o_wash + surfaces.shape[0] + j
    out[sheet] = slow * (surfaces[j, F_K1] * (linear + share * askew) - x[sheet])
