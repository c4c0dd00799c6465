"""Free rigid bodies without air: the whole kernel with no strips, no body, no air."""

from functools import lru_cache

import numpy as np

from sim.core.layout import X_QUAT, X_RATE
from sim.core.motion.integrate import rk4_step, scratch
from sim.core.motion.rotation import ned_of_body
from tests.conftest import bare_model

SLUG_FT2 = 1.3558179483314004  # kg m2; 1 lbf = 4.4482216152605 N, 1 ft = 0.3048 m, exactly
SLUG = 14.593902937206364  # kg

# E. B. Jackson, D. G. Murri, R. O. Shelton, NASA/TM-2015-218675 vol. II, tables 4-5 p. 13
# (brick) and table 26 p. 58 (start): check-case 2, tumbling without damping
BRICK = np.diag([0.001894220, 0.006211019, 0.007194665]) * SLUG_FT2
BRICK_MASS = 0.155404754 * SLUG
START_DPS = np.array([10.0, 20.0, 30.0])


@lru_cache
def brick():
    """Return the model of the check-case's brick."""
    return bare_model(BRICK_MASS, BRICK)


def tumble(model, rates, seconds, step, attitude=(1.0, 0.0, 0.0, 0.0)):
    """Return times (n,) and states (n, size) of a free body, one row a step."""
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT : X_QUAT + 4] = attitude
    x[X_RATE : X_RATE + 3] = rates
    n = round(seconds / step)
    out = np.zeros((n + 1, x.size))
    out[0] = x
    for i in range(n):
        rk4_step(x, model, inputs, work, seconds / n)
        out[i + 1] = x
    return np.linspace(0.0, seconds, n + 1), out


def momenta_ned(inertia, states):
    """Return the angular momentum (n, 3) in NED."""
    body = states[:, X_RATE : X_RATE + 3] @ inertia
    return np.array(
        [ned_of_body(*x[X_QUAT : X_QUAT + 4], *h) for x, h in zip(states, body, strict=True)]
    )
