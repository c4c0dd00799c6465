"""The slipstreams of propellers: where each lies behind its disc, and which strips it blows over.

A slipstream is a tube that goes with the air: with the flight's own flow across the body and
with half the jet's speed along the propeller's axis, as the vortex sheet round it does. At small
speed and angle it stays over the tail; beyond, it leaves it upwards.
"""

from math import sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import F_WASH_ARM, F_WASHED
from sim.core.loads.lanes import (
    BLOCK,
    K_HALF_Y,
    K_HALF_Z,
    K_MASK,
    K_PER_HALF,
    K_SLIPSTREAM,
    K_X,
    K_Y,
    K_Z,
    LANES,
)
from sim.core.loads.thrust import (
    PROPELLER,
    U_AXIS_X,
    U_AXIS_Y,
    U_AXIS_Z,
    U_DIAMETER,
    U_INLET_X,
    U_INLET_Y,
    U_INLET_Z,
    U_KIND,
)

# Of a block behind a disc: how far, where across, half its size [m]; then of each lane the share
# of the far slipstream's extra speed that is reached there.
(T_BEHIND, T_Y, T_Z, T_SIZE, T_REACHED) = range(5)
N_TUBE = T_REACHED + LANES
NEWTON = 3  # two are enough where the flow across is as fast as the jet
SLOWEST = 0.1  # m/s; a tube that does not move away from its disc reaches nothing
WIDEST = 2.0  # of a windmill's area behind it, over its own; numerical only


@kernel(entry=False)
def pack_tubes(units, lanes, n_block):
    """Return what does not change of each block behind each disc [m], N_TUBE numbers a block, flat.

    On the axis of a uniformly loaded disc the induced speed is v (1 + d / sqrt(d^2 + R^2))
    with 2 v far behind: a semi-infinite tube of vortex rings, as in [glauert1935]. Nothing is
    felt ahead of the disc.
    """
    tubes = np.zeros(units.shape[0] * n_block * N_TUBE)
    for i in range(units.shape[0]):
        if units[i, U_KIND] != PROPELLER:
            continue
        radius = 0.5 * units[i, U_DIAMETER]
        for b in range(n_block):
            t = (i * n_block + b) * N_TUBE
            least, most = np.full(3, 1e9), np.full(3, -1e9)
            for k in range(LANES):
                o = b * BLOCK + k
                behind = units[i, U_INLET_X] - lanes[o + K_X]
                if lanes[o + K_PER_HALF] == 0.0 or behind <= 0.0:
                    continue
                y, z = lanes[o + K_Y] - units[i, U_INLET_Y], lanes[o + K_Z] - units[i, U_INLET_Z]
                half_y, half_z = abs(lanes[o + K_HALF_Y]), abs(lanes[o + K_HALF_Z])
                least[0], most[0] = min(least[0], behind), max(most[0], behind)
                least[1], most[1] = min(least[1], y - half_y), max(most[1], y + half_y)
                least[2], most[2] = min(least[2], z - half_z), max(most[2], z + half_z)
                reached = 1.0 + behind / sqrt(behind * behind + radius * radius)
                tubes[t + T_REACHED + k] = 0.5 * reached
            if most[0] > 0.0:
                tubes[t + T_BEHIND] = 0.5 * (least[0] + most[0])
                tubes[t + T_Y] = 0.5 * (least[1] + most[1])
                tubes[t + T_Z] = 0.5 * (least[2] + most[2])
                tubes[t + T_SIZE] = 0.5 * sqrt(
                    (most[0] - least[0]) ** 2 + (most[1] - least[1]) ** 2
                    + (most[2] - least[2]) ** 2
                )  # fmt: skip
    return tubes


@kernel
def speed_at_disc(ahead, across, straight):
    """Return the induced speed [m/s] at a disc whose air also comes across it.

    v sqrt((V_a + v)^2 + V_c^2) = T / (2 rho A), momentum theory with the whole of the air that
    passes [glauert1935], from memory; ``straight`` is its root without flow across.

    Parameters
    ----------
    ahead, across, straight : float [m/s]
        Air along the axis, not negative, and across it; the induced speed at straight inflow.
    """
    if straight <= 0.0:
        return straight
    asked = straight * (ahead + straight)
    v = straight
    for _ in range(NEWTON):
        through = ahead + v
        square = through * through + across * across
        v -= (v * square - asked * sqrt(square)) / (square + v * through)
    return v


