"""A study that has been flown: its file, its folder of results, and whether the two agree."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from pydantic import ConfigDict

from sim.describe import Fault, FileFault, Study, StudyFiles
from sim.describe.faults import hint
from sim.record.fields import Many, Record, kind_name
from sim.record.files import checked, read_json, schema_told
from sim.record.models.results import StudyRecord
from sim.study.entering import AS_SAID, Said
from sim.study.flights.storing import program_hash, sources_of
from sim.study.own_study import find_study
from sim.study.standing.heights import ceiling_of

RESULTS = "results.json"
PROGRAM = "program and tables"  # among the sources of a study
SAID = ("entry_m", "floor_m", "ceiling_m", "draws")
SETTINGS = ("seed", "draws", "entry_m", "floor_m", "required_share_pct")


class Read(Record):
    """A part of results.json of which only some keys are read, of any version that had them."""

    model_config = ConfigDict(extra="ignore")


class CaseRead(Read):
    """A case that was flown."""

    manoeuvre: str
    recovery: str


class SetUpRead(Read):
    """A set-up that was flown."""

    name: str
    cases: Many[CaseRead]


class ResultsRead(Read):
    """What results.json says of what was flown; the flights themselves are kept beside it."""

    study: str
    aeroplane: str
    seed: int
    draws: int
    entry_m: float
    floor_m: float
    ceiling_m: float | None = None
    required_share_pct: float
    setups: Many[SetUpRead]
    sources: dict[str, str]


@dataclass(frozen=True)
class Flown:
    """A study with the folder that holds what it found.

    ``changed`` names what has changed since: the program or its tables, the aeroplane's file,
    a manoeuvre's, or the study's own where that may change a flight.
    """

    files: StudyFiles
    folder: Path
    changed: tuple[str, ...]

    @property
    def stale(self) -> bool:
        """Return True where something has changed, so that flights must be flown again."""
        return bool(self.changed)

    @property
    def flights(self) -> Path:
        """Folder of the stored flights."""
        return self.folder / "flights"


def find_flown(study: str, out: Path | None = None, heights: Said = AS_SAID) -> Flown:
    """Return a study that has been flown.

    Parameters
    ----------
    study : str
        The study's name or file, or the folder of its results (or results.json in it).
    out : Path, optional
        Where the results of a study given by name or file are looked for first; the
        usual folder comes next.
    heights : Said
        Those it was flown with, instead of what the study says.

    Raises
    ------
    FileFault
        It has not been flown, or the study's file no longer says what was flown.
    """
    path = Path(study)
    if path.name == RESULTS and path.is_file():
        path = path.parent
    if path.is_dir() and not (path / f"{path.name}.toml").is_file():
        content = _read(path)
        files = _file_of(path, content, heights)
        return Flown(files, path, changed_since(files, content))
    files = find_study(study, heights)
    usual = Path(f"{files.study.name}_results")
    for folder in (out, usual):
        if folder is not None and (folder / RESULTS).is_file():
            content = _read(folder)
            _check(files, content, study)
            return Flown(files, folder, changed_since(files, content))
    text = f"has not been flown: there is no {RESULTS} in {out or usual}; run "
    text += f"'aftlimit study {study}' first, or give the folder of its results"
    raise FileFault(study, [Fault("", text)])


def _read(folder: Path) -> ResultsRead:
    """Return results.json of a folder."""
    path = folder / RESULTS
    if not path.is_file():
        text = f"holds no {RESULTS}; give the folder that 'aftlimit study' wrote"
        raise FileFault(str(folder), [Fault("", text)])
    try:
        content = read_json(path)
    except ValueError:
        content = None
    wanted = kind_name(StudyRecord)
    if schema_told(content) != wanted:
        text = f"is not what a study writes (schema {wanted!r}); fly the study again"
        raise FileFault(str(path), [Fault("", text)])
    return checked(content, ResultsRead, path)


def changed_since(files: StudyFiles, content: ResultsRead) -> tuple[str, ...]:
    """Return the names of what has changed since a study's results were written, in words.

    Parameters
    ----------
    content : ResultsRead
        What results.json says; its ``sources`` are the hashes of then.
    """
    then = content.sources
    out = [] if program_hash() in then.values() else [f"the {PROGRAM}"]
    now = dict(sources_of(files))
    for path in dict.fromkeys(files.paths):
        if then.get(path.name) != now[path.name]:
            out.append(path.name)
    return tuple(dict.fromkeys(out))


def _file_of(folder: Path, content: ResultsRead, heights: Said = AS_SAID) -> StudyFiles:
    """Return the study that a folder's results came from: beside it, in it, here, or bundled.

    By the name of its file, which the results tell, or by that of the study.
    """
    name = content.study
    said: FileFault | None = None
    # an aeroplane that start made lies in a folder of its name
    for near in (folder.parent, folder, Path(), folder.parent / name, Path(name)):
        for file in _file_names(name, content):
            if not (near / file).is_file():
                continue
            try:
                files = find_study(near / file, heights)
                _check(files, content, str(near / file))
            except FileFault as fault:
                said = said or fault
                continue
            return files
    try:
        files = find_study(name, heights)
    except FileFault:
        file = _file_names(name, content)[0]
        text = (
            f"are those of study {name!r}, whose file {file} is not beside them; give it itself, "
        )
        text += f"with --out {folder}"
        raise said or FileFault(str(folder / RESULTS), [Fault("", text)]) from None
    _check(files, content, name)
    return files


def _file_names(study: str, content: ResultsRead) -> list[str]:
    """Return what a study's file may be called: the first file its results name, or its name."""
    named = [name for name in content.sources if name.endswith(".toml")]
    return list(dict.fromkeys([*named[:1], f"{study}.toml"]))


