"""The flight card as a PDF: the card on one A4 page, the ladder on what follows."""

import io
from bisect import bisect
from collections.abc import Sequence
from datetime import UTC, datetime
from functools import cache, singledispatchmethod
from pathlib import Path

import matplotlib as mpl
from fpdf import FPDF
from fpdf.enums import TableBordersLayout, XPos, YPos
from fpdf.fonts import FontFace, TTFFont

from sim.show.card.blocks import (
    Beside,
    Block,
    Drawing,
    Grid,
    Heading,
    Items,
    Last,
    Layout,
    Pairs,
    Step,
    Title,
    Words,
)
from sim.show.card.glued import glued
from sim.version import __version__

WIDTH_MM, HEIGHT_MM = 210.0, 297.0  # A4
SIDE_MM = 12.0
# Letter is 18 mm shorter than A4: what lies inside these margins prints whole on both.
END_MM = 14.0
# Letters that can be read at arm's length; smaller ones only where a card is overfull.
LETTERS, LARGEST, LEAST, STEP = 11.0, 12.5, 8.0, 0.25
LEAST_LADDER = 10.0  # of a ladder, where that spares a sheet
SMALL = 8.0  # the study's seed and hashes, for the file
POINT_MM = 25.4 / 72.0
LEADING = 1.15  # distance of two lines over the size of the letters
GAP_MM = 6.0
INDENT_MM = 4.0
LARGER = {"verdict": 2.0}  # pt over the text; other headings 1
FONTS = Path(mpl.get_data_path()) / "fonts" / "ttf"  # so that a card is the same everywhere
FACES = {"": "DejaVuSans.ttf", "B": "DejaVuSans-Bold.ttf"}
# the same card is the same file, whenever it is made
MADE = datetime(2000, 1, 1, tzinfo=UTC)


def card_pdf(card: Layout, letters: float) -> bytes:
    """Return the card, its first page in letters of a size [pt], and its ladder as a PDF file."""
    sheets = Sheets()
    sheets.pdf.set_title(card.name)
    sheets.begin(letters)
    sheets.put_all(card.front)
    _put_ladder(sheets, card.ladder, ladder_letters(card.ladder))
    return bytes(sheets.pdf.output())


def ladder_letters(ladder: Sequence[Block]) -> float:
    """Return the size [pt] of a ladder's letters: a little smaller where that spares a sheet.

    So that a few lines do not lie on a sheet of their own.
    """
    trial = measuring()

    def sheets(size: float) -> int:
        count, room = 1, HEIGHT_MM - 2.0 * END_MM
        for block in ladder:
            high = trial.height_mm([block], size)
            if high > room:
                count, room = count + 1, HEIGHT_MM - 2.0 * END_MM
            room -= high
        return count

    usual, size = sheets(LETTERS), LETTERS - STEP
    if usual == 1 or sheets(LEAST_LADDER) == usual:  # smaller letters stand no higher
        return LETTERS
    while sheets(size) == usual:
        size -= STEP
    return size


def _put_ladder(sheets: "Sheets", ladder: Sequence[Block], size: float) -> None:
    """Put a ladder on new pages, no block across two."""
    trial = measuring()
    sheets.begin(size)
    for block in ladder:
        if trial.height_mm([block], size) > sheets.room_mm:
            sheets.begin(size)
        sheets.put(block)


def fitting_letters(front: Sequence[Block]) -> float:
    """Return the size [pt] of the largest letters in which a first page fits on one sheet."""
    sizes = [LEAST + i * STEP for i in range(round((LARGEST - LEAST) / STEP) + 1)]
    trial = measuring()
    # larger letters stand no less high; the least are taken whether they fit or not
    fits = bisect(
        sizes, False, lo=1, key=lambda x: trial.height_mm(front, x) > HEIGHT_MM - 2.0 * END_MM
    )
    return sizes[fits - 1]


@cache
def measuring() -> "Sheets":
    """Return pages that are measured and never written, the same ones each time.

    Reading the letters takes longest, so they are read once; what they are read from is closed.
    """
    sheets = Sheets()
    for font in sheets.pdf.fonts.values():
        if isinstance(font, TTFFont):
            font.close()
    return sheets


