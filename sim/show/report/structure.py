"""Section of a report on servos and structure: limits, and what flights took of them."""

from sim.show.report.parts import Bullets, Paragraph, Part, Section, Table, section
from sim.show.words.bench.structure import (
    HEADS,
    near_text,
    practice_text,
    row_of,
    structure_sentences,
    told_text,
    torque_text,
    where_text,
    within_text,
)
from sim.show.words.phrases import spoken
from sim.study.results.result import StudyResult
from sim.study.results.structure import ServoNeed
from sim.units.quantities import TORQUE


def structures(result: StudyResult) -> Section | None:
    """Return the section; None where no flight tells."""
    told = [(x, x.structure) for x in result.setups if x.structure is not None]
    if not told:
        return None
    found = [structure for _, structure in told]
    lines = [f"{x.name}: {text}." for x, one in told for text in structure_sentences(one)]
    parts: list[Part] = [Bullets(lines, look="caution")] if lines else []
    if not lines:
        parts.append(Paragraph(within_text(found)))
    parts.append(
        Table(
            "Load, speed and bending against what is stated", ("set-up", *HEADS),
            [(x.name, *row_of(one)) for x, one in told],
        )
    )  # fmt: skip
    rows = [
        (
            x.name, servo.channel, torque_text(servo), where_text(servo), _below(servo),
            _flights(servo.flights), _flights(servo.held_flights),
        )
        for x, one in told
        for servo in one.servos
    ]  # fmt: skip
    heads = (
        "set-up", "servo", "most needed", "where", f"95 % of flights at most, {TORQUE}",
        "flights beyond it", "flights held off",
    )  # fmt: skip
    parts.append(Table("Torque of the servos", heads, rows, words=4))
    loads = [
        (x.name, spoken(load.manoeuvre), f"{load.most_g:.1f}", f"{load.over} of {load.flights}")
        for x, one in told
        for load in one.loads
        if load.over
    ]
    if loads:
        parts.append(
            Table("Where the limit load factor was passed",
                  ("set-up", "manoeuvre", "most, times gravity", "flights"), loads, words=2)
        )  # fmt: skip
    notes = [told_text(found), near_text(found[0].servos), practice_text()]
    parts += [Paragraph(x) for x in notes if x]
    return section("Servos and structure", *parts)


def _below(servo: ServoNeed) -> str:
    return "—" if servo.p95_ncm is None else TORQUE.figure(servo.p95_ncm, ".1f")


def _flights(count: int) -> str:
    return f"{count}" if count else "none"
