"""Keep every batch of flights as it ends, so that a study can be interrupted and resumed.

A batch is found again by a key over everything that its numbers depend on; a changed
aeroplane, table, kernel or seed is another key, so an old batch is never taken for new.
"""

import hashlib
import os
import tempfile
from functools import lru_cache
from pathlib import Path

import numba
import numpy as np
import scipy

from sim.aero.tables import tables_folder
from sim.core import hashed
from sim.core.script_layout import N_SUMMARY
from sim.describe import Aeroplane, Manoeuvre, SetUp

# what can change a flight or what is stored of it; judge reads what is stored, show prints
FLIGHT_FOLDERS = ("core", "describe", "weigh", "aero", "power", "fly")
FLIGHT_FILES = ("study/draws.py", "study/running.py", "study/storing.py")
PACKAGE = Path(__file__).parent.parent


def flight_sources(package: Path = PACKAGE) -> list[Path]:
    """Return every source file of the package that can change a flight, however deep."""
    deep = [path for folder in FLIGHT_FOLDERS for path in (package / folder).rglob("*.py")]
    return sorted([*deep, *(package / name for name in FLIGHT_FILES)])


def table_files(folder: Path) -> list[Path]:
    """Return every file below a folder of tables, without hidden ones."""
    return sorted(
        path
        for path in folder.rglob("*")
        if path.is_file() and not any(p.startswith(".") for p in path.relative_to(folder).parts)
    )


@lru_cache(maxsize=1)
def program_hash(package: Path = PACKAGE, tables: Path | None = None) -> str:
    """Return a hash over what can change a flight: sources, tables and their libraries.

    Parameters
    ----------
    package : Path
        Folder of the sources.
    tables : Path, optional
        Folder of the tables, else the one in use.
    """
    folder = tables or tables_folder()
    sources = hashed(
        package, flight_sources(package), numba.__version__, np.__version__, scipy.__version__
    )
    both = sources + hashed(folder, table_files(folder))
    return hashlib.sha256(both.encode()).hexdigest()[:16]


def flight_key(
    aeroplane: Aeroplane, setup: SetUp, manoeuvre: Manoeuvre, recovery: Manoeuvre, seed: int,
    entry_m: float,
) -> str:  # fmt: skip
    """Return the key of one set-up, manoeuvre and recovery, without its draws."""
    # titles and names do not change a flight
    body = aeroplane.model_dump_json(exclude={"title", "invented", "setups"})
    chosen = setup.model_dump_json(exclude={"name", "title"})
    script = manoeuvre.model_dump_json() + recovery.model_dump_json()
    text = "\n".join([program_hash(), body, chosen, script, str(seed), repr(entry_m)])
    return hashlib.sha256(text.encode()).hexdigest()[:24]


def write_atomically(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(name, 0o644)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _batch_name(key: str, which: np.ndarray) -> str:
    """Return the name of a batch: the flight's key and a digest of its draws."""
    return f"{key}-{hashlib.sha256(np.ascontiguousarray(which).tobytes()).hexdigest()[:12]}"


class FlightStore:
    """Batches of flight summaries in a folder, or only in memory if there is none."""

    def __init__(self, folder: Path | None) -> None:
        """Keep batches under ``folder``; it is made when the first batch is put.

        ``resumed`` becomes True once a batch of an earlier run is found there.
        """
        self.folder = folder
        self.resumed = False
        self._memory: dict[str, np.ndarray] = {}

    def _path(self, key: str) -> Path | None:
        return None if self.folder is None else self.folder / f"{key}.npy"

    def get(self, key: str, which: np.ndarray) -> np.ndarray | None:
        """Return the summaries (n, N_SUMMARY) of the draws ``which`` (n,), None if not there."""
        name = _batch_name(key, which)
        if name in self._memory:
            return self._memory[name]
        path = self._path(name)
        if path is None or not path.is_file():
            return None
        try:
            rows = np.load(path, allow_pickle=False)
        except (OSError, ValueError):
            return None  # cut short by a full disk, say: fly it again
        if rows.shape != (which.size, N_SUMMARY):
            return None
        self._memory[name] = rows
        self.resumed = True
        return rows

    def put(self, key: str, which: np.ndarray, rows: np.ndarray) -> None:
        """Keep the summaries of a batch."""
        name = _batch_name(key, which)
        self._memory[name] = rows
        path = self._path(name)
        if path is None:
            return
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".batch.", suffix=".npy")
        with os.fdopen(handle, "wb") as file:
            np.save(file, rows)
        os.replace(temporary, path)
