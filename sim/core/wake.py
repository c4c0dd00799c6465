"""Which part of a strip lies in the separated wake of a surface or of the body.

Seen from the side, the wake of a flat source lies between two lines that leave its
leading and trailing edges a fixed angle either side of the air's direction; its share
falls smoothly across them, over a width that grows with the distance from the edge.
Source of the picture: the shielded-rudder construction of NACA TN 1045 [neihouse1946],
whose bounding lines leave the tailplane 15 degrees either side of a 45-degree flow;
for a flatter flow the wedge is taken narrower in proportion (judgement).
"""

from math import sqrt

from sim.core import kernel
from sim.core.layout import (
    S_RX,
    S_RY,
    S_RZ,
    SI_SURFACE,
    W_DEPTH,
    W_SIN0,
    W_SIN1,
    W_SOFT,
    W_SURFACE,
    W_TAN,
    W_X_LE0,
    W_X_LE1,
    W_X_TE0,
    W_X_TE1,
    W_Y1,
    W_Z,
)

SIN_45 = sqrt(0.5)  # sine of the flow angle of the construction


@kernel
def _inside(distance, soft):
    """Return 0 far outside an edge, 1 far inside, 0.5 on it; ``distance`` inwards [m]."""
    z = distance / soft
    return 0.5 + 0.5 * z / sqrt(1.0 + z * z)


@kernel
def wake_factors(x, u, v, w, strips, index, pairs, sources, o_x, separated, out):
    """Fill ``out`` (n,) with the share of dynamic pressure left to each strip.

    Parameters
    ----------
    u, v, w : float
        Air-relative velocity of the balance point, body axes [m/s].
    pairs : int array (j, 2)
        Strip and wake source that can meet.
    separated : float array (m,)
        Scratch: separated share of each surface.
    """
    n = strips.shape[1]
    for i in range(n):
        out[i] = 1.0
    speed = sqrt(u * u + v * v + w * w)
    if speed < 1e-3:
        return
    _separated_shares(x, index, n, o_x, separated)
    for j in range(pairs.shape[0]):
        source = sources[pairs[j, 1]]
        i = pairs[j, 0]
        if source[W_SURFACE] >= 0.0:
            share = separated[int(source[W_SURFACE])]
        else:
            share = (abs(w) / speed - source[W_SIN0]) / (source[W_SIN1] - source[W_SIN0])
            share = min(1.0, max(0.0, share))
        if share < 0.01:
            continue
        h = (source[W_Z] - strips[S_RZ, i]) * (1.0 if w > 0.0 else -1.0)
        if h <= 0.0:
            continue
        cover = _cover(source, strips[S_RX, i], strips[S_RY, i], h, u, v, abs(w))
        # wakes that overlap do not add: the deepest counts
        out[i] = min(out[i], 1.0 - source[W_DEPTH] * share * cover)


@kernel
def _cover(source, x, y, h, u, v, w):
    """Return the share of a source's wake at a point ``h`` above its plane, 0 to 1.

    ``w`` is the size of the air's speed across the plane, ``h`` positive downstream.
    """
    flow = 1.0 / sqrt(u * u + w * w + 1e-9)
    sin_a = w * flow
    cos_a = u * flow
    # the wedge opens in proportion to how much of the plan form the air meets
    slope = source[W_TAN] * min(1.0, sin_a / SIN_45)
    cos_d = 1.0 / sqrt(1.0 + slope * slope)
    sin_d = slope * cos_d
    # where across the span the air that passes the point came from
    middle = 0.5 * (source[W_X_LE0] + source[W_X_TE0])
    travel = max(0.0, ((middle - x) * u + h * w) * flow * flow)
    away = abs(y + travel * v)
    part = min(1.0, away / source[W_Y1])
    d_le = source[W_X_LE0] + part * (source[W_X_LE1] - source[W_X_LE0]) - x
    d_te = source[W_X_TE0] + part * (source[W_X_TE1] - source[W_X_TE0]) - x
    soft = source[W_SOFT]
    below = d_le * (sin_a * cos_d + cos_a * sin_d) - h * (cos_a * cos_d - sin_a * sin_d)
    above = h * (cos_a * cos_d + sin_a * sin_d) - d_te * (sin_a * cos_d - cos_a * sin_d)
    far = sqrt(d_le * d_le + h * h)
    near = sqrt(d_te * d_te + h * h)
    cover = _inside(below, soft * far + 1e-3) * _inside(above, soft * near + 1e-3)
    reach = 0.5 * (far + near)
    return cover * _inside(source[W_Y1] + reach * sin_d - away, soft * reach + 1e-3)


@kernel
def _separated_shares(x, index, n, o_x, separated):
    """Fill each surface's mean separated share from its strips' states."""
    m = separated.shape[0]
    count = 0.0
    for k in range(m):
        separated[k] = 0.0
        count = 0.0
        for i in range(n):
            if index[SI_SURFACE, i] == k:
                separated[k] += 1.0 - min(1.0, max(0.0, x[o_x + i]))
                count += 1.0
        separated[k] /= max(count, 1.0)
