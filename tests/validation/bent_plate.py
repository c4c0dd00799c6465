"""Free streamlines past a plate with a bent tail, in closed form but for two quadratures.

The speed is that of the stream on both free streamlines, and the direction of the flow is known
on the plate: along either side of the point where it divides, and turned at the hinge. With the
plate mapped to an angle ``phi`` from leading edge (0) to trailing edge (pi), a jump J of direction
at phi_j makes the speed there |sin((phi + phi_j)/2) / sin((phi - phi_j)/2)| to the J/pi; far away
the stream has no direction of its own, which tells where it divides: Kirchhoff's method, as in
H. Lamb, Hydrodynamics (6th ed., 1932), art. 73 to 78. Wake at ambient pressure.
"""

from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq

STEPS = 4001  # a stretch between two singular places


class Bent(NamedTuple):
    """Share of the chord that is bent, CN of the part ahead and of the tail, CM about the nose."""

    share: float
    ahead: float
    tail: float
    moment: float


def bent_at(alpha: float, deflection: float, hinge: float) -> Bent:
    """Return loads [-] on a plate at ``alpha`` [rad] whose tail is ``deflection`` [rad] down.

    ``hinge`` is its phi [rad].
    """
    divides = alpha + deflection * (1.0 - hinge / np.pi)
    ends = np.sort([0.0, divides, hinge, np.pi])
    half = 0.5 * np.pi * (np.arange(STEPS) + 0.5) / STEPS
    phi = np.concatenate([
        low + (high - low) * np.sin(half) ** 2 for low, high in pairwise(ends)
    ])  # fmt: skip
    step = np.concatenate([
        (high - low) * 0.5 * np.pi * np.sin(2.0 * half) / STEPS
        for low, high in pairwise(ends)
    ])  # fmt: skip

    def jump(at: float) -> np.ndarray:
        return np.log(np.abs(np.sin(0.5 * (phi + at)) / np.sin(0.5 * (phi - at))))

    speed = np.exp(-jump(divides) - deflection / np.pi * jump(hinge))
    length = 2.0 * np.abs(np.cos(phi) - np.cos(divides)) / speed * np.sin(phi) * step
    load = (1.0 - speed**2) * length
    order = np.argsort(phi)
    back = np.empty_like(length)
    back[order] = np.cumsum(length[order]) - 0.5 * length[order]
    chord, tail = length.sum(), phi > hinge
    return Bent(
        float(length[tail].sum() / chord), float(load[~tail].sum() / chord),
        float(load[tail].sum() / chord), float(-(load * back).sum() / chord**2),
    )  # fmt: skip


def bent_plate(alpha: float, deflection: float, share: float) -> Bent:
    """Return the same [-] for a tail of this share of the chord."""

    def miss(hinge: float) -> float:
        return bent_at(alpha, deflection, hinge).share - share

    return bent_at(alpha, deflection, brentq(miss, alpha + 0.02, np.pi - 1e-3, xtol=1e-9))


@cache
def per_radian(alpha: float, share: float, by: float = np.radians(3.0)) -> tuple[float, float]:
    """Return what a radian of tail adds to CN and takes off CM about the quarter chord [1/rad]."""
    down, up = bent_plate(alpha, by, share), bent_plate(alpha, -by, share)
    normal = (down.ahead - up.ahead + (down.tail - up.tail) * np.cos(by)) / (2.0 * by)
    return float(normal), float((up.moment - down.moment) / (2.0 * by) - 0.25 * normal)
