"""Which part of a strip lies in the separated wake of a surface or of the body.

Seen from the side, the wake of a flat source lies between two lines that leave its
leading and trailing edges a fixed angle either side of the air's direction; its share
falls smoothly across them, over a width that grows with the distance from the edge.
Source of the picture: the shielded-rudder construction of NACA TN 1045 [neihouse1946],
whose bounding lines leave the tailplane 15 degrees either side of a 45-degree flow;
for a flatter flow the wedge is taken narrower in proportion (judgement).

What separates from a long edge, or across a long body, does so as if there were no flow
along it [jones1947]: that flow has no part in the force and is not lost in the wake. Behind
both halves of a swept surface it is, on the average, sin^2 of the sweep of what the air does
along the body; behind a body, all of it. So there a fin keeps some of its rudder, as it has
its own speed along the chord, and loses its hold on the sideslip. What a straight edge would
keep of the air's sideways speed is not counted: in spin tunnels, a shielded fin damps nothing.
"""

from math import pi, sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    W_DEPTH,
    W_SIN0,
    W_SIN1,
    W_SOFT,
    W_SURFACE,
    W_SWEPT,
    W_TAN,
    W_X_LE0,
    W_X_LE1,
    W_X_TE0,
    W_X_TE1,
    W_Y1,
    W_Z,
    Z_SEPARATED,
)
from sim.core.loads.lanes import (
    K_ACROSS,
    K_ALONG,
    K_MASK,
    K_X,
    K_Y,
    K_Z,
    LANES,
    MET_BLOCK,
    MET_SOURCE,
)

SIN_45 = sqrt(0.5)  # sine of the flow angle of the construction
LEAST_SHARE = 0.01  # of its full loss; a wake with less is left out, with twice that whole


@kernel
def _loss(sine):
    """Return the loss of a plate's wake at an angle over that at 45 degrees, at most 1.

    A wake as wide as its plate looks loses what the plate's normal-force coefficient says
    (momentum); its shape against angle is that of `plates.separated_normal_force`:
    r (1 + c (1 - r)) with Rayleigh's r [rayleigh1876] and c 0.5.

    ``sine`` without unit. Plate by [rayleigh1876].
    """
    r = sine * (4.0 + pi) / (4.0 + pi * sine)
    r45 = SIN_45 * (4.0 + pi) / (4.0 + pi * SIN_45)
    return min(1.0, r * (1.5 - 0.5 * r) / (r45 * (1.5 - 0.5 * r45)))


@kernel
def _separated_share(surface, first, full, sine, sums):
    """Return how much of its full loss the wake of a source has, 0 to 1.

    A surface's goes with how far it is separated near the centreline, where fins and tails
    stand behind it, and with its angle; ``sine`` of the angle
    of attack alone tells it of a body (surface -1), between the sines where its wake
    begins and where it is complete.

    Shares, without unit. Own judgement, as is what tells a body's wake.
    """
    body = min(1.0, max(0.0, (sine - first) / (full - first)))
    return sums[int(surface), Z_SEPARATED] * _loss(sine) if surface >= 0.0 else body


