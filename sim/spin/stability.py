"""Does a steady spin hold itself: the whole system made linear about an equilibrium.

States: velocity, direction of gravity and rates in body axes, servos, rotors, every lag of
the flow. Position and heading drop out, as nothing depends on them but the air's density,
which is held. A gyro acts at once here; its delay and filter are left out.
"""

import numpy as np

from sim.core import layout as k
from sim.core.steady.spinning import rates_about
from sim.spin.equilibrium import DOWN, TURN, VELOCITY, SpinBalance

STEP = 1e-6  # of the central differences, relative; force goes with the root of what is attached


def _rates(balance: SpinBalance, states: np.ndarray, raw: np.ndarray) -> np.ndarray:
    """Return the rates (m, n) of some states (m, n) from those of the whole state vector.

    States [m/s, -, rad/s] are velocity, gravity, rates, servos and on. Gravity as seen from axes
    that turn, d(down)/dt = -omega x down [etkin1996], from memory.
    """
    down = states[:, 3:6] / np.linalg.norm(states[:, 3:6], axis=1, keepdims=True)
    return np.hstack(
        [
            raw[:, k.X_VEL : k.X_VEL + 3],
            -np.cross(states[:, 6:9], down),
            raw[:, k.X_RATE : k.X_RATE + 3],
            raw[:, balance.servos],
            raw[:, balance.inner],
        ]
    )


def matrix(balance: SpinBalance, z: np.ndarray) -> np.ndarray:
    """Return the system matrix (n, n) [1/s] about an equilibrium with the unknowns ``z``.

    Central differences, by definition. The direction of gravity has length one, so it gives two
    states, across itself.
    """
    balance.put(z)
    down = z[DOWN] / np.linalg.norm(z[DOWN])
    s = np.concatenate(
        [
            z[VELOCITY],
            down,
            z[TURN] * down,
            balance.x[balance.servos],
            balance.x[balance.inner],
        ]
    )
    steps = STEP * (1.0 + np.abs(s))
    ahead, behind = np.empty((2, s.size, balance.x.size))
    rates_about(*balance.flown, balance.controls, balance.inner, s, steps, ahead, behind)
    one, other = (_rates(balance, s + move, raw) for move, raw in (
        (np.diag(steps), ahead), (-np.diag(steps), behind)
    ))  # fmt: skip
    full = ((one - other) / (2.0 * steps[:, None])).T
    across = np.linalg.svd(down[None])[2][1:]  # (2, 3), normal to gravity
    keep = np.zeros((s.size, s.size - 1))
    keep[:3, :3] = np.eye(3)
    keep[3:6, 3:5] = across.T
    keep[6:, 5:] = np.eye(s.size - 6)
    return keep.T @ full @ keep


def eigenvalues(balance: SpinBalance, z: np.ndarray) -> np.ndarray:
    """Return the eigenvalues (n,) [1/s] about an equilibrium, the least stable first.

    By definition of linear stability.
    """
    values = np.linalg.eigvals(matrix(balance, z))
    return values[np.argsort(-values.real)]
