"""A printed sheet drawn as vector text: lines broken to a width, tables, rules, columns in mm."""

import re
from collections.abc import Sequence
from functools import lru_cache

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.textpath import text_to_path

WIDTH_MM, HEIGHT_MM = 210.0, 297.0  # A4
SIDE_MM = 12.0
# Letter is 18 mm shorter than A4: what lies inside these margins prints whole on both.
END_MM = 14.0
INCH_MM = 25.4
POINT_MM = INCH_MM / 72.0
INDENT_MM = 4.0
MEASURED = 20.0  # pt; widths grow in proportion to the letters
LEADING = 1.15  # distance of two lines over the size of the letters
INK = "#000000"
FAMILY = "DejaVu Sans"  # comes with matplotlib, so that a card is the same everywhere
CUT = "\u200b"  # no width: here a word too long for its line is cut
UNIT = re.compile(r"(?<=\d) (?=(?:%|°|mm|m/s|m|g|V|s|min)(?![\w/]))")


@lru_cache(maxsize=4096)
def _ems(text: str, bold: bool) -> float:
    """Return how wide a text prints over the size of its letters."""
    font = FontProperties(family=FAMILY, weight="bold" if bold else "normal", size=MEASURED)
    width, _, _ = text_to_path.get_text_width_height_descent(text, font, ismath=False)
    return float(width) / MEASURED


def text_width_mm(text: str, size: float, bold: bool = False) -> float:
    """Return how wide a text prints [mm] in letters of a size [pt]."""
    return _ems(text, bold) * size * POINT_MM


def glued(text: str) -> str:
    """Return a text whose units stay with their numbers when lines are broken."""
    return UNIT.sub("\u00a0", text)


def broken(
    text: str, width_mm: float, size: float, bold: bool = False, first_mm: float = 0.0
) -> list[str]:
    """Return a text as lines that fit a width [mm]; a word too long for it is broken itself.

    The first line is shorter by ``first_mm``. A unit stays with its number.
    """
    space = text_width_mm("a a", size, bold) - 2.0 * text_width_mm("a", size, bold)
    lines, used = [""], first_mm
    for word in _words(glued(text), width_mm, size, bold):
        wide = text_width_mm(word, size, bold)
        gap = space if lines[-1] and not lines[-1].endswith(CUT) else 0.0
        fresh = not lines[-1] and (len(lines) > 1 or first_mm == 0.0)
        if fresh or used + gap + wide <= width_mm:
            lines[-1] += f" {word}" if gap else word
            used += gap + wide
        else:
            lines.append(word)
            used = wide
    return [line.replace(CUT, "") for line in lines]


def _words(text: str, width_mm: float, size: float, bold: bool) -> list[str]:
    """Return the words of a text, those wider than a line [mm] cut where they must be."""
    out = []
    for word in text.split(" "):
        rest = word
        while text_width_mm(rest, size, bold) > width_mm and len(rest) > 1:
            fits = len(rest) - 1
            while fits > 1 and text_width_mm(rest[:fits], size, bold) > width_mm:
                fits -= 1
            seam = rest.rfind("_", 1, fits) + 1 or fits
            out.append(rest[:seam] + CUT)
            rest = rest[seam:]
        out.append(rest)
    return out


