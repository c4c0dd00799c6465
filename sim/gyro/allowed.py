"""How much gain each axis stands at every speed, over what is not exactly known."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf, radians

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.flights.perturb import perturbed
from sim.core.layout import Model
from sim.core.pilot.control import schedule
from sim.fly.columns import Floats
from sim.gyro.loop import Loop, loop_of, open_loop
from sim.gyro.margins import Margins, Most, delay_margin, frequencies, most_gain
from sim.gyro.motion import AXES, MIXES, Complexes, Steady, linear, response, steady_flight
from sim.gyro.unknown import LoopDraws
from sim.judge.confidence import tolerance_rank
from sim.pack.assemble import Assembled
from sim.pack.controls import gyro_array
from sim.trim.trimming import Trim, level, level_at_throttle

HALVINGS = 7  # of the factor on all gains together


@dataclass(frozen=True)
class Point:
    """Where the loop is looked at: a speed and the throttle there; a dive at idle, or level."""

    speed_mps: float
    throttle: float
    dive: bool
    flight: Steady


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
    elevator, and are looked at with the stick at its stop.
    """

    point: Point
    axes: tuple[AxisAt | None, ...]
    unresolved: int
    at_stop: int


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


def points_of(ready: Assembled) -> list[Point]:
    """Return level flight from the approach to the top speed, and the fastest dive, at idle.

    Own: speeds [m/s] in equal ratios; the dive is at the speed never to exceed, or as fast as level
    flight if that is more.
    """
    t = tables.gyro_loop()
    top = level_at_throttle(ready, 1.0)
    slow = t.approach_over_stall * ready.stall.speed_mps
    if top.speed_mps <= slow:
        raise ValueError(
            f"set-up {ready.setup.name}: the top speed, {top.speed_mps:.1f} m/s, is below the "
            f"approach speed, {slow:.1f} m/s; look at thrust, mass and throws"
        )
    trims = [level(ready, float(v)) for v in np.geomspace(slow, top.speed_mps, t.speeds)[:-1]]
    flown = [_point(ready, trim, trim.speed_mps, trim.throttle, 0.0) for trim in [*trims, top]]
    fastest = max(top.speed_mps, ready.aeroplane.structure.never_exceed_mps)
    found = [p for p in flown if p.flight.found]
    dive = _point(ready, top, fastest, 0.0, -radians(t.dive_deg))
    if not found or not dive.flight.found:
        raise ValueError(
            f"set-up {ready.setup.name}: no steady flight was found "
            + (f"in a dive at {fastest:.0f} m/s" if found else f"from {slow:.1f} m/s on")
            + "; look at balance point and throws"
        )
    return [*found, dive]


def _point(ready: Assembled, trim: Trim, speed: float, throttle: float, path: float) -> Point:
    guess = (radians(trim.alpha_deg), trim.elevator_stick)
    flight = steady_flight(ready.model, speed, throttle, path, guess)
    return Point(speed, throttle, path < 0.0, flight)


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
    omegas = frequencies(loop.frame_s)
    total, out = len(points), []
    for done, point in enumerate(points):
        watch(done, total)
        nominal = _rates(ready.model, point.flight, loop, omegas, np.ones(3))
        pairs = [
            _drawn(ready, point.flight, unknown, i, loop, omegas)
            for i in range(len(unknown.physical))
        ]
        stops = sum(1 for flight, _ in pairs if flight.found and flight.at_stop)
        out.append(_at(ready, point, omegas, nominal, [r for _, r in pairs], rank, stops))
    watch(total, total)
    speeds = [_slowest(ready.model, mix) for mix in MIXES]
    return Allowed(ready, loop, tuple(out), len(unknown.physical), tuple(speeds))


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


