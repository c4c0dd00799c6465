"""What a flight shows of what pilots go aft for: whether it did it, and came out forwards."""

from math import pi, radians
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sim import tables
from sim.core import measured_layout as m
from sim.core.script_layout import STATUS_DEPTH, STATUS_DONE, STATUS_TIME

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


class Figure(NamedTuple):
    """The one number that a kind of manoeuvre is flown for.

    ``at`` is its column, ``factor`` makes its unit of it, ``less`` says that less is better,
    ``time`` is the column of the time to having done it, if there is one.
    """

    at: int
    factor: float
    unit: str
    less: bool
    time: int | None


DEGREES = 180.0 / pi
FIGURES = {
    "angle": Figure(m.M_ANGLE, DEGREES, "deg", False, m.M_ANGLE_TIME),
    "pass": Figure(m.M_SLOWEST, 1.0, "m/s", True, None),
    "somersault": Figure(m.M_ANGLE, DEGREES, "deg", False, m.M_OVER_TIME),
    "loop": Figure(m.M_LOOP_HEIGHT, 0.5, "m", True, m.M_LOOP_TIME),
    "roll": Figure(m.M_ROLL_RATE, DEGREES, "deg/s", False, m.M_ROLL_TIME),
}


def flew(rows: Floats) -> Flags:
    """Return for each row (n, N_MEASURED) whether it began in trim and stayed computable."""
    return np.isin(rows[:, m.M_STATUS], (STATUS_DONE, STATUS_TIME, STATUS_DEPTH))


def done(rows: Floats, shows: str) -> Flags:
    """Return for each row (n, N_MEASURED) whether it did what the manoeuvre is flown for."""
    figure = FIGURES[shows]
    told = rows[:, figure.at if figure.time is None else figure.time]
    return flew(rows) & np.isfinite(told)


def came_out(rows: Floats, shows: str, height_m: float) -> Flags:
    """Return for each row (n, N_MEASURED) whether it came out pointing forwards.

    Soon after the last input it flies along its path, has not swung aside, has not fallen over its
    back unless that was asked for, and is level again within ``height_m`` below its start.
    """
    table = tables.agility()
    out = flew(rows) & (rows[:, m.M_BACK] > 0.0)
    out &= rows[:, m.M_FORWARD] <= table.forward_within_s
    out &= rows[:, m.M_ASIDE] <= radians(table.aside_deg)
    if shows != "somersault":
        out &= rows[:, m.M_ANGLE] < pi
    return np.asarray(out & (rows[:, m.M_USED] <= height_m))


def figures(rows: Floats, shows: str) -> Floats:
    """Return the one number of each row (n,) [deg, m, m/s, deg/s], as `FIGURES` says.

    By definition of each; the worst there is where it is not to be had. A loop that was not closed
    has no radius, a pass that was not held no speed.
    """
    figure = FIGURES[shows]
    values = np.asarray(rows[:, figure.at] * figure.factor)
    missing = ~(done(rows, shows) if figure.less else flew(rows))
    return np.where(missing, np.inf if figure.less else 0.0, values)


def counted(rows: Floats, shows: str, height_m: float) -> Floats:
    """Return `figures` (n,), those of flights that did not come out as the worst there is."""
    worst = np.inf if FIGURES[shows].less else 0.0
    return np.where(came_out(rows, shows, height_m), figures(rows, shows), worst)


def times(rows: Floats, shows: str) -> Floats:
    """Return the time of each row (n,) to having done it [s], infinite where it never did."""
    at = FIGURES[shows].time
    return np.full(len(rows), np.inf) if at is None else np.where(flew(rows), rows[:, at], np.inf)
