"""Compile the flight kernel in a process of its own, the first time, beside the first.

The kernels are compiled once for each version of their sources, and numba compiles one thing
at a time within a process. So what only flights need is compiled by another (`sim.fly.compiling`)
while this one weighs and trims, which needs the loads. The other one comes to them last, and finds
in the disk cache what this one has compiled by then: two that begin with the same go through it
side by side, for nothing. It only fills that cache: where it cannot run, the first flight compiles
what it needs itself.
"""

import os
import subprocess
import sys
from collections.abc import Iterable
from contextlib import suppress
from importlib import import_module
from pathlib import Path

from sim.core import CACHE, cache_root

# kernels that a command calls from Python, and that bring all they call with them
FLIGHTS = "flights.batch.many_flights"
LEVEL_TRIM, MODES = "steady.linear.trimmed_state", "steady.linear.accelerations"


def is_cold(kernel: str = FLIGHTS) -> bool:
    """Return True where a kernel of these sources has not been compiled yet, in this place.

    Numba keeps apart what lies in different places: another copy's kernels are of no use here.
    """
    module, _, name = kernel.rpartition(".")
    stats = getattr(getattr(import_module(f"sim.core.{module}"), name), "stats", None)
    if CACHE is None or stats is None:  # without compiling there is nothing to find
        return True
    own = CACHE / Path(stats.cache_path).name
    # numba's index of a compiled function
    return next(own.glob(f"{module.rpartition('.')[2]}.{name}-*.nbi"), None) is None


def compiling_text() -> str:
    """Return what is said while kernels are compiled, and where they cannot be kept, why."""
    if CACHE is not None:
        return "compiling what this needs: once on this machine, one to three minutes"
    return (
        "compiling what this needs: one to three minutes in every run; it is not kept, as "
        f"the folder {cache_root()} cannot be written or is not this user's alone (let "
        "AFTLIMIT_CACHE name one that is)"
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


def start() -> list[subprocess.Popen[bytes]]:
    """Start compiling in the background; nothing where it is not needed or will not help."""
    if CACHE is None or not is_cold() or (os.cpu_count() or 1) < 2:
        return []
    return _started()


def fill() -> bool:
    """Compile what flights need, if need be, and wait; return True where the cache has it."""
    if CACHE is not None and is_cold():
        finish(_started())
    return not is_cold()


def _started() -> list[subprocess.Popen[bytes]]:
    with suppress(OSError):
        return [
            subprocess.Popen(
                [*own_python(), "-m", "sim.fly.compiling"],
                env=own_environment(),
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        ]
    return []


def finish(processes: Iterable[subprocess.Popen[bytes]]) -> None:
    """Wait until the background compilation has ended, however it ended."""
    waited = list(processes)
    try:
        for process in waited:
            process.wait()
    except BaseException:
        for process in waited:
            process.kill()
        raise
