"""What a card is made of, as data: one list that the page and the PDF both walk through."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar, NamedTuple

from matplotlib.figure import Figure

from sim.describe import Aeroplane
from sim.show.card.card import GYRO_HEADS, HEIGHT_HEADS, SHORT_SPEEDS, Card, throw_heads
from sim.show.drawing.canvas import one_axes, outlined_svg
from sim.show.figures.finger_view import draw_finger_view, has_wing_there
from sim.show.words.findings.mending import UNTIL
from sim.units.quantities import LENGTH

DRAWING_IN = (2.9, 2.6)
# how columns share the width of their table on paper
THROW_SHARES = (21.0, 21.0, 20.0, 10.0, 21.0, 10.0)
GYRO_SHARES = (20.0, 15.0, 15.0, 15.0)
HOLD = "Hold it at the two marks."
STAND = "NO WING over the two marks: balance it on a bar across, under the body."
GYRO = "Gyro, surface ° per °/s"
HEIGHT_SHARES = (44.0, 58.0, 19.0, 19.0, 46.0)


@dataclass(frozen=True)
class Title:
    """Whose card it is, with fields to fill in by hand beside it."""

    kind: ClassVar = "title"
    title: str
    setup: str
    fields: tuple[str, str] = ("Date ______________", "Pilot / spotter ______________")


@dataclass(frozen=True)
class Heading:
    """A heading below a rule; the verdict is one in larger letters."""

    kind: ClassVar = "heading"
    text: str
    look: str = ""


@dataclass(frozen=True)
class Words:
    """A text as wide as its column; an order in bold, the small print small."""

    kind: ClassVar = "words"
    text: str
    look: str = ""


@dataclass(frozen=True)
class Pairs:
    """Labels with their texts; on paper the first ``beside`` stand in two columns."""

    kind: ClassVar = "pairs"
    rows: Sequence[tuple[str, str]]
    beside: int = 0


@dataclass(frozen=True)
class Grid:
    """A table whose columns share the width as given."""

    kind: ClassVar = "grid"
    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    shares: Sequence[float]


@dataclass(frozen=True)
class Items:
    """A list, numbered or not."""

    kind: ClassVar = "items"
    lines: Sequence[str]
    numbered: bool


@dataclass(frozen=True)
class Drawing:
    """A figure with a line below it, and what it shows for those who cannot see it."""

    kind: ClassVar = "drawing"
    figure: Figure
    told: str
    below: str

    @cached_property
    def outlined(self) -> bytes:
        """The figure as SVG for paper."""
        return outlined_svg(self.figure)


@dataclass(frozen=True)
class Beside:
    """Two columns; the first takes its share of the width."""

    kind: ClassVar = "beside"
    one: Sequence["Block"]
    two: Sequence["Block"]
    share: float
    look: str = ""


@dataclass(frozen=True)
class Step:
    """A step of the ladder, kept on one page."""

    kind: ClassVar = "step"
    heading: str
    rows: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Last:
    """A labelled text below a rule, at the end."""

    kind: ClassVar = "last"
    label: str
    text: str


Block = Title | Heading | Words | Pairs | Grid | Items | Drawing | Beside | Step | Last


class Layout(NamedTuple):
    """A card, laid out: its first page, and the ladder on what follows."""

    name: str
    front: tuple[Block, ...]
    ladder: tuple[Block, ...]


def laid_out(card: Card, aeroplane: Aeroplane) -> Layout:
    """Return all that is printed, in its order."""
    return Layout(
        f"Flight card: {card.title}, {card.setup}", _front(card, aeroplane), _ladder(card)
    )


def _front(card: Card, aeroplane: Aeroplane) -> tuple[Block, ...]:
    more = " More manoeuvres overleaf." if card.overleaf else ""
    return (
        Title(card.title, card.setup),
        Heading(card.verdict, "verdict"),
        Words(card.order, "order"),
        *(Words(line) for line in card.answer),
        _balance(card, aeroplane),
        _controls(card),
        Heading("Heights"),
        Grid(HEIGHT_HEADS, card.heights, HEIGHT_SHARES),
        Words(card.heights_note + more),
        Beside(
            (
                Heading("Recovery, in this order"),
                Items(card.recovery, numbered=True),
                *((Words(card.centring),) if card.centring else ()),
                *_before(card),
            ),
            (Heading("Stop the test if"), Items(card.aborts, numbered=False)),
            0.5,
        ),
        Last("Caution", card.caution),
    )


def _balance(card: Card, aeroplane: Aeroplane) -> Beside:
    figure, axes = one_axes(*DRAWING_IN)
    under = has_wing_there(aeroplane, card.balance_mm)
    draw_finger_view(axes, aeroplane, card.balance_mm)
    caption = f"Wing from above, nose up: two finger marks {LENGTH.ahead(card.balance_mm)} aft of "
    caption += f"the datum, {aeroplane.datum.text}."
    return Beside(
        (Drawing(figure, caption, HOLD if under else STAND),),
        (
            Heading("Balance and weights"),
            Pairs(card.weights),
            Heading("Speeds and timer"),
            Pairs(card.speeds, beside=SHORT_SPEEDS),
        ),
        0.38,
        "hold",
    )


def _controls(card: Card) -> Beside:
    check = (Words(card.gyro_check),) if card.gyro_check else ()
    gains = (Grid(GYRO_HEADS, card.gyro, GYRO_SHARES),) if card.gyro else ()
    return Beside(
        (
            Heading("Throws"),
            Grid(throw_heads(), card.throws, THROW_SHARES),
            Words(card.throws_note),
        ),
        (Heading(GYRO if card.gyro else "Gyro"), Words(card.gyro_note, "order"), *check, *gains),
        0.56,
    )


def _before(card: Card) -> tuple[Block, ...]:
    """Return which way surfaces have to move; below the shorter of the two columns."""
    told = " ".join(x for x in (card.sticks_check, card.turns_check) if x)
    return (Heading("Before flight, trailing edges"), Words(told)) if told else ()


def _ladder(card: Card) -> tuple[Block, ...]:
    left_over = (
        Heading("Heights, more manoeuvres"),
        Grid(HEIGHT_HEADS, card.overleaf, HEIGHT_SHARES),
    )
    return (
        Words(f"{card.title}, {card.setup}", "order"),
        *(left_over if card.overleaf else ()),
        Heading("Ladder of test flights"),
        Words(card.ladder.intro),
        *(Step(step.heading, step.rows) for step in card.ladder.steps),
        Words(card.ladder.ending, "order"),
        *_mending(card),
        *((Words(card.timer_note, "small"),) if card.timer_note else ()),
        Words(card.small_print, "small"),
    )


def _mending(card: Card) -> tuple[Block, ...]:
    """Return what to mend first where no ladder leads to the set-up."""
    if not card.mending:
        return ()
    return Heading("What to mend, in this order"), Items(card.mending, numbered=True), Words(UNTIL)
