"""The deep stall of a study, printed: the verdict, what the pilot sees, what was tried."""

from sim.show.console.console import Tables, add, bullets, heading, notes, paragraph, table
from sim.show.words.phrases import MARKS, limits_text, listed, spoken
from sim.show.words.recovery.deep_stall import height_text, note, seen_text, verdict_text
from sim.study.results.result import StudyResult
from sim.study.standing.deep_stalls import hung_setups, way_outcome
from sim.units.quantities import HEIGHT


def deep_stall_tables(result: StudyResult, whole: bool = True) -> Tables:
    """Return verdicts and ways out; nothing where no flight hung.

    Of all set-ups where the ``whole`` is asked for, else of today's, or the first that hung.
    """
    every = list(hung_setups(result))
    if not every:
        return []
    first = next((x for x in every if x[0].name == result.today), every[0])
    hung = every if whole else [first]
    others = [x.name for x, _ in every if x is not first[0] and not whole]
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
    also = [f"So can {listed(others)}: in the report."] if others else []
    return [
        paragraph(""), heading("Deep stall"), *bullets([*told, *also]), out, *notes([note("+")]),
    ]  # fmt: skip
