"""The flight card as one HTML page: the card on one printed sheet, the ladder on the next."""

from pathlib import Path

from sim.show.card.blocks import Layout
from sim.show.card.glued import glued
from sim.show.report.page import environment

TEMPLATES = Path(__file__).parent / "templates"
LETTERS = 11.0  # pt


def card_page(card: Layout, letters: float = LETTERS) -> str:
    """Return the card and its ladder as a page that needs nothing from outside itself.

    ``letters`` is the size [pt] in which the first page holds the card, if that is less
    than the usual.
    """
    made = environment(TEMPLATES)
    made.filters["glued"] = glued
    page = made.get_template("card.html")
    return page.render(
        title=card.name, card=card, letters=f"{letters:g}", smaller=letters < LETTERS
    )
