"""Section of a report on servos and structure: limits, and what flights took of them."""

from sim.show.report.parts import Bullets, Paragraph, Part, Section, Table, section
from sim.show.words.phrases import spoken
from sim.show.words.structure import (
    HEADS,
    near_text,
    practice_text,
    row_of,
    structure_sentences,
    told_text,
    torque_text,
    where_text,
)
from sim.study.results.result import StudyResult


def structures(result: StudyResult) -> Section | None:
    """Return the section; None where no flight tells."""
    told = [(x, x.structure) for x in result.setups if x.structure is not None]
    if not told:
        return None
    first = told[0][1]
    lines = [f"{x.name}: {text}." for x, found in told for text in structure_sentences(found)]
    parts: list[Part] = [Bullets(lines, look="caution")] if lines else []
    if not lines:
        parts.append(Paragraph("No flight passed a limit, and no servo came near its torque."))
    parts.append(
        Table(
            "Load, speed and bending against what is stated", ("set-up", *HEADS),
            [(x.name, *row_of(found)) for x, found in told],
        )
    )  # fmt: skip
    rows = [
        (x.name, servo.channel, torque_text(servo), where_text(servo), _flights(servo.flights))
        for x, found in told
        for servo in found.servos
    ]
    heads = ("set-up", "servo", "most needed", "where", "flights beyond it")
    parts.append(Table("Torque of the servos", heads, rows, words=4))
    loads = [
        (x.name, spoken(one.manoeuvre), f"{one.most_g:.1f}", f"{one.over} of {one.flights}")
        for x, found in told
        for one in found.loads
        if one.over
    ]
    if loads:
        parts.append(
            Table("Where the limit load factor was passed",
                  ("set-up", "manoeuvre", "most, times gravity", "flights"), loads, words=2)
        )  # fmt: skip
    notes = [told_text(first), near_text(first.servos), practice_text()]
    parts += [Paragraph(x) for x in notes if x]
    return section("Servos and structure", *parts)


def _flights(count: int) -> str:
    return f"{count}" if count else "none"
