"""Every kind of file that the program reads: sound ones, and what reading a broken one gives."""

import io
import json
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from sim.describe import bundled, data_folder, load_aeroplane, load_study_files
from sim.describe.reading.files import load_script
from sim.record.fields import kind_name
from sim.record.models.results import StudyRecord
from sim.record.models.weigh import weigh_record
from sim.record.saved import find_flown
from sim.show.replay.track import read_track
from sim.study.flights import storing
from sim.study.flights.storing import FlightStore
from sim.trim.senses import Senses
from sim.weigh import weigh_set_up
from sim.weigh.plausible import doubts
from tests.fuzz.mutating import toml_of
from tests.samples.own_section import polar, write_own
from tests.unit.record.test_playable import a_recording

COLUMNS = 5  # of the rows of a batch of flights here


@dataclass(frozen=True)
class FileKind:
    """A kind of file: sound ones as bytes, how tables are written, and what a file gives.

    ``parse`` makes tables of the bytes, None where there are none; ``opened`` returns whatever
    the program makes of the file at a path, which must be finite numbers and texts.
    """

    name: str
    sound: Callable[[], tuple[bytes, ...]]
    opened: Callable[[Path], Any]
    parse: Callable[[bytes], Any] | None
    written: Callable[[Any], str] = json.dumps


def _bundled(kind: Any) -> tuple[bytes, ...]:
    folder = data_folder("scenarios") / kind
    return tuple((folder / f"{name}.toml").read_bytes() for name in bundled(kind))


def _weighed(path: Path) -> Any:
    aeroplane = load_aeroplane(path)
    weighed = weigh_set_up(aeroplane)
    return weigh_record(weighed, Senses((), (), ()), ()).content(), list(doubts(aeroplane, weighed))


def _section(path: Path) -> Any:
    """Return what an aeroplane reads from the section table at a path."""
    (path.parent / "polar.csv").write_bytes(path.read_bytes())
    aeroplane = load_aeroplane(_own(path.parent))
    return [s.section.table.model_dump() for s in aeroplane.surfaces if s.section.table]


@cache
def _own(folder: Path) -> Path:
    return write_own(folder)


def _played(path: Path) -> Any:
    track = read_track(path)
    times = np.linspace(-1.0, track.end + 1.0, 7)
    return [(*track.place(t), *track.attitude(t).ravel(), *track.heading(t)) for t in times]


def _results() -> bytes:
    """Return the part of results.json that is read again, of a bundled study."""
    files = load_study_files("first_look")
    study = files.study
    cases = [{"manoeuvre": c.manoeuvre, "recovery": r} for c in study.cases for r in c.recoveries]
    told = {key: getattr(study, key) for key in
            ("seed", "draws", "entry_m", "floor_m", "required_share_pct")}  # fmt: skip
    setups = [{"name": setup.name, "cases": cases} for setup in study.setups]
    return json.dumps({
        "schema": kind_name(StudyRecord), "version": "0", "study": study.name,
        "aeroplane": files.aeroplane.name, **told, "setups": setups,
        "sources": {"program and tables": "0", "first_look.toml": "1"},
    }).encode()  # fmt: skip


def _found(path: Path) -> Any:
    folder = path.parent / "flown"
    folder.mkdir(exist_ok=True)
    (folder / "results.json").write_bytes(path.read_bytes())
    return find_flown(str(folder)).changed


def _batch() -> bytes:
    rows = np.random.default_rng(2).normal(size=(8, COLUMNS + 1))
    rows[:, 0] = np.arange(8)
    stream = io.BytesIO()
    np.save(stream, rows)
    return stream.getvalue()


def _kept(path: Path) -> Any:
    """Return what a store gives of a batch under the name it had before it was broken."""
    folder = path.parent / "flights"
    folder.mkdir(exist_ok=True)
    for old in folder.iterdir():
        old.unlink()
    (folder / storing._batch_name("key", _batch())).write_bytes(path.read_bytes())
    told: list[Path] = []
    store = FlightStore(folder, COLUMNS, told.append)
    missing = store.missing(["key"], np.arange(8))
    assert (missing.size == 8) == bool(told)
    assert missing.size in (0, 8)
    return "flown again" if told else store.get(["key"], np.arange(8)).tolist()


def _toml(data: bytes) -> Any:
    return tomllib.loads(data.decode())


KINDS = (
    FileKind("aeroplane", lambda: _bundled("aeroplanes"), _weighed, _toml, toml_of),
    FileKind("manoeuvre", lambda: _bundled("manoeuvres"), load_script, _toml, toml_of),
    FileKind("study", lambda: _bundled("studies"), load_study_files, _toml, toml_of),
    FileKind("section", lambda: (polar().encode(),), _section, None),
    FileKind("recording", lambda: (json.dumps(a_recording()).encode(),), _played, json.loads),
    FileKind("results", lambda: (_results(),), _found, json.loads),
    FileKind("batch", lambda: (_batch(),), _kept, None),
)  # fmt: skip


def numbers(value: Any) -> Iterator[float]:
    """Yield every number of what a file gave, however it is nested."""
    if isinstance(value, float | complex | np.number):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from numbers(item)
    elif isinstance(value, list | tuple):
        for item in value:
            yield from numbers(item)
    elif hasattr(value, "model_dump"):
        yield from numbers(value.model_dump())
