"""Reading aero_tables: every file states what it holds and where it comes from.

A file, CSV or TOML, begins with comment lines ``# key: value`` for the keys of
`HEADER_KEYS`; a line ``#   more`` continues the one before. ``source`` names keys in
square brackets, each defined in sources.bib. A file that lacks any of it is refused.
"""

import csv
import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from sim.describe.finding import data_folder

HEADER_KEYS = ("what", "columns", "units", "source", "obtained", "uncertainty", "licence")
SOURCES_FILE = "sources.bib"

_ENTRY = re.compile(r"^\s*@\w+\s*\{\s*([^,\s]+)\s*,", re.MULTILINE)
_CITED = re.compile(r"\[([A-Za-z][\w-]*)\]")
_KEY_LINE = re.compile(r"^#\s?([a-z]+):\s*(.*)$")


class TableFault(ValueError):  # noqa: N818  named like the other faults a user reads
    """A table file that cannot be used; the text says which file and what to mend."""


class Header(NamedTuple):
    """What a table says about itself."""

    what: str
    columns: str
    units: str
    source: str
    obtained: str
    uncertainty: str
    licence: str


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


def read_header(path: Path) -> Header:
    """Return the header of a table file.

    Raises
    ------
    TableFault
        If a key is missing or empty, or a cited source is not defined.
    """
    found: dict[str, str] = {}
    last = ""
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            break
        match = _KEY_LINE.match(line)
        if match and match.group(1) in HEADER_KEYS:
            last = match.group(1)
            found[last] = match.group(2).strip()
        elif last:
            found[last] = f"{found[last]} {line.lstrip('# ').strip()}".strip()
    missing = [key for key in HEADER_KEYS if not found.get(key)]
    if missing:
        raise TableFault(
            f"{path.name}: the header lacks {', '.join(missing)}; the file must begin with "
            f"comment lines '# key: value' for {', '.join(HEADER_KEYS)}"
        )
    _check_sources(path, found["source"])
    return Header(**found)


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


def _names(text: str) -> list[str]:
    return [part.strip() for part in text.split(",")]


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
    header = read_header(path)
    lines = [
        line
        for line in path.read_text(encoding="utf-8").splitlines()
        if line.strip() and not line.startswith("#")
    ]
    rows = list(csv.reader(lines))
    stated, units = _names(header.columns), _names(header.units)
    if not rows or rows[0] != stated:
        got = ",".join(rows[0]) if rows else "nothing"
        raise TableFault(f"{name}: columns: header says {','.join(stated)}; file has {got}")
    if len(units) != len(stated):
        raise TableFault(f"{name}: units: {len(units)} units for {len(stated)} columns")
    for number, row in enumerate(rows[1:], start=1):
        if len(row) != len(stated):
            raise TableFault(f"{name}: row {number}: {len(row)} cells for {len(stated)} columns")
    columns = {key: _column([row[i] for row in rows[1:]]) for i, key in enumerate(stated)}
    return CsvTable(header, columns)


@lru_cache
def read_toml(name: str, folder: Path | None = None) -> TomlTable:
    """Return a TOML table of the tables folder (or of another folder).

    Raises
    ------
    TableFault
        If the file or part of its header is missing, or it is not valid TOML.
    """
    path = _path(name, folder)
    header = read_header(path)
    try:
        values = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as fault:
        raise TableFault(f"{name}: not valid TOML: {fault}") from fault
    return TomlTable(header, values)
