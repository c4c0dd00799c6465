"""Fly batches on all cores: compiled code runs without Python's lock, so threads do."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from sim.describe import Manoeuvre, Recovery
from sim.fly.flying import fly_recoveries
from sim.pack.assemble import Assembled
from sim.study.draws import Draws
from sim.study.storing import FlightStore, flight_key

BATCH = 8  # flights between two looks at the keyboard; about a tenth of a second

Progress = Callable[[int], None]


@dataclass(frozen=True)
class Leg:
    """One set-up, manoeuvre and recovery, to be flown for the draws ``which`` (n,)."""

    assembled: Assembled
    manoeuvre: Manoeuvre
    recovery: Recovery
    entry_m: float
    which: np.ndarray


class Job(NamedTuple):
    """One batch: its draws, and the legs that fly them, which differ in the recovery alone."""

    legs: tuple[int, ...]
    which: np.ndarray


def workers_wanted(workers: int | None) -> int:
    """Return how many threads to use: as asked, else one a core that this process may use."""
    if workers is not None:
        return max(1, workers)
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1


class Runner:
    """Flies legs and keeps what it has flown; the same numbers on any number of workers."""

    def __init__(
        self,
        draws: Draws,
        seed: int,
        store: FlightStore,
        workers: int | None = None,
        progress: Progress | None = None,
    ) -> None:
        """Fly with ``draws``; ``progress`` is told the number of flights just ended."""
        self.draws = draws
        self.seed = seed
        self.store = store
        self.workers = workers_wanted(workers)
        self.progress = progress or (lambda _: None)
        self.flown = 0

    def fly(self, legs: Sequence[Leg]) -> list[np.ndarray]:
        """Return the summaries (count, N_SUMMARY) of each leg.

        An interrupt stops after the batches in the air; what has ended is kept.
        """
        keys = [
            flight_key(
                leg.assembled.aeroplane, leg.assembled.setup, leg.manoeuvre, leg.recovery,
                self.seed, leg.entry_m,
            )
            for leg in legs
        ]  # fmt: skip
        missing = []
        for leg, key in zip(legs, keys, strict=True):
            missing.append(self.store.missing(key, leg.which))
            if missing[-1].size < leg.which.size:
                self.progress(leg.which.size - missing[-1].size)
        self._fly_all(legs, keys, jobs_of(legs, missing))
        return [self.store.get(key, leg.which) for leg, key in zip(legs, keys, strict=True)]

    def _fly_all(self, legs: Sequence[Leg], keys: list[str], jobs: Sequence[Job]) -> None:
        """Fly batches, with two for each worker in the queue."""
        with ThreadPoolExecutor(self.workers) as pool:
            running: dict[Future[np.ndarray], Job] = {}
            queue = iter(jobs)
            try:
                while True:
                    while len(running) < 2 * self.workers:
                        job = next(queue, None)
                        if job is None:
                            break
                        running[pool.submit(self._batch, legs, job)] = job
                    if not running:
                        return
                    done, _ = wait(running, return_when=FIRST_COMPLETED)
                    for future in done:
                        self._keep(running.pop(future), keys, future.result())
            except BaseException:
                for future in running:
                    future.cancel()
                raise

    def _keep(self, job: Job, keys: list[str], found: np.ndarray) -> None:
        """Keep the summaries (legs, n, N_SUMMARY) of a batch."""
        for i, rows in zip(job.legs, found, strict=True):
            self.store.put(keys[i], job.which, rows)
            self.flown += job.which.size
            self.progress(job.which.size)

    def sides_of(self, leg: Leg, which: np.ndarray | None = None) -> np.ndarray:
        """Return the side (n,) of each flight of a leg, or of its draws ``which`` (n,) alone.

        +1 where a manoeuvre has no side.
        """
        sides = self.draws.sides[leg.which if which is None else which]
        return sides if leg.manoeuvre.sides == "both" else np.ones_like(sides)

    def _batch(self, legs: Sequence[Leg], job: Job) -> np.ndarray:
        leg = legs[job.legs[0]]
        return fly_recoveries(
            leg.assembled, leg.manoeuvre, [legs[i].recovery for i in job.legs],
            self.draws.physical, job.which, self.sides_of(leg, job.which), leg.entry_m,
        )  # fmt: skip


def jobs_of(legs: Sequence[Leg], missing: Sequence[np.ndarray]) -> list[Job]:
    """Return the batches that fly the ``missing`` draws (n,) of each leg.

    Legs that differ in the recovery alone and miss the same draws fly them together.
    """
    together: dict[tuple[object, ...], list[int]] = {}
    for i, (leg, which) in enumerate(zip(legs, missing, strict=True)):
        entry = (id(leg.assembled), id(leg.manoeuvre), leg.entry_m, which.tobytes())
        together.setdefault(entry, []).append(i)
    return [
        Job(tuple(group), missing[group[0]][start : start + BATCH])
        for group in together.values()
        for start in range(0, missing[group[0]].size, BATCH)
    ]
