"""Printing tables: as wide as the terminal within bounds, 100 columns and plain when piped.

Without colour or Unicode if asked.
"""

import shutil
import sys
from collections.abc import Iterable
from io import StringIO
from typing import Literal, TextIO

from rich.box import SIMPLE_HEAD
from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from sim.show.drawing.fitting import fitted

WIDTH = 100  # columns when piped
LONGEST_NAME = 18  # letters of a set-up that are not broken
LEAST_WIDTH, MOST_WIDTH = 60, 132  # of a terminal: what tables need at least, and eyes can follow
# one character for one, so that columns stay in line
PLAIN = str.maketrans(
    {"─": "-", "–": "-", "—": "-", "−": "-", "×": "x", "·": ".", "’": "'", "“": '"', "”": '"'}
)

Tables = list[RenderableType]


def table(title: str, *columns: str, left: int = 1) -> Table:
    """Return an empty table; the first ``left`` columns hold words, the others numbers.

    Words wrap; numbers do not. A number's heading does at its own line breaks, and
    elsewhere only where the table would be too wide, see `fitted`.
    """
    out = Table(
        title=Text(title),
        box=SIMPLE_HEAD,
        pad_edge=False,
        show_edge=False,
        header_style="",
    )
    for i, name in enumerate(columns):
        justify: Literal["left", "right"] = "left" if i < left else "right"
        out.add_column(name, justify=justify)
    return out


def add(to: Table, *cells: str, style: str = "") -> None:
    """Add a row of plain strings, in which brackets mean nothing special."""
    to.add_row(*(Text(cell, style=style) for cell in cells))


def names_whole(to: Table, names: Iterable[str]) -> None:
    """Keep names, up to a length, on one line of the first column."""
    to.columns[0].min_width = min(LONGEST_NAME, max(len(x) for x in names))


def heading(text: str) -> RenderableType:
    """Return a heading line."""
    return Text(text, style="bold")


def paragraph(text: str, style: str = "") -> RenderableType:
    """Return a wrapped paragraph."""
    return Text(text, style=style)


def bullets(lines: Iterable[str]) -> Tables:
    """Return lines as a list, wrapped under their own start."""
    out: Tables = []
    for line in lines:
        grid = Table.grid(padding=(0, 1))
        grid.add_column(width=1)
        grid.add_column(overflow="fold")
        grid.add_row(Text("*"), Text(line))
        out.append(grid)
    return out


def doubtful(lines: Iterable[str]) -> Tables:
    """Return what looks like a slip in a file, as cautions; nothing where there is none."""
    doubts = bullets(f"Doubtful: {line}{'' if line.endswith('?') else '.'}" for line in lines)
    return [paragraph(""), *doubts] if doubts else []


def notes(lines: Iterable[str]) -> Tables:
    """Return small print, indented."""
    return [Padding(Text(line, style="dim"), (0, 0, 0, 2)) for line in lines]


def _print(console: Console, tables: Iterable[RenderableType]) -> None:
    for i, item in enumerate(tables):
        if not isinstance(item, Table) or item.box is None:
            console.print(item)
            continue
        if item.title:
            if i:
                console.print()
            # a table would wrap its title at its own, maybe narrow, width
            console.print(item.title, style="bold")
        for k, part in enumerate(fitted(item, console.width)):
            if k:
                console.print()
            console.print(part)


def render(tables: Iterable[RenderableType], width: int = WIDTH, unicode: bool = True) -> str:
    """Return tables as plain text, no line longer than ``width``.

    Parameters
    ----------
    unicode : bool
        False: rules and dashes become ASCII, anything else that is not becomes "?".
    """
    stream = StringIO()
    console = Console(
        file=stream,
        width=width,
        no_color=True,
        color_system=None,
        force_terminal=False,
        markup=False,
        emoji=False,
        highlight=False,
        legacy_windows=False,
    )
    _print(console, tables)
    text = "".join(line.rstrip() + "\n" for line in stream.getvalue().splitlines())
    if unicode:
        return text
    return text.translate(PLAIN).encode("ascii", errors="replace").decode("ascii")


def writes_unicode(stream: TextIO) -> bool:
    """Return True if a stream's encoding holds what tables are drawn with."""
    try:
        "─é°".encode(getattr(stream, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def terminal_width() -> int:
    """Return how many columns to print on a terminal: its own, between sensible bounds."""
    return min(max(shutil.get_terminal_size((WIDTH, 24)).columns, LEAST_WIDTH), MOST_WIDTH)


def show(tables: Iterable[RenderableType], stream: TextIO | None = None) -> None:
    """Print tables: styled on a terminal (not with NO_COLOR set), plain anywhere else."""
    out = sys.stdout if stream is None else stream
    unicode = writes_unicode(out)
    if not (out.isatty() and unicode):
        out.write(render(tables, unicode=unicode))
        return
    # rich itself honours NO_COLOR and a terminal that knows no colour
    console = Console(file=out, markup=False, emoji=False, highlight=False)
    console.width = terminal_width()
    _print(console, tables)
