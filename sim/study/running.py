"""Fly batches on all cores: compiled code runs without Python's lock, so threads do."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from sim.describe import Manoeuvre
from sim.fly.assemble import Assembled
from sim.fly.flying import fly_many
from sim.study.draws import Draws
from sim.study.storing import FlightStore, flight_key

BATCH = 8  # flights between two looks at the keyboard; about a tenth of a second

Progress = Callable[[int], None]


@dataclass(frozen=True)
class Leg:
    """One set-up, manoeuvre and recovery, to be flown for the draws ``which`` (n,)."""

    assembled: Assembled
    manoeuvre: Manoeuvre
    recovery: Manoeuvre
    entry_m: float
    which: np.ndarray


class Job(NamedTuple):
    """One batch: the leg it belongs to and its draws."""

    leg: int
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
        jobs = [
            Job(i, leg.which[start : start + BATCH])
            for i, leg in enumerate(legs)
            for start in range(0, leg.which.size, BATCH)
        ]
        parts: dict[int, np.ndarray] = {}
        todo = []
        for n, job in enumerate(jobs):
            known = self.store.get(keys[job.leg], job.which)
            if known is None:
                todo.append(n)
            else:
                parts[n] = known
                self.progress(job.which.size)
        self._fly_all(legs, keys, jobs, todo, parts)
        return [
            np.concatenate([parts[n] for n, job in enumerate(jobs) if job.leg == i])
            for i in range(len(legs))
        ]

    def _fly_all(
        self,
        legs: Sequence[Leg],
        keys: list[str],
        jobs: list[Job],
        todo: list[int],
        parts: dict[int, np.ndarray],
    ) -> None:
        """Fly the batches ``todo``, with two for each worker in the queue."""
        with ThreadPoolExecutor(self.workers) as pool:
            running: dict[Future[np.ndarray], int] = {}
            queue = iter(todo)
            try:
                while True:
                    while len(running) < 2 * self.workers:
                        n = next(queue, None)
                        if n is None:
                            break
                        running[pool.submit(self._batch, legs[jobs[n].leg], jobs[n].which)] = n
                    if not running:
                        return
                    done, _ = wait(running, return_when=FIRST_COMPLETED)
                    for future in done:
                        n = running.pop(future)
                        job, rows = jobs[n], future.result()
                        self.store.put(keys[job.leg], job.which, rows)
                        parts[n] = rows
                        self.flown += job.which.size
                        self.progress(job.which.size)
            except BaseException:
                for future in running:
                    future.cancel()
                raise

    def sides_of(self, leg: Leg) -> np.ndarray:
        """Return the side (n,) of each flight of a leg: +1 where it has none."""
        sides = self.draws.sides[leg.which]
        return sides if leg.manoeuvre.sides == "both" else np.ones_like(sides)

    def _batch(self, leg: Leg, which: np.ndarray) -> np.ndarray:
        sides = self.draws.sides[which] if leg.manoeuvre.sides == "both" else np.ones(which.size)
        return fly_many(
            leg.assembled, leg.manoeuvre, leg.recovery, self.draws.physical, which, sides,
            leg.entry_m,
        )  # fmt: skip
