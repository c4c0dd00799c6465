"""Which way surfaces move, to be looked at before a flight: with the sticks, and by the gyro."""

from sim.show.words.phrases import listed
from sim.trim.senses import Sense, Senses, Way

STICKS = {"elevator": "stick back", "aileron": "stick right", "rudder": "right rudder"}
# what a hand does to the model, which its gyro answers as the pilot would
PUSHES = {"elevator": "nose up", "aileron": "right wing down", "rudder": "nose left"}
EDGES = "trailing edges"


def stick_lines(found: Senses) -> list[str]:
    """Return what each stick does, "stick back, elevator UP", a line a stick."""
    return [_line(words, found.of(stick), False) for stick, words in STICKS.items()
            if found.of(stick)]  # fmt: skip


def gyro_lines(found: Senses) -> list[str]:
    """Return what the gyro has to do as the model is turned by hand; nothing with it off.

    It opposes every turn: with the nose pushed up, surfaces go as with the stick forward.
    """
    # the nose pushed left is met by right rudder, the other two by the opposite of their stick
    return [
        _line(words, found.of(stick), stick != "rudder")
        for stick, words in PUSHES.items()
        if stick in found.gyro and found.of(stick)
    ]


def sticks_text(found: Senses) -> str:
    """Return the check of the sticks in a sentence; empty where nothing moves."""
    lines = stick_lines(found)
    text = "; ".join(lines)
    return f"{text[0].upper()}{text[1:]}." if lines else ""


def gyro_text(found: Senses) -> str:
    """Return the check of the gyro in a sentence; empty with it off."""
    lines = gyro_lines(found)
    return f"Gyro, by hand: {'; '.join(lines)}." if lines else ""


def _line(words: str, moved: tuple[Sense, ...], opposed: bool) -> str:
    return f"{words}, {listed([_moves(x, opposed) for x in moved])}"


def _moves(sense: Sense, opposed: bool) -> str:
    """Return where the trailing edges of one channel go, of a pair the right one's."""

    def told(way: Way) -> str:
        return str(way.other if opposed else way)

    if sense.left != sense.right.other:
        return f"{sense.channel} {told(sense.right)}"
    return f"right {sense.channel} {told(sense.right)}"
