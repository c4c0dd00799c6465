"""What the power gives and what level flight takes, nominal: speeds, currents, endurance."""

from dataclasses import dataclass
from functools import cached_property
from math import inf, nan

import numpy as np
import scipy

from sim import tables
from sim.aero.sections.monotone import Monotone, monotone
from sim.core.loads import thrust
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.pack.level_thrust import thrust_required
from sim.power.bench_fit import duty_for
from sim.power.ideal import ideal_disc_thrust, ideal_thrust_at_power
from sim.power.operating_point import OperatingPoint, operating_point
from sim.power.pack import reserve_of, usable_mah
from sim.power.packing import PowerArrays
from sim.units.quantities import FORCE, SPEED

SPEEDS = 45  # from the stall on, at which thrust required is found
CLOSER = 2.0  # power of their spacing: close at the stall, where the curve is steep
FASTER = 1.25  # times the top speed is as far as curves are drawn
APART = 1.5  # m/s, of the speeds in the tables
TOLERANCE = 1e-4  # m/s
FULL = 1e-4  # of throttle: what the top speed's own tolerance makes of it
MINUTES = 60.0


@dataclass(frozen=True)
class Given:
    """What full throttle gives at a speed; ``ideal_share`` of what momentum theory allows.

    ``ideal_share`` is net thrust over that of an ideal fan or disc which takes the same electrical
    power [-]; NaN where none is taken.
    """

    speed_mps: float
    point: OperatingPoint
    ideal_share: float


@dataclass(frozen=True)
class Taken:
    """What level flight takes at a speed; NaN where full throttle does not hold it."""

    speed_mps: float
    thrust_n: float
    throttle: float
    current_a: float
    power_w: float
    minutes: float
    spare_n: float
    climb_mps: float

    @property
    def held(self) -> bool:
        """True where full throttle holds level flight."""
        return bool(np.isfinite(self.throttle))


@dataclass(frozen=True)
class AtThrottle:
    """The fastest level flight at a throttle; the speed is NaN where it holds none."""

    throttle: float
    static_n: float
    static_a: float
    speed_mps: float
    current_a: float
    minutes: float


@dataclass(frozen=True)
class Requirement:
    """Thrust that level flight takes (n,) [N] against speed (n,) [m/s], from the stall on."""

    speeds_mps: Floats
    thrust_n: Floats

    def at(self, speed_mps: float) -> float:
        """Return the thrust [N] at a speed [m/s] between those found.

        Own: a monotone cubic through them.
        """
        return float(self._curve(speed_mps))

    @cached_property
    def _curve(self) -> Monotone:
        return monotone(self.speeds_mps, self.thrust_n)


@dataclass(frozen=True)
class Performance:
    """All that the power report says of a set-up, nominal.

    ``least`` is the level flight that takes the least throttle, ``cruise`` that at the speed
    where set-ups are compared, ``ordinary`` that at the ends of ordinary flying.
    """

    ready: Assembled
    power: PowerArrays
    required: Requirement
    top_mps: float
    still: Given
    full: tuple[Given, ...]
    level: tuple[Taken, ...]
    cruise: Taken
    ordinary: tuple[Taken, ...]
    least: Taken
    throttles: tuple[AtThrottle, ...]

    @property
    def thrust_to_weight(self) -> float:
        """Static thrust over weight [-]; by definition."""
        return self.still.point.net_thrust_n / (self.ready.weighed.mass_kg * STANDARD_GRAVITY)


def requirement(ready: Assembled) -> Requirement:
    """Return what level flight takes [N] from the stall to the fastest that is looked at [m/s].

    Raises
    ------
    ValueError
        At no speed is there level flight.
    """
    slowest, last = ready.stall.speed_mps, tables.flight().fastest_mps
    speeds = slowest + (last - slowest) * np.linspace(0.0, 1.0, SPEEDS) ** CLOSER
    needed = thrust_required(ready.model, speeds, ready.density)
    found = np.isfinite(needed)
    if found.sum() < 2:
        raise ValueError(
            "no level flight at any speed: the elevator stick does not reach; look at balance, "
            "mass and throws"
        )
    return Requirement(speeds[found], needed[found])


def full_thrust(power: PowerArrays, duty: float, speed_mps: float, rho: float) -> float:
    """Return the net thrust [N] at a duty and a speed [m/s]."""
    return operating_point(power, duty, speed_mps, rho).net_thrust_n


def fastest(power: PowerArrays, duty: float, required: Requirement, rho: float) -> float:
    """Return the fastest level flight [m/s] at a duty [-]; NaN where it holds none.

    Own: Brent's method beyond the last speed at which thrust is to spare.
    """
    speeds = required.speeds_mps

    def spare(speed: float) -> float:
        return full_thrust(power, duty, speed, rho) - required.at(speed)

    over = np.array([spare(float(v)) for v in speeds])
    (held,) = np.nonzero(over > 0.0)
    if not held.size:
        low, high = _about(speeds, int(np.argmax(over)))
        best = scipy.optimize.minimize_scalar(
            lambda v: -spare(v), bounds=(low, high), method="bounded"
        )
        if spare(float(best.x)) <= 0.0:
            return nan
        return float(scipy.optimize.brentq(spare, float(best.x), high, xtol=TOLERANCE))
    if held[-1] == speeds.size - 1:
        return float(speeds[-1])
    return float(
        scipy.optimize.brentq(spare, speeds[held[-1]], speeds[held[-1] + 1], xtol=TOLERANCE)
    )


