"""Keep every batch of flights as it ends, so that a study can be interrupted and resumed.

A batch is found again by a key over everything that its numbers depend on; a changed
aeroplane, table, kernel or seed is another key, so an old batch is never taken for new.
"""

import hashlib
import io
from collections import ChainMap
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import lru_cache
from pathlib import Path

import numba
import numpy as np
import scipy

from sim.core import hashed
from sim.core.script_layout import N_SUMMARY
from sim.describe import Aeroplane, Manoeuvre, Recovery, SetUp, StudyFiles
from sim.tables.reading import tables_folder
from sim.written import remove_strays, write_atomically

# what can change a flight or what is stored of it; judge reads what is stored, show prints
FLIGHT_FOLDERS = ("core", "units", "describe", "tables", "weigh", "aero", "power", "pack", "fly")
FLIGHT_FILES = (
    "study/flights/draws.py",
    "study/flights/running.py",
    "study/flights/storing.py",
    "written.py",
)
TIMER_KEYS = ("duty", "mah_put_back", "after_minutes")  # change no flight, only the timer
PACKAGE = Path(__file__).parents[2]
HEADER_BYTES = 128  # of what numpy saves
MOST_BYTES = 1 << 24  # no batch is a hundredth of it

Damaged = Callable[[Path], None]


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
    aeroplane: Aeroplane, setup: SetUp, manoeuvre: Manoeuvre, recovery: Recovery, seed: int,
    entry_m: float, most_drop_m: float | None = None,
) -> str:  # fmt: skip
    """Return the key of one set-up, manoeuvre and recovery, without its draws.

    ``most_drop_m``: of flights given up once they have lost so much height; None, as usual.
    """
    # titles and names do not change a flight
    timed = dict.fromkeys(TIMER_KEYS, True)
    told = dict.fromkeys(("title", "invented", "setups"), True)
    body = aeroplane.model_dump_json(exclude={**told, **timed, "measured": timed})
    chosen = setup.model_dump_json(exclude={"name": True, "title": True, **timed})
    script = manoeuvre.model_dump_json() + recovery.model_dump_json()
    given_up = [] if most_drop_m is None else [repr(most_drop_m)]
    text = "\n".join([program_hash(), body, chosen, script, str(seed), repr(entry_m), *given_up])
    return hashlib.sha256(text.encode()).hexdigest()[:24]


def _batch_bytes(which: np.ndarray, rows: np.ndarray) -> bytes:
    """Return the file of a batch: its draws (n,) and rows (n, columns) side by side."""
    stream = io.BytesIO()
    np.save(stream, np.column_stack([which, rows]))
    return stream.getvalue()


def _batch_name(key: str, data: bytes) -> str:
    """Return the name of a batch: the flight's key and a digest of all that the file holds."""
    return f"{key}-{hashlib.sha256(data).hexdigest()[:12]}.npy"


class FlightStore:
    """Rows of flights by key and draw, such as summaries: in memory, and as batches in a folder.

    ``resumed`` counts the flights that were asked for and had been left there by an earlier run.
    """

    def __init__(
        self, folder: Path | None, columns: int = N_SUMMARY, told: Damaged = lambda _: None
    ) -> None:
        """Keep batches under ``folder`` too, if there is one; made when the first is put.

        A row has so many ``columns``, the first of them its status. ``told`` hears of each batch
        that is not what was put: cut short, changed, or no batch at all; it is taken away, and
        its flights are missing.
        """
        self.folder = folder
        self.columns = columns
        self.told = told
        self.resumed = 0
        self._flights: dict[str, dict[int, np.ndarray]] = {}
        self._earlier: dict[str, set[int]] = {}  # of an earlier run, and not asked for yet
        if folder is not None:
            remove_strays(folder)

    def _of(self, key: str) -> dict[int, np.ndarray]:
        """Return the summary of each draw known of a key, those in the folder read once."""
        if key not in self._flights:
            known: dict[int, np.ndarray] = {}
            if self.folder is not None:
                for path in sorted(self.folder.glob(f"{key}-*.npy")):
                    known.update(self._read(path, key))
            self._flights[key] = known
            self._earlier[key] = set(known)
        return self._flights[key]

    def missing(self, keys: Sequence[str], which: np.ndarray) -> np.ndarray:
        """Return those of the draws ``which`` (n,) known under none of the keys, in their order."""
        left = which.tolist()
        for key in keys:
            known = self._of(key)
            asked = self._earlier[key].intersection(left)
            self.resumed += len(asked)
            self._earlier[key] -= asked
            left = [n for n in left if n not in known]
        return np.array(left, dtype=np.int64)

    def get(self, keys: Sequence[str], which: np.ndarray) -> np.ndarray:
        """Return the summaries (n, N_SUMMARY) of the draws ``which`` (n,), each from the first key.

        Raises
        ------
        KeyError
            One of them is missing.
        """
        known = ChainMap(*(self._of(key) for key in keys))
        return np.array([known[n] for n in which.tolist()]).reshape(-1, self.columns)

    def put(self, key: str, which: np.ndarray, rows: np.ndarray) -> None:
        """Keep the summaries (n, N_SUMMARY) of the draws ``which`` (n,).

        Raises
        ------
        OSError
            The folder takes no more.
        """
        self._of(key).update(zip(which.tolist(), rows, strict=True))
        if self.folder is not None:
            data = _batch_bytes(which, rows)
            write_atomically(self.folder / _batch_name(key, data), data)

    def _read(self, path: Path, key: str) -> dict[int, np.ndarray]:
        """Return the row (columns,) of each draw in a batch, none from a damaged one."""
        rows = None
        with suppress(OSError):
            if path.stat().st_size <= MOST_BYTES:
                data = path.read_bytes()
                rows = self._rows(data) if path.name == _batch_name(key, data) else None
        if rows is None:
            self.told(path)
            with suppress(OSError):
                path.unlink()
            return {}
        return {int(row[0]): row[1:] for row in rows}

    def _rows(self, data: bytes) -> np.ndarray | None:
        """Return the draws and rows (n, 1 + columns) of a batch's file; None of another."""
        count, odd = divmod(len(data) - HEADER_BYTES, 8 * (1 + self.columns))
        if count < 1 or odd:
            return None
        # no header is believed: it is the one that so many rows have, or the file is another's
        rows = np.frombuffer(data[HEADER_BYTES:]).reshape(count, -1)
        if _batch_bytes(rows[:, 0], rows[:, 1:]) != data or not np.isfinite(rows[:, :2]).all():
            return None
        return rows


def file_hash(path: Path) -> str:
    """Return the SHA-256 of a file's bytes, as any checksum command prints it."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def sources_of(files: StudyFiles) -> tuple[tuple[str, str], ...]:
    """Return name and hash of the program, of each file a study names, and of each table."""
    named = [(path.name, file_hash(path)) for path in dict.fromkeys(files.paths)]
    tables = [
        (path.relative_to(tables_folder().parent).as_posix(), file_hash(path))
        for path in table_files(tables_folder())
    ]
    return (("program and tables", program_hash()), *named, *tables)
