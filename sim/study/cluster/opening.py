"""Open the cluster at an address, or start one on this machine; Dask is imported here alone."""

import logging
import time
import warnings
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager

from sim.fly import warming
from sim.study.cluster.pool import ANSWER_S, LOOK_S, Cluster
from sim.study.running import workers_wanted

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
        from distributed import Client, LocalCluster
    except ModuleNotFoundError as error:
        raise ValueError(LACKING) from error
    for name in ("distributed", "tornado", "asyncio"):
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)  # what matters is told here
    with ExitStack() as opened:
        place: object = address
        if address == LOCAL:
            warming.fill()  # else each of them would compile
            place = opened.enter_context(
                LocalCluster(
                    n_workers=workers_wanted(workers), threads_per_worker=1,
                    dashboard_address=None, silence_logs=logging.CRITICAL,
                )
            )  # fmt: skip
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # versions are compared by `refusal`
                client = Client(place, timeout=ANSWER_S, set_as_default=False)
        except (OSError, TimeoutError, ValueError, TypeError) as error:
            text = "no Dask scheduler answers there; start one (dask scheduler), or say local"
            raise ValueError(f"--cluster {address}: {text}") from error
        opened.callback(client.close, timeout=ANSWER_S)
        cluster = Cluster(client, address, told)
        _wait_for_workers(cluster)
        yield cluster


def _wait_for_workers(cluster: Cluster) -> None:
    """Wait until one may fly; refuse where none can be used."""
    until = time.monotonic() + WORKER_S
    while not len(cluster):
        cluster.look()
        over = time.monotonic() > (until if not cluster.refused else until - WORKER_S + 2 * LOOK_S)
        if over and not len(cluster) and not cluster.coming():
            none = "it has no workers; start some (dask worker ADDRESS)"
            why = "none of its workers may fly (see above)" if cluster.refused else none
            raise ValueError(f"--cluster {cluster.address}: {why}")
