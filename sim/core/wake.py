"""Which part of a strip lies in the separated wake of a surface or of the body.

The wake of a flat source is the wedge swept downstream of its plan form; a point is
followed upstream along the air's path to the source's plane, and the share of the
wake there falls smoothly across edges that spread with the distance travelled.
Source of the picture: the shielded-rudder construction of NACA TN 1045 [neihouse1946],
whose bounding lines leave the tailplane 15 degrees either side of a 45-degree flow.
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
    if speed < 1e-3 or abs(w) < 0.05 * speed:
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
        t = (source[W_Z] - strips[S_RZ, i]) / w
        if t <= 0.0:
            continue
        xh = strips[S_RX, i] + t * u
        yh = abs(strips[S_RY, i] + t * v)
        travel = t * speed
        spread = travel * source[W_TAN]
        soft = travel * source[W_SOFT] + 1e-3
        part = min(1.0, yh / source[W_Y1])
        le = source[W_X_LE0] + part * (source[W_X_LE1] - source[W_X_LE0])
        te = source[W_X_TE0] + part * (source[W_X_TE1] - source[W_X_TE0])
        slant = speed / abs(w)
        cover = _inside(le + spread * slant - xh, soft * slant)
        cover *= _inside(xh - te + spread * slant, soft * slant)
        cover *= _inside(source[W_Y1] + spread - yh, soft)
        out[i] *= 1.0 - source[W_DEPTH] * share * cover


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
