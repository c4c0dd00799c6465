"""How far forward full aft stick still lifts the nose: one model, one thing asked of it.

Forces at an angle of attack do not depend on where the aeroplane balances; its pitching moment
does, by the normal force times the shift. So the foremost balance point at which full aft stick
balances a given lift follows from loads at one balance point, without a search. Tests hold it
against the trim solver.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import inf, radians
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.layout import Model
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.steady.statics import held_polar
from sim.fly.columns import Floats
from sim.landing.ground import Wheels, forward_to_rotate
from sim.pack.assemble import Assembled
from sim.pack.stalling import PROBE_SPEED, lift_of

NEAR = radians(1.0)  # of angle of attack either way, for slopes
BRACKET = 1e-9  # without unit; keeps a division finite


class Asked(NamedTuple):
    """What is asked of full aft stick: a speed [m/s], and a load factor there [g]."""

    speed_mps: float
    load_g: float


@dataclass(frozen=True)
class Lifted:
    """The foremost balance point for one thing asked.

    ``forward_m`` ahead of the model's own origin [m]; ``alpha`` [rad] where it is flown;
    ``stalls`` where the wing stalls before it carries what is asked: the tail then has all the
    authority that can be used there, if it reaches that angle.
    """

    forward_m: float
    alpha: float
    stalls: bool


def has_elevator(model: Model) -> bool:
    """Return True if a surface answers to the elevator stick."""
    return bool(np.any(model.servos[:, k.V_MIX_ELEVATOR] != 0.0))


def loads_at(
    model: Model, alphas: Floats, asked: Asked, stick: float = 1.0, throttle: float = 0.0
) -> Floats:
    """Return loads (n, 6) [N, N m] at angles (n,) [rad] in a steady pull-up.

    Servos go as far as they hold against the air. Pitch rate of a pull-up: g (n - 1)/V, by
    kinematics.
    """
    rates = np.zeros((alphas.size, 3))
    rates[:, 1] = STANDARD_GRAVITY * (asked.load_g - 1.0) / asked.speed_mps
    sticks = np.zeros((alphas.size, 4))
    sticks[:, 0], sticks[:, 3] = stick, throttle
    return held_polar(model, asked.speed_mps, alphas, np.zeros(alphas.size), rates, sticks)


def lifted(model: Model, alphas: Floats, asked: Asked, likely: float = inf) -> Lifted:
    """Return how far ahead full aft stick, power off, still balances what is asked.

    Own: at the first of the angles (n,) [rad], straight lines between them, where lift carries
    the load; at the angle of most lift where none does. There M + d F_z = 0. It is looked for up to
    the angle [rad] by which it ``likely`` does, and beyond only where it does not.
    """
    wanted = asked.load_g * model.mass[k.M_MASS] * STANDARD_GRAVITY
    for swept in (alphas[: int(np.searchsorted(alphas, likely)) + 1], alphas):
        loads = loads_at(model, swept, asked)
        lift = lift_of(loads, swept)
        over = np.flatnonzero(lift >= wanted)
        if over.size or swept.size == alphas.size:
            break
    alphas = swept
    at, stalls = float(np.argmax(lift)), not over.size
    if over.size:
        i = int(over[0])
        at = float(i)
        if i > 0:
            at = i - (lift[i] - wanted) / max(lift[i] - lift[i - 1], BRACKET)
    places = np.arange(alphas.size)
    moment, down = (float(np.interp(at, places, loads[:, c])) for c in (k.L_MY, k.L_FZ))
    if down >= 0.0:
        return Lifted(-np.inf, float(np.interp(at, places, alphas)), stalls)
    return Lifted(-moment / down, float(np.interp(at, places, alphas)), stalls)


def level_speed(model: Model, alpha: float, forward_m: float) -> float:
    """Return the speed of power-off flight at an angle [rad], balanced further forward [m/s].

    Own: the stick that balances pitch there, on a straight line through none and full; beyond
    full the tail is taken to have the throw, so that a tail which runs out does not make the
    stall, and with it what is asked of the tail, any easier. V = sqrt(2 m g/(rho S C_L)).
    """
    alphas, calm = np.array([alpha]), Asked(PROBE_SPEED, 1.0)
    free = loads_at(model, alphas, calm, stick=0.0)[0]
    full = loads_at(model, alphas, calm, stick=1.0)[0]
    moments = [x[k.L_MY] + forward_m * x[k.L_FZ] for x in (free, full)]
    power = moments[1] - moments[0]
    stick = -moments[0] / power if abs(power) > BRACKET else 0.0
    loads = free + max(stick, -1.0) * (full - free)
    lift = float(lift_of(loads[None, :], alphas)[0])
    weight = model.mass[k.M_MASS] * STANDARD_GRAVITY
    return PROBE_SPEED * float(np.sqrt(weight / max(lift, BRACKET)))


def landing_speed(model: Model, stall_alpha: float, forward_m: float) -> float:
    """Return the speed that is asked for in multiples, balanced so far ahead [m] [m/s].

    The stall's, as if the elevator had the throw for it, or that at which touch-down has the
    steepest angle of landing.toml.
    """
    values = tables.landing()
    steepest = radians(values.most_touchdown_deg)
    stall = level_speed(model, stall_alpha, forward_m)
    if stall_alpha <= steepest:
        return stall
    return max(stall, level_speed(model, steepest, forward_m) / values.touchdown_over_stall)


def stalls_first(model: Model, stall_alpha: float) -> bool:
    """Tell whether the pitch surface stalls before the wing does, so that more throw is no help.

    Own: by the share [-] of landing.toml that full aft stick's pitching moment keeps of its most,
    up to the wing's stall [rad] or the steepest angle that anyone lands at.
    """
    values = tables.landing()
    last = min(stall_alpha, radians(values.most_touchdown_deg))
    alphas, calm = angles(last), Asked(PROBE_SPEED, 1.0)
    full, free = (loads_at(model, alphas, calm, stick=x)[:, k.L_MY] for x in (1.0, 0.0))
    power = full - free
    most = int(np.argmax(power))
    return bool(power[most:].min() < values.stalled_power_share * power[most])


def asked_speed(ready: Assembled) -> Callable[[float], float]:
    """Return the speed whose multiples are asked of full aft stick, by how far ahead [m] [m/s].

    The stall speed is the stalling speed or the least steady one at which it is controllable
    ([far23] 23.49). Of most that is `landing_speed`. A foreplane that stalls before the wing is to
    keep the wing from it: there, it is what full aft stick holds, balanced with the most static
    margin that is usual (landing.toml), however far forward it balances.
    """
    model, stall = ready.model, ready.stall
    if not stalls_first(model, stall.alpha):
        return partial(landing_speed, model, stall.alpha)
    values = tables.landing()
    # [etkin1996] 2.3, as `trimming.neutral_point_pct`, where the foreplane has not begun to stall
    over = tables.plausible().senses_over_stall
    fast = stall.no_lift + (stall.alpha - stall.no_lift) / over**2
    about = np.array([fast - NEAR, fast + NEAR])
    free = loads_at(model, about, Asked(PROBE_SPEED, 1.0), stick=0.0)
    neutral = -(free[1, k.L_MY] - free[0, k.L_MY]) / (free[1, k.L_FZ] - free[0, k.L_FZ])
    ahead = 0.01 * values.foreplane_margin_pct * ready.weighed.reference.mean_chord_m
    alphas = angles(min(stall.alpha, radians(values.most_touchdown_deg)))
    speed = held_off(model, alphas, PROBE_SPEED, neutral + ahead)
    return lambda _: speed


def held_off(model: Model, alphas: Floats, speed: float, forward_m: float = 0.0) -> float:
    """Return the slowest steady speed [m/s] with full aft stick, power off, balanced so far ahead.

    Own: at the steepest of the angles (n,) [rad] that full aft stick still pitches up to,
    straight lines between, as held at ``speed``. Lift carries the weight there; infinite where
    there is none.
    """
    loads = loads_at(model, alphas, Asked(speed, 1.0))
    lift, moment = lift_of(loads, alphas), loads[:, k.L_MY] + forward_m * loads[:, k.L_FZ]
    below = np.flatnonzero(moment < 0.0)
    at = float(alphas.size - 1)
    if below.size and below[0] > 0:
        i = int(below[0])
        at = i - moment[i] / (moment[i] - moment[i - 1])
    elif below.size:
        at = 0.0
    reached = float(np.interp(at, np.arange(alphas.size), np.maximum.accumulate(lift)))
    weight = float(model.mass[k.M_MASS]) * STANDARD_GRAVITY
    return speed * float(np.sqrt(weight / reached)) if reached > 0.0 else inf


def rotated(model: Model, wheels: Wheels, speed: float) -> float:
    """Return how far ahead [m] full aft stick and full throttle lift the nose at a speed [m/s]."""
    loads = loads_at(model, np.array([wheels.attitude]), Asked(speed, 1.0), throttle=1.0)[0]
    friction = tables.landing().rolling_friction
    return forward_to_rotate(loads, wheels, float(model.mass[k.M_MASS]), friction)


def angles(stall_alpha: float) -> Floats:
    """Return the angles of attack (n,) [rad] at which loads are taken, up to the stall's."""
    values = tables.landing()
    least = np.radians(values.least_alpha_deg)
    count = int(np.ceil((stall_alpha - least) / np.radians(values.alpha_step_deg)))
    return np.asarray(np.linspace(least, stall_alpha, count + 1))
