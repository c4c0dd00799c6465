"""What a row's published number has set in the program, and whether that is true.

A row says it in ``made_from``: "table: key, key" for a table of aero_tables, or
"module: function" for code. True means that the row's own number moves when that table or
function is changed; a row of a source that the program cites must say either this or, in
``apart``, why it is independent all the same.
"""

import re
from collections.abc import Iterable
from contextlib import AbstractContextManager
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from sim.tables.reading import tables_folder
from tests.validation.rows import Row
from tests.validation.sources import CITED
from tests.validation.tampering import passed_on, scaled, table_changed

MOVED = 1e-9
PROGRAM = Path(__file__).parents[2] / "sim"
STRINGS = re.compile(r'"([\w.-]+\.(?:csv|toml))"')


def parts(made_from: str) -> tuple[str, tuple[str, ...]]:
    """Return the table or module of a declaration, and its keys or function."""
    place, _, names = made_from.partition(": ")
    return place, tuple(name.strip() for name in names.split(","))


def changed(made_from: str, factor: float) -> AbstractContextManager[None]:
    """Return a context in which what a declaration names is multiplied.

    By a factor that grows along a column, so that ratios of its numbers change too.
    """
    place, names = parts(made_from)
    if place.endswith((".csv", ".toml")):
        return table_changed(place, names, lambda value: scaled(value, factor, factor**2))
    (name,) = names
    return passed_on(place, name, lambda value: scaled(value, factor))


def unmoved(rows: Iterable[Row], made_from: str, factors: tuple[float, ...]) -> list[Row]:
    """Return the rows whose number stays where it was, whichever factor is put on."""
    still = list(rows)
    before = {id(row): row.ours for row in still}
    for factor in factors:
        with changed(made_from, factor):
            still = [row for row in still if same(replace(row).ours, before[id(row)])]
    return still


def same(one: float, other: float) -> bool:
    """Return True for numbers that differ by rounding only, and for two that are not numbers."""
    both = np.isnan(one) and np.isnan(other)
    return bool(both or abs(one - other) <= MOVED * max(abs(one), abs(other), 1e-12))


@lru_cache
def citations() -> dict[str, tuple[str, ...]]:
    """Return where the program cites each source: tables (comments too) and code."""
    found: dict[str, list[str]] = {}
    files = [p for p in tables_folder().iterdir() if p.suffix in (".csv", ".toml")]
    for path in sorted(files) + sorted(PROGRAM.rglob("*.py")):
        for key in set(CITED.findall(path.read_text(encoding="utf-8"))):
            found.setdefault(key, []).append(path.name)
    return {key: tuple(names) for key, names in found.items()}


@lru_cache
def tables_read() -> frozenset[str]:
    """Return the tables that the code names: the others cannot set anything in it."""
    code = (path.read_text(encoding="utf-8") for path in PROGRAM.rglob("*.py"))
    return frozenset(name for text in code for name in STRINGS.findall(text))
