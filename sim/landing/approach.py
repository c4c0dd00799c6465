"""The approach of a set-up as it balances: speeds, trims, what flap and full stick do."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, radians

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.draw_layout import D_BALANCE_UP
from sim.core.flights.perturb import perturbed
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.steady.statics import polar
from sim.describe.controls import FLAP
from sim.fly.columns import Floats
from sim.landing.authority import (
    angles,
    has_elevator,
    held_off,
    level_speed,
    rotated,
)
from sim.landing.forward import rotation_left_out
from sim.landing.ground import ground_down_m, near_ground, wheels_of
from sim.pack.assemble import Assembled, assemble
from sim.trim.trimming import Trim, level

HALVINGS = 20
FASTEST = 3.0  # times the stall speed, to where the nose is tried to be lifted


@dataclass(frozen=True)
class Approach:
    """How a set-up comes in with its flap at ``flap_deg``.

    ``stall_mps`` is its slowest level flight, power off; ``approach_mps`` the speed of
    landing.toml; ``trim`` level flight there. ``slowest_mps`` is the slowest that full aft
    stick holds it off near the ground, power off, ``slowest_p95_mps`` that of all but 5 % of
    draws.
    """

    flap_deg: float
    stall_mps: float
    approach_mps: float
    touchdown_mps: float
    trim: Trim
    slowest_mps: float
    slowest_p95_mps: float


@dataclass(frozen=True)
class FlapChange:
    """What lowering the flap does at one speed: differences, lowered less neutral.

    ``pitch_dps2`` is how the nose starts off if nothing else moves, up positive, and ``load_g`` by
    how much it balloons then.
    """

    speed_mps: float
    flap_deg: float
    alpha_deg: float
    tail_deg: float
    stick: float
    throttle: float
    pitch_dps2: float
    load_g: float


def landing_flaps(ready: Assembled) -> list[Assembled]:
    """Return the set-up with its flap as it stands, neutral and fully down; once each.

    One without the channel ``flap`` as it is.
    """
    if FLAP not in ready.aeroplane.channels:
        return [ready]
    down = ready.setup.throws[FLAP].down_deg
    wanted = dict.fromkeys((0.0, ready.setup.flap_deg, down))
    return [ready if x == ready.setup.flap_deg else with_flap(ready, x) for x in sorted(wanted)]


def with_flap(ready: Assembled, flap_deg: float) -> Assembled:
    """Return the set-up with its flap elsewhere [deg, down positive]."""
    return assemble(ready.aeroplane, ready.setup.model_copy(update={"flap_deg": float(flap_deg)}))


def reference_speed(ready: Assembled) -> float:
    """Return the speed that approach and touch-down of a set-up are multiples of [m/s].

    Its stall speed, the stalling speed or the least steady one with the stick at its stop, as it
    balances and with its own throws ([far23] 23.49); where the stall lies steeper than anyone
    lands, no less than what makes the steepest angle of touch-down, landing.toml.
    """
    values, stall = tables.landing(), ready.stall
    steepest = radians(values.most_touchdown_deg)
    if stall.alpha <= steepest:
        return stall.speed_mps
    least = level_speed(ready.model, steepest, 0.0) / values.touchdown_over_stall
    return max(stall.speed_mps, least)


def approach_speed(ready: Assembled) -> float:
    """Return the speed that a set-up comes in at [m/s].

    At least 1.3 times the stall speed, [far23] 23.73.
    """
    return tables.landing().approach_over_stall * reference_speed(ready)


def approach(ready: Assembled, draws: Floats) -> Approach:
    """Return how a set-up comes in; ``draws`` (n, N_DRAW) in physical units."""
    values = tables.landing()
    speed = reference_speed(ready)
    come_in = approach_speed(ready)
    ground = ground_down_m(ready)
    alphas = angles(ready.stall.alpha)
    slowest = [held_off(near_ground(ready.model, ground), alphas, speed)]
    for draw in draws:
        model = near_ground(perturbed(ready.model, ready.roles, draw), ground + draw[D_BALANCE_UP])
        slowest.append(held_off(model, alphas, speed))
    return Approach(
        flap_deg=ready.setup.flap_deg,
        stall_mps=ready.stall.speed_mps,
        approach_mps=come_in,
        touchdown_mps=values.touchdown_over_stall * speed,
        trim=level(ready, come_in),
        slowest_mps=slowest[0],
        slowest_p95_mps=float(np.percentile(slowest[1:], 95.0, method="higher")),
    )


def flap_change(neutral: Assembled, lowered: Assembled, speed: float) -> FlapChange | None:
    """Return what lowering the flap does at a speed [m/s]; None where either has no trim there."""
    before, after = level(neutral, speed), level(lowered, speed)
    if not (before.found and after.found):
        return None
    sticks = np.array([[before.elevator_stick, 0.0, 0.0, before.throttle]])
    alpha = np.radians([before.alpha_deg])
    first, then = (
        polar(x.model, speed, alpha, np.zeros(1), np.zeros((1, 3)), sticks)[0]
        for x in (neutral, lowered)
    )
    mass = neutral.model.mass
    return FlapChange(
        speed_mps=speed,
        flap_deg=lowered.setup.flap_deg - neutral.setup.flap_deg,
        alpha_deg=after.alpha_deg - before.alpha_deg,
        tail_deg=after.tail_deg - before.tail_deg,
        stick=after.elevator_stick - before.elevator_stick,
        throttle=after.throttle - before.throttle,
        pitch_dps2=degrees((then[k.L_MY] - first[k.L_MY]) / mass[k.M_INERTIA + 4]),
        load_g=float((first[k.L_FZ] - then[k.L_FZ]) / (mass[k.M_MASS] * STANDARD_GRAVITY)),
    )


def rotation_speed(ready: Assembled) -> float | None:
    """Return the speed [m/s] at which full aft stick lifts the nose for take-off.

    With full throttle, as it balances, flap as it stands. None where it is not looked at;
    infinite where no speed up to three times the stall's does. Own: by halving.
    """
    wheels = wheels_of(ready.aeroplane, ready.weighed.balance_m)
    if wheels is None or rotation_left_out(ready) or not has_elevator(ready.model):
        return None
    near = near_ground(ready.model, ground_down_m(ready))
    low, high = 0.3 * ready.stall.speed_mps, FASTEST * ready.stall.speed_mps
    if rotated(near, wheels, high) < 0.0:
        return float("inf")
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if rotated(near, wheels, middle) >= 0.0 else (middle, high)
    return high


def flap_pair(flaps: Sequence[Assembled]) -> tuple[Assembled, Assembled] | None:
    """Return the set-up with its flap neutral and furthest down; None without a flap."""
    ordered = sorted(flaps, key=lambda x: x.setup.flap_deg)
    if len(ordered) < 2:
        return None
    neutral = min(ordered, key=lambda x: abs(x.setup.flap_deg))
    return neutral, ordered[-1]
