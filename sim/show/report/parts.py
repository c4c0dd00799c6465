"""What a page is made of, as data: the templates beside give it its markup."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from markupsafe import Markup
from matplotlib.figure import Figure

SHORT_TABLE = 20  # rows that a printed page holds, so that the table is not cut


@dataclass(frozen=True)
class Paragraph:
    """A paragraph of plain text; ``look`` is a name in the style."""

    kind: ClassVar = "paragraph"
    text: str
    look: str = ""


@dataclass(frozen=True)
class Heading:
    """A heading below that of the section."""

    kind: ClassVar = "heading"
    text: str


@dataclass(frozen=True)
class Bullets:
    """A list of plain texts; a caution where ``look`` says so."""

    kind: ClassVar = "bullets"
    lines: Sequence[str]
    look: str = ""


@dataclass(frozen=True)
class Hashes:
    """Files by name, each with its hash."""

    kind: ClassVar = "hashes"
    files: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Table:
    """A table; the first ``words`` columns hold words, the others numbers.

    Words wrap, and names do behind an underscore, so that the last column is not pushed out.
    On a phone each row becomes a card: its first cell is the title, and every other one
    stands beside its heading.
    """

    kind: ClassVar = "table"
    caption: str
    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    words: int = 1

    @property
    def short(self) -> bool:
        """Tell whether it is kept on one printed page."""
        return len(self.rows) <= SHORT_TABLE


@dataclass(frozen=True)
class Picture:
    """A figure inline, with its caption.

    Where it does not fit it keeps a size that can be read and is scrolled sideways: the
    style then shows a line that says so, and a shadow at the edge that hides the rest.

    Parameters
    ----------
    name : str
        Letters and figures, once a page.
    numbers : str
        What is to be read off it; joins the caption for those who cannot see the figure.
    """

    kind: ClassVar = "picture"
    figure: Figure
    name: str
    caption: str
    numbers: str = ""

    @property
    def label(self) -> str:
        """Caption and numbers."""
        return f"{self.caption} {self.numbers}".strip()

    @property
    def points(self) -> str:
        """Width in points, as drawn."""
        return f"{72.0 * self.figure.get_figwidth():.0f}"


@dataclass(frozen=True)
class First:
    """The first screen: the answer, a caution below it, one picture beside both, and the rest.

    The ``rest`` of the answer follows over the whole width, so that no column stays empty.
    """

    kind: ClassVar = "first"
    answer: Sequence["Part"]
    caution: Paragraph
    picture: Picture
    rest: Sequence["Part"] = ()


@dataclass(frozen=True)
class Folded:
    """Parts that open on a tap, and are there in print."""

    kind: ClassVar = "folded"
    title: str
    parts: Sequence["Part"]


# markup is what another template made
Part = Paragraph | Heading | Bullets | Hashes | Table | Picture | First | Folded | Markup


@dataclass(frozen=True)
class Section:
    """Parts under a heading."""

    title: str
    parts: Sequence[Part]


def section(title: str, *parts: Part) -> Section:
    """Return parts under a heading."""
    return Section(title, parts)
