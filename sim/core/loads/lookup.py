"""The flow coordinate and the layout of the strip coefficient tables.

A table is an array (N_S, N_COLUMNS) on a uniform grid of the flow coordinate s in
[-2, 2], which goes once round the compass without trigonometry. A value with lagging
separation is ``column[CN] + (attached_share(x) - column[G0]) * column[DCN]`` and alike
for CC and CM; with x = column[X0] that is the static value.
"""

import numpy as np

from sim.core import kernel

# Grid: s = S_FIRST + i / NODES_PER_UNIT for i = 0 .. N_S - 1.
N_S = 401
S_FIRST = -2.0
NODES_PER_UNIT = (N_S - 1) / (-2.0 * S_FIRST)

# Columns. Static coefficients: along n_hat, along c_hat (forward positive), about the
# quarter chord (nose up positive).
CN = 0
CC = 1
CM = 2
X0 = 3  # static attached share of the chord
DCN = 4  # attached minus separated
DCC = 5
DCM = 6
G0 = 7  # attached_share(X0)
N_COLUMNS = 8

# Keeps the division finite in still air; far below any speed that matters [m/s].
TINY_SPEED = 1e-30


@kernel
def flow_coordinate(u, w):
    """Return s of the flow angle atan2(w, u): 0 at 0°, 1 at 90°, 2 at 180°, odd in w.

    Parameters
    ----------
    u : float [m/s]
        Air speed along the chord, positive when the section moves leading edge first.
    w : float [m/s]
        Air speed across the chord, positive when it pushes towards the lifting side.

    Returns
    -------
    float in [-2, 2]

    Own: a coordinate round the compass without trigonometry.
    """
    across = w / (abs(u) + abs(w) + TINY_SPEED)
    if u >= 0.0:
        return across
    if w >= 0.0:
        return 2.0 - across
    return -2.0 - across


@kernel
def attached_share(x):
    """Return the share of the attached force at attached chord share x: 0 at 0, 1 at 1.

    Kirchhoff's ((1 + sqrt x)/2)^2 [goman1994], stretched so that x = 0 gives the
    separated branch itself, which the tables carry, and not a quarter of the attached one.

    Parameters
    ----------
    x : float in [0, 1]

    Shares, without unit.
    """
    half = 0.5 * (1.0 + np.sqrt(x))
    return (half * half - 0.25) / 0.75


def grid() -> np.ndarray:
    """Return the grid of s, (N_S,), exactly symmetric about 0.

    Without unit. Own, as `flow_coordinate`.
    """
    steps = np.arange(N_S) - (N_S - 1) // 2
    return steps / NODES_PER_UNIT


def alpha_of_coordinate(s: np.ndarray) -> np.ndarray:
    """Return the flow angle of s in [-2, 2] [rad]; exactly odd in s.

    Own, the inverse of `flow_coordinate`.
    """
    size = np.abs(np.asarray(s, dtype=float))
    across = np.where(size <= 1.0, size, 2.0 - size)
    along = 1.0 - size
    return np.sign(s) * np.arctan2(across, along)


def coordinate_of_alpha(alpha: np.ndarray) -> np.ndarray:
    """Return s of a flow angle in [-pi, pi] [rad]; the array twin of flow_coordinate.

    Own, as `flow_coordinate`.
    """
    alpha = np.asarray(alpha, dtype=float)
    u, w = np.cos(alpha), np.sin(alpha)
    across = w / (np.abs(u) + np.abs(w))
    return np.where(u >= 0.0, across, np.where(w >= 0.0, 2.0, -2.0) - across)
