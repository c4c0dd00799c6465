"""What is compiled before the first flight, in processes of their own (`sim.fly.warming`)."""

import sys
from typing import Any

import numba
import numpy as np

from sim.core import script_layout as s
from sim.core.air.wind import air_motion
from sim.core.draw_layout import N_DRAW
from sim.core.flights.batch import Start, many_flights
from sim.core.flights.summary import summarise
from sim.core.layout import Model
from sim.core.pilot.control import gyro_angles, servo_targets
from sim.core.pilot.pilot import move_sticks
from sim.core.pilot.script import Seen, advance
from sim.fly.flying import Settings


def like_a_model() -> Model:
    """Return a model of the right types and no meaning: what the compiler looks at."""
    flat = {
        name: np.zeros(1) for name in ("body_par", "pack", "gyro", "mass", "env", "pilot", "errors")
    }
    grids = ("strips", "surfaces", "sources", "bodies", "units", "prop_table", "servos")
    return Model(
        **{name: np.zeros((1, 1)) for name in grids},
        **flat,
        strip_index=np.zeros((1, 1), dtype=np.int64),
        pairs=np.zeros((1, 1), dtype=np.int64),
        tables=np.zeros((1, 1, 1)),
        table_ends=np.zeros((1, 1, 1, 1)),
    )


def compile_pilot() -> None:
    """Compile what only flights need: the pilot, servos, gusts, what is read off a flight."""
    number, line, grid, real = 1, np.zeros(1), np.zeros((1, 1)), 1.0
    _compile(summarise, grid, number, real, line, line, number, line)
    _compile(advance, grid, line, line, line, line, Seen(*[real] * 10), real)
    _compile(move_sticks, line, line, line, real, real, real, real)
    _compile(gyro_angles, line, line, real, real, real, line, real, line)
    _compile(servo_targets, grid, line, line, line, line, grid, line, line)
    _compile(air_motion, line, line, real, real, real, real, line)


def compile_flights() -> None:
    """Compile `many_flights` for the types that `sim.fly.flying.fly_many` hands it.

    numba begins with what it calls first: the draw, the start and its trim, with their loads.
    """
    whole, line = np.zeros(1, dtype=np.int64), np.zeros(1)
    draws, phases = np.zeros((1, N_DRAW)), np.zeros((1, 1, s.N_PHASE))
    start, pace = Start(1.0, 1.0, 1.0), Settings.standard().pace()
    _compile(
        many_flights, like_a_model(), whole, draws, line, whole, phases, whole, line, line, start,
        pace,
    )  # fmt: skip


def _compile(function: Any, *arguments: object) -> None:
    """Compile a kernel for the types of some arguments."""
    function.compile(tuple(numba.typeof(argument) for argument in arguments))


if __name__ == "__main__":
    {"pilot": compile_pilot, "flights": compile_flights}[sys.argv[1]]()
