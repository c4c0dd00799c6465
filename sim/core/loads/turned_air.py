"""What one lying surface's flow does to the strips of another: a foreplane's, of two wings.

Each strip knows by how much the other surface turns its air down, negative where up, for the
other's sheet at several heights over it (`S_TURN`). The sheet goes aft with the air, so that it
passes further above the more the angle of attack grows. The turn is added to the strip's own
twist: it turns the air that table and separation answer to and takes nothing of its speed. That
it changes with time while separation lags is left out; the lag's own spread is wider.
"""

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    F_TURNED,
    F_TURNED_BEHIND,
    F_TURNED_OVER,
    N_TURNS,
    S_TURN,
    S_TWIST,
    SI_SURFACE,
)
from sim.core.loads.lanes import K_TWIST, SPOT_LANE

LAST = N_TURNS - 1  # the last height is without end: no turn is left there
LEAST = 0.1  # m/s; slower than this there is no direction
HALF_WAY = 0.5  # half spans; half of the heights lie below this


@kernel(inlined=True, entry=False)
def turned_air(x, u, w, airspeed, wash, strips, index, spots, surfaces, o_induced, lanes):
    """Fill each lane's twist where another surface turns its air.

    Parameters
    ----------
    x : float array
        State vector.
    u, w, airspeed : float
        Air-relative velocity forward and down in the body, and in all [m/s].
    wash : float
        By how much the surfaces turn the air down in all [rad].
    strips, index, surfaces
        Of the model.
    spots, lanes
        From `lanes.pack_lanes`.

    Angles [rad]. Own: straight between the heights that `heights_of_turns` gives.
    """
    inverse_v = 1.0 / max(airspeed, LEAST)
    ahead = max(u, 0.0) * inverse_v
    sine = w * inverse_v - wash * ahead
    for j in range(surfaces.shape[0]):
        if surfaces[j, F_TURNED] > 0.0:
            turn = ahead * x[o_induced + int(surfaces[j, F_TURNED]) - 1]
            over = abs(surfaces[j, F_TURNED_OVER] + surfaces[j, F_TURNED_BEHIND] * sine)
            at = LAST * over / (over + HALF_WAY)
            k = min(int(at), LAST - 1)
            f = at - k
            for i in range(spots.shape[1]):
                if index[SI_SURFACE, i] == j:
                    low, high = strips[S_TURN + k, i], strips[S_TURN + k + 1, i]
                    o = np.uint32(spots[SPOT_LANE, i])
                    lanes[o + K_TWIST] = strips[S_TWIST, i] - turn * (low + f * (high - low))


def heights_of_turns() -> np.ndarray:
    """Return the heights (N_TURNS - 1,) of the sheet that S_TURN is of, but for the last.

    In half spans of the surface that it leaves; even in over / (over + HALF_WAY). Own.
    """
    share = np.arange(LAST) / LAST
    return np.asarray(HALF_WAY * share / (1.0 - share))
