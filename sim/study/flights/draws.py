"""Draws: scrambled Sobol points, the same for every set-up of a study."""

from dataclasses import dataclass

import numpy as np
from scipy.stats import norm, qmc

from sim import tables
from sim.fly.columns import Floats
from sim.pack.spreads import physical
from sim.tables.models.uncertainty import Spread


@dataclass(frozen=True)
class Draws:
    """All draws of a study.

    ``normal`` (n, N_DRAW) are standard normal, cut as uncertainty.toml says;
    ``physical`` (n, N_DRAW) the same in physical units; ``sides`` (n,) +1 for entries
    to the right, -1 to the left, half and half.
    """

    normal: Floats
    physical: Floats
    sides: Floats


def make_draws(spreads: tuple[Spread, ...], count: int, seed: int) -> Draws:
    """Return ``count`` draws (a power of two).

    Scrambled Sobol points of `scipy.stats.qmc`, one dimension a spread and one for the
    side. A longer set of the same seed begins with the shorter one.
    """
    cut = tables.uncertainty().cut_sds
    sampler = qmc.Sobol(len(spreads) + 1, scramble=True, seed=seed)
    points = sampler.random(count)
    normal = np.clip(norm.ppf(np.clip(points[:, :-1], 1e-9, 1.0 - 1e-9)), -cut, cut)
    sides = np.where(points[:, -1] < 0.5, 1.0, -1.0)
    return Draws(normal, physical(spreads, normal), sides)
