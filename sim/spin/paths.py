"""What a map of spin equilibria goes along: the balance point, or sticks moved to a recovery."""

from collections.abc import Callable

import numpy as np

from sim import tables
from sim.describe import Aeroplane, SetUp
from sim.pack.assemble import Assembled, assemble
from sim.spin.equilibrium import SpinBalance
from sim.spin.roots import Sticks, balance_of, held_at
from sim.units.quantities import LENGTH


def along_balance(
    aeroplane: Aeroplane, setup: SetUp, sticks: Sticks
) -> Callable[[float], SpinBalance]:
    """Return what gives the balance with the sticks held at a balance point [mm aft].

    The pack is moved, and weights added, as for that balance point; mass and inertia
    follow, and the trim is found anew.
    """

    def make(balance_mm: float) -> SpinBalance:
        ready = assemble(aeroplane, setup.at_balance(float(balance_mm)))
        return balance_of(ready, held_at(ready, sticks))

    return make


def towards(assembled: Assembled, sticks: Sticks, goal: Sticks) -> Callable[[float], SpinBalance]:
    """Return what gives the balance with the sticks moved part of the way to ``goal`` [%].

    Own: on a straight line.
    """
    start, end = np.array(sticks, dtype=float), np.array(goal, dtype=float)

    def make(way_pct: float) -> SpinBalance:
        held = held_at(assembled, start + 0.01 * float(way_pct) * (end - start))
        return balance_of(assembled, held)

    return make


def read_sticks(text: str) -> tuple[float, float, float, float]:
    """Return sticks with the throttle idle from "ELEVATOR,AILERON,RUDDER" [%].

    Units only, by definition.

    Raises
    ------
    ValueError
        Not three numbers of -100 to 100.
    """
    parts = text.split(",")
    try:
        values = [float(part) for part in parts]
    except ValueError:
        values = []
    if len(values) != 3 or not all(abs(value) <= 100.0 for value in values):
        wanted = "three numbers of -100 to 100 per cent: elevator (aft is plus), aileron, rudder"
        raise ValueError(f"--sticks {text}: must be a manoeuvre, a recovery, or {wanted}")
    elevator, aileron, rudder = (0.01 * value for value in values)
    return elevator, aileron, rudder, 0.0


def stops_between(low_mm: float, high_mm: float, step_mm: float | None = None) -> list[float]:
    """Return balance points [mm] from one to the other, evenly, no further apart than asked.

    Geometry: even parts of a line.

    Raises
    ------
    ValueError
        The second is not behind the first, or they are too many.
    """
    values = tables.spin_search()
    if not low_mm < high_mm:
        raise ValueError(f"--to-mm {high_mm:g} must be behind --from-mm {low_mm:g}")
    step = values.map_step_mm if step_mm is None else step_mm
    count = int(np.ceil((high_mm - low_mm) / step - 1e-9)) + 1
    most = values.most_stops
    if count > most:
        least = (high_mm - low_mm) / (most - 1)
        told = f"{LENGTH.at_least(least, '.1f')} {LENGTH}"
        text = f"gives {count} balance points; at most {most}, so at least {told}"
        raise ValueError(f"--step-{LENGTH.suffix} {LENGTH.figure(step, 'g')} {text}")
    return [float(v) for v in np.linspace(low_mm, high_mm, count)]
