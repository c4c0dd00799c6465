"""Putting tables on the screen, in plain letters where the stream knows no others."""

import sys
from collections.abc import Callable
from unicodedata import normalize

from sim.show.console.console import PLAIN, Tables, render, show, writes_unicode

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
