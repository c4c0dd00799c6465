"""How far forward each draw still can what is asked of full aft stick, at its own speeds."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import inf, radians

import numpy as np

from sim import tables
from sim.core.draw_layout import D_BALANCE_AFT, D_BALANCE_UP
from sim.core.flights.perturb import copied, moved, perturbed
from sim.core.layout import Model
from sim.fly.columns import Floats
from sim.landing.authority import (
    Asked,
    angles,
    asked_speed,
    landing_speed,
    lifted,
    rotated,
    stalls_first,
)
from sim.landing.ground import Wheels, wheels_of, with_ground
from sim.pack.assemble import Assembled
from sim.pack.errors import error_array
from sim.pack.stalling import stall_angle

ROTATE = "rotation"
BEYOND = radians(1.0)  # the nominal angle, within which most draws carry their load


@dataclass(frozen=True)
class Ask:
    """One thing asked: at a multiple of the landing speed, with a load factor [g]."""

    name: str
    over: float
    load_g: float

    def foremost(
        self,
        model: Model,
        wheels: Wheels | None,
        alphas: Floats,
        speed: float,
        likely: float = inf,
    ) -> float:
        """Return how far ahead [m] a model at a landing speed [m/s] still can; see `lifted`."""
        if self.name == ROTATE and wheels is not None:
            return rotated(model, wheels, self.over * speed)
        return lifted(model, alphas, Asked(self.over * speed, self.load_g), likely).forward_m


def of_draws(
    ready: Assembled,
    asked: Sequence[Ask],
    draws: Floats,
    at: tuple[float, float],
    air: Floats,
    ranks: int,
) -> Floats:
    """Return, for each thing asked, how far ahead [m] the draws still can, least first (k, n).

    From the balance point ``at[0]`` [m] forward of the set-up's, at the landing speed ``at[1]``
    [m/s], or the draw's own where that is faster: the stall speed is the aeroplane's own ([far23]
    23.49, 23.73), and beyond its stall no tail is too small, the wing is; one that stalls later is
    asked for nothing slower. Faster is easier, so own speeds are found of those that can least,
    until the first ``ranks`` are known; the others count as at the speed told. A draw's own balance
    point lies off the measured one, so its wheels do too.
    """
    forward, speed = at
    model = rebased(ready, forward)
    wheels = wheels_of(ready.aeroplane, ready.weighed.balance_m)
    alphas, calm = angles(ready.stall.alpha), with_ground(ready.model, air)
    middle = [lifted(calm, alphas, Asked(x.over * speed, x.load_g)).alpha for x in asked]
    foreplane = stalls_first(ready.model, ready.stall.alpha)
    drawn = [replace(ready, model=perturbed(model, ready.roles, x)) for x in draws]
    rolling: list[Wheels | None] = [None] * len(draws)
    if wheels is not None:
        rolling = [
            wheels._replace(
                forward=wheels.forward - forward + x[D_BALANCE_AFT],
                down=wheels.down + x[D_BALANCE_UP],
            )
            for x in draws
        ]

    def can(i: int, n: int, stall_alpha: float, fast: float) -> float:
        near = with_ground(drawn[n].model, air)
        alphas, likely = _near(middle[i], stall_alpha), middle[i] + BEYOND
        return asked[i].foremost(near, rolling[n], alphas, fast, likely)

    @cache
    def own(n: int) -> tuple[float, float]:
        mine = _drawn(drawn[n])
        slowest = landing_speed(mine.model, mine.stall.alpha, 0.0)
        return mine.stall.alpha, max(speed, asked_speed(mine)(0.0) if foreplane else slowest)

    out = np.zeros((len(asked), len(draws)))
    for i in range(len(asked)):
        out[i] = [can(i, n, ready.stall.alpha, speed) for n in range(len(draws))]
        known: list[float] = []
        for n in np.argsort(out[i], kind="stable"):
            if len(known) >= ranks and sorted(known)[ranks - 1] <= out[i, n]:
                break
            out[i, n] = can(i, int(n), *own(int(n)))
            known.append(out[i, n])
    return np.sort(out, axis=1)


def _drawn(ready: Assembled) -> Assembled:
    """Return a set-up with a drawn model, the angle of its stall found anew."""
    return replace(ready, stall=replace(ready.stall, alpha=stall_angle(ready.model)))


def _near(middle: float, stall_alpha: float) -> Floats:
    """Return the angles (n,) [rad] at which a draw is looked at: from below one to its stall."""
    values = tables.landing()
    low = min(middle, stall_alpha) - np.radians(values.alpha_reach_deg)
    count = int(np.ceil((stall_alpha - low) / np.radians(values.alpha_step_deg)))
    return np.asarray(np.linspace(low, stall_alpha, count + 1))


def rebased(ready: Assembled, forward: float) -> Model:
    """Return the nominal model balanced further forward [m], its errors' sizes taken there."""
    model = copied(ready.model)
    moved(model, forward, 0.0, 0.0)
    errors = error_array(model, ready.roles, ready.weighed.reference, ready.density)
    return model._replace(errors=errors)
