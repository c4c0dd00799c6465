"""The ground: how high surfaces stand over it, what it does to their air, and how it rolls."""

from math import atan, cos, exp, pi, sin
from typing import NamedTuple

import numpy as np

from sim.core import layout as k
from sim.core.layout import Model
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.describe import Aeroplane
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled

UPRIGHT = 0.5  # a strip whose normal points more sideways than this is a fin's; without unit


def ground_down_m(assembled: Assembled) -> float:
    """Return how far the ground lies below the balance point at touch-down [m].

    Own: the main wheels where there are some, else the lowest of the bodies.
    """
    aeroplane = assembled.aeroplane
    if aeroplane.undercarriage is not None:
        low = aeroplane.undercarriage.main_up_mm
    else:
        low = min(s.up_mm - 0.5 * s.height_mm for body in aeroplane.bodies for s in body.stations)
    return float(-0.001 * low - assembled.weighed.balance_m[2])


def induced_left(height_over_span: float) -> float:
    """Return the share of a wing's induced angle that is left near the ground [-].

    1 - exp(-2.48 (2h/b)^0.768): the usual fit of Wieselsberger's curve [wieselsberger1922],
    both from memory; h/b without unit.
    """
    return 1.0 - exp(-2.48 * (2.0 * max(height_over_span, 0.0)) ** 0.768)


def downwash_left(span: float, wing_height: float, tail_height: float) -> float:
    """Return the share of a wing's downwash at the tail that is left near the ground [-].

    1 - (b² + 4 (h_t - h)²)/(b² + 4 (h_t + h)²), b the span of the trailing pair, pi/4 of the
    wing's: [datcom1978] 4.7.1, from memory. Lengths in m.
    """
    pair = (0.25 * pi * span) ** 2
    apart, together = tail_height - wing_height, tail_height + wing_height
    return 1.0 - (pair + 4.0 * apart**2) / (pair + 4.0 * together**2)


def ground_factors(model: Model, ground_m: float) -> Floats:
    """Return what touch-down leaves of each surface's induced angles and downwash (m, 2) [-].

    Own: every lying surface's own induced angles by `induced_left`, what washes the tail by
    `downwash_left`, level with the ground at ``ground_m`` [m] below the balance point; what a
    foreplane does to the wing, at the wing's height. The lift that a wing gains from the image's
    bound vortex is left out; it is small at these heights.
    """
    owner = model.strip_index[k.SI_SURFACE]
    count = model.surfaces.shape[0]
    lying = [abs(model.strips[k.S_NZ, owner == j]).mean() > UPRIGHT for j in range(count)]
    heights = [ground_m - model.strips[k.S_RZ, owner == j].mean() for j in range(count)]
    washed = [j for j in range(count) if lying[j] and model.surfaces[j, k.F_WASHED] > 0.0]
    tail = heights[washed[0]] if washed else 0.0
    first = 1 + 2 * count  # of F_TURNED, where downwash states begin
    met = {
        int(model.surfaces[j, k.F_TURNED]) - first: heights[j]
        for j in range(count)
        if model.surfaces[j, k.F_WASHED] == 0.0
    }
    out = np.ones((count, 2))
    for j in range(count):
        span = model.surfaces[j, k.F_SPAN]
        if lying[j] and span > 0.0:
            height = max(heights[j], 0.0)
            behind = max(met.get(j, tail), 0.0)
            out[j] = induced_left(height / span), downwash_left(span, height, behind)
    return out


def with_ground(model: Model, factors: Floats) -> Model:
    """Return a model with the factors of `ground_factors` on its induced angles and downwash."""
    surfaces = model.surfaces.copy()
    surfaces[:, (k.F_K0, k.F_K1)] *= factors[:, :1]
    surfaces[:, k.F_WASH_GAIN] *= factors[:, 1]
    return model._replace(surfaces=surfaces)


def near_ground(model: Model, ground_m: float) -> Model:
    """Return a model in the air of touch-down, the ground so far below its balance point [m]."""
    return with_ground(model, ground_factors(model, ground_m))


class Wheels(NamedTuple):
    """The main wheels' contact, forward of and below the balance point [m], and how it stands.

    ``attitude`` is the datum's axis above the horizon [rad].
    """

    forward: float
    down: float
    attitude: float


def wheels_of(aeroplane: Aeroplane, balance_m: np.ndarray) -> Wheels | None:
    """Return the main wheels about a balance point (3,) [m, body axes of the datum].

    By definition; None where the file names no undercarriage.
    """
    gear = aeroplane.undercarriage
    if gear is None:
        return None
    return Wheels(
        forward=float(-0.001 * gear.main_aft_mm - balance_m[0]),
        down=float(-0.001 * gear.main_up_mm - balance_m[2]),
        attitude=atan(gear.slope),
    )


def forward_to_rotate(loads: np.ndarray, wheels: Wheels, mass: float, friction: float) -> float:
    """Return how far ahead the balance point may lie for the nose to come up just now [m].

    Moments about the main wheels' contact: air and thrust, weight, and the inertia of the
    run's own acceleration, which acts through the balance point; friction has no arm. By
    statics (d'Alembert). Forward of the present balance point positive; infinite where
    the weight no longer matters.

    Parameters
    ----------
    loads : float array (6,)
        Of air and thrust about the present balance point [N, N m], body axes.
    """
    ahead = np.array([cos(wheels.attitude), sin(wheels.attitude)])
    below = np.array([-sin(wheels.attitude), cos(wheels.attitude)])
    air = np.array([loads[0], loads[2]])
    weight = mass * STANDARD_GRAVITY
    pressed = max(0.0, weight + float(air @ below))
    pull = float(air @ ahead) - friction * pressed
    mass_force = weight * below - pull * ahead
    if mass_force[1] <= 0.0:
        return float("inf")
    forces = air + mass_force
    moment = loads[4] - wheels.down * forces[0] + wheels.forward * forces[1]
    return float(moment / mass_force[1])