def _check(files: StudyFiles, content: ResultsRead, who: str) -> None:
    """Refuse a study file that says something else than what was flown."""
    differing = list(_differences(files, content))
    if differing:
        text = f"has changed since it was flown ({', '.join(differing)}); fly it again, "
        text += "or give the file that was flown"
        then = {key: getattr(content, key) for key in differing if key in SAID}
        if len(then) == len(differing) and None not in then.values():
            said = " ".join(word for pair in Said(**then).options for word in pair)
            text += f", or {said} if it was flown with that"
        raise FileFault(who, [Fault("", text)])


def _differences(files: StudyFiles, content: ResultsRead) -> Iterable[str]:
    study = files.study
    pairs = {
        "name": (content.study, study.name),
        "aeroplane": (content.aeroplane, files.aeroplane.name),
        **{key: (getattr(content, key), getattr(study, key)) for key in SETTINGS},
    }
    if content.ceiling_m is not None:
        pairs["ceiling_m"] = (content.ceiling_m, ceiling_of(study))
    yield from (key for key, (then, now) in pairs.items() if then != now)
    if [x.name for x in content.setups] != [x.name for x in study.setups]:
        yield "setups"
    flown = {
        (_bare(case.manoeuvre), _bare(case.recovery)) for x in content.setups for case in x.cases
    }
    wanted = {(_bare(c.manoeuvre), _bare(name)) for c in study.cases for name in c.recoveries}
    if flown != wanted:
        yield "cases"


def _bare(name: str) -> str:
    """Return the name of a file however it is written: without folder and ending."""
    return name.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".toml")


def check_setup(study: Study, name: str | None) -> None:
    """Refuse a set-up that a study does not have, or none named.

    Raises
    ------
    FileFault
        The message says which set-ups it has.
    """
    names = [x.name for x in study.setups]
    if name in names:
        return
    text = f"has no set-up {name!r}; {hint(name, names, 'set-ups')}"
    if name is None:
        text = f"needs --setup and the name of one of its set-ups: {', '.join(names)}"
    if not names:
        text = "has no set-ups, only a search for the aft limit: there is nothing to make a card of"
    raise FileFault(study.name, [Fault("", text)])
