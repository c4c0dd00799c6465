"""The air that each strip of wings, tails, fins and strakes meets.

Its motion with the balance point, rotation, downwash, induced angle, slipstream, what wakes
leave; and from it the strip's place in its table, over the whole circle. Two passes over the
blocks of `lanes`: what has separated, and the air. Wakes are found between them.
"""

from math import sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    F_WASHED,
    X_SERVO,
    Z_ONE_SIDE,
    Z_SEPARATED,
    Z_SHEETWASH,
    Z_SIDEWASH,
)
from sim.core.loads.fin_air import sheetwash, sidewash
from sim.core.loads.lanes import (
    BLOCK,
    K_A0,
    K_ACROSS,
    K_AHEAD,
    K_ALONG,
    K_B0,
    K_CX,
    K_CY,
    K_CZ,
    K_DELTA,
    K_ETA,
    K_EXTRA,
    K_GONE,
    K_INDUCED,
    K_INNER,
    K_INNER_SIDE,
    K_MOVES,
    K_NX,
    K_NY,
    K_NZ,
    K_PLACE,
    K_RCX,
    K_RCY,
    K_RCZ,
    K_RNX,
    K_RNY,
    K_RNZ,
    K_SLIPSTREAM,
    K_SPEED,
    K_STATE,
    K_TWIST,
    LANES,
    SPOT_CHANNEL,
    SPOT_LANE,
)
from sim.core.loads.lookup import (
    NODES_PER_UNIT,
    S_FIRST,
)

SLOWEST = 0.5  # m/s; below it the lags run as at this speed


@kernel(entry=False)
def turned(a, b, angle):
    """Return (a, b) turned by a small angle; series good to 1e-5 at 0.7 rad.

    ``angle`` [rad]. Taylor's series of sine and cosine, from memory.
    """
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

    Shares and angles [rad]. Own: how states reach their lanes.
    """
    for i in range(spots.shape[1]):
        o = np.uint32(spots[SPOT_LANE, i])
        lanes[o + K_STATE] = x[o_x + i]
        if spots[SPOT_CHANNEL, i] >= 0:
            lanes[o + K_DELTA] = x[X_SERVO + np.uint32(spots[SPOT_CHANNEL, i])]
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
    """Return sums of one block's separated fractions, and right less left.

    Own: weighted sums of shares, see `lanes`.
    """
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
    x, u, v, w, p, q, r, first_block, surfaces, o_induced, o_wash, lanes, sums
):  # fmt: skip
    """Fill each lane's speed, place in its table, and attached share.

    Parameters
    ----------
    x : float array
        State vector.
    u, v, w, p, q, r : float
        Air-relative velocity [m/s] and rates [rad/s], body axes.
    first_block
        From `lanes.pack_lanes`.
    lanes, sums
        As `strip_states`, `wake.wake_factors` and `slipstream.slipstreams` left them.

    Own: strip theory; downwash turns the air and takes nothing of its speed to first order.
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
                x[o_induced + 2 * j], x[o_induced + 2 * j + 1], across, lanes,
            )  # fmt: skip


@kernel(inlined=True)
def _block_air(o, u, v, w, p, q, r, mean, slope, across, lanes):
    """Fill one block's lanes.

    ``mean`` and ``slope`` [rad] are the surface's induced angles; ``u``, ``v``, ``w`` the
    air as wing and strakes have turned it; ``across`` V sin(alpha) cos(alpha) [m/s], of which
    nose and strakes take a share. ``o`` is unsigned so that the compiler need not think of
    negative indices.

    Speeds in m/s, rates in rad/s. Own: strip theory, each strip by its own air; the coordinate
    is `lookup.flow_coordinate`.
    """
    # what is induced is a speed of the air, the same for fast and slow strips
    ahead = max(u, 0.0)
    for k in range(LANES):
        i = o + k
        extra = lanes[i + K_SLIPSTREAM]
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
