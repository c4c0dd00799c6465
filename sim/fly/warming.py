"""Compile the flight kernel in a process of its own, the first time, on a second core.

The kernels are compiled once for each version of their sources. Weighing, trimming and
static curves need one half of them, flights the other; numba compiles one thing at a
time within a process, so a second one halves the wait. What both need, the loads and the
trim, the first process begins with, and the second ends with: by then it finds most of
them in the disk cache. It only fills that cache: where it cannot run, the first flight
compiles what it needs itself.
"""

import os
import subprocess
import sys
from pathlib import Path

import numba
import numpy as np

from sim.core import CACHE, cache_root
from sim.core import script_layout as s
from sim.core.air.wind import air_motion
from sim.core.draw_layout import N_DRAW
from sim.core.flights.batch import Start, many_flights
from sim.core.flights.perturb import perturbed
from sim.core.flights.summary import summarise
from sim.core.layout import Model
from sim.core.pilot.control import gyro_angles, servo_targets
from sim.core.pilot.pilot import move_sticks
from sim.core.pilot.script import Seen, advance
from sim.fly.flying import Settings

# kernels that a command calls from Python, and that bring all they call with them
MANY_FLIGHTS, ONE_FLIGHT = "batch.many_flights", "batch.one_flight"
LEVEL_TRIM, MODES = "linear.trimmed_state", "linear.accelerations"


def is_cold(kernel: str = MANY_FLIGHTS) -> bool:
    """Return True where a kernel of these sources has not been compiled yet."""
    # numba's index of a compiled function
    return CACHE is None or next(CACHE.rglob(f"{kernel}-*.nbi"), None) is None


def compiling_text() -> str:
    """Return what is said while kernels are compiled, and where they cannot be kept, why."""
    if CACHE is not None:
        return "compiling the flight kernel, once on this machine, 30 to 120 s"
    return (
        "compiling the flight kernel, 30 to 120 s in every run: it is not kept, because the folder "
        f"{cache_root()} cannot be written or is not this user's alone (let AFTLIMIT_CACHE name "
        "one that is)"
    )


def own_python() -> list[str]:
    """Return the command of this Python, which does not look into the current folder first."""
    return [sys.executable, "-P"]


def own_environment() -> dict[str, str]:
    """Return the environment in which another Python finds this copy of the program.

    Kernels are cached by where their sources lie: started in a folder of sources, from an
    installed program, it would else compile those, for nobody.
    """
    places = [str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", "")]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(x for x in places if x)}


def start() -> subprocess.Popen[bytes] | None:
    """Start compiling in the background; None where it is not needed or will not help."""
    if CACHE is None or not is_cold() or (os.cpu_count() or 1) < 2:
        return None
    try:
        return subprocess.Popen(
            [*own_python(), "-m", "sim.fly.warming"],
            env=own_environment(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
    except OSError:
        return None


def finish(process: subprocess.Popen[bytes] | None) -> None:
    """Wait until the background compilation has ended, however it ended."""
    if process is None:
        return
    try:
        process.wait()
    except BaseException:
        process.kill()
        raise


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


def compile_flights() -> None:
    """Compile `many_flights` for the types that `sim.fly.flying.fly_many` hands it.

    First what only flights need: drawing, the pilot, the servos, and what is read off a flight.
    """
    model, whole, number = like_a_model(), np.zeros(1, dtype=np.int64), 1
    pace = Settings.standard().pace()
    line, grid, real = np.zeros(1), np.zeros((1, 1)), 1.0
    for function, arguments in (
        (perturbed, (model, whole, line)),
        (summarise, (grid, number, real, line, line, number, line)),
        (advance, (grid, line, line, line, line, Seen(*[real] * 10), real)),
        (move_sticks, (line, line, line, real, real, real, real)),
        (gyro_angles, (line, line, real, real, real, line, real, line)),
        (servo_targets, (grid, line, line, line, line, grid, line, line)),
        (air_motion, (line, line, real, real, real, real, line)),
        (many_flights, (
            model, whole, np.zeros((1, N_DRAW)), line, whole, np.zeros((1, 1, s.N_PHASE)), whole,
            line, line, Start(*[real] * 3), pace,
        )),
    ):  # fmt: skip
        function.compile(tuple(numba.typeof(argument) for argument in arguments))


if __name__ == "__main__":
    compile_flights()
