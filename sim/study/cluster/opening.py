"""Open the cluster at an address, or start one on this machine; Dask is imported here alone."""

import logging
import signal
import time
import warnings
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from multiprocessing import resource_tracker
from typing import TYPE_CHECKING

from sim.fly import warming
from sim.study.cluster.pool import ANSWER_S, LOOK_S, Cluster
from sim.study.flights.running import workers_wanted

if TYPE_CHECKING:
    from distributed import Client, LocalCluster

LOCAL = "local"
WORKER_S = 30.0  # a scheduler has workers within
LACKING = '--cluster: needs Dask; install it with pip install ".[cluster]"'


@contextmanager
def open_cluster(
    address: str, workers: int | None = None, told: Callable[[str], None] = lambda _: None
) -> Iterator[Cluster]:
    """Open the cluster at an address, or one of this machine's own processes for ``local``.

    Parameters
    ----------
    workers : int, optional
        Processes of a local one; None is one a core.

    Raises
    ------
    ValueError
        Dask is not installed; no scheduler answers; no worker may fly. One line.
    """
    try:
        import distributed  # noqa: F401 -- is it there?
    except ModuleNotFoundError as error:
        raise ValueError(LACKING) from error
    for name in ("distributed", "distributed.client", "tornado", "asyncio"):
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)  # what matters is told here
    with ExitStack() as opened:
        place: object = address
        if address == LOCAL:
            warming.fill()  # else each of them would compile
            place = opened.enter_context(_local(workers_wanted(workers)))
        client = _client(place, address)
        opened.callback(client.close, timeout=ANSWER_S)
        cluster = Cluster(client, address, told)
        _wait_for_workers(cluster)
        yield cluster


def _local(workers: int) -> "LocalCluster":
    """Return a cluster of this machine's own processes, still starting.

    Ctrl-C is for the study, which ends them: a thread that has it blocked hands that on to all
    that it starts.
    """
    from distributed import LocalCluster

    resource_tracker.ensure_running()  # else the first process started would take the block away
    blocks = hasattr(signal, "pthread_sigmask")
    if blocks:
        before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        cluster = LocalCluster(
            n_workers=0, threads_per_worker=1, dashboard_address=None,
            silence_logs=logging.CRITICAL,
        )  # fmt: skip
    finally:
        if blocks:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)
    cluster.scale(workers)
    return cluster


def _client(place: object, address: str) -> "Client":
    """Return a client of the scheduler at a place, which ``address`` names."""
    from distributed import Client

    class Asker(Client):
        def __del__(self) -> None:
            """Leave it: one that finds no scheduler would take 20 s to close."""

    try:
        if not place:
            raise ValueError
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # versions are compared by `refusal`
            return Asker(place, timeout=ANSWER_S, set_as_default=False)
    except (ValueError, TypeError) as error:
        text = f'--cluster: must be "{LOCAL}" or an address such as tcp://192.168.1.5:8786'
        raise ValueError(f'{text}; got "{address}"') from error
    except (OSError, TimeoutError) as error:
        text = f"no Dask scheduler answered there within {ANSWER_S:.0f} s"
        raise ValueError(f"--cluster {address}: {text}; start one (dask scheduler)") from error


def _wait_for_workers(cluster: Cluster) -> None:
    """Wait until one may fly; refuse where none can be used."""
    until = time.monotonic() + WORKER_S
    while not cluster.count():
        cluster.look()
        over = time.monotonic() > (until if not cluster.refused else until - WORKER_S + 2 * LOOK_S)
        if over and not cluster.count() and not cluster.coming():
            none = "it has no workers; start some (dask worker ADDRESS)"
            why = "none of its workers may fly (see above)" if cluster.refused else none
            raise ValueError(f"--cluster {cluster.address}: {why}")
