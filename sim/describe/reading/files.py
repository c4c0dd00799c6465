"""From a TOML file to a model, or to everything that is wrong with the file."""

import tomllib
from collections.abc import Callable, Iterable
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from sim.describe.aeroplane import Aeroplane
from sim.describe.cross_checks import aeroplane_faults
from sim.describe.edge_throws import channels_in_degrees
from sim.describe.faults import Fault, FileFault
from sim.describe.manoeuvre import SCRIPTS, Manoeuvre, Recovery, Script, as_wanted
from sim.describe.plain import Table
from sim.describe.reading.bounds import TooMuch, out_of_bounds, read_text
from sim.describe.reading.finding import find
from sim.describe.reading.own_units import OwnUnits, in_known_units
from sim.describe.reading.toml_words import toml_words
from sim.describe.reading.wording import faults_from
from sim.describe.study import Study

Model = TypeVar("Model", bound=BaseModel)
Check = Callable[[Table], Iterable[Fault]]
KEPT = 64  # texts parsed, of which an aeroplane, its study and its manoeuvres are a dozen


def load_aeroplane(name: str | Path, beside: Path | None = None) -> Aeroplane:
    """Read an aeroplane file.

    Parameters
    ----------
    name : str or Path
        Bare name of a bundled aeroplane, or a path.
    beside : Path, optional
        Folder of a file that names it.

    Raises
    ------
    FileFault
        With everything that is wrong with the file.
    """
    return read(find(name, "aeroplanes", beside), Aeroplane, aeroplane_faults)


def load_manoeuvre(name: str | Path, beside: Path | None = None) -> Manoeuvre:
    """Read a manoeuvre file; parameters as ``load_aeroplane``.

    Raises
    ------
    FileFault
        With everything that is wrong with the file, or that it is a recovery.
    """
    path = find(name, "manoeuvres", beside, "manoeuvre")
    return as_wanted(read_script(path), Manoeuvre, path.name)


def load_recovery(name: str | Path, beside: Path | None = None) -> Recovery:
    """Read a recovery file; parameters as ``load_aeroplane``.

    Raises
    ------
    FileFault
        With everything that is wrong with the file, or that it is a manoeuvre.
    """
    path = find(name, "manoeuvres", beside, "recovery")
    return as_wanted(read_script(path), Recovery, path.name)


def load_script(name: str | Path, beside: Path | None = None) -> Manoeuvre | Recovery:
    """Read a manoeuvre or a recovery file; parameters and errors as ``load_aeroplane``."""
    return read_script(find(name, "manoeuvres", beside))


def read_script(path: Path) -> Manoeuvre | Recovery:
    """Read a file as the manoeuvre or the recovery that it says it is; errors as `read`."""
    raw = _tables(path, Script)
    # a recovery asks for less, so that a kind that is none is told alone
    model = SCRIPTS.get(str(raw.get("kind")), Recovery)
    return _checked(path, raw, model)[0]


def read(path: Path, model: type[Model], check: Check | None = None) -> Model:
    """Read a TOML file as a model.

    Parameters
    ----------
    path : Path
        The file.
    model : type of BaseModel
        What it should hold.
    check : callable, optional
        Returns what the tables of the parsed file contradict in each other; the model
        must run the same check itself.

    Raises
    ------
    FileFault
        With all faults of the file at once.
    """
    return read_as_written(path, model, check)[0]


def read_as_written(
    path: Path, model: type[Model], check: Check | None = None
) -> tuple[Model, OwnUnits]:
    """Read a TOML file as a model, with the keys that it has in units of its own; as `read`."""
    return _checked(path, _tables(path, model), model, check)


def _tables(path: Path, model: type[BaseModel]) -> Table:
    """Return the tables of a file that is not empty and of the model's schema."""
    raw = parse(path)
    if not raw:
        raise FileFault(path.name, [Fault("", _nothing_in_it(model))])
    _right_kind(path, raw, model)
    return raw


def _checked(
    path: Path, raw: Table, model: type[Model], check: Check | None = None
) -> tuple[Model, OwnUnits]:
    own = in_known_units(raw, model)
    faults = own.faults
    if model is Aeroplane:
        own.tables, found_in_mm = channels_in_degrees(own.tables)
        faults += found_in_mm
    try:
        held = model.model_validate(own.tables, context={"folder": path.parent})
    except ValidationError as error:
        found = [f for f in faults_from(error, model, own.tables) if f.text]
        if check is not None:
            found += check(own.tables)
        faults = [*faults, *map(own.told, found)]
    if faults:
        raise FileFault(path.name, faults)
    return held, own


def _nothing_in_it(model: type[BaseModel]) -> str:
    """Return what to do with a file that holds no key."""
    schema = next((name for name, held in SCHEMAS.items() if held is model), None)
    if schema is None:
        return "is empty"
    return (
        f"is empty; begin with schema = {schema!r}, or copy one from the folder scenarios "
        "and change it"
    )


def _right_kind(path: Path, raw: Table, model: type[BaseModel]) -> None:
    """Refuse a file of another kind in one line, by its schema."""
    said = raw.get("schema")
    wanted = KINDS.get(model)
    if wanted and isinstance(said, str) and said in SCHEMAS and SCHEMAS[said] is not model:
        text = f"is {KINDS[SCHEMAS[said]]}, by its schema {said!r}; {wanted} is needed here"
        raise FileFault(path.name, [Fault("", text)])


SCHEMAS: dict[str, type[BaseModel]] = {
    "aftlimit.aeroplane/1": Aeroplane,
    "aftlimit.manoeuvre/1": Script,
    "aftlimit.study/1": Study,
}
KINDS: dict[type[BaseModel], str] = {
    Aeroplane: "an aeroplane",
    Script: "a manoeuvre",
    Study: "a study",
}


@lru_cache(maxsize=KEPT)
def _parsed(text: str) -> Table:
    """Return the tables of a text, parsed once however often it is read; not to be changed."""
    return tomllib.loads(text)


def parse(path: Path) -> Table:
    """Return a TOML file as plain tables.

    Raises
    ------
    FileFault
        If the file cannot be read as text or is not TOML, with line and column; or it holds what
        no file may.
    """
    try:
        text = read_text(path)
        raw = _parsed(text)
    except tomllib.TOMLDecodeError as error:
        said = toml_words(text, error)
    except UnicodeDecodeError:
        said = "is not text in UTF-8; save it as UTF-8"
    except TooMuch as fault:
        said = str(fault)
    except (RecursionError, ValueError) as error:
        deep = isinstance(error, RecursionError)
        what = "brackets nested too deep" if deep else "a whole number of too many digits"
        said = f"is not valid TOML here: it holds {what}"
    except OSError as error:
        said = f"cannot be read: {error.strerror}"
    else:
        faults = list(out_of_bounds(raw))
        if not faults:
            return deepcopy(raw)
        raise FileFault(path.name, faults)
    raise FileFault(path.name, [Fault("", said)])