class Sheet:
    """One A4 page; ``y`` is how far down [mm] the next line goes."""

    def __init__(self, size: float) -> None:
        """Begin an empty page in letters of a size [pt]."""
        self.figure = Figure(figsize=(WIDTH_MM / INCH_MM, HEIGHT_MM / INCH_MM), facecolor="white")
        FigureCanvasAgg(self.figure)
        self.size = size
        self.left, self.width = SIDE_MM, WIDTH_MM - 2.0 * SIDE_MM
        self.y = END_MM

    @property
    def room_mm(self) -> float:
        """Height left on the page."""
        return HEIGHT_MM - END_MM - self.y

    def leading_mm(self, size: float | None = None) -> float:
        """Return the distance of two lines."""
        return (size or self.size) * POINT_MM * LEADING

    def put(self, x: float, text: str, size: float | None = None, bold: bool = False,
            align: str = "left") -> None:  # fmt: skip
        """Put one line of text at a distance from the left edge [mm], without going down."""
        size = size or self.size
        base = self.y + 0.95 * size * POINT_MM
        self.figure.text(
            x / WIDTH_MM, 1.0 - base / HEIGHT_MM, text, fontsize=size, color=INK, ha=align,
            va="baseline", fontfamily=FAMILY, weight="bold" if bold else "normal", parse_math=False,
        )  # fmt: skip

    def lines(self, text: str, size: float | None = None, bold: bool = False,
              indent: float = 0.0) -> None:  # fmt: skip
        """Put a text over the width of the column, broken as needed."""
        size = size or self.size
        for line in broken(text, self.width - indent, size, bold):
            self.put(self.left + indent, line, size, bold)
            self.y += self.leading_mm(size)

    def heading(self, text: str, larger: float = 1.0) -> None:
        """Put a heading with a rule over it."""
        self.y += 1.2
        self.rule(0.8)
        self.y += 0.7
        self.lines(text, self.size + larger, bold=True)

    def rule(self, thick: float = 0.6) -> None:
        """Draw a line across the column."""
        height = 1.0 - self.y / HEIGHT_MM
        ends = [self.left / WIDTH_MM, (self.left + self.width) / WIDTH_MM]
        line = Line2D(ends, [height] * 2, color=INK, lw=thick, transform=self.figure.transFigure)
        self.figure.add_artist(line)
        self.y += 0.6

    def lead(self, label: str, text: str) -> None:
        """Put a text after a bold label on the same line; what follows is indented."""
        self.put(self.left, label, bold=True)
        first = text_width_mm(f"{label}a", self.size, bold=True) - INDENT_MM
        width = self.width - INDENT_MM
        for i, line in enumerate(broken(text, width, self.size, first_mm=first)):
            self.put(self.left + INDENT_MM + (first if i == 0 else 0.0), line)
            self.y += self.leading_mm()

    def pairs(self, rows: Sequence[tuple[str, str]]) -> None:
        """Put bold labels with their texts beside them."""
        label_mm = max(text_width_mm(f"{label}a", self.size, bold=True) for label, _ in rows)
        for label, text in rows:
            self.put(self.left, label, bold=True)
            self.lines(text, indent=label_mm)

    def numbered(self, texts: Sequence[str], marks: Sequence[str] | None = None) -> None:
        """Put a list, numbered unless it brings its own marks."""
        for i, text in enumerate(texts):
            self.put(self.left, marks[i] if marks else f"{i + 1}.", bold=True)
            self.lines(text, indent=6.0)

    def table(self, heads: Sequence[str], rows: Sequence[Sequence[str]],
              shares: Sequence[float]) -> None:  # fmt: skip
        """Put a table whose columns share the width as given; cells are broken to them."""
        widths = [self.width * share / sum(shares) for share in shares]
        self._row(heads, widths, bold=True)
        for row in rows:
            self.rule(0.3)
            self._row(row, widths, bold=False)

    def _row(self, cells: Sequence[str], widths: Sequence[float], bold: bool) -> None:
        top, deepest, x = self.y, self.y, self.left
        for cell, width in zip(cells, widths, strict=True):
            self.y = top
            for line in broken(cell, width - 1.5, self.size, bold):
                self.put(x, line, bold=bold)
                self.y += self.leading_mm()
            deepest = max(deepest, self.y)
            x += width
        self.y = deepest

    def column(self, left: float, width: float) -> None:
        """Go on in a column at a distance from the left edge [mm]."""
        self.left, self.width = left, width

    def axes(self, left: float, width: float, height: float) -> Axes:
        """Return axes on the page at the present height [mm]."""
        return self.figure.add_axes(
            (
                left / WIDTH_MM,
                1.0 - (self.y + height) / HEIGHT_MM,
                width / WIDTH_MM,
                height / HEIGHT_MM,
            )
        )
