"""Moving air: a steady wind, one 1-cosine gust, and Dryden turbulence.

Sources: MIL-F-8785C [milf8785c], 3.7.1.2 (Dryden spectra), 3.7.1.3 (1-cosine gust),
3.7.3.1 (scale lengths and intensities below 1,000 ft). The filters are discrete
first-order recursions held over one control tick; they act along north, east and down
instead of along the turning body axes, which is the frame the turbulence lives in.
"""

from math import cos, exp, pi, sqrt

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    E_GUST,
    E_GUST_LENGTH,
    E_GUST_SIDE,
    E_GUST_START,
    E_SEED,
    E_TURBULENCE,
    E_WIND_D,
    E_WIND_E,
    E_WIND_N,
)

FEET = 1.0 / 0.3048
SQRT3 = sqrt(3.0)
SLOWEST = 3.0  # m/s; keeps the filters' times finite, numerical only
KICKS = 3  # random numbers a tick of turbulence takes
# states of the filters, of those across and down a first one and one that follows it
KICK_ALONG, KICK_ACROSS, LATE_ACROSS, KICK_DOWN, LATE_DOWN, N_AIR_MEMORY = range(6)


@kernel(entry=False)
def dryden_scales(height):
    """Return (L_u, L_w) [m] and sigma_u/sigma_w at a height above ground [m].

    Source: MIL-F-8785C 3.7.3.1: L_w = h, L_u = h/(0.177 + 0.000823 h)^1.2,
    sigma_u/sigma_w = 1/(0.177 + 0.000823 h)^0.4, h in feet, 10 ft to 1000 ft.

    Key: [milf8785c] 3.7.3.1.
    """
    h = min(1000.0, max(10.0, height * FEET))
    base = 0.177 + 0.000823 * h
    return h / base**1.2 / FEET, h / FEET, 1.0 / base**0.4


@kernel(entry=False, borrowing=True)
def air_motion(env, memory, t, dt, speed, height, out):
    """Fill ``out`` (3,) with the wind NED [m/s] of this tick.

    Parameters
    ----------
    memory : float array (N_AIR_MEMORY,)
        Filter states: along, across (2), down (2).
    speed, height : float
        Airspeed [m/s], height above ground [m].

    ``t``, ``dt`` [s]. Source: [milf8785c] 3.7.1.2 and 3.7.1.3; own: first-order
    filters held over a tick, see the head of this file.
    """
    out[0] = env[E_WIND_N]
    out[1] = env[E_WIND_E]
    out[2] = env[E_WIND_D]
    sigma = env[E_TURBULENCE]
    if sigma > 0.0:
        length_u, length_w, ratio = dryden_scales(height)
        vel = max(speed, SLOWEST)
        a = exp(-vel * dt / length_u)
        kick = sqrt(1.0 - a * a)
        memory[KICK_ALONG] = a * memory[KICK_ALONG] + sigma * ratio * kick * np.random.normal()
        b = exp(-vel * dt / length_u)
        kick = sqrt(0.5 * (1.0 - b * b))
        memory[LATE_ACROSS] = b * memory[LATE_ACROSS] + (1.0 - b) * memory[KICK_ACROSS]
        memory[KICK_ACROSS] = b * memory[KICK_ACROSS] + sigma * ratio * kick * np.random.normal()
        c = exp(-vel * dt / length_w)
        kick = sqrt(0.5 * (1.0 - c * c))
        memory[LATE_DOWN] = c * memory[LATE_DOWN] + (1.0 - c) * memory[KICK_DOWN]
        memory[KICK_DOWN] = c * memory[KICK_DOWN] + sigma * kick * np.random.normal()
        out[0] += memory[KICK_ALONG]
        out[1] += SQRT3 * memory[KICK_ACROSS] + (1.0 - SQRT3) * memory[LATE_ACROSS]
        out[2] += SQRT3 * memory[KICK_DOWN] + (1.0 - SQRT3) * memory[LATE_DOWN]
    if env[E_GUST] != 0.0 or env[E_GUST_SIDE] != 0.0:
        way = (t - env[E_GUST_START]) * speed
        if 0.0 < way < env[E_GUST_LENGTH]:
            shape = 0.5 * (1.0 - cos(2.0 * pi * way / env[E_GUST_LENGTH]))
            out[1] += env[E_GUST_SIDE] * shape
            out[2] -= env[E_GUST] * shape


@kernel(entry=False)
def begin_turbulence(env, ticks):
    """Begin the random kicks of a flight's turbulence, so many ticks on."""
    if env[E_TURBULENCE] > 0.0:
        np.random.seed(int(env[E_SEED]))
        for _ in range(KICKS * ticks):
            np.random.normal()
