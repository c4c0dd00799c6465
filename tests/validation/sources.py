"""What a source's key stands for, from the product's sources.bib and this folder's own."""

import re
from functools import lru_cache
from pathlib import Path

from sim.tables.reading import SOURCES_FILE, tables_folder

ENTRY = re.compile(r"@\w+\s*\{\s*([^,\s]+)\s*,(.*?)\n\}", re.DOTALL)
CITED = re.compile(r"\[([A-Za-z][\w-]*)\]")
FIELD = re.compile(r"^\s*(\w+)\s*=\s*\{(.*)\},?\s*$", re.MULTILINE)
SHOWN = (
    "author", "organization", "title", "institution", "booktitle", "journal", "number", "year",
    "note",
)  # fmt: skip
LETTERS = {
    "``": '"', "''": '"', r"\&": "&", r"\_": "_", "--": "–", r"\'e": "é", r"\"u": "ü",
    r"\"a": "ä", r"\"o": "ö", r"{\o}": "ø",
}  # fmt: skip


def described(fields: dict[str, str]) -> str:
    """Return author, title, number, year and note of an entry, as far as it has them."""
    if "author" in fields:
        people = fields["author"].split(" and ")
        fields = fields | {"author": ", ".join(
            " ".join(reversed(name.split(", "))) for name in people
        )}  # fmt: skip
    text = ", ".join(fields[name] for name in SHOWN if name in fields)
    for code, letter in LETTERS.items():
        text = text.replace(code, letter)
    return text


@lru_cache
def entries(folder: Path) -> dict[str, str]:
    """Return the text of every source of a folder's sources.bib by its key."""
    text = (folder / SOURCES_FILE).read_text(encoding="utf-8")
    return {key: described(dict(FIELD.findall(body))) for key, body in ENTRY.findall(text)}


def own() -> dict[str, str]:
    """Return the sources that only these checks use."""
    return entries(Path(__file__).parent)


def products() -> dict[str, str]:
    """Return the sources of the product's tables and formulas."""
    return entries(tables_folder())
