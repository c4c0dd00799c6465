"""Memory and time over 100,000 flights: what is kept of a flight, and whether the last are slower.

``python -m tests.bench.bench_memory [FLIGHTS]``. The flights are short ones, a trim and a few
tenths of a second, as what stays in memory does not hang on how long a flight lasts: histories
are not kept, summaries are.
"""

import resource
import sys
import time
from collections.abc import Iterator

import numpy as np

from sim.core.script_layout import N_SUMMARY
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.pack.assemble import assemble
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Leg, Runner
from sim.study.flights.storing import FlightStore

FLIGHTS, DRAWS, PARTS = 100_000, 1024, 10
MEGABYTE = 1024.0**2
SHORT_S = 0.1


def resident_mb() -> float:
    """Return what this process holds in memory now [MB]; the most so far where that is not told."""
    try:
        with open("/proc/self/statm", encoding="ascii") as file:
            return int(file.read().split()[1]) * resource.getpagesize() / MEGABYTE
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def memory_lines(flights: int = FLIGHTS) -> Iterator[str]:
    """Yield memory and time after each tenth of so many flights of one study's runner."""
    jet = assemble(load_aeroplane("display_jet"))
    entry, recovery = load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks")
    entry = entry.model_copy(update={"phases": (shortened(entry.phases[0]),)})
    recovery = recovery.model_copy(update={"phases": tuple(map(shortened, recovery.phases))})
    draws = make_draws(jet.spreads, DRAWS, 1)
    runner = Runner(draws, 1, FlightStore(None))
    which, entry_m = np.arange(DRAWS), 100.0
    runner.fly([Leg(jet, entry, recovery, entry_m, which)])
    first_mb, first_s = resident_mb(), 0.0
    for part in range(PARTS):
        start, before = time.process_time(), runner.flown
        while runner.flown < flights * (part + 1) / PARTS:
            entry_m += 0.01  # another flight to the store, hardly another one
            runner.fly([Leg(jet, entry, recovery, entry_m, which)])
        each = 1e3 * (time.process_time() - start) / max(1, runner.flown - before)
        first_s = first_s or each
        if part in (0, PARTS // 2 - 1, PARTS - 1):
            more = resident_mb() - first_mb
            yield (
                f"{runner.flown} short flights: {first_mb + more:.0f} MB, "
                f"{1024.0 * more / runner.flown:.2f} kB each (a summary is "
                f"{8.0 * N_SUMMARY / 1024.0:.2f}); {each:.2f} ms of processor each, "
                f"{each / first_s:.2f} x the first tenth's"
            )


def shortened(phase):
    """Return a phase that ends soon."""
    return phase.model_copy(update={"at_most_s": SHORT_S, "at_least_s": 0.0, "reaction": False})


if __name__ == "__main__":
    for line in memory_lines(*(int(x) for x in sys.argv[1:2])):
        print(line, flush=True)
