"""What was measured on the bench and in flight, met by moving constants that nobody measures.

Own: a regularised least squares. Each constant may move within its spread (two standard
deviations of power_fit.toml), and moving costs as much as that makes it improbable; each
measurement counts by its own standard deviation. Drag of the airframe and voltages of the
day take their share of a difference, and are not flown.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import inf
from typing import NamedTuple

import numpy as np
import scipy

from sim import tables
from sim.aero.sections.monotone import monotone
from sim.core.loads.thrust import U_CURRENT_LIMIT
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.describe.aeroplane import Aeroplane
from sim.describe.masses import OF_POWER, STATIC, Measured
from sim.power.constants import moved_to, spread_of, tried, uncertain, values_of, with_values
from sim.power.least_squares import AT_END, SDS, Strained, freed, least_moved
from sim.power.operating_point import net_thrust, operating_point
from sim.power.packing import PowerArrays

MOST_DUTY = 2.0  # looked for up to there, so that a measurement out of reach still has a slope
BENCH, FLIGHT = ("bench_volts",), ("drag", "flight_volts")

# thrust [N] that level flight needs, at speeds [m/s]
Curve = tuple[np.ndarray, np.ndarray]


@dataclass(frozen=True)
class Moved:
    """One constant before and after, in the file's unit; ``share`` of its spread, -1 to 1.

    ``flown`` is False for what belongs to the day of the measurement.
    """

    name: str
    text: str
    before: float
    after: float
    share: float
    flown: bool


@dataclass(frozen=True)
class Met:
    """One measurement: as measured, by the file's constants, and by the fitted ones flown.

    ``that_day`` is with drag and voltages of that day as fitted, ``off_sds`` how far it is off, in
    standard deviations of the measurement.
    """

    name: str
    measured: float
    before: float
    after: float
    that_day: float
    off_sds: float

    @property
    def met(self) -> bool:
        """True if it lies within what counts as met (power_fit.toml)."""
        return abs(self.off_sds) <= tables.power_fit().met_within_sds

    @property
    def flown(self) -> bool:
        """True if what is flown, without the day's drag and voltages, counts as met as well.

        Own: its share off [-] in standard deviations of the measurement (power_fit.toml).
        """
        table = tables.power_fit()
        sd = next(x.sd for x in table.measurements if x.name == self.name)
        return self.met and abs(self.after / self.measured - 1.0) <= table.met_within_sds * sd


@dataclass(frozen=True)
class PowerFit:
    """An aeroplane with fitted constants, and what moved; nothing where nothing was measured.

    ``thrust_sd`` is the spread of the thrust draw, a share [-], that the measurement leaves; None
    without a measured pull. ``bench_v`` is the voltage under load on the bench [V]; None if nobody
    measured it.
    """

    aeroplane: Aeroplane
    moved: tuple[Moved, ...] = ()
    met: tuple[Met, ...] = ()
    thrust_sd: float | None = None
    bench_v: float | None = None
    strained: tuple[Strained, ...] = ()

    @property
    def unmet(self) -> tuple[Met, ...]:
        """What was measured and cannot be met."""
        return tuple(x for x in self.met if not x.met)


class Asked(NamedTuple):
    """What the fit works on: power as the file has it, measurements, air, thrust required."""

    aeroplane: Aeroplane
    measured: Measured
    power: PowerArrays
    rho: float
    required: Curve | None


def fitted_power(asked: Asked) -> PowerFit:
    """Return the constants that meet best what was measured, in units of their file [mohm, -].

    Own: `scipy.optimize.least_squares` within bounds.

    Parameters
    ----------
    asked : Asked
        ``required`` None where nothing was measured in flight.
    """
    before = values_of(asked.aeroplane)
    for name in (*(BENCH if _on_the_bench(asked) else ()), *(FLIGHT if asked.required else ())):
        before[name] = 1.0
    volts = asked.measured.pack_v is not None
    spreads = {name: spread_of(name, value, volts) for name, value in before.items()}
    sds = {x.name: x.sd for x in tables.power_fit().measurements}
    measured = {name: value for name in sds if (value := getattr(asked.measured, name)) is not None}

    def values(shares: np.ndarray) -> dict[str, float]:
        return {
            name: moved_to(name, before[name], spreads[name], share)
            for name, share in zip(before, shares, strict=True)
        }

    free = _unlimited(asked)

    def off(shares: np.ndarray) -> np.ndarray:
        found = _found(free, before, values(shares))
        return np.array([(found[x] / measured[x] - 1.0) / sds[x] for x in measured])

    best = least_moved(off, np.zeros(len(before)) + SDS)
    strained = []
    for i in np.flatnonzero(np.abs(best) >= AT_END):
        share = freed(off, best, int(i))
        name = list(before)[i]
        if name not in (*BENCH, *FLIGHT):
            wanted = moved_to(name, before[name], spreads[name], share)
            end = moved_to(name, before[name], spreads[name], float(np.sign(best[i])))
            strained.append(Strained(name, end, wanted, share))
    after = values(best)
    flown = after | {name: 1.0 for name in (*BENCH, *FLIGHT) if name in before}
    said, flies, day = (_found(asked, before, x) for x in (before, flown, after))
    left = dict(zip(measured, off(best), strict=True))
    met = tuple(Met(x, measured[x], said[x], flies[x], day[x], float(left[x])) for x in measured)
    moved = tuple(
        Moved(name, uncertain(name).text, before[name], after[name],
              (after[name] - before[name]) / spreads[name], name not in (*BENCH, *FLIGHT))
        for name in before
    )  # fmt: skip
    own = {name: after[name] for name in values_of(asked.aeroplane)}
    thrust_sd = _thrust_sd(asked, before, flown, spreads, met)
    return PowerFit(_put_in(asked, own, thrust_sd), moved, met, thrust_sd, asked.measured.pack_v,
                    tuple(strained))  # fmt: skip


def _unlimited(asked: Asked) -> Asked:
    """Return what the fit works on without the controller's limit, where less was measured [A].

    A current at its limit does not tell which way to move. Own reasoning: what meets a current
    below the limit is not held by it.
    """
    _, controller = asked.aeroplane.power_train
    current = asked.measured.static_current_a
    if current is None or current >= controller.limit_a:
        return asked
    units = asked.power.units.copy()
    units[:, U_CURRENT_LIMIT] = inf
    return asked._replace(power=asked.power._replace(units=units))


def _on_the_bench(asked: Asked) -> bool:
    return asked.measured.has(*STATIC)


def _found(asked: Asked, before: dict[str, float], values: dict[str, float]) -> dict[str, float]:
    """Return what some constants give for everything that was measured [g, A, %, m/s].

    Standing still at the measured voltage, whatever the pack; else at that of the pack's default
    charge. In flight against thrust required times the drag's factor.
    """
    _, controller = asked.aeroplane.power_train
    power = tried(asked.power, before, values, controller.resistance_mohm)
    found: dict[str, float] = {}
    if "bench_volts" in values:
        pack = power.pack * np.array([values["bench_volts"], 1.0])
        if asked.measured.pack_v is not None:
            pack = np.array([asked.measured.pack_v * values["bench_volts"], 0.0])
        still = operating_point(power._replace(pack=pack), 1.0, 0.0, asked.rho)
        found["static_thrust_g"] = 1000.0 * still.net_thrust_n / STANDARD_GRAVITY
        found["static_current_a"] = still.current_a
    if asked.required is not None:
        flying = power._replace(pack=power.pack * np.array([values["flight_volts"], 1.0]))
        speeds, needed = asked.required
        curve = monotone(speeds, needed * values["drag"])
        cruise = asked.measured.cruise_speed_mps
        if cruise is not None:
            needs = float(curve(cruise))
            found["cruise_throttle_pct"] = 100.0 * duty_for(flying, needs, cruise, asked.rho)
        if asked.measured.top_speed_mps is not None:
            found["top_speed_mps"] = _fastest(flying, lambda v: float(curve(v)), speeds, asked.rho)
    return found


def duty_for(power: PowerArrays, thrust_n: float, speed_mps: float, rho: float) -> float:
    """Return the duty [-] that gives a net thrust [N] at a speed [m/s]; 0, or 2, where none does.

    Own: Brent's method; above 1 there is no such throttle.
    """

    @cache
    def excess(duty: float) -> float:
        return net_thrust(power, duty, speed_mps, rho) - thrust_n

    if excess(0.0) >= 0.0:
        return 0.0
    if excess(MOST_DUTY) <= 0.0:
        return MOST_DUTY
    return float(scipy.optimize.brentq(excess, 0.0, MOST_DUTY, xtol=1e-7))


def _fastest(
    power: PowerArrays, curve: Callable[[float], float], speeds: np.ndarray, rho: float
) -> float:
    """Return the fastest speed [m/s] that full throttle holds, or the nearest tried.

    Own: Brent's method, between two speeds tried of which one is held.
    """

    @cache
    def excess(speed: float) -> float:
        return net_thrust(power, 1.0, speed, rho) - float(curve(speed))

    tried = [float(v) for v in speeds]
    if excess(tried[0]) > 0.0 > excess(tried[-1]):
        return float(scipy.optimize.brentq(excess, tried[0], tried[-1], xtol=1e-6))
    last = next((i for i in reversed(range(len(tried))) if excess(tried[i]) > 0.0), None)
    if last is None or last == len(tried) - 1:
        return tried[0 if last is None else last]
    return float(scipy.optimize.brentq(excess, tried[last], tried[last + 1], xtol=1e-6))


def _thrust_sd(
    asked: Asked,
    before: dict[str, float],
    flown: dict[str, float],
    spreads: dict[str, float],
    met: tuple[Met, ...],
) -> float | None:
    """Return the standard deviation of the thrust, a share [-], that a measured pull leaves.

    That of scale and voltage together, and no more than without a measurement; what could not
    be met comes on top. Squares added, by definition. None, for that of one without a measurement,
    where there is no pull, or one off a data sheet: nobody pulled at this aeroplane.
    """
    pull = next((x for x in met if x.name == "static_thrust_g"), None)
    if pull is None or f"measured.{pull.name}" in asked.aeroplane.from_box:
        return None
    volts = [
        _found(asked, before, flown | {"bench_volts": 1.0 + sign * spreads["bench_volts"]})
        for sign in (1.0, -1.0)
    ]
    by_volts = abs(volts[0][pull.name] - volts[1][pull.name]) / (2.0 * SDS * pull.after)
    sd = next(x.sd for x in tables.power_fit().measurements if x.name == pull.name)
    usual = next(x.sd for x in tables.uncertainty().entries if x.name == "thrust")
    if pull.met:
        return min(usual, float(np.hypot(sd, by_volts)))
    return float(np.hypot(usual, pull.after / pull.measured - 1.0))


def _put_in(asked: Asked, values: dict[str, float], thrust_sd: float | None) -> Aeroplane:
    """Return the aeroplane as it is flown: constants and thrust's spread put in, once for all.

    A spread that the file itself gives stays.
    """
    own = with_values(asked.aeroplane, values)
    spreads = dict(asked.aeroplane.uncertainty)
    if thrust_sd is not None:
        spreads.setdefault("thrust", thrust_sd)
    measured = asked.measured.model_copy(update=dict.fromkeys(OF_POWER))
    return own.model_copy(update={"uncertainty": spreads, "measured": measured})