class Sheets:
    """Pages on which blocks are put below each other, in the column between the margins."""

    def __init__(self) -> None:
        """Begin a file without a page."""
        self.pdf = FPDF(unit="mm", format=(WIDTH_MM, HEIGHT_MM))
        self.pdf.set_auto_page_break(False)
        self.pdf.set_creation_date(MADE)
        self.pdf.set_creator(f"aftlimit {__version__}")
        self.pdf.c_margin = 0.0
        for style, file in FACES.items():
            self.pdf.add_font("sans", style, FONTS / file)
        self.letters = LETTERS

    def begin(self, letters: float) -> None:
        """Go on on a new page, in letters of a size [pt]."""
        self.letters = letters
        self.pdf.set_margins(SIDE_MM, END_MM)
        self.pdf.add_page()

    @property
    def room_mm(self) -> float:
        """Height left on the page."""
        return HEIGHT_MM - END_MM - float(self.pdf.get_y())

    def height_mm(self, blocks: Sequence[Block], letters: float) -> float:
        """Return how high blocks print on a page of their own, in letters of a size [pt]."""
        self.begin(letters)
        self.put_all(blocks)
        return float(self.pdf.get_y()) - END_MM

    def put_all(self, blocks: Sequence[Block]) -> None:
        """Put blocks below each other."""
        for block in blocks:
            self.put(block)

    @singledispatchmethod
    def put(self, block: Block) -> None:
        """Put a block below what is there."""
        raise TypeError(f"no block: {block!r}")

    @put.register
    def _(self, block: Title) -> None:
        left, right, top = self.pdf.l_margin, self.pdf.r_margin, self.pdf.get_y()
        self._font()
        widest = max(self.pdf.get_string_width(text) for text in block.fields)
        for text, larger in zip(block.fields, (5.0, 1.0), strict=True):
            self._font()
            high = self._leading(self.letters + larger)
            self.pdf.cell(0.0, high, text, align="R", new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        deepest = self.pdf.get_y()
        self._column(left, self.pdf.epw - GAP_MM - widest, top)
        self._lines(block.title, self.letters + 5.0, bold=True)
        self._lines(block.setup, self.letters + 1.0, bold=True)
        deepest = max(deepest, self.pdf.get_y())
        self._column(left, WIDTH_MM - right - left, deepest)

    @put.register
    def _(self, block: Heading) -> None:
        self._rule(0.8, above=1.2, below=1.3)
        self._lines(block.text, self.letters + LARGER.get(block.look, 1.0), bold=True)

    @put.register
    def _(self, block: Words) -> None:
        size = SMALL if block.look == "small" else self.letters
        self._lines(block.text, size, bold=block.look == "order")

    @put.register
    def _(self, block: Pairs) -> None:
        short = block.rows[: block.beside]
        self._font("B")
        wide = max((self.pdf.get_string_width(f"{label}a") for label, _ in short), default=0.0)
        for label, text in short:
            self._marked(label, text, wide)
        for label, text in block.rows[block.beside :]:
            self._lead(label, text)

    @put.register
    def _(self, block: Items) -> None:
        for i, line in enumerate(block.lines):
            self._marked(f"{i + 1}." if block.numbered else "-", line, 6.0)

    @put.register
    def _(self, block: Grid) -> None:
        self._font()
        self.pdf.set_line_width(0.3 * POINT_MM)
        with self.pdf.table(
            borders_layout=TableBordersLayout.HORIZONTAL_LINES,
            headings_style=FontFace(emphasis="BOLD"),
            col_widths=tuple(block.shares),
            width=self.pdf.epw,
            align="LEFT",
            text_align="LEFT",
            v_align="TOP",
            line_height=self._leading(),
            padding=(0.6, 1.5, 0.0, 0.0),
        ) as table:
            for cells in (block.heads, *block.rows):
                table.row([glued(cell) for cell in cells])

    @put.register
    def _(self, block: Drawing) -> None:
        width_in, height_in = block.figure.get_size_inches()
        height = self.pdf.epw * height_in / width_in
        self.pdf.image(
            io.BytesIO(block.outlined), self.pdf.l_margin, self.pdf.get_y(),
            self.pdf.epw, height, alt_text=block.told,
        )  # fmt: skip
        self.pdf.set_y(self.pdf.get_y() + height)
        self._lines(block.below, self.letters)

    @put.register
    def _(self, block: Beside) -> None:
        left, width, top = self.pdf.l_margin, self.pdf.epw, self.pdf.get_y()
        first = block.share * (width - GAP_MM)
        self._column(left, first, top)
        self.put_all(block.one)
        deepest = self.pdf.get_y()
        self._column(left + first + GAP_MM, width - first - GAP_MM, top)
        self.put_all(block.two)
        self._column(left, width, max(deepest, self.pdf.get_y()))

    @put.register
    def _(self, block: Step) -> None:
        self.put(Heading(block.heading))
        for label, text in block.rows:
            self._lead(label, text)

    @put.register
    def _(self, block: Last) -> None:
        self._rule(0.8, above=1.2, below=0.6)
        self._lead(block.label, block.text)

    def _font(self, style: str = "", size: float | None = None) -> None:
        self.pdf.set_font("sans", style, size or self.letters)

    def _leading(self, size: float | None = None) -> float:
        """Return the distance of two lines [mm]."""
        return (size or self.letters) * POINT_MM * LEADING

    def _column(self, left: float, width: float, top: float) -> None:
        """Go on at a height in a column at a distance from the left edge, all [mm]."""
        self.pdf.set_left_margin(left)
        self.pdf.set_right_margin(WIDTH_MM - left - width)
        self.pdf.set_xy(left, top)

    def _rule(self, thick: float, above: float, below: float) -> None:
        """Draw a line of a thickness [pt] across the column, with room around it [mm]."""
        y = self.pdf.get_y() + above
        self.pdf.set_line_width(thick * POINT_MM)
        self.pdf.line(self.pdf.l_margin, y, WIDTH_MM - self.pdf.r_margin, y)
        self.pdf.set_y(y + below)

    def _lines(self, text: str, size: float, bold: bool = False) -> None:
        """Put a text over the width of the column, broken as needed."""
        self._font("B" if bold else "", size)
        self.pdf.multi_cell(
            0.0, self._leading(size), glued(text), align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT
        )

    def _marked(self, mark: str, text: str, indent: float) -> None:
        """Put a text behind a bold mark, its lines indented [mm]."""
        self._font("B")
        self.pdf.cell(indent, self._leading(), mark)
        self._font()
        self.pdf.multi_cell(
            0.0, self._leading(), glued(text), align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT
        )

    def _lead(self, label: str, text: str) -> None:
        """Put a text after a bold label on the same line; what follows is indented."""
        left = self.pdf.l_margin
        self._font("B")
        self.pdf.cell(self.pdf.get_string_width(f"{label}a"), self._leading(), label)
        self._font()
        x = self.pdf.get_x()
        self.pdf.set_left_margin(left + INDENT_MM)
        self.pdf.set_x(x)
        self.pdf.write(self._leading(), glued(text))
        self.pdf.ln(self._leading())
        self.pdf.set_left_margin(left)
        self.pdf.set_x(left)
