"""Building blocks of a self-contained HTML page: style, sections, tables, figures."""

from collections.abc import Iterable, Sequence
from html import escape
from string import Template

from matplotlib.figure import Figure

from sim.show.canvas import page_svg

STYLE = """
:root { --ink: #1b1d20; --sheet: #ffffff; --faint: #8d949b; --panel: #f3f5f7; --mark: #882255;
  --note: #fff4dc; color-scheme: light dark; }
@media (prefers-color-scheme: dark) { :root { --ink: #e8eaed; --sheet: #16181b; --faint: #7f868d;
  --panel: #212429; --mark: #e29bc0; --note: #3a2f14; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 62rem; background: var(--sheet);
  color: var(--ink); font: 1rem/1.5 system-ui, "Segoe UI", Roboto, "DejaVu Sans", sans-serif; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0.5rem 0; }
h2 { font-size: 1.2rem; margin: 2rem 0 0.5rem; border-bottom: 1px solid var(--faint); }
p, ul { margin: 0.5rem 0; }
.answer { background: var(--panel); border-left: 0.3rem solid var(--mark); padding: 0.6rem 1rem; }
.answer p:first-child { font-weight: 700; }
.caution { background: var(--note); padding: 0.6rem 1rem; }
.note { color: var(--ink); opacity: 0.8; font-size: 0.9rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; font-size: 0.9rem; font-variant-numeric: tabular-nums; }
th, td { padding: 0.25rem 0.6rem; border-bottom: 1px solid var(--faint); text-align: right;
  vertical-align: top; }
th { vertical-align: bottom; }
th.w, td.w { text-align: left; }
td { white-space: nowrap; }
td.w { min-width: 6.5rem; white-space: normal; }
caption { text-align: left; font-weight: 700; padding: 0.3rem 0; }
figure { margin: 1rem 0; }
figure svg { display: block; width: 100%; height: auto; min-width: 34rem; }
figcaption { font-size: 0.9rem; opacity: 0.85; }
code { font-size: 0.85em; overflow-wrap: anywhere; }
details summary { cursor: pointer; }
@page { size: A4; margin: 14mm; }
@media print {
  :root { --ink: #000; --sheet: #fff; --faint: #777; --panel: #f3f3f3; --mark: #882255;
    --note: #fff; color-scheme: light; }
  body { max-width: none; padding: 0; font-size: 10pt; }
  figure svg { min-width: 0; }
  .wide { overflow: visible; }
  table { font-size: 7.5pt; }
  th, td { padding: 0.5mm 1.2mm; } td.w { min-width: 0; }
  h2 { break-after: avoid; } figure, tr, .answer, .caution { break-inside: avoid; }
}
"""

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


def bullets(lines: Iterable[str]) -> str:
    """Return a list of plain texts."""
    return "<ul>\n" + "\n".join(f"<li>{escape(line)}</li>" for line in lines) + "\n</ul>"


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]], words: int = 1) -> str:
    """Return a table; the first ``words`` columns hold words, the others numbers."""

    def cell(tag: str, i: int, text: str) -> str:
        kind = ' class="w"' if i < words else ""
        return f"<{tag}{kind}>{escape(text)}</{tag}>"

    head = "".join(cell("th", i, text) for i, text in enumerate(heads))
    body = "\n".join(
        "<tr>" + "".join(cell("td", i, text) for i, text in enumerate(row)) + "</tr>"
        for row in rows
    )
    return (
        f'<div class="wide"><table>\n<caption>{escape(caption)}</caption>\n'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody>\n</table></div>"
    )


def picture(figure: Figure, name: str, caption: str, numbers: str = "") -> str:
    """Return a figure inline, with its caption.

    Parameters
    ----------
    name : str
        Letters and figures, once a page.
    numbers : str
        What is to be read off it; joins the caption for those who cannot see the figure.
    """
    text = escape(f"{caption} {numbers}".strip())
    return (
        f'<figure><div class="wide" role="img" aria-label="{text}">{page_svg(figure, name)}</div>\n'
        f"<figcaption>{escape(caption)}</figcaption></figure>"
    )
