"""Section of a report on heights: strips by set-up, and the table."""

import numpy as np

from sim.show.drawing.canvas import one_axes
from sim.show.figures.study_figures import draw_height_strips
from sim.show.report.parts import Paragraph, Picture, Section, Table, section
from sim.show.words.phrases import lost_texts, needed_texts, spoken
from sim.show.words.recovery.fly_from import RULE, shown_from_cell
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.chance import quantile_limits
from sim.study.standing.heights import Budget, budget, needed_heights
from sim.study.standing.outcomes import best_case, manoeuvres_of
from sim.units.quantities import HEIGHT

FITS = {
    Budget.FITS: "● yes",
    Budget.SHORT: "◐ not from so low",
    Budget.ABOVE: "◐ with leave",
    Budget.UNSHOWN: "◐ not shown",
    Budget.NO: "✕ no",
}


def heights(result: StudyResult) -> Section:
    """Return the heights that each manoeuvre takes, strips and table."""
    pictures = [
        made
        for i, (name, title) in enumerate(manoeuvres_of(result.setups).items())
        if (made := _strips(result, i, name, title)) is not None
    ]
    rows = [
        _row(setup, case, result)
        for setup in result.setups
        for name in manoeuvres_of([setup])
        if (case := best_case(setup, name, result.required_share_pct)) is not None
    ]
    lost = (
        "Lost: from the first recovery input to level. Entry needed: the whole manoeuvre and the "
    )
    lost += (
        "floor under it. Flights that never came back count as endless: > (more than) tells the "
    )
    lost += "height they had used up."
    ceiling = HEIGHT(result.ceiling_m)
    fits = f"{RULE} ● yes: shown from no more than {ceiling}. ✕: not shown; it "
    fits += f"cannot be tested lawfully from {ceiling} here. "
    fits += "◐ with leave: shown from the study's own entry height, "
    fits += "which lies above that. ◐ not shown: enough of those flown fit, and the draws do not "
    fits += "show it. Limits: 95 % limits of the height that 95 % of flights need; from alone: "
    fits += "too few flights to bound it."
    heads = (
        "set-up", "manoeuvre", "its best single recovery", f"lost, {HEIGHT}: median, 95 %",
        f"entry needed, {HEIGHT}: median, 95 % of those flown", f"limits of that 95 %, {HEIGHT}",
        f"to be flown from, {HEIGHT}: shown", f"from {ceiling}?",
    )  # fmt: skip
    table = Table("Heights", heads, rows, words=3)
    notes = Paragraph(lost, "note"), Paragraph(fits, "note")
    return section("Height", *pictures, table, *notes)


def _row(setup: SetUpResult, case: CaseResult, result: StudyResult) -> tuple[str, ...]:
    fits = budget(case, result.ceiling_m, result.required_share_pct, result.draws)
    return (
        setup.name, spoken(case.manoeuvre), spoken(case.recovery), _both(*lost_texts(case)),
        _both(*needed_texts(case)), limits_words(case), shown_from_cell(case, result), FITS[fits],
    )  # fmt: skip


def _both(median: str, most: str) -> str:
    """Return two heights in one cell, "more than" written as >."""
    return f"{median}, {most}".replace("more than ", "> ")


def limits_words(case: CaseResult) -> str:
    """Return 95 % limits of the entry height that 95 % of flights need, without unit."""
    low, high = quantile_limits(needed_heights(case), 0.95)
    if not np.isfinite(low):
        return "no end known"
    least = HEIGHT.figure(low)
    return f"{least} to {HEIGHT.at_least(high)}" if np.isfinite(high) else f"from {least}"


def _strips(result: StudyResult, number: int, name: str, title: str) -> Picture | None:
    setups, asked = result.setups, result.required_share_pct
    best = {x.name: best_case(x, name, asked) for x in setups}
    cases = {key: c for key, c in best.items() if c is not None}
    if not cases:
        return None
    first = next(iter(cases.values()))
    figure, axes = one_axes(max(6.2, 1.8 + 1.1 * len(setups)), 3.6)
    said = result.ceiling_m if result.ceiling_said else None
    draw_height_strips(axes, setups, name, first.entry_m, first.floor_m, asked, ceiling_m=said)
    words = "; ".join(
        f"{key}: median {needed_texts(c)[0]} {HEIGHT}, 95 % {needed_texts(c)[1]} {HEIGHT}"
        for key, c in cases.items()
    )
    text = f"Entry height needed for {title}, entered at {HEIGHT(first.entry_m)}: "
    text += "a dot is a flight, the bar holds 10 to 90 %, "
    text += "the line across it is the median. Crosses at the top never came back, from any "
    text += "height; dots above the entry height came back too low and count as lost."
    return Picture(figure, f"height{number}", text, f"{words}.")
