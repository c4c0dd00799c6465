"""A set-up's own gyro held against what its loop stands, for its card."""

from collections.abc import Callable
from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane, SetUp
from sim.gyro.allowed import Allowed, allowed
from sim.gyro.points import Point, points_of
from sim.gyro.unknown import loop_draws
from sim.pack.assemble import Assembled, assemble, flown_spreads
from sim.study.flights.draws import make_draws


@dataclass(frozen=True)
class GyroPoints:
    """A set-up whose gyro is on, and the speeds it is looked at; none, and ``why``."""

    assembled: Assembled
    points: tuple[Point, ...]
    why: str = ""


@dataclass(frozen=True)
class GyroCheck:
    """What the loop stands; None where it could not be looked at, and ``why``."""

    found: Allowed | None
    why: str = ""


def gyro_on(setup: SetUp) -> bool:
    """Return whether a set-up flies with its gyro on."""
    return setup.gyro_settings is not None and setup.gyro == "on"


def gyro_points(aeroplane: Aeroplane, setup: SetUp) -> GyroPoints:
    """Return the speeds at which a set-up's gyro is looked at, from the approach to the dive."""
    ready = assemble(aeroplane, setup)
    try:
        return GyroPoints(ready, tuple(points_of(ready)))
    except ValueError as error:
        return GyroPoints(ready, (), str(error))


def gyro_check(
    at: GyroPoints, seed: int, watch: Callable[[int, int], None] = lambda done, total: None
) -> GyroCheck:
    """Return what each axis stands, over as many draws as gyro_loop.toml has.

    Where there is no speed to look at it is no check, and says so.
    """
    if not at.points:
        return GyroCheck(None, at.why)
    spreads = flown_spreads(at.assembled.aeroplane)
    physical = make_draws(spreads, tables.gyro_loop().draws, seed).physical
    return GyroCheck(allowed(at.assembled, loop_draws(physical, seed), at.points, watch))
