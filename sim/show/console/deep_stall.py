"""The deep stall of a study, printed: the verdict, what the pilot sees, what was tried."""

from sim.show.console.console import Tables, add, bullets, heading, notes, paragraph, table
from sim.show.words.deep_stall import height_text, note, seen_text, verdict_text
from sim.show.words.phrases import MARKS, limits_text, spoken
from sim.study.results.result import StudyResult
from sim.study.standing.deep_stalls import hung_setups, way_outcome
from sim.units.quantities import HEIGHT


def deep_stall_tables(result: StudyResult) -> Tables:
    """Return verdicts and ways out; nothing where no flight hung."""
    hung = list(hung_setups(result))
    if not hung:
        return []
    out = table(
        "Ways out of the deep stall", "set-up", "way out", "came out", "95 %\nlimits",
        f"height, {HEIGHT}:\nmedian, 95 %", left=2,
    )  # fmt: skip
    for setup, deep_stall in hung:
        for i, way in enumerate(deep_stall.ways):
            add(
                out, setup.name if i == 0 else "", spoken(way.name),
                f"{MARKS[way_outcome(way)]} {way.out} of {way.flights}",
                limits_text(way.low, way.high), height_text(way),
            )  # fmt: skip
    told = (
        f"{verdict_text(setup, deep_stall)} What the pilot sees: {seen_text(deep_stall)}."
        for setup, deep_stall in hung
    )
    return [paragraph(""), heading("Deep stall"), *bullets(told), out, *notes([note("+")])]
