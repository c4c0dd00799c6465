"""The flight card as a PDF: the card on one A4 page, the ladder on what follows."""

import io
from collections.abc import Callable
from functools import partial
from typing import Any

import matplotlib as mpl
from matplotlib.backends.backend_pdf import PdfPages

from sim.describe import Aeroplane
from sim.show.card.card import GYRO_HEADS, HEIGHT_HEADS, THROW_HEADS, Card
from sim.show.card.sheet import Sheet, text_width_mm
from sim.show.figures.finger_view import draw_finger_view
from sim.show.words.ladder import StepText
from sim.version import __version__

# Letters that can be read at arm's length; smaller ones only where a card is overfull.
LETTERS, LARGEST, LEAST, STEP = 11.0, 12.5, 8.0, 0.25
SMALL = 8.0  # the study's seed and hashes, for the file
GAP_MM = 6.0
DRAWING_MM = (69.0, 64.0)
THROW_SHARES = (21.0, 21.0, 20.0, 10.0, 21.0, 10.0)
GYRO_SHARES = (20.0, 15.0, 15.0, 15.0)
HEIGHT_SHARES = (44.0, 58.0, 19.0, 19.0, 46.0)
FONTS: Any = {"pdf.fonttype": 42}  # outlines that readers draw as text


def card_pdf(card: Card, first: Sheet) -> bytes:
    """Return the card, whose first page is `front`'s, and its ladder as a PDF file."""
    stream = io.BytesIO()
    about = {"Title": f"Flight card: {card.title}, {card.setup}", "CreationDate": None,
             "Creator": f"aftlimit {__version__}", "Producer": None}  # fmt: skip
    with mpl.rc_context(FONTS), PdfPages(stream, metadata=about) as pages:
        for sheet in (first, *ladder_sheets(card)):
            pages.savefig(sheet.figure)
    return stream.getvalue()


def front(card: Card, aeroplane: Aeroplane) -> Sheet:
    """Return the first page, in the largest letters that fit on it."""
    size = LARGEST
    while True:
        sheet = Sheet(size)
        _title(sheet, card)
        _answer(sheet, card)
        _balance(sheet, card, aeroplane)
        _controls(sheet, card)
        _heights(sheet, card)
        _recovery(sheet, card)
        if sheet.room_mm >= 0.0 or size <= LEAST:
            return sheet
        size -= STEP


def _title(sheet: Sheet, card: Card) -> None:
    left, width, top = sheet.left, sheet.width, sheet.y
    fields = ("Date ______________", "Pilot / spotter ______________")
    for text, size in zip(fields, (sheet.size + 5.0, sheet.size + 1.0), strict=True):
        sheet.put(left + width, text, align="right")
        sheet.y += sheet.leading_mm(size)
    deepest, sheet.y = sheet.y, top
    sheet.column(left, width - GAP_MM - max(text_width_mm(text, sheet.size) for text in fields))
    sheet.lines(card.title, sheet.size + 5.0, bold=True)
    sheet.lines(card.setup, sheet.size + 1.0, bold=True)
    sheet.column(left, width)
    sheet.y = max(sheet.y, deepest)


def _answer(sheet: Sheet, card: Card) -> None:
    sheet.heading(card.verdict, 2.0)
    sheet.lines(card.order, bold=True)
    for line in card.answer:
        sheet.lines(line)


def _beside(sheet: Sheet, share: float, one: Callable[[], None], two: Callable[[], None]) -> None:
    """Put two things beside each other; go on below the longer one."""
    left, width, top = sheet.left, sheet.width, sheet.y
    first = share * (width - GAP_MM)
    sheet.column(left, first)
    one()
    deepest, sheet.y = sheet.y, top
    sheet.column(left + first + GAP_MM, width - first - GAP_MM)
    two()
    sheet.y = max(deepest, sheet.y)
    sheet.column(left, width)


def _balance(sheet: Sheet, card: Card, aeroplane: Aeroplane) -> None:
    def drawing() -> None:
        sheet.y += 2.0
        draw_finger_view(sheet.axes(sheet.left, *DRAWING_MM), aeroplane, card.balance_mm)
        sheet.y += DRAWING_MM[1]
        sheet.put(sheet.left, "Hold it at the two marks.")
        sheet.y += sheet.leading_mm()

    def words() -> None:
        sheet.heading("Balance and weights")
        for label, text in card.weights:
            sheet.lead(label, text)
        sheet.heading("Speeds and timer")
        sheet.pairs(card.speeds[:-1])
        sheet.lead(*card.speeds[-1])  # the timer's words are long

    _beside(sheet, DRAWING_MM[0] / (sheet.width - GAP_MM), drawing, words)


def _controls(sheet: Sheet, card: Card) -> None:
    def throws() -> None:
        sheet.heading("Throws")
        sheet.table(THROW_HEADS, card.throws, THROW_SHARES)
        sheet.lines(card.throws_note)

    def gyro() -> None:
        sheet.heading("Gyro")
        sheet.lines(card.gyro_note, bold=True)
        if card.gyro:
            sheet.table(GYRO_HEADS, card.gyro, GYRO_SHARES)

    _beside(sheet, 0.56, throws, gyro)


def _heights(sheet: Sheet, card: Card) -> None:
    sheet.heading("Heights")
    sheet.table(HEIGHT_HEADS, card.heights, HEIGHT_SHARES)
    more = " More manoeuvres overleaf." if card.overleaf else ""
    sheet.lines(card.heights_note + more)


def _recovery(sheet: Sheet, card: Card) -> None:
    def inputs() -> None:
        sheet.heading("Recovery, in this order")
        sheet.numbered(card.recovery)

    def stops() -> None:
        sheet.heading("Stop the test if")
        sheet.numbered(card.aborts, ["-"] * len(card.aborts))

    _beside(sheet, 0.5, inputs, stops)
    sheet.y += 1.2
    sheet.rule(0.8)
    sheet.lead("Caution", card.caution)


def ladder_sheets(card: Card) -> list[Sheet]:
    """Return the pages after the first: manoeuvres left over, and the ladder."""
    sheets = [Sheet(LETTERS)]
    sheet = sheets[0]
    sheet.lines(f"{card.title}, {card.setup}", bold=True)
    if card.overleaf:
        sheet.heading("Heights, more manoeuvres")
        sheet.table(HEIGHT_HEADS, card.overleaf, HEIGHT_SHARES)
    sheet.heading("Ladder of test flights")
    sheet.lines(card.ladder.intro)
    for step in card.ladder.steps:
        _fitting(sheets, partial(_step, step=step))
    _fitting(sheets, lambda s: s.lines(card.ladder.ending, bold=True))
    _fitting(sheets, lambda s: s.lines(card.small_print, SMALL))
    return sheets


def _fitting(sheets: list[Sheet], put: Callable[[Sheet], None]) -> None:
    """Put something on the last page, or on a new one where it does not fit there whole."""
    trial = Sheet(LETTERS)
    put(trial)
    needed = trial.y - Sheet(LETTERS).y
    if needed > sheets[-1].room_mm:
        sheets.append(Sheet(LETTERS))
    put(sheets[-1])


def _step(sheet: Sheet, step: StepText) -> None:
    sheet.heading(step.heading)
    for label, text in step.rows:
        sheet.lead(label, text)
