"""How the flow of each strip separates and comes back: rates of the attached fractions.

After Goman and Khrabrov [goman1994]: tau1 dx/dt + x = x0(alpha - tau2 dalpha/dt). The
angle that x0 is read at follows a flap's deflection less than the lift does (a flap adds
to the greatest lift), and is further moved by sideslip (a vortex bursts first on the
windward side, a straight wing stalls first on the leeward one) and by the vortex of a
surface ahead, which keeps the flow attached. Comes last, because dalpha/dt needs the
accelerations; they do not depend on x0, so there is no loop.
"""

from math import sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import F_HELPER, F_RATE_MAX, F_WASHED, X_RATE, X_VEL, Z_ONE_SIDE, Z_SEPARATED
from sim.core.loads.lanes import (
    BLOCK,
    K_A0,
    K_ACROSS,
    K_ALONG,
    K_ANSWERED,
    K_B0,
    K_CX,
    K_CY,
    K_CZ,
    K_DELAY,
    K_DELTA,
    K_EDGE_SIDE,
    K_ETA,
    K_FLAP_FELT,
    K_FLAP_STALL,
    K_GONE,
    K_HELP,
    K_HELP_SIDE,
    K_INDUCED,
    K_NX,
    K_NY,
    K_NZ,
    K_PER_RELAX,
    K_RATE,
    K_RCX,
    K_RCY,
    K_RCZ,
    K_RNX,
    K_RNY,
    K_RNZ,
    K_SIDESLIP_STALL,
    K_SPEED,
    K_STATE,
    K_TWIST,
    LANES,
    SPOT_LANE,
    SPOT_TABLE,
)
from sim.core.loads.lookup import N_COLUMNS, N_S, NODES_PER_UNIT, S_FIRST, X0
from sim.core.loads.strip_air import SLOWEST, turned

MOST_TURN = 1.2  # rad; the series in `turned` are good to 1e-4 there


@kernel(inlined=True)
def _block_separation(
    o, v, du, dv, dw, dp, dq, dr, ahead, dmean, dslope, sideslip, slipping, helped, right, most_lag,
    bound, steady, lanes,
):  # fmt: skip
    """Fill one block's places in the tables of x0, and how fast x goes there.

    Parameters
    ----------
    v, du .. dr : float
        Velocity to the right through the air [m/s], rates of it and of the others [m/s2], and of
        the rotation [rad/s2], body axes.
    ahead, dmean, dslope : float
        Forward speed [m/s], rates of the surface's induced angles.
    sideslip, slipping : float
        Sine of sideslip, and its rate [1/s].
    helped : float
        Attached share of the vortices that help this surface.
    right : float
        What the right one has more of it than both.
    most_lag : float
        Bound on tau2 dalpha/dt [rad].
    bound : float
        Bound on the relaxation's rate [1/s].

    Source: [goman1994] for the two lags; own: what sideslip, flaps and helpers do to the angle,
    see the head of this file.
    """
    moving = 1.0 - steady
    for k in range(LANES):
        i = o + k
        # a vortex answers to the sweep of its edge by its own law: sideslip turns it by that alone
        side = lanes[i + K_EDGE_SIDE]
        da = du * lanes[i + K_CX] + dv * (lanes[i + K_CY] - side) + dw * lanes[i + K_CZ]
        da += dp * lanes[i + K_RCX] + dq * lanes[i + K_RCY] + dr * lanes[i + K_RCZ]
        db = du * lanes[i + K_NX] + dv * lanes[i + K_NY] + dw * lanes[i + K_NZ]
        db += dp * lanes[i + K_RNX] + dq * lanes[i + K_RNY] + dr * lanes[i + K_RNZ]
        db += ahead * lanes[i + K_INDUCED] * (dmean + lanes[i + K_ETA] * dslope)
        da *= lanes[i + K_ALONG]
        db *= lanes[i + K_ACROSS]
        speed = max(lanes[i + K_SPEED], SLOWEST)
        slow = 1.0 / speed
        a, b = lanes[i + K_A0] - v * side * lanes[i + K_ALONG], -lanes[i + K_B0]
        slip = lanes[i + K_SIDESLIP_STALL]
        turning = (-b * da - a * db) * (slow * slow)
        turning += slipping * (slip if b >= 0.0 else -slip)
        lag = moving * lanes[i + K_DELAY] * turning * slow
        lag = min(most_lag, max(-most_lag, lag))
        attached = 1.0 - lanes[i + K_GONE]
        stall = lanes[i + K_FLAP_STALL] + attached * attached * lanes[i + K_FLAP_FELT]
        move = lanes[i + K_TWIST] + stall * lanes[i + K_DELTA]
        met = b + a * move
        help = helped * lanes[i + K_HELP] + right * lanes[i + K_HELP_SIDE]
        # what keeps the flow on takes no more away than there is: not past none to the other side
        shift = max(sideslip * slip - help, -abs(met) * slow)
        move += (shift if met >= 0.0 else -shift) - lag
        a, b = turned(a, b, min(MOST_TURN, max(-MOST_TURN, move)))
        s = b / (abs(a) + abs(b) + 1e-9)
        back = (2.0 - s) if b >= 0.0 else (-2.0 - s)
        lanes[i + K_ANSWERED] = ((back if a < 0.0 else s) - S_FIRST) * NODES_PER_UNIT
        lanes[i + K_RATE] = steady + moving * min(bound, speed * lanes[i + K_PER_RELAX])


