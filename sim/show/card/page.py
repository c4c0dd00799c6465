"""The flight card as one HTML page: the card on one printed sheet, the ladder on the next."""

from collections.abc import Sequence
from html import escape

from sim.describe import Aeroplane
from sim.show.card.card import GYRO_HEADS, HEIGHT_HEADS, THROW_HEADS, Card
from sim.show.card.sheet import glued
from sim.show.drawing.canvas import one_axes, page_svg
from sim.show.figures.finger_view import draw_finger_view
from sim.show.report.page import PAGE
from sim.show.words.ladder import StepText

LETTERS = 11.0  # pt
# Black on white whatever the reader's screen prefers: it is made to be printed.
STYLE = """
:root { --faint: #000; --mark: #000; --sheet: #fff; color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 4mm; max-width: 194mm; background: #fff; color: #000;
  font: 11pt/1.15 "DejaVu Sans Condensed", "Arial Narrow", Arial, "DejaVu Sans", sans-serif; }
h1 { font-size: 17pt; margin: 0; }
h2 { font-size: 12pt; margin: 1.2mm 0 0.2mm; border-top: 1pt solid #000; padding-top: 0.6mm; }
h3 { font-size: 12pt; margin: 0; }
p, ul, ol, dl { margin: 0; } body { overflow-wrap: anywhere; } th { overflow-wrap: normal; }
ul, ol { padding-left: 5mm; }
.verdict { font-size: 13pt; }
.order { font-weight: 700; }
.top, .two { display: grid; gap: 0 6mm; } .top { grid-template-columns: 1fr auto; }
.two { grid-template-columns: 11fr 9fr; } .hold { grid-template-columns: 72mm 1fr; }
.fields { text-align: right; line-height: 1.7; white-space: nowrap; }
svg { display: block; width: 100%; height: auto; }
dl { display: grid; grid-template-columns: auto 1fr; gap: 0 3mm; }
dt { font-weight: 700; } dd { margin: 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 0.2mm 2mm 0.2mm 0; }
td { border-top: 0.4pt solid #000; }
.step { break-inside: avoid; } .step p { padding-left: 4mm; text-indent: -4mm; }
.last { border-top: 1pt solid #000; margin-top: 1.6mm; padding-top: 0.8mm; }
.small { font-size: 8pt; }
@media (max-width: 40rem) { .two, .hold, .top { grid-template-columns: 1fr; }
  .fields { text-align: left; } .wide { overflow-x: auto; } }
@page { size: A4 portrait; margin: 12mm; }
@media print { body { padding: 0; max-width: none; } .ladder { break-before: page; } }
"""


def card_page(card: Card, aeroplane: Aeroplane, letters: float = LETTERS) -> str:
    """Return the card and its ladder as a page that needs nothing from outside itself.

    ``letters`` is the size [pt] in which the first page holds the card, if that is less
    than the usual.
    """
    smaller = f" .card {{ font-size: {letters:g}pt; }}" if letters < LETTERS else ""
    body = [_front(card, aeroplane), _ladder(card)]
    title = escape(f"Flight card: {card.title}, {card.setup}")
    return PAGE.substitute(title=title, style=STYLE + smaller, body="\n".join(body))


def _text(text: str) -> str:
    """Return a text for the page, its units kept with their numbers."""
    return escape(glued(text))


def _paragraph(text: str, kind: str = "") -> str:
    return f'<p class="{kind}">{_text(text)}</p>' if kind else f"<p>{_text(text)}</p>"


def _pairs(rows: Sequence[tuple[str, str]]) -> str:
    inner = "".join(f"<dt>{_text(label)}</dt><dd>{_text(text)}</dd>" for label, text in rows)
    return f"<dl>{inner}</dl>"


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]], kind: str = "plain") -> str:
    head = "".join(f"<th>{_text(text)}</th>" for text in heads)
    body = "".join(
        "<tr>" + "".join(f"<td>{_text(text)}</td>" for text in row) + "</tr>" for row in rows
    )
    inner = f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody>"
    return f'<div class="wide"><table class="{kind}">{inner}</table></div>'


def _items(tag: str, lines: Sequence[str]) -> str:
    inner = "".join(f"<li>{_text(line)}</li>" for line in lines)
    return f"<{tag}>{inner}</{tag}>"


def _two(one: str, two: str, kind: str = "") -> str:
    return f'<div class="{f"two {kind}".strip()}"><div>{one}</div><div>{two}</div></div>'


def _front(card: Card, aeroplane: Aeroplane) -> str:
    gyro = _table(GYRO_HEADS, card.gyro) if card.gyro else ""
    more = " More manoeuvres overleaf." if card.overleaf else ""
    parts = [
        f'<header class="top"><div><h1>{_text(card.title)}</h1>',
        f"<h3>{_text(card.setup)}</h3></div>",
        '<div class="fields">Date ______________<br>Pilot / spotter ______________</div></header>',
        f'<h2 class="verdict">{_text(card.verdict)}</h2>',
        _paragraph(card.order, "order"),
        *(_paragraph(line) for line in card.answer),
        _two(
            _drawing(card, aeroplane),
            f"<h2>Balance and weights</h2>{_pairs(card.weights)}"
            f"<h2>Speeds and timer</h2>{_pairs(card.speeds)}",
            "hold",
        ),
        _two(
            f"<h2>Throws</h2>{_table(THROW_HEADS, card.throws)}{_paragraph(card.throws_note)}",
            f"<h2>Gyro</h2>{_paragraph(card.gyro_note, 'order')}{gyro}",
        ),
        f"<h2>Heights</h2>{_table(HEIGHT_HEADS, card.heights, 'heights')}",
        _paragraph(card.heights_note + more),
        _two(
            f"<h2>Recovery, in this order</h2>{_items('ol', card.recovery)}",
            f"<h2>Stop the test if</h2>{_items('ul', card.aborts)}",
        ),
        f'<p class="last"><b>Caution</b> {_text(card.caution)}</p>',
    ]
    return f'<section class="card">{"".join(parts)}</section>'


def _drawing(card: Card, aeroplane: Aeroplane) -> str:
    figure, axes = one_axes(2.9, 2.6)
    draw_finger_view(axes, aeroplane, card.balance_mm)
    text = f"Wing from above, nose up: two finger marks {card.balance_mm:.0f} mm aft of the datum, "
    text += f"{aeroplane.datum.text}."
    svg = page_svg(figure, "hold")
    return f'<div role="img" aria-label="{_text(text)}">{svg}</div><p>Hold it at the two marks.</p>'


def _ladder(card: Card) -> str:
    parts = [_paragraph(f"{card.title}, {card.setup}", "order")]
    if card.overleaf:
        parts.append(
            f"<h2>Heights, more manoeuvres</h2>{_table(HEIGHT_HEADS, card.overleaf, 'heights')}"
        )
    parts.append(f"<h2>Ladder of test flights</h2>{_paragraph(card.ladder.intro)}")
    parts += [_step(step) for step in card.ladder.steps]
    parts += [_paragraph(card.ladder.ending, "order"), _paragraph(card.small_print, "small")]
    return f'<section class="ladder">{"".join(parts)}</section>'


def _step(step: StepText) -> str:
    rows = "".join(f"<p><b>{_text(label)}</b> {_text(text)}</p>" for label, text in step.rows)
    return f'<div class="step"><h2>{_text(step.heading)}</h2>{rows}</div>'
