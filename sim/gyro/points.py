"""Where a gyro's loop is looked at: level flight from the approach to the top speed, and a dive."""

from dataclasses import dataclass
from math import radians

import numpy as np

from sim import tables
from sim.gyro.motion import Steady, steady_flight
from sim.pack.assemble import Assembled
from sim.trim.trimming import Trim, level, level_at_throttle
from sim.units.quantities import SPEED


@dataclass(frozen=True)
class Point:
    """Where the loop is looked at: a speed and the throttle there; a dive at idle, or level."""

    speed_mps: float
    throttle: float
    dive: bool
    flight: Steady


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
            f"set-up {ready.setup.name}: the top speed, {SPEED(top.speed_mps, '.1f')}, is below "
            f"that of the approach, {SPEED(slow, '.1f')}; look at thrust, mass and throws"
        )
    trims = [level(ready, float(v)) for v in np.geomspace(slow, top.speed_mps, t.speeds)[:-1]]
    flown = [_point(ready, trim, trim.speed_mps, trim.throttle, 0.0) for trim in [*trims, top]]
    fastest = max(top.speed_mps, ready.aeroplane.structure.never_exceed_mps)
    found = [p for p in flown if p.flight.found]
    dive = _point(ready, top, fastest, 0.0, -radians(t.dive_deg))
    if not found or not dive.flight.found:
        raise ValueError(
            f"set-up {ready.setup.name}: no steady flight was found "
            + (f"in a dive at {SPEED(fastest)}" if found else f"from {SPEED(slow)} on")
            + "; look at balance point and throws"
        )
    return [*found, dive]


def _point(ready: Assembled, trim: Trim, speed: float, throttle: float, path: float) -> Point:
    guess = (radians(trim.alpha_deg), trim.elevator_stick)
    flight = steady_flight(ready.model, speed, throttle, path, guess)
    return Point(speed, throttle, path < 0.0, flight)
