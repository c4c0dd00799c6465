"""What is compiled before the first flight, in a process of its own (`sim.fly.warming`)."""

import gc
from typing import Any

import numba
import numpy as np

from sim.core import script_layout as s
from sim.core.air.wind import air_motion
from sim.core.draw_layout import N_DRAW
from sim.core.flights.batch import many_flights
from sim.core.flights.beginning import Start
from sim.core.flights.fork import new_fork
from sim.core.flights.perturb import perturbed
from sim.core.flights.row import record
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


def compile_apart() -> None:
    """Compile what only flights need: draws, pilot, servos, gusts, what is read off a flight."""
    number, line, grid, real = 1, np.zeros(1), np.zeros((1, 1)), 1.0
    whole = np.zeros(1, dtype=np.int64)
    _compile(summarise.within, grid, number, real, line, line, number, line)
    _compile(advance.within, grid, line, line, line, line, Seen(*[real] * 10), real)
    _compile(move_sticks.within, line, line, line, real, real, real, real)
    _compile(gyro_angles.within, line, line, real, real, real, line, real, line)
    _compile(servo_targets.within, grid, line, line, line, line, grid, line, line)
    _compile(air_motion.within, line, line, real, real, real, real, line)
    _compile(perturbed.within, like_a_model(), whole, line)
    _compile(new_fork.within, number, number)
    _compile(
        record.within, line, real, line, line, line, line, line, grid, grid, line, real, number
    )  # fmt: skip


def compile_flights() -> None:
    """Compile `many_flights` for the types that `sim.fly.flying.fly_many` hands it."""
    whole, line = np.zeros(1, dtype=np.int64), np.zeros(1)
    draws, phases = np.zeros((1, N_DRAW)), np.zeros((1, 1, s.N_PHASE))
    start, pace = Start(1.0, 1.0, 1.0), Settings.standard().pace()
    _compile(
        many_flights, like_a_model(), whole, draws, line, whole, phases, whole, line, line, start,
        pace, np.zeros((1, 1)),
    )  # fmt: skip


def _compile(function: Any, *arguments: object) -> None:
    """Compile a kernel, as other kernels call it or Python, for the types of some arguments."""
    function.compile(tuple(numba.typeof(argument) for argument in arguments))


if __name__ == "__main__":
    # what the compiler makes lives to the end: looked through less often, it takes 3 % less time
    gc.freeze()
    gc.set_threshold(100_000, 50)
    compile_apart()
    compile_flights()
