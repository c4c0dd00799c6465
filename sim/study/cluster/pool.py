"""Fly batches on the workers of a Dask cluster: the same bytes as here, and all is kept here.

Which worker flies a batch is decided here: what a lost one had is sent to another, and the only
answer that counts is the one waited for.
"""

import pickle
import time
from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING

import numpy as np

from sim.study.cluster.worker import fly_sent, made_ready, own_identity
from sim.study.flights.running import Call

if TYPE_CHECKING:
    from distributed import Client, Future

LOOK_S = 1.0  # between two looks at who is there
ANSWER_S = 10.0  # a scheduler answers within
PATIENCE_S = 5.0  # without a worker, until it is said
MOST_LOST = 3  # workers lost with the same batch


@dataclass(eq=False)
class _Batch:
    """What is to be flown, on which worker it is, and how many were lost with it."""

    sent: bytes
    worker: str = ""
    lost: int = 0


class Cluster:
    """Workers that fly batches; a `Pool` of `sim.study.flights.running`, for one thread alone."""

    def __init__(
        self, client: "Client", address: str, told: Callable[[str], None] = lambda _: None
    ) -> None:
        """Take the workers of a client; ``told`` hears who may not fly, and what is waited for."""
        self.address = address
        self._client = client
        self._told = told
        self._own = own_identity()
        self._asked: dict[str, Future] = {}  # of each worker there, why it may not fly
        self._threads: dict[str, int] = {}  # of each worker that may
        self._waiting: list[_Batch] = []
        self._flying: dict[str, tuple[Future, _Batch]] = {}  # by Dask's key
        self._answers: SimpleQueue[Future] = SimpleQueue()
        self._there: dict[str, int] = {}  # threads of each worker that the scheduler knows
        self._looked = -np.inf
        self._had = time.monotonic()  # a worker that flies; never, once it was said that none does
        self.refused: dict[str, str] = {}

    def count(self) -> int:
        """Return how many workers fly."""
        return len(self._threads)

    def slots(self) -> int:
        """Return how many batches are flown at a time; one at least, to wait for a worker."""
        return max(1, sum(self._threads.values()))

    def size_text(self) -> str:
        """Return on how many workers flights are flown."""
        flying, coming = len(self._threads), self.coming()
        more = f", {coming} to come" if coming else ""
        return f"on {flying} worker{'' if flying == 1 else 's'}{more}"

    def coming(self) -> int:
        """Return how many workers are being made ready."""
        return len(self._asked.keys() - self._threads.keys() - self.refused.keys())

    def submit(self, call: Call) -> Hashable:
        """Have a batch flown by any of the workers."""
        batch = _Batch(pickle.dumps(call, protocol=pickle.HIGHEST_PROTOCOL))
        self._waiting.append(batch)
        self._send()
        return batch

    def ended(self) -> Sequence[tuple[Hashable, np.ndarray]]:
        """Wait until a batch has ended; return it.

        Raises
        ------
        ConnectionError
            The scheduler was lost, or one worker after the other with the same batch.
        """
        while True:
            found = self.look()
            if found is not None:
                return [found]

    def drop(self) -> None:
        """Give up what has not ended."""
        with suppress(OSError, TimeoutError):
            self._client.cancel([future for future, _ in self._flying.values()])
        self._flying.clear()
        self._waiting.clear()

    def look(self) -> tuple[Hashable, np.ndarray] | None:
        """Wait for an answer, but not for long; look who is there now and then."""
        if time.monotonic() - self._looked >= LOOK_S:
            self._look_round()
        try:
            future = self._answers.get(timeout=min(LOOK_S, 0.1))
        except Empty:
            return None
        return self._answered(future)

    def _look_round(self) -> None:
        """Ask those who have come, send anew what lost ones had."""
        self._looked = time.monotonic()
        there = self._there = self._known()
        for name in self._asked.keys() - there.keys():
            del self._asked[name]
            self._threads.pop(name, None)
            self.refused.pop(name, None)
        for name in there.keys() - self._asked.keys():
            self._asked[name] = self._begun(name, made_ready, self._own)
        for key, (_, batch) in list(self._flying.items()):
            if batch.worker not in there:
                del self._flying[key]
                self._again(batch)
        self._send()
        if self._threads:
            self._had = self._looked
        elif self._had + PATIENCE_S < self._looked:
            self._had = np.inf  # said once
            self._told(f"--cluster {self.address}: {self._waited_for()}")

    def _waited_for(self) -> str:
        """Return what a study without a worker waits for."""
        if self.coming():
            return "its workers get ready; the first time they compile, one to three minutes"
        return "has no worker that may fly; waiting for one (Ctrl-C keeps what has been flown)"

    def _known(self) -> dict[str, int]:
        """Return the workers that the scheduler knows, with their threads."""
        if self._client.status == "running":
            with suppress(OSError, TimeoutError):
                found: dict[str, int] = self._client.sync(
                    self._client.scheduler.ncores, callback_timeout=ANSWER_S
                )
                return found
        raise self._gone("its scheduler was lost")

    def _gone(self, why: str) -> ConnectionError:
        return ConnectionError(
            f"--cluster {self.address}: {why}; what has been flown is kept, run it again to go on"
        )

    def _begun(self, name: str, function: Callable[..., object], *arguments: object) -> "Future":
        """Have a function called on a worker; its future is among the answers once it has been."""
        future = self._client.submit(
            function, *arguments, workers=[name], allow_other_workers=False, pure=False
        )
        future.add_done_callback(self._answers.put)
        return future

    def _send(self) -> None:
        """Send each batch that waits to the worker that has least to do for its threads."""
        busy = Counter(batch.worker for _, batch in self._flying.values())
        while self._waiting and self._threads:
            batch = self._waiting.pop(0)
            batch.worker = min(self._threads, key=lambda name: busy[name] / self._threads[name])
            busy[batch.worker] += 1
            future = self._begun(batch.worker, fly_sent, self._own, batch.sent)
            self._flying[future.key] = future, batch

    def _again(self, batch: _Batch) -> None:
        """Let a batch whose worker was lost wait for another."""
        batch.lost += 1
        if batch.lost >= MOST_LOST:
            raise self._gone(f"{batch.lost} workers in turn were lost with the same flights")
        self._waiting.insert(0, batch)

    def _answered(self, future: "Future") -> tuple[Hashable, np.ndarray] | None:
        """Take an answer; return the batch that it is of, if it has been flown."""
        batch = self._flying[future.key][1] if future.key in self._flying else None
        if batch is None and future not in self._asked.values():
            return None  # sent anew meanwhile, or given up
        try:
            found = future.result(timeout=LOOK_S)
        except TimeoutError:  # lost on the way with its worker, or slow
            future.add_done_callback(self._answers.put)
            return None
        except Exception as error:
            if future.status == "error" and batch is not None:
                raise  # as it would here
            found = f"another version of the program, or none ({error})"
        if batch is None:
            name = next(name for name, asked in self._asked.items() if asked is future)
            if future.status != "cancelled":
                self._judge(name, found)
            return None
        del self._flying[future.key]
        if not isinstance(found, str):
            return batch, found
        self._waiting.insert(0, batch)
        if future.status != "cancelled":
            self._judge(batch.worker, found)
        return None

    def _judge(self, name: str, why: str | None) -> None:
        """Take a worker that may fly; say why another may not."""
        if why is None:
            self._threads[name] = self._there[name]
            self._had = time.monotonic()
        elif name not in self.refused:
            self._threads.pop(name, None)
            self.refused[name] = " ".join(why.split())
            self._told(f"worker {name} is not used: {self.refused[name]}")
        self._send()
