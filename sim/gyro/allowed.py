"""How much gain each axis stands at every speed, over what is not exactly known."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.flights.perturb import perturbed
from sim.core.layout import Model
from sim.core.pilot.control import schedule
from sim.fly.columns import Floats
from sim.gyro.loop import Loop, loop_of, open_loop
from sim.gyro.margins import Margins, Most, delay_margin, frequencies, most_gain
from sim.gyro.motion import (
    AXES,
    MIXES,
    Complexes,
    Linear,
    Steady,
    doubling,
    linear,
    response,
    steady_flight,
)
from sim.gyro.points import Point
from sim.gyro.unknown import LoopDraws
from sim.judge.confidence import tolerance_rank
from sim.pack.assemble import Assembled
from sim.pack.controls import gyro_array

HALVINGS = 7  # of the factor on all gains together


@dataclass(frozen=True)
class AxisAt:
    """One axis at one speed: gains in degrees of surface per degree per second.

    ``nominal`` of the aeroplane as described, ``kept`` of nearly all its draws, both with the
    margins, others as set; ``advised`` is what all axes stand together, and no surface meets its
    throw in a slow turn. ``set_gain`` is what the set-up's gyro
    has there, None without one. Margins of the nominal aeroplane at the advised gain.
    """

    nominal: Most
    kept: float
    advised: float
    set_gain: float | None
    phase_margin_rad: float
    delay_margin_s: float


@dataclass(frozen=True)
class At:
    """All axes at one speed; None for an axis that no surface moves.

    ``unresolved`` draws fly at no angle there and stand nothing; ``at_stop`` need more than full
    elevator, and are looked at with the stick at its stop. ``doubling_s``: of what the nominal
    aeroplane diverges in without a gyro, inf where it does not.
    """

    point: Point
    axes: tuple[AxisAt | None, ...]
    unresolved: int
    at_stop: int
    doubling_s: float


@dataclass(frozen=True)
class Allowed:
    """What each axis stands, from the approach to the greatest speeds.

    ``points`` rise in speed, the last being the dive; ``servo_rps`` is the slowest surface of each
    axis [rad/s], NaN without one.
    """

    assembled: Assembled
    loop: Loop
    points: tuple[At, ...]
    draws: int
    servo_rps: tuple[float, ...]


def moved_axes(model: Model) -> list[int]:
    """Return the axes that a surface moves."""
    return [j for j, mix in enumerate(MIXES) if model.servos[:, mix].any()]


def set_gains(ready: Assembled, throttle: float) -> Floats | None:
    """Return the gyro's gains (3,) at a throttle [-] if it is on; None if there is no gyro.

    By definition gain times schedule.
    """
    if ready.setup.gyro_settings is None:
        return None
    on = gyro_array(ready.setup.model_copy(update={"gyro": "on"}))
    gains: Floats = on[[k.G_ROLL, k.G_PITCH, k.G_YAW]] * schedule(on, throttle)
    return gains


def allowed(
    ready: Assembled,
    unknown: LoopDraws,
    points: Sequence[Point],
    watch: Callable[[int, int], None] = lambda done, total: None,
) -> Allowed:
    """Return what each axis stands at each of the points, nominal and over draws.

    Raises
    ------
    ValueError
        Too few draws for what gyro_loop.toml asks.
    """
    t = tables.gyro_loop()
    rank = tolerance_rank(len(unknown.physical), t.kept_share, t.confidence)
    if rank == 0:
        raise ValueError(
            f"{len(unknown.physical)} draws are too few to say what {100 * t.kept_share:.0f} % of "
            "them stand; take 64 or more"
        )
    loop = loop_of(ready.setup.gyro_settings)
    omegas, out = frequencies(loop.frame_s), []
    for done, point in enumerate(points):
        watch(done, len(points))
        motion = linear(ready.model, point.flight)
        pairs = [
            _drawn(ready, point.flight, unknown, i, loop, omegas)
            for i in range(len(unknown.physical))
        ]
        look = _Look(
            omegas, Margins.asked(point.dive), moved_axes(ready.model),
            _rates(motion, loop, omegas, np.ones(3)), [rates for _, rates in pairs], rank,
        )  # fmt: skip
        lost = sum(1 for flight, _ in pairs if not flight.found)
        stops = sum(1 for flight, _ in pairs if flight.found and flight.at_stop)
        out.append(At(point, _at(ready, point, look), lost, stops, doubling(motion)))
    watch(len(points), len(points))
    speeds = tuple(_slowest(ready.model, mix) for mix in MIXES)
    return Allowed(ready, loop, tuple(out), len(unknown.physical), speeds)


def throw_gains(model: Model) -> Floats:
    """Return the gains (3,) that take a surface to its throw in a turn at ``full_throw_dps`` [-].

    Throw over rate [deg per deg/s], by definition; inf for an axis without surfaces.
    """
    throws = np.degrees(np.minimum(model.servos[:, k.V_POSITIVE], model.servos[:, k.V_NEGATIVE]))
    shares = np.abs(model.servos[:, MIXES])
    each = np.where(shares > 0.0, throws[:, None] / np.maximum(shares, 1e-9), inf)
    most: Floats = each.min(axis=0) / tables.gyro_loop().full_throw_dps
    return most


def _slowest(model: Model, mix: int) -> float:
    moved = model.servos[:, mix] != 0.0
    return float(model.servos[moved, k.V_RATE].min()) if moved.any() else float("nan")


def _rates(motion: Linear, loop: Loop, omegas: Floats, power: Floats) -> Complexes:
    """Return rates as the gyro passes them on, over surface (m, 3, 3) [-].

    ``power`` (3,) is a factor [-] on what each axis' surfaces do. By definition.
    """
    return response(motion, omegas) * power * loop.response(omegas)[:, None, None]


def _drawn(
    ready: Assembled, flight: Steady, unknown: LoopDraws, i: int, loop: Loop, omegas: Floats
) -> tuple[Steady, Complexes | None]:
    """Return one draw's flight at that speed and throttle, and the same of it [-]; own."""
    model = perturbed(ready.model, ready.roles, unknown.physical[i])
    model.servos[:, k.V_LAG] *= unknown.lag[i]
    guess = (flight.alpha_rad, flight.elevator)
    now = steady_flight(model, flight.speed_mps, flight.throttle, flight.path_rad, guess)
    if not now.found:
        return now, None
    late = loop.slower(unknown.delay[i])
    return now, _rates(linear(model, now), late, omegas, unknown.power[i])


