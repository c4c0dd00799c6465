"""Section of a report on the deep stall: the verdict, what the pilot sees, what ended it."""

from sim.judge import Outcome
from sim.show.report.parts import Heading, Paragraph, Part, Section, Table, section
from sim.show.words.phrases import limits_text, spoken
from sim.show.words.recovery.deep_stall import (
    headed,
    height_text,
    note,
    places_text,
    seen_text,
    swing_text,
    verdict_text,
    way_up_text,
)
from sim.study.results.result import StudyResult
from sim.study.results.set_up import DeepStall, SetUpResult, WayOut
from sim.study.standing.deep_stalls import hung_setups, way_outcome
from sim.units.quantities import HEIGHT, SPEED

ENDS = {Outcome.MET: "● yes", Outcome.OPEN: "◐ not shown", Outcome.NOT_MET: "✕ no"}


def deep_stalls(result: StudyResult) -> Section | None:
    """Return the section; None where no flight hung."""
    hung = list(hung_setups(result))
    if not hung:
        return None
    parts: list[Part] = []
    for setup, deep_stall in hung:
        parts += [
            Heading(headed(setup, deep_stall)),
            Paragraph(verdict_text(setup, deep_stall)),
            Paragraph(f"What the pilot sees: {seen_text(deep_stall)}."),
        ]
    seen_heads = (
        "set-up", "hung", "lost for it", "way up", "angle of attack, °",
        "nose above the horizon, °", f"sink, {SPEED}", "nods by, ±°", "every, s",
        "turn, °/s",
    )  # fmt: skip
    way_heads = (
        "set-up", "way out", "what is flown", "ends it more often than not", "came out",
        "95 % limits", f"height, {HEIGHT}: median, 95 %",
    )  # fmt: skip
    seen = Table(
        "Where it hung, and what that is like", seen_heads,
        [row for setup, deep_stall in hung for row in _seen_rows(setup, deep_stall)], words=4,
    )  # fmt: skip
    ways = Table(
        "What was tried to end it", way_heads,
        [_way_row(setup, way) for setup, deep_stall in hung for way in deep_stall.ways], words=4,
    )  # fmt: skip
    return section("Deep stall", *parts, ways, seen, Paragraph(note(ENDS[Outcome.MET]), "note"))


def _seen_rows(setup: SetUpResult, deep_stall: DeepStall) -> list[tuple[str, ...]]:
    who = (setup.name, places_text(deep_stall), f"{sum(x.lost for x in deep_stall.places)}")
    return [
        (
            *(who if i == 0 else ("", "", "")), way_up_text(hang, deep_stall),
            f"{hang.alpha_deg:.0f}", f"{hang.nose_deg:.0f}", SPEED.figure(hang.sink_mps, ".1f"),
            *swing_text(hang), f"{hang.turn_dps:.0f}",
        )
        for i, hang in enumerate(deep_stall.hangs)
    ]  # fmt: skip


def _way_row(setup: SetUpResult, way: WayOut) -> tuple[str, ...]:
    return (
        setup.name, spoken(way.name), way.title, ENDS[way_outcome(way)],
        f"{way.out} of {way.flights}", limits_text(way.low, way.high), height_text(way),
    )  # fmt: skip
