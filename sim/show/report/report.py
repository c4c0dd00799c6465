"""The report of a study: one page that opens from disk and prints, with everything inside."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sim.describe import Aeroplane
from sim.fly.flying import Flight
from sim.show.drawing.canvas import new_figure
from sim.show.figures.time_history import draw_time_history
from sim.show.report import page
from sim.show.report.answer import answer
from sim.show.report.deep_stall import deep_stalls
from sim.show.report.heights import heights
from sim.show.report.method import assumptions, cautions, deciding, method_limits
from sim.show.report.numbers import gains_and_risks, spins, trims
from sim.show.report.shares import balance_and_pack, came_back
from sim.study.result import StudyResult
from sim.study.storing import write_atomically


@dataclass(frozen=True)
class Inserts:
    """Sections made elsewhere, as HTML from `page.section`, in the order of the report.

    ``replay`` stands after the heights, ``departure`` before the spins, ``scaled`` after
    them.
    """

    replay: str = ""
    departure: str = ""
    scaled: str = ""


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
    parts = [
        f"<header><h1>{page.escape(result.title)}</h1>",
        page.paragraph(f"{result.aeroplane_title}. {result.story}"),
        "</header>",
        answer(result, aeroplane),
        balance_and_pack(result),
    ]
    if result.setups:
        parts += [came_back(result), deep_stalls(result), heights(result)]
    parts.append(inserts.replay)
    if result.setups:
        parts += [gains_and_risks(result), trims(result)]
    parts.append(inserts.departure)
    if result.setups:
        parts.append(spins(result))
    parts.append(inserts.scaled)
    if flights:
        parts.append(_histories(flights))
    parts += [deciding(result), assumptions(result, aeroplane), method_limits()]
    parts.append(cautions())
    title = f"{result.title}: {result.aeroplane_title}"
    return page.page(title, [part for part in parts if part])


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


def _histories(flights: Sequence[tuple[str, Flight]]) -> str:
    parts = []
    for i, (words, flight) in enumerate(flights):
        figure = new_figure(6.2, 7.0)
        draw_time_history(figure, flight)
        text = f"{words}: angles, rates, height and sink, and sticks over time. Shaded: the sticks "
        text += "ask for the departure; dashed: the first recovery input."
        parts.append(page.picture(figure, f"flight{i}", text))
    return page.section("Flights over time", *parts)
