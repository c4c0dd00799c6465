"""What a gyro's loop meets that is not exactly known: the draws of flights, and its own."""

from dataclasses import dataclass

import numpy as np
from scipy.stats import norm, qmc

from sim import tables
from sim.fly.columns import Floats

N_LOOP = 5  # power of three axes, lag, delay


@dataclass(frozen=True)
class LoopDraws:
    """Draws of a loop (n, …), as factors or shares.

    ``physical`` (n, N_DRAW) are those of flights; ``power`` (n, 3) a factor on what each axis'
    surfaces do, ``lag`` (n,) one on the servos' lag, ``delay`` (n,) a share on the gyro's delay.
    """

    physical: Floats
    power: Floats
    lag: Floats
    delay: Floats


def loop_draws(physical: Floats, seed: int) -> LoopDraws:
    """Return the draws of flights (a power of two) with those of the loop beside them.

    Scrambled Sobol points of `scipy.stats.qmc`, normal and cut as all others [-]; spreads of
    gyro_loop.toml. Own.
    """
    t, cut = tables.gyro_loop(), tables.uncertainty().cut_sds
    own_seed = np.random.SeedSequence([seed, N_LOOP]).generate_state(1)[0]
    sampler = qmc.Sobol(N_LOOP, scramble=True, seed=own_seed)
    points = np.clip(sampler.random(len(physical)), 1e-9, 1.0 - 1e-9)
    normal = np.clip(norm.ppf(points), -cut, cut)
    spread = np.array([t.control_power_sd] * 3 + [t.servo_lag_sd, t.delay_sd])
    moved = normal * spread
    return LoopDraws(physical, 1.0 + moved[:, :3], 1.0 + moved[:, 3], moved[:, 4])
