"""Sections of a report on shares: balance point and pack, the aft limits, every case."""

from sim.judge import outcome
from sim.show.drawing.canvas import new_figure, one_axes, rows_of_axes
from sim.show.drawing.scales import in_units
from sim.show.figures.share_by_balance import draw_share_by_balance
from sim.show.figures.study_figures import draw_share_matrix
from sim.show.report.parts import Bullets, Folded, Paragraph, Part, Picture, Section, Table, section
from sim.show.words.phrases import also_texts, limits_text, share_text, spoken
from sim.show.words.places.limits import combination_sentence, ends_cell, several_combinations
from sim.study.results.aft_limit import AftLimit, ManoeuvreLimit
from sim.study.results.result import StudyResult
from sim.study.standing.bands import Band, bands
from sim.study.standing.outcomes import manoeuvres_of
from sim.units.quantities import LENGTH

PANEL_IN = 1.75
SEARCHED = (
    "Line and band: the search for the aft limit in all its manoeuvres, with 95 % limits; upright "
    "line: the aft limit, shaded: where other draws would put it (95 %); dotted: stick-fixed "
    "neutral point; a plus sign: a first look with fewer draws; a stroke on the lower edge: "
    "given up early, or flown in one manoeuvre alone, so no share is known. "
)


def balance_and_pack(result: StudyResult) -> Section:
    """Return balance point and pack against the share that came back, with the aft limits."""
    all_bands = bands(result)
    figure = new_figure(6.2, 0.5 + PANEL_IN * max(len(all_bands), 1.3))
    stack = rows_of_axes(figure, [1.0] * len(all_bands)) if all_bands else []
    for axes, band in zip(stack, all_bands, strict=True):
        setups = [x for x in result.setups if x.name in band.setups]
        draw_share_by_balance(
            axes, band.pack, setups, band.limit, result.required_share_pct, _who(band, all_bands)
        )
    ends = [axes.get_xlim() for axes in stack]
    for axes in stack:
        axes.set_xlim(min(low for low, _ in ends), max(high for _, high in ends))
        in_units(axes.xaxis, LENGTH)
    if stack:
        stack[-1].set_xlabel(f"balance point, {LENGTH.spelled} aft of the datum")
    text = "Share that came back against balance point, a panel for each pack and combination. "
    text += SEARCHED if result.aft_limits else ""
    text += "Set-ups stand with 95 % limits at their worst manoeuvre: disc met, diamond undecided, "
    text += "cross not met."
    parts: list[Part] = [Picture(figure, "limits", text)] if stack else []
    if result.aft_limits:
        parts.append(_limits_table(result))
        parts.append(Paragraph(combination_sentence(result.aft_limits), "note"))
    title = "Aft limit by pack" if result.aft_limits else "Balance point and pack"
    return section(title, *parts)


def _who(band: Band, found: list[Band]) -> str:
    """Return " as in A" where a pack has several panels."""
    if sum(one.pack == band.pack for one in found) < 2:
        return ""
    return f" as in {band.setups[0] if band.limit is None else band.limit.as_in}"


def _limits_table(result: StudyResult) -> Table:
    several = several_combinations(result.aft_limits)
    rows = []
    for x in result.aft_limits:
        who = (x.as_in,) if several else ()
        name = "all of them" if len(x.each) > 1 else spoken(x.manoeuvres[0])
        behind = " (the limit lies BEHIND it)" if x.behind_neutral_mm > 0.0 else ""
        rows.append((
            x.pack, *who, name, spoken(x.recovery), *limit_cells(x),
            "-" if x.pct_mac is None else f"{x.pct_mac:.1f}",
            f"{LENGTH.figure(x.neutral_mm)}{behind}",
            _there(x),
            LENGTH.figure(x.first_failure_mm),
        ))  # fmt: skip
        for one in x.each if len(x.each) > 1 else ():
            rows.append((
                x.pack, *who, f"{spoken(one.manoeuvre)} alone", spoken(x.recovery),
                *limit_cells(one), "-", "-", "-",
                LENGTH.figure(one.first_failure_mm),
            ))  # fmt: skip
    heads = (
        "pack", *(("set-ups",) if several else ()), "manoeuvre", "best recovery",
        f"aft limit, {LENGTH}", f"its 95 % limits, {LENGTH}", "% MAC", f"neutral point, {LENGTH}",
        "back there, 95 % limits", f"not shown at, {LENGTH}",
    )  # fmt: skip
    return Table("Aft limits", heads, rows, words=4 if several else 3)


def _there(x: AftLimit) -> str:
    """Return the share that came back at a limit, of how many draws; "-" without any."""
    if not x.draws_used:
        return "-"
    return f"{limits_text(x.share_low, x.share_high)} of {x.draws_used}"


def limit_cells(x: AftLimit | ManoeuvreLimit) -> tuple[str, str]:
    """Return an aft limit and its 95 % limits for two cells."""
    if x.aft_mm is None:
        return "none found", "-"
    ends = ends_cell(x.low_mm, x.high_mm).replace("\n", " ")
    return f"{'beyond ' if x.at_end else ''}{LENGTH.at_most(x.aft_mm)}", ends


def came_back(result: StudyResult) -> Section:
    """Return what came back, set-up by manoeuvre, and every case folded away."""
    names = manoeuvres_of(result.setups)
    figure, axes = one_axes(2.2 + 1.45 * max(len(names), 3), 1.5 + 0.55 * len(result.setups))
    draw_share_matrix(axes, result.setups, result.required_share_pct)
    text = "Came back, set-up by manoeuvre, by its best single recovery, with 95 % limits. "
    text += "The numbers are in the table below."
    rows = []
    for setup in result.setups:
        for case in setup.cases:
            rows.append((
                setup.name, spoken(case.manoeuvre), spoken(case.recovery),
                outcome(case.shares, result.required_share_pct).value, share_text(case.shares),
                f"{case.shares.held}", f"{case.shares.recovered}", f"{case.shares.below_floor}",
                f"{case.shares.entry_used}", f"{case.shares.never}", f"{case.shares.unresolved}",
                f"{case.shares.touched}",
            ))  # fmt: skip
    heads = (
        "set-up", "manoeuvre", "recovery", "requirement", "in words", "held", "recovered",
        "below the floor", "manoeuvre used the height", "never came back", "unresolved",
        "held, but at high angle for a moment",
    )  # fmt: skip
    every = Table("Every case", heads, rows, words=5)
    also = [
        f"{setup.name}, {spoken(case.manoeuvre)}, {spoken(case.recovery)}: {'; '.join(told)}."
        for setup in result.setups
        for case in setup.cases
        if (told := also_texts(case.shares))
    ]
    notes = (Bullets(also),) if also else ()
    more = Folded("Every manoeuvre with every recovery", (every, *notes))
    return section("What came back", Picture(figure, "matrix", text), more)
