"""What a worker of a cluster does: it shows that it may fly, and flies what it is sent.

Only if its program, tables, libraries and processor are the asker's, with kernels from its cache:
else last digits could differ. It needs none of the asker's files.
"""

import pickle
import platform
from functools import lru_cache
from typing import NamedTuple

import numba
import numpy as np
import scipy
from llvmlite import binding

from sim.fly import warming
from sim.fly.compiling import compile_flights
from sim.study.flights.running import Call
from sim.study.flights.storing import program_hash


class Identity(NamedTuple):
    """What must be the same wherever flights are flown, the program last."""

    python: str
    numba: str
    numpy: str
    scipy: str
    processor: str
    libc: str
    program: str


def own_identity() -> Identity:
    """Return what this process flies with."""
    return Identity(
        python=".".join(platform.python_version_tuple()[:2]),
        numba=numba.__version__,
        numpy=np.__version__,
        scipy=scipy.__version__,
        processor=f"{platform.machine()} {binding.get_host_cpu_name()}",
        libc=" ".join(platform.libc_ver()),
        program=program_hash(),
    )


def refusal(asked: Identity, own: Identity) -> str | None:
    """Return why who is ``own`` may not fly for who ``asked``; None where it may."""
    pairs = zip(Identity._fields[:-1], own, asked, strict=False)
    other = [f"{name} {there}, here {here}" for name, there, here in pairs if there != here]
    if other:
        return "; ".join(other)
    return None if own == asked else "another version of the program or its tables"


@lru_cache
def made_ready(asked: Identity) -> str | None:
    """Make this worker ready to fly; return why it may not."""
    why = refusal(asked, own_identity())
    if why is None and not warming.fill():
        why = "it can keep no compiled kernels: let AFTLIMIT_CACHE name a folder of its own"
    if why is None:
        compile_flights()  # takes them from the cache
    return why


def fly_sent(asked: Identity, sent: bytes) -> np.ndarray | str:
    """Fly a batch on a worker; return its summaries, or why it may not.

    ``sent`` is pickled: of arrays that Dask itself had sent, which cannot be written to, the
    kernel would be compiled anew.
    """
    why = made_ready(asked)
    if why is not None:
        return why
    call: Call = pickle.loads(sent)
    return call()