@kernel(inlined=True, entry=False)
def wake_factors(u, v, w, met, mask, sources, sums, lanes):
    """Fill what the wakes leave of each lane's air, along its chord and across.

    Parameters
    ----------
    u, v, w : float
        Air-relative velocity of the balance point, body axes [m/s].
    met, mask
        From `lanes.pack_shades`.
    sums : float array (m, N_SUMS)
        Holds each surface's separated fraction near the centreline.
    lanes
        K_ALONG and K_ACROSS are filled; 1 where no wake can lie, as `lanes.pack_lanes` has them.

    Source of the wedge: [neihouse1946]; own: it opens with the plan form met, as the head of
    this file says.
    """
    for m in range(met.shape[0]):
        o = np.uint32(met[m, MET_BLOCK])
        for k in range(LANES):
            lanes[o + k + K_ALONG] = 1.0
        for k in range(LANES):
            lanes[o + k + K_ACROSS] = 1.0
    # neither an early return nor a continue: they cost reference counts on all arrays
    speed = max(sqrt(u * u + v * v + w * w), 1e-3)
    down = 1.0 if w > 0.0 else -1.0
    w = abs(w)  # across the source's plane; heights count downstream
    flow = 1.0 / sqrt(u * u + w * w + 1e-9)
    sin_a = w * flow
    cos_a = u * flow
    m = 0
    for s in range(sources.shape[0]):
        share = _separated_share(
            sources[s, W_SURFACE], sources[s, W_SIN0], sources[s, W_SIN1], w / speed, sums
        )
        # comes in from nothing, so that the integrator meets no step
        depth = sources[s, W_DEPTH] * share * min(1.0, share / LEAST_SHARE - 1.0)
        # the wedge opens in proportion to how much of the plan form the air meets
        slope = sources[s, W_TAN] * min(1.0, sin_a / SIN_45)
        cos_d = 1.0 / sqrt(1.0 + slope * slope)
        sin_d = slope * cos_d
        while m < met.shape[0] and met[m, MET_SOURCE] == s:
            if share > LEAST_SHARE:
                _block_wake(
                    np.uint32(met[m, MET_BLOCK]), np.uint32(m * LANES), depth, sources[s, W_SWEPT],
                    u * flow * flow, v, w * flow * flow, down,
                    sin_a * cos_d + cos_a * sin_d, cos_a * cos_d - sin_a * sin_d,
                    sin_a * cos_d - cos_a * sin_d, cos_a * cos_d + sin_a * sin_d, sin_d,
                    sources[s, W_Z], sources[s, W_X_LE0], sources[s, W_X_TE0],
                    sources[s, W_X_LE1], sources[s, W_X_TE1], sources[s, W_Y1],
                    sources[s, W_SOFT], mask, lanes,
                )  # fmt: skip
            m += 1


@kernel(inlined=True)
def _block_wake(
    o, first, depth, swept, aft, v, up, down, sin_front, cos_front, sin_rear, cos_rear, sin_d,
    z, le0, te0, le1, te1, y1, soft, mask, lanes,
):  # fmt: skip
    """Lower the shares of one block in the wake of one source, ``depth`` at its core.

    Parameters
    ----------
    first : int
        Where in ``mask`` it is said which lanes can lie in it.
    swept : float
        How much of the air's speed along the chord is not lost.
    aft, up : float
        Time in which the air goes one metre, times the direction's components [s/m].
    v, down : float
        Sideways speed [m/s]; 1 if the air comes from below, -1 from above.
    sin_front .. cos_rear, sin_d : float
        Directions of the wedge's edges, and the angle by which they spread.
    z .. soft : float
        Columns W_Z to W_Y1 and W_SOFT of the source.

    Lengths in m. Source: [neihouse1946] for the edges, [jones1947] for what a long edge leaves;
    own: smooth edges, so that the integrator meets no step.
    """
    middle = 0.5 * (le0 + te0)
    for k in range(LANES):
        lanes[o + k + K_MASK] = mask[first + k]
    for k in range(LANES):
        x = lanes[o + k + K_X]
        h = (z - lanes[o + k + K_Z]) * down
        # where across the span the air that passes the point came from
        travel = max(0.0, (middle - x) * aft + h * up)
        away = abs(lanes[o + k + K_Y] + travel * v)
        part = min(1.0, away / y1)
        d_le = le0 + part * (le1 - le0) - x
        d_te = te0 + part * (te1 - te0) - x
        below = d_le * sin_front - h * cos_front
        above = h * cos_rear - d_te * sin_rear
        far = sqrt(d_le * d_le + h * h)
        near = sqrt(d_te * d_te + h * h)
        reach = 0.5 * (far + near)
        beside = y1 + reach * sin_d - away
        # over each edge from 0 far outside to 1 far inside: (1 + d / sqrt(soft^2 + d^2)) / 2
        to_below = sqrt(below * below + (soft * far + 1e-3) ** 2)
        to_above = sqrt(above * above + (soft * near + 1e-3) ** 2)
        to_beside = sqrt(beside * beside + (soft * reach + 1e-3) ** 2)
        cover = (to_below + below) * (to_above + above) * (to_beside + beside)
        cover *= 0.125 * lanes[o + k + K_MASK] / (to_below * to_above * to_beside)
        # wakes that overlap do not add: the deepest counts
        left = sqrt(1.0 - depth * cover)
        # the outer bound takes nothing away, and keeps the compiler from a slow masked store
        lanes[o + k + K_ACROSS] = min(1.0, min(lanes[o + k + K_ACROSS], left))
        along = min(lanes[o + k + K_ALONG], left + (1.0 - left) * swept)
        lanes[o + k + K_ALONG] = min(1.0, along)