class _Look(NamedTuple):
    """One point's loops: nominal and drawn ones, None where a draw flies at no angle."""

    omegas: Floats
    margins: Margins
    axes: list[int]
    nominal: Complexes
    drawn: list[Complexes | None]
    rank: int


def _at(ready: Assembled, point: Point, look: _Look) -> tuple[AxisAt | None, ...]:
    """Return all axes at one point [-]; what no draw could fly counts as standing no gain.

    Own: others as set, but no higher than they stand alone and not backwards; then one factor on
    all that the draws stand together.
    """
    asked = set_gains(ready, point.throttle)
    kept = _kept(look, np.zeros(len(AXES)))
    others = np.zeros(len(AXES)) if asked is None else np.clip(asked, 0.0, kept)
    if others.any():
        kept = _kept(look, others)
    usable = np.minimum(kept, throw_gains(ready.model))
    factors = sorted(_together(look, rates, usable) for rates in look.drawn)
    advised = usable * min(_together(look, look.nominal, usable), factors[look.rank - 1])
    out: list[AxisAt | None] = [None] * len(AXES)
    for j in look.axes:
        closed = open_loop(look.nominal, j, advised)
        phase, late = delay_margin(look.omegas, closed, float(advised[j]))
        most = most_gain(look.omegas, open_loop(look.nominal, j, others), look.margins)
        has = None if asked is None else float(asked[j])
        out[j] = AxisAt(most, float(kept[j]), float(advised[j]), has, phase, late)
    return tuple(out)


def _kept(look: _Look, others: Floats) -> Floats:
    """Return what nearly all draws and the nominal aeroplane stand (3,) [-]; own: the rank-th."""
    out = np.zeros(len(AXES))
    for j in look.axes:
        each = sorted(_stands(look, rates, j, others) for rates in look.drawn)
        out[j] = min(_stands(look, look.nominal, j, others), each[look.rank - 1])
    return out


def _stands(look: _Look, rates: Complexes | None, axis: int, others: Floats) -> float:
    if rates is None:
        return 0.0
    return most_gain(look.omegas, open_loop(rates, axis, others), look.margins).kept


def _together(look: _Look, rates: Complexes | None, gains: Floats) -> float:
    """Return the greatest factor [-], at most one, with which every axis keeps its margins.

    Own: by halving.
    """
    if rates is None:
        return 0.0

    def stand(factor: float) -> bool:
        now = factor * gains
        return all(_stands(look, rates, j, now) >= now[j] for j in look.axes)

    if stand(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if stand(middle) else (low, middle)
    return low
