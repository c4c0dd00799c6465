"""The report of a study: one page that opens from disk and prints, with everything inside."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sim.describe import Aeroplane
from sim.fly.flying import Flight
from sim.show.drawing.canvas import new_figure
from sim.show.figures.time_history import draw_time_history
from sim.show.report.answer import answer
from sim.show.report.deep_stall import deep_stalls
from sim.show.report.heights import heights
from sim.show.report.measuring import measuring
from sim.show.report.method import assumptions, cautions, deciding, method_limits
from sim.show.report.numbers import gains_and_risks, spins, trims
from sim.show.report.page import page_html
from sim.show.report.parts import Picture, Section, section
from sim.show.report.shares import balance_and_pack, came_back
from sim.show.report.structure import structures
from sim.study.results.result import StudyResult
from sim.written import write_atomically


@dataclass(frozen=True)
class Inserts:
    """Sections made elsewhere, in the order of the report.

    ``replay`` stands after the heights, ``departure`` before the spins, ``scaled`` after
    them. ``card_command`` is what makes a card of the study, but for the set-up's name.
    """

    replay: Section | None = None
    departure: Section | None = None
    scaled: Section | None = None
    card_command: str = "aftlimit card FOLDER"


NO_INSERTS = Inserts()


def report_html(
    result: StudyResult,
    aeroplane: Aeroplane,
    flights: Sequence[tuple[str, Flight]] = (),
    inserts: Inserts = NO_INSERTS,
) -> str:
    """Return the report of a study as one HTML page.

    Parameters
    ----------
    aeroplane : Aeroplane
        The one studied, for its side view.
    flights : sequence of (str, Flight)
        Flights to show over time, each with a few words on which it is.
    inserts : Inserts
        Sections made elsewhere.
    """
    sections: list[Section | None] = [answer(result, aeroplane), balance_and_pack(result)]
    if result.setups:
        sections += [came_back(result), deep_stalls(result), heights(result)]
    sections.append(inserts.replay)
    if result.setups:
        sections += [
            gains_and_risks(result),
            trims(result, inserts.card_command),
            structures(result),
        ]
    sections.append(inserts.departure)
    if result.setups:
        sections.append(spins(result))
    sections.append(inserts.scaled)
    if flights:
        sections.append(_histories(flights))
    sections += [measuring(result), deciding(result), assumptions(result, aeroplane)]
    sections += [method_limits(), cautions()]
    return page_html(
        f"{result.title}: {result.aeroplane_title}",
        result.title,
        f"{result.aeroplane_title}. {result.story}",
        [x for x in sections if x is not None],
    )


def save_report(
    result: StudyResult,
    aeroplane: Aeroplane,
    path: Path | str,
    flights: Sequence[tuple[str, Flight]] = (),
    inserts: Inserts = NO_INSERTS,
) -> Path:
    """Write the report; no half-written file is left."""
    write_atomically(Path(path), report_html(result, aeroplane, flights, inserts).encode())
    return Path(path)


def _histories(flights: Sequence[tuple[str, Flight]]) -> Section:
    parts = []
    for i, (words, flight) in enumerate(flights):
        figure = new_figure(6.2, 7.0)
        draw_time_history(figure, flight)
        text = f"{words}: angles, rates, height and sink, and sticks over time. Shaded: the sticks "
        text += "ask for the departure; dashed: the first recovery input."
        parts.append(Picture(figure, f"flight{i}", text))
    return section("Flights over time", *parts)
