"""Tables that say what they hold: a header of comment lines, and the columns of a CSV file.

A file begins with lines ``# key: value`` for the keys of `HEADER_KEYS`; a line ``#   more``
continues the one before.
"""

import csv
import re
from pathlib import Path
from typing import NamedTuple

from sim.describe.reading.bounds import (
    LONGEST_LINE,
    TooMuch,
    odd_letter,
    read_text,
    shortened,
)

HEADER_KEYS = ("what", "columns", "units", "source", "obtained", "uncertainty", "licence")

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


def read_header(path: Path) -> Header:
    """Return the header of a table file.

    Raises
    ------
    TableFault
        If a key is missing or empty.
    """
    values: dict[str, str] = {}
    last = ""
    for line in _text(path).splitlines():
        if not line.startswith("#"):
            break
        match = _KEY_LINE.match(line)
        if match and match.group(1) in HEADER_KEYS:
            last = match.group(1)
            values[last] = match.group(2).strip()
        elif last:
            values[last] = f"{values[last]} {line.lstrip('# ').strip()}".strip()
    missing = [key for key in HEADER_KEYS if not values.get(key)]
    if missing:
        raise TableFault(
            f"{path.name}: the header lacks {', '.join(missing)}; the file must begin with "
            f"comment lines '# key: value' for {', '.join(HEADER_KEYS)}"
        )
    return Header(**values)


def cells_of(path: Path, header: Header) -> dict[str, list[str]]:
    """Return the cells of a CSV table by column, from top to bottom.

    Raises
    ------
    TableFault
        If the header's columns are not those of the file, columns and units differ in
        number, or a row has the wrong length.
    """
    name = path.name
    lines = [line for line in _text(path).splitlines() if line.strip() and not line.startswith("#")]
    rows = [[cell.strip() for cell in row] for row in csv.reader(lines)]
    stated, units = _names(header.columns), _names(header.units)
    if not rows or rows[0] != stated:
        got = shortened(",".join(rows[0])) if rows else "nothing"
        said = shortened(",".join(stated))
        raise TableFault(f"{name}: columns: header says {said}; file has {got}")
    if len(units) != len(stated):
        raise TableFault(f"{name}: units: {len(units)} units for {len(stated)} columns")
    for number, row in enumerate(rows[1:], start=1):
        if len(row) != len(stated):
            raise TableFault(f"{name}: row {number}: {len(row)} cells for {len(stated)} columns")
    return {key: [row[i] for row in rows[1:]] for i, key in enumerate(stated)}


def _text(path: Path) -> str:
    try:
        text = read_text(path)
    except UnicodeDecodeError:
        raise TableFault(f"{path.name}: is not text in UTF-8; save it as UTF-8") from None
    except TooMuch as fault:
        raise TableFault(f"{path.name}: {fault}") from None
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            said = f"{len(line)} letters; {LONGEST_LINE} are the most"
        elif odd := odd_letter(line):
            said = f"the control character {odd}; leave it out"
        else:
            continue
        raise TableFault(f"{path.name}: line {number} holds {said}")
    return text


def _names(text: str) -> list[str]:
    return [part.strip() for part in text.split(",")]
