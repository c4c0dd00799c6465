"""Reading aero_tables: every file states what it holds and where it comes from.

A file, CSV or TOML, begins with the header of `sim.describe.reading.headed`, whose ``source`` names
keys in square brackets, each defined in sources.bib. A file that lacks any of it is refused.
"""

import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from sim.describe.reading.finding import data_folder
from sim.describe.reading.headed import Header, TableFault, cells_of, read_header

SOURCES_FILE = "sources.bib"

_ENTRY = re.compile(r"^\s*@\w+\s*\{\s*([^,\s]+)\s*,", re.MULTILINE)
_CITED = re.compile(r"\[([A-Za-z][\w-]*)\]")


class CsvTable(NamedTuple):
    """A CSV table: columns by name, numbers where every cell is one (blank: NaN), else text."""

    header: Header
    columns: Mapping[str, np.ndarray]


class TomlTable(NamedTuple):
    """A TOML table: its values as read."""

    header: Header
    values: Mapping[str, Any]


def tables_folder() -> Path:
    """Return the folder of the tables: the repository's own, else the installed copy."""
    return data_folder("aero_tables")


@lru_cache
def source_keys(folder: Path) -> frozenset[str]:
    """Return the keys that sources.bib of a folder defines.

    Raises
    ------
    TableFault
        If the file is missing.
    """
    path = folder / SOURCES_FILE
    if not path.is_file():
        raise TableFault(f"{path.name}: no such file in {folder}")
    return frozenset(_ENTRY.findall(path.read_text(encoding="utf-8")))


def _sourced(path: Path) -> Header:
    """Return the header of a table, its sources all defined in the folder's sources.bib."""
    header = read_header(path)
    _check_sources(path, header.source)
    return header


def _check_sources(path: Path, source: str) -> None:
    cited = _CITED.findall(source)
    if not cited:
        raise TableFault(f"{path.name}: source: names no [key] of {SOURCES_FILE}; got {source!r}")
    unknown = [key for key in cited if key not in source_keys(path.parent)]
    if unknown:
        raise TableFault(f"{path.name}: source: {', '.join(unknown)} not defined in {SOURCES_FILE}")


def _path(name: str, folder: Path | None) -> Path:
    path = (folder or tables_folder()) / name
    if not path.is_file():
        raise TableFault(f"{name}: no such table in {path.parent}")
    return path


def _column(cells: list[str]) -> np.ndarray:
    try:
        values = np.array([float(cell) if cell else np.nan for cell in cells])
    except ValueError:
        return np.array(cells)
    values.setflags(write=False)
    return values


@lru_cache
def read_csv(name: str, folder: Path | None = None) -> CsvTable:
    """Return a CSV table of the tables folder (or of another folder).

    Raises
    ------
    TableFault
        If the file or part of its header is missing, the header's columns are not those
        of the file, columns and units differ in number, or a row has the wrong length.
    """
    path = _path(name, folder)
    header = _sourced(path)
    return CsvTable(header, {key: _column(cells) for key, cells in cells_of(path, header).items()})


@lru_cache
def read_toml(name: str, folder: Path | None = None) -> TomlTable:
    """Return a TOML table of the tables folder (or of another folder).

    Raises
    ------
    TableFault
        If the file or part of its header is missing, or it is not valid TOML.
    """
    path = _path(name, folder)
    header = _sourced(path)
    try:
        values = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as fault:
        raise TableFault(f"{name}: not valid TOML: {fault}") from fault
    return TomlTable(header, values)
