"""A study that has been flown: its file, its folder of results, and whether the two agree."""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sim.describe import Fault, FileFault, Study, StudyFiles, load_study_files
from sim.describe.words import hint
from sim.study.storing import program_hash
from sim.study.writing import STUDY_SCHEMA

RESULTS = "results.json"


@dataclass(frozen=True)
class Flown:
    """A study with the folder that holds what it found.

    ``stale`` is True where the program or its tables have changed since, so that its
    flights must be flown again.
    """

    files: StudyFiles
    folder: Path
    stale: bool

    @property
    def flights(self) -> Path:
        """Folder of the stored flights."""
        return self.folder / "flights"


def find_flown(study: str, out: Path | None = None) -> Flown:
    """Return a study that has been flown.

    Parameters
    ----------
    study : str
        The study's name or file, or the folder of its results (or results.json in it).
    out : Path, optional
        Where the results of a study given by name or file are looked for first; the
        usual folder comes next.

    Raises
    ------
    FileFault
        It has not been flown, or the study's file no longer says what was flown.
    """
    path = Path(study)
    if path.name == RESULTS and path.is_file():
        path = path.parent
    if path.is_dir():
        content = _read(path)
        files = _file_of(path, content)
        return Flown(files, path, _stale(content))
    files = load_study_files(study)
    usual = Path(f"{files.study.name}_results")
    for folder in (out, usual):
        if folder is not None and (folder / RESULTS).is_file():
            content = _read(folder)
            _check(files.study, content, study)
            return Flown(files, folder, _stale(content))
    text = f"has not been flown: there is no {RESULTS} in {out or usual}; run "
    text += f"'aftlimit study {study}' first, or give the folder of its results"
    raise FileFault(study, [Fault("", text)])


def _read(folder: Path) -> dict[str, Any]:
    """Return results.json of a folder."""
    path = folder / RESULTS
    if not path.is_file():
        text = f"holds no {RESULTS}; give the folder that 'aftlimit study' wrote"
        raise FileFault(str(folder), [Fault("", text)])
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except ValueError:
        content = None
    if not isinstance(content, dict) or content.get("schema") != STUDY_SCHEMA:
        text = f"is not what a study writes (schema {STUDY_SCHEMA!r}); fly the study again"
        raise FileFault(str(path), [Fault("", text)])
    return content


def _stale(content: dict[str, Any]) -> bool:
    return program_hash() not in content.get("sources", {}).values()


def _file_of(folder: Path, content: dict[str, Any]) -> StudyFiles:
    """Return the study that a folder's results came from: beside it, here, or bundled."""
    name = str(content.get("study"))
    said: FileFault | None = None
    for near in (folder.parent, folder, Path()):
        path = near / f"{name}.toml"
        if path.is_file():
            files = load_study_files(path)
            try:
                _check(files.study, content, str(path))
            except FileFault as fault:
                said = said or fault
                continue
            return files
    try:
        files = load_study_files(name)
    except FileFault:
        text = f"are those of study {name!r}, whose file is not beside them; give the file itself, "
        text += f"with --out {folder}"
        raise said or FileFault(str(folder / RESULTS), [Fault("", text)]) from None
    _check(files.study, content, name)
    return files


def _check(study: Study, content: dict[str, Any], who: str) -> None:
    """Refuse a study file that says something else than what was flown."""
    differing = list(_differences(study, content))
    if differing:
        text = f"has changed since it was flown ({', '.join(differing)}); fly it again, "
        text += "or give the file that was flown"
        raise FileFault(who, [Fault("", text)])


def _differences(study: Study, content: dict[str, Any]) -> Iterable[str]:
    names = [x.get("name") for x in content.get("setups", [])]
    pairs = {
        "aeroplane": study.aeroplane,
        "seed": study.seed,
        "draws": study.draws,
        "entry_m": study.entry_m,
        "floor_m": study.floor_m,
        "required_share_pct": study.required_share_pct,
    }
    yield from (key for key, value in pairs.items() if content.get(key) != value)
    if names != [x.name for x in study.setups]:
        yield "setups"
    flown = {
        (case.get("manoeuvre"), case.get("recovery"))
        for x in content.get("setups", [])
        for case in x.get("cases", [])
    }
    if flown != {(case.manoeuvre, name) for case in study.cases for name in case.recoveries}:
        yield "cases"


def check_setup(study: Study, name: str) -> None:
    """Refuse a set-up that a study does not have.

    Raises
    ------
    FileFault
        The message says which set-ups it has.
    """
    names = [x.name for x in study.setups]
    if name in names:
        return
    text = f"has no set-up {name!r}; {hint(name, names, 'set-ups')}"
    if not names:
        text = "has no set-ups, only a search for the aft limit: there is nothing to make a card of"
    raise FileFault(study.name, [Fault("", text)])
