"""Fly batches on all cores: compiled code runs without Python's lock, so threads do.

Or on the workers of a cluster (`sim.study.cluster`): either only flies, and what is flown is
counted and kept here.
"""

import os
from collections.abc import Callable, Hashable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, replace
from functools import partial
from itertools import islice
from typing import NamedTuple, Protocol

import numpy as np

from sim.describe import Manoeuvre, Recovery
from sim.fly.flying import Settings, fly_recoveries
from sim.pack.assemble import Assembled
from sim.study.flights.draws import Draws
from sim.study.flights.storing import FlightStore, flight_key

BATCH = 8  # flights between two looks at the keyboard; about a tenth of a second

Progress = Callable[[int], None]
Call = Callable[[], np.ndarray]  # flies a batch


@dataclass(frozen=True)
class Leg:
    """One set-up, manoeuvre and recovery, to be flown for the draws ``which`` (n,).

    Who asks of a flight only whether it came back gives it up at the floor, once it has lost
    ``most_drop_m``: it is lost then, whatever it would do further down. None: as flight.toml says.
    """

    assembled: Assembled
    manoeuvre: Manoeuvre
    recovery: Recovery
    entry_m: float
    which: np.ndarray
    most_drop_m: float | None = None

    def keys(self, seed: int) -> tuple[str, ...]:
        """Return the keys that its flights may be kept under; the last one is its own.

        A flight flown to its end tells as much as one given up at the floor.
        """
        drops = (None,) if self.most_drop_m is None else (None, self.most_drop_m)
        ready, scripts = self.assembled, (self.manoeuvre, self.recovery)
        return tuple(
            flight_key(ready.aeroplane, ready.setup, *scripts, seed, self.entry_m, drop)
            for drop in drops
        )

    def settings(self) -> Settings:
        """Return how its flights are integrated, and when they are given up."""
        standard = Settings.standard()
        if self.most_drop_m is None:
            return standard
        return replace(standard, most_drop_m=min(standard.most_drop_m, self.most_drop_m))


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


class Pool(Protocol):
    """What flies batches: threads of this process, or the workers of a cluster."""

    def slots(self) -> int:
        """Return how many batches are flown at a time."""

    def submit(self, call: Call) -> Hashable:
        """Have a batch flown; return what it is called when it has ended."""

    def ended(self) -> Sequence[tuple[Hashable, np.ndarray]]:
        """Wait until batches have ended; return each once, with what its call returned."""

    def drop(self) -> None:
        """Give up what has not ended."""


class Threads:
    """A pool of threads of this process."""

    def __init__(self, workers: int) -> None:
        """Make a pool of so many, to be dropped at the end."""
        self._workers = workers
        self._threads = ThreadPoolExecutor(workers)
        self._running: set[Future[np.ndarray]] = set()

    def slots(self) -> int:
        """Return how many threads there are."""
        return self._workers

    def submit(self, call: Call) -> Hashable:
        """Have a batch flown by any of them."""
        future = self._threads.submit(call)
        self._running.add(future)
        return future

    def ended(self) -> Sequence[tuple[Hashable, np.ndarray]]:
        """Wait until batches have ended; return them."""
        done, self._running = wait(self._running, return_when=FIRST_COMPLETED)
        return [(future, future.result()) for future in done]

    def drop(self) -> None:
        """Fly no more than what is in the air."""
        self._threads.shutdown(cancel_futures=True)


class Runner:
    """Flies legs and keeps what it has flown; the same numbers on any number of workers."""

    def __init__(
        self,
        draws: Draws,
        seed: int,
        store: FlightStore,
        workers: int | None = None,
        progress: Progress | None = None,
        pool: Pool | None = None,
    ) -> None:
        """Fly with ``draws``; ``progress`` is told the number of flights just ended.

        ``pool`` flies them; None is one of ``workers`` threads.
        """
        self.draws = draws
        self.seed = seed
        self.store = store
        self.workers = workers_wanted(workers)
        self.progress = progress or (lambda _: None)
        self.pool = pool
        self.flown = 0

    def fly(self, legs: Sequence[Leg]) -> list[np.ndarray]:
        """Return the summaries (count, N_SUMMARY) of each leg.

        An interrupt stops after the batches in the air; what has ended is kept.
        """
        keys = [leg.keys(self.seed) for leg in legs]
        missing = []
        for leg, known in zip(legs, keys, strict=True):
            missing.append(self.store.missing(known, leg.which))
            if missing[-1].size < leg.which.size:
                self.progress(leg.which.size - missing[-1].size)
        self._fly_all(legs, [known[-1] for known in keys], jobs_of(legs, missing))
        return [self.store.get(known, leg.which) for leg, known in zip(legs, keys, strict=True)]

    def _fly_all(self, legs: Sequence[Leg], keys: list[str], jobs: Sequence[Job]) -> None:
        """Fly batches, with two for each worker in the queue."""
        pool = Threads(self.workers) if self.pool is None else self.pool
        running: dict[Hashable, Job] = {}
        queue = iter(jobs)
        try:
            while True:
                for job in islice(queue, max(0, 2 * pool.slots() - len(running))):
                    running[pool.submit(self._call(legs, job))] = job
                if not running:
                    return
                for batch, found in pool.ended():
                    self._keep(running.pop(batch), keys, found)
        finally:
            pool.drop()

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

    def _call(self, legs: Sequence[Leg], job: Job) -> Call:
        """Return what flies a batch, with the draws of its flights alone."""
        leg = legs[job.legs[0]]
        return partial(
            fly_recoveries, leg.assembled, leg.manoeuvre, [legs[i].recovery for i in job.legs],
            self.draws.physical[job.which], np.arange(job.which.size),
            self.sides_of(leg, job.which), leg.entry_m, leg.settings(),
        )  # fmt: skip


def jobs_of(legs: Sequence[Leg], missing: Sequence[np.ndarray]) -> list[Job]:
    """Return the batches that fly the ``missing`` draws (n,) of each leg.

    Legs that differ in the recovery alone and miss the same draws fly them together. Few
    draws make small batches, so that every core has some.
    """
    together: dict[tuple[object, ...], list[int]] = {}
    for i, (leg, which) in enumerate(zip(legs, missing, strict=True)):
        start = id(leg.assembled), id(leg.manoeuvre), leg.entry_m
        together.setdefault((*start, leg.most_drop_m, which.tobytes()), []).append(i)
    jobs = []
    for group in together.values():
        which = missing[group[0]]
        size = min(BATCH, max(1, which.size // BATCH))
        jobs += [Job(tuple(group), which[n : n + size]) for n in range(0, which.size, size)]
    return jobs
