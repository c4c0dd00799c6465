"""Making a table fit a width without losing a letter: wrap, then stand in parts."""

import re
from typing import NamedTuple

from rich.table import Column, Table
from rich.text import Text

GAP = 3  # characters between two columns
LEAST_NAME = 12  # a column of words is not made narrower than this, if wrapping can be had


class _Cells(NamedTuple):
    """A column as it was written: its heading, its cells, and whether it holds words."""

    told: Column
    head: str
    cells: list[Text]
    words: bool

    @property
    def natural(self) -> int:
        """The width at which nothing wraps."""
        return max(len(line) for text in self._texts() for line in text.split("\n"))

    @property
    def least(self) -> int:
        """The width down to which wrapping breaks nothing but between words."""
        head = [len(piece.rstrip()) for piece in pieces(self.head)]
        if not self.words:
            return max([*head, *(len(x) for t in self.cells for x in t.plain.split("\n"))])
        return max([*head, *(len(p.rstrip()) for t in self.cells for p in pieces(t.plain))])

    def _texts(self) -> list[str]:
        return [self.head, *(text.plain for text in self.cells)]


def pieces(text: str) -> list[str]:
    """Return what a text may be broken into: words, and parts of a name at its underscores."""
    return re.findall(r"[^\s_]*_+|[^\s_]+\s*|\s+", text) or [""]


def wrapped(text: str, width: int) -> str:
    """Return a text with line breaks, no line longer than ``width``; nothing but blanks is lost."""
    lines: list[str] = []
    for line in text.split("\n"):
        here = ""
        for piece in pieces(line):
            if here and len(here) + len(piece.rstrip()) > width:
                lines.append(here.rstrip())
                here = ""
            while len(piece.rstrip()) > width:  # one long word: cut it
                lines.append(piece[:width])
                piece = piece[width:]
            here += piece
        lines.append(here.rstrip())
    return "\n".join(lines)


def _room(columns: list[_Cells], widths: list[int]) -> int:
    return sum(widths) + GAP * (len(columns) - 1)


def _narrowed(widths: list[int], least: list[int], over: int) -> list[int]:
    """Take ``over`` characters away, always from the widest that may give one."""
    widths = list(widths)
    for _ in range(over):
        free = [i for i, width in enumerate(widths) if width > least[i]]
        if not free:
            break
        widths[max(free, key=lambda i: widths[i])] -= 1
    return widths


def _widths(columns: list[_Cells], width: int, force: bool = False) -> list[int]:
    """Return widths that fit if any do: words give way first, then headings, then long names.

    ``force`` lets even what is not words be cut, where it is too wide on its own.
    """
    widths = [column.natural for column in columns]
    bounds = (
        [c.least if c.words else c.natural for c in columns],
        [c.least for c in columns],
        [min(c.least, LEAST_NAME) if c.words else c.least for c in columns],
        [1] * len(columns) if force else [],
    )
    for least in filter(None, bounds):
        widths = _narrowed(widths, least, max(0, _room(columns, widths) - width))
    return widths


def _parts(columns: list[_Cells], width: int) -> list[list[_Cells]]:
    """Return the columns in as few tables as fit; each begins with the columns of words."""
    heads = [column for column in columns if column.words]
    parts = [list(heads)]
    for column in columns:
        if column.words:
            continue
        tried = [*parts[-1], column]
        if len(parts[-1]) > len(heads) and _room(tried, _widths(tried, width)) > width:
            parts.append([*heads, column])
        else:
            parts[-1].append(column)
    return parts


def fitted(table: Table, width: int) -> list[Table]:
    """Return a table as one or more that are at most ``width`` characters wide.

    Words wrap between words, and names behind an underscore; numbers never do. Where the
    columns do not stand beside each other even so, those left over follow below, with the
    columns of words again in front. ``table`` itself is left as it is.
    """
    columns = [
        _Cells(
            column,
            str(column.header),
            [cell if isinstance(cell, Text) else Text(str(cell)) for cell in column.cells],
            column.justify != "right",
        )
        for column in table.columns
    ]
    if not columns:
        return [table]
    fits = _room(columns, _widths(columns, width)) <= width
    parts = [columns] if fits else _parts(columns, width)
    return [_laid(table, part, _widths(part, width, force=True)) for part in parts]


def _laid(like: Table, columns: list[_Cells], widths: list[int]) -> Table:
    """Return a table of some columns at these widths, otherwise like another."""
    out = Table(
        box=like.box, pad_edge=like.pad_edge, show_edge=like.show_edge,
        header_style=like.header_style,
    )  # fmt: skip
    for column, width in zip(columns, widths, strict=True):
        told = column.told
        head = Text(wrapped(column.head, width))
        out.add_column(head, justify=told.justify, width=width, no_wrap=True)
    for row in zip(*(column.cells for column in columns), strict=True):
        out.add_row(
            *(
                Text(wrapped(cell.plain, width), style=cell.style)
                for cell, width in zip(row, widths, strict=True)
            )
        )
    return out
