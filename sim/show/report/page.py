"""Building blocks of a self-contained HTML page: sections, tables, figures."""

from collections.abc import Iterable, Sequence
from html import escape
from string import Template

from matplotlib.figure import Figure

from sim.show.drawing.canvas import page_svg
from sim.show.report.style import STYLE

SWIPE = "the chart goes on to the right: swipe or scroll →"
SHORT_TABLE = 20  # rows that a printed page holds, so that the table is not cut

PAGE = Template("""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>$title</title>
<style>$style</style>
</head>
<body>
$body
</body>
</html>
""")


def page(title: str, parts: Iterable[str]) -> str:
    """Return a whole page that needs nothing from outside itself."""
    return PAGE.substitute(title=escape(title), style=STYLE, body="\n".join(parts))


def section(title: str, *parts: str) -> str:
    """Return a section with its heading."""
    return f"<section>\n<h2>{escape(title)}</h2>\n" + "\n".join(parts) + "\n</section>"


def paragraph(text: str, kind: str = "") -> str:
    """Return a paragraph of plain text."""
    return f'<p class="{kind}">{escape(text)}</p>' if kind else f"<p>{escape(text)}</p>"


def folded(title: str, *parts: str) -> str:
    """Return parts that open on a tap, and are there in print."""
    inside = "\n".join(parts)
    return f"<details><summary>{escape(title)}</summary>\n{inside}\n</details>"


def bullets(lines: Iterable[str]) -> str:
    """Return a list of plain texts."""
    return "<ul>\n" + "\n".join(f"<li>{escape(line)}</li>" for line in lines) + "\n</ul>"


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]], words: int = 1) -> str:
    """Return a table; the first ``words`` columns hold words, the others numbers.

    Words wrap, and names do behind an underscore, so that the last column is not pushed out.
    On a phone each row becomes a card: its first cell is the title, and every other one
    stands beside its heading.
    """

    def cell(tag: str, i: int, text: str) -> str:
        kind = ' class="w"' if i < words else ""
        named = f' data-head="{escape(heads[i])}"' if tag == "td" else ""
        inside = escape(text).replace("_", "_<wbr>") if i < words else escape(text)
        return f"<{tag}{kind}{named}>{inside}</{tag}>"

    listed = list(rows)
    kind = ' class="short"' if len(listed) <= SHORT_TABLE else ""
    head = "".join(cell("th", i, text) for i, text in enumerate(heads))
    body = "\n".join(
        "<tr>" + "".join(cell("td", i, text) for i, text in enumerate(row)) + "</tr>"
        for row in listed
    )
    return (
        f'<div class="wide"><table{kind}>\n<caption>{escape(caption)}</caption>\n'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody>\n</table></div>"
    )


def picture(figure: Figure, name: str, caption: str, numbers: str = "") -> str:
    """Return a figure inline, with its caption.

    Where it does not fit it keeps a size that can be read and is scrolled sideways: the
    style then shows a line that says so, and a shadow at the edge that hides the rest.

    Parameters
    ----------
    name : str
        Letters and figures, once a page.
    numbers : str
        What is to be read off it; joins the caption for those who cannot see the figure.
    """
    text = escape(f"{caption} {numbers}".strip())
    points = f"--points: {72.0 * figure.get_figwidth():.0f}"
    return (
        f'<figure style="{points}"><p class="swipe" aria-hidden="true">{SWIPE}</p>\n'
        f'<div class="wide" role="img" aria-label="{text}">'
        f"{page_svg(figure, name)}</div>\n"
        f"<figcaption>{escape(caption)}</figcaption></figure>"
    )
