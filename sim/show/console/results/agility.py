"""What the set-ups can do, as a table: a row a set-up, a column a manoeuvre."""

from math import isfinite

from sim.show.console.console import Tables, add, notes, table
from sim.show.console.results.recovery import stacked
from sim.show.words.findings.agility import (
    TOLD,
    figure_text,
    head_of,
    manoeuvres_shown,
    out_text,
    shortfalls,
    time_text,
)
from sim.study.results.agility import Shown
from sim.study.results.result import StudyResult


def agility_tables(result: StudyResult) -> Tables:
    """Return what each set-up shows in each manoeuvre of agility, and what it cannot do."""
    kinds = manoeuvres_shown(result.setups)
    if not kinds:
        return []
    draws = max(x.flights for x in kinds)
    grid = table(
        f"What each set-up can do, {draws} draws each", "set-up",
        *(f"{stacked(x.manoeuvre)}\n{head_of(x)}" for x in kinds),
    )  # fmt: skip
    for setup in result.setups:
        add(grid, setup.name, *(_cell(x) for x in setup.agility))
    return [grid, *notes([TOLD, *shortfalls(result.setups)])]


def _cell(one: Shown) -> str:
    took = f"\nin {time_text(one)} s" if isfinite(one.time_s.median) else ""
    return f"{figure_text(one)}{took}\n{out_text(one)}"