def _about(speeds: Floats, at: int) -> tuple[float, float]:
    """Return the speeds [m/s] either side of one of them; own."""
    return float(speeds[max(at - 1, 0)]), float(speeds[min(at + 1, speeds.size - 1)])


def ideal_share(power: PowerArrays, point: OperatingPoint, speed_mps: float, rho: float) -> float:
    """Return net thrust over the ideal one of the same electrical power [-]; NaN without power.

    Momentum theory [glauert1935], the power [W] in equal parts to the units.
    """
    if point.electrical_power_w <= 0.0:
        return nan
    each = point.electrical_power_w / len(power.units)
    ideal = 0.0
    for row in power.units:
        if row[thrust.U_KIND] == thrust.FAN:
            ideal += ideal_thrust_at_power(each, row[thrust.U_NOZZLE_AREA], speed_mps, rho)
        else:
            area = np.pi / 4.0 * row[thrust.U_DIAMETER] ** 2
            ideal += ideal_disc_thrust(each, area, speed_mps, rho)
    return float(point.net_thrust_n / ideal)


def minutes_at(ready: Assembled, current_a: float) -> float:
    """Return the minutes that the usable part of the pack lasts at a current [A]; by definition."""
    reserve = reserve_of(ready.setup.duty, ready.aeroplane.duty)
    usable_ah = usable_mah(ready.aeroplane.packs[ready.setup.pack], reserve) / 1000.0
    return MINUTES * usable_ah / current_a if current_a > 0.0 else inf


def given(power: PowerArrays, speed_mps: float, rho: float) -> Given:
    """Return what full throttle gives at a speed [m/s]."""
    point = operating_point(power, 1.0, speed_mps, rho)
    return Given(speed_mps, point, ideal_share(power, point, speed_mps, rho))


def taken(ready: Assembled, power: PowerArrays, required: Requirement, speed_mps: float) -> Taken:
    """Return what level flight takes at a speed [m/s]: thrust [N], throttle [-], current [A].

    Climb by what thrust is to spare, (T - D) V / W, by definition, for small angles.
    """
    rho, needed = ready.density, required.at(speed_mps)
    spare = full_thrust(power, 1.0, speed_mps, rho) - needed
    climb = spare * speed_mps / (ready.weighed.mass_kg * STANDARD_GRAVITY)
    duty = duty_for(power, needed, speed_mps, rho)
    if duty > 1.0 + FULL:
        return Taken(speed_mps, needed, nan, nan, nan, nan, spare, climb)
    duty = min(duty, 1.0)
    point = operating_point(power, duty, speed_mps, rho)
    minutes = minutes_at(ready, point.current_a)
    return Taken(
        speed_mps, needed, duty, point.current_a, point.electrical_power_w, minutes, spare, climb
    )


def at_throttle(
    ready: Assembled, power: PowerArrays, required: Requirement, throttle: float
) -> AtThrottle:
    """Return the fastest level flight [m/s] at a throttle [-], what it takes [A], how long."""
    rho = ready.density
    still = operating_point(power, throttle, 0.0, rho)
    speed = fastest(power, throttle, required, rho)
    current = nan
    if np.isfinite(speed):
        current = operating_point(power, throttle, speed, rho).current_a
    return AtThrottle(
        throttle, still.net_thrust_n, still.current_a, speed, current,
        minutes_at(ready, current) if np.isfinite(speed) else nan,
    )  # fmt: skip


def performance(ready: Assembled, cruise_mps: float) -> Performance:
    """Return all that the power report says of a set-up.

    Parameters
    ----------
    ready : Assembled
    cruise_mps : float [m/s]
        Speed at which set-ups are compared.

    Raises
    ------
    ValueError
        There is no level flight, or full throttle holds none; the text says what it lacks.
    """
    power, required, rho = ready.power, requirement(ready), ready.density
    table = tables.performance()
    top = fastest(power, 1.0, required, rho)
    if not np.isfinite(top):
        speed = min(
            required.speeds_mps, key=lambda v: required.at(v) - full_thrust(power, 1.0, v, rho)
        )
        lacks = required.at(speed) - full_thrust(power, 1.0, speed, rho)
        raise ValueError(
            f"full throttle holds level flight at no speed: at {SPEED(speed, '.1f')}, where it is "
            f"nearest, it lacks {FORCE(lacks, '.1f')}; look at thrust, nozzle, pack and mass"
        )
    slowest = float(required.speeds_mps[0])
    shown = _shown(slowest, cruise_mps, top)
    level = tuple(taken(ready, power, required, v) for v in shown)
    least = scipy.optimize.minimize_scalar(
        lambda v: duty_for(power, required.at(v), v, rho), bounds=(slowest, top), method="bounded"
    )
    return Performance(
        ready=ready,
        power=power,
        required=required,
        top_mps=top,
        still=given(power, 0.0, rho),
        full=tuple(given(power, v, rho) for v in (0.0, *shown)),
        level=level,
        cruise=taken(ready, power, required, cruise_mps),
        ordinary=tuple(taken(ready, power, required, x * top) for x in table.ordinary_speeds),
        least=taken(ready, power, required, float(least.x)),
        throttles=tuple(at_throttle(ready, power, required, x) for x in table.throttles),
    )


def _shown(slowest: float, cruise: float, top: float) -> list[float]:
    """Return the speeds [m/s] of the tables: stall, cruise, every fifth between, top.

    Own: none close to another.
    """
    ends = [slowest, min(cruise, top), top]
    fifths = [float(v) for v in np.arange(5.0, top, 5.0) if v > slowest]
    return sorted({*ends, *(v for v in fifths if all(abs(v - end) >= APART for end in ends))})