@kernel(inlined=True, entry=False)
def separation_rates(
    u, v, w, p, q, r, wu, wv, ww, most_lag, spots, first_block, tables, surfaces, o_induced,
    o_wash, o_x, steady, lanes, sums, out,
):  # fmt: skip
    """Fill ``out`` with the rates of the attached fractions.

    Parameters
    ----------
    u, v, w, p, q, r : float
        Air-relative velocity of the balance point [m/s] and rates [rad/s], body axes.
    wu, wv, ww : float
        Wind in body axes [m/s].
    most_lag : float
        Bound on tau2 dalpha/dt [rad].
    steady : float
        1: fill in target minus state, the target being the static value.
    lanes, sums
        As `strips.strip_loads` left them.
    out : float array (state_size,)
        Holds the rates of velocity, rotation, induced angles and downwash already.

    Rates in 1/s. Source: [goman1994]; own: the air's acceleration from that of the body, as
    wind stands still.
    """
    # the wind stands still in the air, so it turns in the body
    du = out[X_VEL] + q * ww - r * wv
    dv = out[X_VEL + 1] + r * wu - p * ww
    dw = out[X_VEL + 2] + p * wv - q * wu
    dp, dq, dr = out[X_RATE], out[X_RATE + 1], out[X_RATE + 2]
    per_speed = 1.0 / max(sqrt(u * u + v * v + w * w), SLOWEST)
    sideslip = v * per_speed
    slipping = (dv - sideslip * (u * du + v * dv + w * dw) * per_speed) * per_speed
    ahead = max(u, 0.0)
    dwash = 0.0
    for j in range(surfaces.shape[0]):
        dwash += out[o_wash + j]
    for j in range(surfaces.shape[0]):
        helper = int(surfaces[j, F_HELPER])
        helped = 1.0 - sums[max(0, helper), Z_SEPARATED] if helper >= 0 else 0.0
        right = -sums[max(0, helper), Z_ONE_SIDE] if helper >= 0 else 0.0
        turned_down = surfaces[j, F_WASHED] * ahead * dwash
        for block in range(first_block[j], first_block[j + 1]):
            _block_separation(
                np.uint32(block * BLOCK), v, du, dv, dw - turned_down, dp, dq, dr, ahead,
                out[o_induced + 2 * j], out[o_induced + 2 * j + 1], sideslip, slipping, helped,
                right,
                most_lag, surfaces[j, F_RATE_MAX], steady, lanes,
            )  # fmt: skip
    for i in range(spots.shape[1]):
        o = np.uint32(spots[SPOT_LANE, i])
        spot = lanes[o + K_ANSWERED]
        k = min(N_S - 2, max(0, int(spot)))
        t = np.uint32(spots[SPOT_TABLE, i] + N_COLUMNS * k)
        x0 = tables[t + X0]
        x0 += (spot - k) * (tables[t + N_COLUMNS + X0] - x0)
        out[o_x + i] = lanes[o + K_RATE] * (x0 - lanes[o + K_STATE])
