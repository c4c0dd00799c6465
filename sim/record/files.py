"""Records written to files, and read from them and checked."""

import json
from collections.abc import Iterator
from math import isfinite
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from pydantic import BaseModel, ValidationError

from sim.describe import FileFault
from sim.describe.reading.bounds import out_of_bounds, read_text
from sim.describe.reading.wording import faults_from
from sim.record.fields import Json, Kind
from sim.written import write_atomically

MOST_BYTES = 1 << 27  # of results; one flight has a thousandth of it
LONGEST_LIST = 1 << 20
LONGEST_KEY = 500  # a place of a file

Told = TypeVar("Told", bound=BaseModel)


def write_record(record: Kind, path: Path) -> Path:
    """Write a record as JSON, whole or not at all; return its path.

    Raises
    ------
    ValueError
        A number in it is not finite, which JSON has no word for; null says "not known".
    """
    content = record.content()
    blanks: Json = {"separators": (",", ":")} if record.brief else {"indent": 2}
    try:
        text = json.dumps(content, allow_nan=False, **blanks)
    except ValueError:
        odd = ", ".join(key for key, value in _numbers(content) if not isfinite(value))
        raise ValueError(f"{path.name}: not written; not a finite number: {odd}") from None
    write_atomically(path, (text + "\n").encode())
    return path


def _numbers(content: object, key: str = "") -> Iterator[tuple[str, float]]:
    """Yield every floating-point number of a JSON value with its key path."""
    if isinstance(content, float):
        yield key, content
    elif isinstance(content, dict):
        for name, value in content.items():
            yield from _numbers(value, f"{key}.{name}" if key else str(name))
    elif isinstance(content, list):
        for number, value in enumerate(content, 1):
            yield from _numbers(value, f"{key}[{number}]")


def read_json(path: Path) -> Any:
    """Return what a JSON file holds.

    Raises
    ------
    ValueError
        It is no JSON, larger than any, or holds what no file may; NaN and infinity are no numbers.
    """
    text = read_text(path, MOST_BYTES)
    try:
        content = json.loads(text, parse_constant=_no_number, parse_float=_finite)
    except RecursionError:
        raise ValueError("brackets nested too deep") from None
    for fault in out_of_bounds(content, LONGEST_LIST, LONGEST_KEY):
        raise ValueError(f"{fault.path} {fault.text}".strip())
    return content


def _finite(word: str) -> float:
    value = float(word)
    if not isfinite(value):
        raise ValueError(f"{word[:20]} is beyond all numbers")
    return value


def _no_number(word: str) -> NoReturn:
    raise ValueError(f"{word} is no number of JSON")


def schema_told(content: object) -> object:
    """Return what the ``schema`` of a JSON value says; None where it has none."""
    return content.get("schema") if isinstance(content, dict) else None


def checked(content: object, wanted: type[Told], path: Path) -> Told:
    """Return what a JSON file holds as a record, or as the part of one that is read.

    Raises
    ------
    FileFault
        Keys are missing, unknown, or hold what they may not: a line for each.
    """
    try:
        return wanted.model_validate(content)
    except ValidationError as error:
        raise FileFault(str(path), faults_from(error, wanted, content)) from None
