"""Putting tables on the screen, in plain letters where the stream knows no others."""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any
from unicodedata import normalize

from sim.show.console.console import PLAIN, Tables, render, show, writes_unicode
from sim.written import write_atomically

# for a stream that knows ASCII only
SPELT = {"±": "+-", "°": " deg", "²": "^2", "³": "^3", "–": "-"}


def ascii_only(words: str) -> str:
    """Return text with signs spelt out and letters without their accents."""
    for sign, spelling in SPELT.items():
        words = words.replace(sign, spelling)
    letters = normalize("NFKD", words.translate(PLAIN))
    return letters.encode("ascii", errors="ignore").decode("ascii")


def put(tables: Callable[[Callable[[str], str]], Tables]) -> None:
    """Print what ``tables`` makes, given the function that every word of it goes through."""
    if writes_unicode(sys.stdout):
        show(tables(str))
    else:
        sys.stdout.write(render(tables(ascii_only), unicode=False))


def put_json(path: Path, content: dict[str, Any]) -> None:
    """Write what is counted as JSON; a number that is not finite is refused."""
    write_atomically(path, (json.dumps(content, indent=2, allow_nan=False) + "\n").encode())
