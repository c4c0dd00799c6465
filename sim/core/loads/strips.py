"""Forces on the strips of wings, tails, fins and strakes.

Each strip sees its own air (motion of the balance point, rotation, downwash, induced
angle, slipstream), looks up its coefficients over the whole circle, and pushes along
axes that turn with its moving part. Four passes over the blocks of `lanes`: what has
separated, the air of each strip, its coefficients, its forces. All but the third run several
lanes at once; wakes are found after the first, once it is known which surfaces have stalled.
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
    F_WASH_GAIN,
    F_WASH_STALLED,
    F_WASHED,
    X_SERVO,
    Z_ASKEW,
    Z_LINEAR,
    Z_MEAN,
    Z_ONE_SIDE,
    Z_SEPARATED,
    Z_SHEETWASH,
    Z_SIDEWASH,
    Z_STALLED,
)
from sim.core.loads.fin_air import sheetwash, sidewash
from sim.core.loads.lanes import (
    BLOCK,
    K_A0,
    K_ACROSS,
    K_AHEAD,
    K_ALONG,
    K_AREA,
    K_B0,
    K_CX,
    K_CY,
    K_CZ,
    K_DCM,
    K_DELTA,
    K_ETA,
    K_EXTRA,
    K_FORCE,
    K_FRAC,
    K_FRAC_X,
    K_GONE,
    K_INDUCED,
    K_INNER,
    K_INNER_SIDE,
    K_LATE_CM,
    K_LATE_CN,
    K_MOVES,
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
    K_SLIP,
    K_SPEED,
    K_STATE,
    K_TILT,
    K_TWIST,
    K_Y,
    K_Z,
    LANES,
    P_CHANNEL,
    P_LANE,
    P_ROW,
    P_TABLE,
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

SLOWEST = 0.5  # m/s; below it the lags run as at this speed


@kernel(entry=False)
def turned(a, b, angle):
    """Return (a, b) turned by a small angle; series good to 1e-5 at 0.7 rad."""
    t2 = angle * angle
    c = 1.0 - t2 * (0.5 - t2 * (1.0 / 24.0 - t2 / 720.0))
    s = angle * (1.0 - t2 * (1.0 / 6.0 - t2 * (1.0 / 120.0 - t2 / 5040.0)))
    return a * c - b * s, b * c + a * s


@kernel(inlined=True, entry=False)
def strip_states(x, spots, first_block, o_x, lanes, sums):
    """Fill each lane's attached fraction and deflection, and what has separated.

    Parameters
    ----------
    x : float array
        State vector.
    lanes, first_block, spots
        From `lanes.pack_lanes`.
    sums : float array (m, N_SUMS)
        Z_SEPARATED and Z_ONE_SIDE are filled with each surface's separated fraction.
    """
    for i in range(spots.shape[1]):
        o = np.uint32(spots[P_LANE, i])
        lanes[o + K_STATE] = x[o_x + i]
        if spots[P_CHANNEL, i] >= 0:
            lanes[o + K_DELTA] = x[X_SERVO + np.uint32(spots[P_CHANNEL, i])]
    for j in range(sums.shape[0]):
        gone, right = 0.0, 0.0
        for block in range(first_block[j], first_block[j + 1]):
            more, more_right = _block_separated(np.uint32(block * BLOCK), lanes)
            gone += more
            right += more_right
        sums[j, Z_SEPARATED] = gone
        sums[j, Z_ONE_SIDE] = right


@kernel(inlined=True)
def _block_separated(o, lanes):
    """Return sums of one block's separated fractions, and right less left."""
    for k in range(LANES):
        lanes[o + k + K_GONE] = 1.0 - min(1.0, max(0.0, lanes[o + k + K_STATE]))
    gone, right = 0.0, 0.0
    for k in range(LANES):
        gone += lanes[o + k + K_GONE] * lanes[o + k + K_INNER]
    for k in range(LANES):
        right += lanes[o + k + K_GONE] * lanes[o + k + K_INNER_SIDE]
    return gone, right


@kernel(inlined=True, entry=False)
def strip_air(
    x, u, v, w, p, q, r, slip, first_block, surfaces, o_induced, o_wash, lanes, sums
):  # fmt: skip
    """Fill each lane's speed, place in its table, and attached share.

    Parameters
    ----------
    x : float array
        State vector.
    u, v, w, p, q, r : float
        Air-relative velocity [m/s] and rates [rad/s], body axes.
    slip : float
        Slipstream speed [m/s].
    first_block
        From `lanes.pack_lanes`.
    lanes, sums
        As `strip_states` and then `wake.wake_factors` left them.
    """
    sidewash(x, u, v, w, surfaces, o_wash, sums)
    wash = 0.0
    for j in range(sums.shape[0]):
        wash += x[o_wash + j]
    sheetwash(x, u, v, w - wash * max(u, 0.0), surfaces, o_wash, sums)
    across = w * max(u, 0.0) / sqrt(u * u + v * v + w * w + 1e-9)
    for j in range(sums.shape[0]):
        # downwash turns the air: what it loses across the body it gains along it
        turn = wash * surfaces[j, F_WASHED]
        sideways = v * (1.0 + sums[j, Z_SIDEWASH]) - max(u, 0.0) * sums[j, Z_SHEETWASH]
        for block in range(first_block[j], first_block[j + 1]):
            _block_air(
                np.uint32(block * BLOCK), u + turn * w, sideways, w - turn * max(u, 0.0), p, q, r,
                slip, x[o_induced + 2 * j], x[o_induced + 2 * j + 1], across, lanes,
            )  # fmt: skip