def _rates(
    model: Model, flight: Steady, loop: Loop, omegas: Floats, power: Floats
) -> Complexes | None:
    """Return rates as the gyro passes them on, over surface [-]; None where none flies so.

    ``power`` (3,) is a factor [-] on what each axis' surfaces do. By definition.
    """
    if not flight.found:
        return None
    motion = linear(model, flight)
    return response(motion, omegas) * power * loop.response(omegas)[:, None, None]


def _drawn(
    ready: Assembled, flight: Steady, unknown: LoopDraws, i: int, loop: Loop, omegas: Floats
) -> tuple[Steady, Complexes | None]:
    """Return one draw's flight at that speed and throttle, and the same of it [-]; own."""
    model = perturbed(ready.model, ready.roles, unknown.physical[i])
    model.servos[:, k.V_LAG] *= unknown.lag[i]
    guess = (flight.alpha_rad, flight.elevator)
    now = steady_flight(model, flight.speed_mps, flight.throttle, flight.path_rad, guess)
    return now, _rates(model, now, loop.slower(unknown.delay[i]), omegas, unknown.power[i])


def _at(
    ready: Assembled,
    point: Point,
    omegas: Floats,
    nominal: Complexes | None,
    drawn: Sequence[Complexes | None],
    rank: int,
    stops: int,
) -> At:
    """Return all axes at one point [-]; what no draw could fly counts as standing no gain.

    Own: others as set, but no higher than they stand alone; then one factor on all that the draws
    stand together.
    """
    if nominal is None:
        raise ValueError(f"no steady flight at {point.speed_mps:.1f} m/s")
    margins, axes, none = Margins.asked(point.dive), moved_axes(ready.model), np.zeros(3)
    asked = set_gains(ready, point.throttle)
    kept = _kept(omegas, drawn, nominal, axes, none, margins, rank)
    others = none if asked is None else np.minimum(asked, kept)
    if others.any():
        kept = _kept(omegas, drawn, nominal, axes, others, margins, rank)
    usable = np.minimum(kept, throw_gains(ready.model))
    factors = [_together(omegas, r, usable, axes, margins) for r in drawn]
    own = _together(omegas, nominal, usable, axes, margins)
    advised = usable * min(own, sorted(factors)[rank - 1])
    out: list[AxisAt | None] = [None] * len(AXES)
    for j in axes:
        phase, late = delay_margin(omegas, open_loop(nominal, j, advised), float(advised[j]))
        has = None if asked is None else float(asked[j])
        most = most_gain(omegas, open_loop(nominal, j, others), margins)
        out[j] = AxisAt(most, float(kept[j]), float(advised[j]), has, phase, late)
    return At(point, tuple(out), sum(r is None for r in drawn), stops)


def _kept(
    omegas: Floats,
    drawn: Sequence[Complexes | None],
    nominal: Complexes,
    axes: Sequence[int],
    others: Floats,
    margins: Margins,
    rank: int,
) -> Floats:
    """Return what nearly all draws and the nominal aeroplane stand (3,) [-]; own: the rank-th."""
    out = np.zeros(len(AXES))
    for j in axes:
        each = sorted(_stands(omegas, r, j, others, margins) for r in drawn)
        own = _stands(omegas, nominal, j, others, margins)
        out[j] = min(own, each[rank - 1])
    return out


def _stands(
    omegas: Floats, rates: Complexes | None, axis: int, others: Floats, margins: Margins
) -> float:
    if rates is None:
        return 0.0
    return most_gain(omegas, open_loop(rates, axis, others), margins).kept


def _together(
    omegas: Floats, rates: Complexes | None, gains: Floats, axes: Sequence[int], margins: Margins
) -> float:
    """Return the greatest factor [-], at most one, with which every axis keeps its margins.

    Own: by halving.
    """
    if rates is None:
        return 0.0

    def stand(factor: float) -> bool:
        now = factor * gains
        return all(_stands(omegas, rates, j, now, margins) >= now[j] for j in axes)

    if stand(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if stand(middle) else (low, middle)
    return low