@kernel(inlined=True)
def slipstreams(
    units, u, v, w, p, q, r, jets, tubes, surfaces, wash, first_block, lanes
):  # fmt: skip
    """Fill each lane's mean speed of slipstreams [m/s] along the body, over its strip.

    Parameters
    ----------
    u, v, w, p, q, r : float
        Air-relative velocity [m/s] and rates [rad/s], body axes.
    jets : float array (n,) [m/s]
        From `thrust.power_loads`.
    tubes
        From `pack_tubes`.
    wash : float [rad]
        Downwash at the tail: behind the wing the tube is turned with the rest of the air.

    The tube's edge moves with the mean of the speeds inside and outside, V + v: [coleman1945],
    from memory; the area contracts as (V + v) / (V + 2 v) by continuity. Own: straight, round, and
    at once where the air of the moment takes it; nothing of its swirl.
    """
    n_surface = surfaces.shape[0]
    first = True
    for i in range(units.shape[0]):
        if units[i, U_KIND] != PROPELLER:
            continue
        if first:
            first = False
            for o in range(0, first_block[n_surface] * BLOCK, BLOCK):
                for k in range(LANES):
                    lanes[np.uint32(o) + k + K_SLIPSTREAM] = 0.0
        x, y, z = units[i, U_INLET_X], units[i, U_INLET_Y], units[i, U_INLET_Z]
        ax, ay, az = units[i, U_AXIS_X], units[i, U_AXIS_Y], units[i, U_AXIS_Z]
        ui, vi, wi = u + q * z - r * y, v + r * x - p * z, w + p * y - q * x
        axial = ui * ax + vi * ay + wi * az
        d = units[i, U_DIAMETER]
        ahead = max(axial, 0.0)
        across = sqrt(max(ui * ui + vi * vi + wi * wi - axial * axial, 0.0))
        jet = speed_at_disc(ahead, across, 0.5 * (jets[i] - ahead))
        away = ui + jet * ax
        if away < SLOWEST:
            continue
        side, down = -(vi + jet * ay) / away, -(wi + jet * az) / away
        wide = min((ahead + jet) / max(ahead + 2.0 * jet, 1e-9), WIDEST)
        radius2 = 0.25 * d * d * wide
        radius = sqrt(radius2)
        arm = 0.0
        for j in range(n_surface):
            arm = max(arm, surfaces[j, F_WASH_ARM])
        for j in range(n_surface):
            turned = wash * surfaces[j, F_WASHED] * max(u, 0.0) / away
            for block in range(first_block[j], first_block[j + 1]):
                t = np.uint32((i * first_block[n_surface] + block) * N_TUBE)
                behind = tubes[t + T_BEHIND]
                if behind <= 0.0:
                    continue
                lower = turned * min(arm, behind)
                off_y = tubes[t + T_Y] - side * behind
                off_z = tubes[t + T_Z] - down * behind - lower
                size = tubes[t + T_SIZE] * (1.0 + abs(side) + abs(down))
                if off_y * off_y + off_z * off_z < (radius + size) * (radius + size):
                    _blow(
                        np.uint32(block * BLOCK), x, y, z + lower, side, down, radius2, 2.0 * jet,
                        t + T_REACHED, tubes, lanes,
                    )  # fmt: skip


@kernel(inlined=True)
def _blow(o, x, y, z, side, down, radius2, extra, t, tubes, lanes):
    """Add to one block's lanes the extra speed [m/s] of one slipstream.

    The share of a strip's line, across the stream, that lies in the tube's circle; geometry [m].
    """
    for k in range(LANES):  # beside the rest, so that the compiler takes all lanes at once
        lanes[o + k + K_MASK] = tubes[t + k]
    for k in range(LANES):
        i = o + k
        behind = x - lanes[i + K_X]
        my = lanes[i + K_Y] - y - side * behind
        mz = lanes[i + K_Z] - z - down * behind
        along = (my * lanes[i + K_HALF_Y] + mz * lanes[i + K_HALF_Z]) * lanes[i + K_PER_HALF]
        inside = along * along - (my * my + mz * mz - radius2) * lanes[i + K_PER_HALF]
        root = sqrt(max(inside, 0.0))
        share = 0.5 * max(0.0, min(1.0, root - along) - max(-1.0, -root - along))
        share = share if inside > 0.0 else 0.0
        lanes[i + K_SLIPSTREAM] += extra * lanes[i + K_MASK] * share