@kernel(inlined=True)
def _block_air(o, u, v, w, p, q, r, slip, mean, slope, across, lanes):
    """Fill one block's lanes.

    ``mean`` and ``slope`` [rad] are the surface's induced angles; ``u``, ``v``, ``w`` the
    air as wing and strakes have turned it; ``across`` V sin(alpha) cos(alpha) [m/s], of which
    nose and strakes take a share. ``o`` is unsigned so that the compiler need not think of
    negative indices.
    """
    # what is induced is a speed of the air, the same for fast and slow strips
    ahead = max(u, 0.0)
    for k in range(LANES):
        i = o + k
        extra = slip * lanes[i + K_SLIP]
        cx = lanes[i + K_CX]
        nx = lanes[i + K_NX]
        a = (u + extra) * cx + v * lanes[i + K_CY] + w * lanes[i + K_CZ]
        a += p * lanes[i + K_RCX] + q * lanes[i + K_RCY] + r * lanes[i + K_RCZ]
        b = (u + extra) * nx + v * lanes[i + K_NY] + w * lanes[i + K_NZ]
        b += p * lanes[i + K_RNX] + q * lanes[i + K_RNY] + r * lanes[i + K_RNZ]
        b += ahead * lanes[i + K_INDUCED] * (mean + lanes[i + K_ETA] * slope)
        a *= lanes[i + K_ALONG]
        b *= lanes[i + K_ACROSS]
        lanes[i + K_A0] = a
        lanes[i + K_B0] = b
        attached = 1.0 - lanes[i + K_GONE]
        # what has let go is one plate with what lies ahead of it
        b += across * attached * lanes[i + K_AHEAD]
        delta = lanes[i + K_DELTA]
        turn = lanes[i + K_MOVES] + attached * lanes[i + K_EXTRA]
        a, b = turned(a, -b, lanes[i + K_TWIST] + turn * delta)
        s = b / (abs(a) + abs(b) + 1e-9)
        back = (2.0 - s) if b >= 0.0 else (-2.0 - s)
        lanes[i + K_PLACE] = ((back if a < 0.0 else s) - S_FIRST) * NODES_PER_UNIT
        lanes[i + K_SPEED] = sqrt(a * a + b * b)


@kernel(inlined=True)
def _look_up(spots, tables, lanes):
    """Fill each lane's row of the tables, straight between the nodes.

    All is read before anything is written, so that the compiler takes several columns at once;
    unsigned numbers as in `_block_air`.
    """
    for i in range(spots.shape[1]):
        spot = lanes[np.uint32(spots[P_LANE, i]) + K_PLACE]
        k = min(N_S - 2, max(0, int(spot)))
        f = spot - k
        o = np.uint32(spots[P_ROW, i])
        t = np.uint32(spots[P_TABLE, i] + N_COLUMNS * k)
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
        # what a flap does to separated flow goes with the share of air along the chord, squared
        along = 1.0 - abs(S_FIRST + lanes[i + K_PLACE] * (1.0 / NODES_PER_UNIT))
        late = gone * delta * along * abs(along)
        cn = lanes[row + CN] + excess * lanes[row + DCN] + late * lanes[i + K_LATE_CN]
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
    loads[0] += half_rho * fx
    loads[1] += half_rho * fy
    loads[2] += half_rho * fz
    loads[3] += half_rho * mx
    loads[4] += half_rho * my
    loads[5] += half_rho * mz
    for j in range(surfaces.shape[0]):
        _lag_rates(x, j, speed, surfaces, sums, o_induced, o_wash, steady, out)


@kernel(inlined=True)
def _lag_rates(x, j, speed, surfaces, sums, o_induced, o_wash, steady, out):
    """Fill the rates of one surface's two induced angles, of its downwash and of its sheet."""
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
    turn = surfaces[j, F_WASH_GAIN] * (mean + share * stalled)
    slow = steady + moving * min(bound, vel / max(surfaces[j, F_WASH_ARM], 1e-3))
    out[o_wash + j] = slow * (turn - x[o_wash + j])
    sheet = o_wash + surfaces.shape[0] + j
    out[sheet] = slow * (surfaces[j, F_K1] * (linear + share * askew) - x[sheet])
