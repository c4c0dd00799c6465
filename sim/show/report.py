"""The report of a study: one page that opens from disk and prints, with everything inside."""

import os
from collections.abc import Sequence
from pathlib import Path

from sim.describe import Aeroplane
from sim.fly.flying import Flight
from sim.show import page
from sim.show.canvas import new_figure, one_axes, rows_of_axes
from sim.show.figures import height_strips, limit_search, share_matrix, spin_overview
from sim.show.history import time_history
from sim.show.phrases import (
    CAUTIONS,
    answer_sentences,
    budget_text,
    headline,
    limits_text,
    lost_texts,
    needed_texts,
    share_text,
    strength_word,
)
from sim.show.picking import best_case, manoeuvres_of, outcome
from sim.show.side_view import balance_scale, side_view
from sim.show.study_tables import spun_cases
from sim.study.result import StudyResult

SHORT_HASH = 12


def report_html(
    result: StudyResult, aeroplane: Aeroplane, flights: Sequence[tuple[str, Flight]] = ()
) -> str:
    """Return the report of a study as one HTML page.

    Parameters
    ----------
    aeroplane : Aeroplane
        The one studied, for its side view.
    flights : sequence of (str, Flight)
        Flights to show over time, each with a few words on which it is.
    """
    parts = [
        f"<header><h1>{page.escape(result.title)}</h1>",
        page.paragraph(f"{result.aeroplane_title}. {result.story}"),
        "</header>",
        _answer(result),
        _where(result, aeroplane),
    ]
    if result.setups:
        parts += [_matrix(result), _heights(result)]
    if result.aft_limits:
        parts.append(_limits(result))
    if result.setups:
        parts += [_trims(result), _spins(result)]
    if flights:
        parts.append(_histories(flights))
    parts += [_factors(result), _assumptions(result), _cautions()]
    return page.page(f"{result.title}: {result.aeroplane_title}", parts)


def save_report(
    result: StudyResult,
    aeroplane: Aeroplane,
    path: Path | str,
    flights: Sequence[tuple[str, Flight]] = (),
) -> Path:
    """Write the report; no half-written file is left."""
    path = Path(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    waiting = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        waiting.write_text(report_html(result, aeroplane, flights), encoding="utf-8")
        os.replace(waiting, path)
    finally:
        waiting.unlink(missing_ok=True)
    return path


def _answer(result: StudyResult) -> str:
    lines = answer_sentences(result)
    inside = page.paragraph(headline(result)) + page.bullets(lines)
    caution = page.paragraph(f"Caution: {CAUTIONS[0]} {CAUTIONS[1]}", "caution")
    return page.section("The answer", f'<div class="answer">{inside}</div>', caution)


def _where(result: StudyResult, aeroplane: Aeroplane) -> str:
    packs = {x.pack for x in result.setups} | {x.pack for x in result.aft_limits}
    figure = new_figure(9.0, 5.0 + 0.45 * len(packs))
    above, below = rows_of_axes(figure, (2.4, 0.8 + 0.45 * len(packs)))
    side_view(above, aeroplane, result.setups, result.aft_limits)
    balance_scale(below, aeroplane, result.setups, result.aft_limits)
    places = [f"{x.name} balances at {x.balance_aft_mm:.0f} mm" for x in result.setups]
    places += [f"aft limit of {x.pack}: {x.aft_mm:.0f} mm" for x in result.aft_limits if x.aft_mm]
    text = "Side view in mm, nose left, with packs, balance points (quartered discs), neutral "
    text += "point (diamond) and aft limits (dashed); below, by pack, the band of balance points "
    text += "that met the requirement in the manoeuvres searched, from the foremost one tried."
    numbers = f"{'; '.join(places)}."
    return page.section("Where it balances", page.picture(figure, "where", text, numbers))


def _matrix(result: StudyResult) -> str:
    names = manoeuvres_of(result.setups)
    figure, axes = one_axes(max(8.5, 2.2 + 1.45 * len(names)), 1.6 + 0.55 * len(result.setups))
    share_matrix(axes, result.setups, result.required_share_pct)
    text = "Came back, set-up by manoeuvre, each with its own best recovery, with 95 % limits. "
    text += "The numbers are in the table below."
    rows = []
    for setup in result.setups:
        for case in setup.cases:
            rows.append((
                setup.name, case.manoeuvre_title, case.recovery_title,
                outcome(case.shares, result.required_share_pct).value,
                f"{case.shares.held}", f"{case.shares.recovered}", f"{case.shares.below_floor}",
                f"{case.shares.never}", f"{case.shares.unresolved}", share_text(case.shares),
            ))  # fmt: skip
    heads = (
        "set-up", "manoeuvre", "recovery", "requirement", "held", "recovered", "below the floor",
        "never came back", "unresolved", "in words",
    )  # fmt: skip
    every = page.table("Every case", heads, rows, words=4)
    more = f"<details><summary>Every manoeuvre with every recovery</summary>{every}</details>"
    return page.section("What came back", page.picture(figure, "matrix", text), more)


def _heights(result: StudyResult) -> str:
    parts = []
    for i, (name, title) in enumerate(manoeuvres_of(result.setups).items()):
        cases = [c for x in result.setups if (c := best_case(x, name)) is not None]
        figure, axes = one_axes(max(6.5, 2.0 + 1.2 * len(result.setups)), 3.8)
        height_strips(axes, result.setups, name, cases[0].entry_m, cases[0].floor_m)
        words = "; ".join(
            f"{x.name}: median {needed_texts(c)[0]} m, 95 % {needed_texts(c)[1]} m"
            for x in result.setups
            if (c := best_case(x, name)) is not None
        )
        text = f"Entry height needed for {title}: a dot is a flight, the bar holds 10 to 90 %, "
        text += "the line across it is the median."
        parts.append(page.picture(figure, f"height{i}", text, f"{words}."))
    rows = []
    for setup in result.setups:
        for name in manoeuvres_of([setup]):
            case = best_case(setup, name)
            assert case is not None
            rows.append((
                setup.name, case.manoeuvre_title, case.recovery_title, budget_text(case),
                *lost_texts(case), *needed_texts(case),
            ))  # fmt: skip
    heads = (
        "set-up", "manoeuvre", "best recovery", "height budget",
        "lost after first input, median, m", "95 %", "entry height needed, median, m", "95 %",
    )  # fmt: skip
    note = "Entry height needed holds the whole manoeuvre and the floor under it. Flights that "
    note += 'never came back count as endless: "more than" tells the height they had used up.'
    return page.section(
        "Height", *parts, page.table("Heights", heads, rows, words=4), page.paragraph(note, "note")
    )


def _limits(result: StudyResult) -> str:
    figure, axes = one_axes(8.0, 3.8)
    limit_search(axes, result.aft_limits, result.required_share_pct)
    text = "The search for the aft limit: share that came back against balance point, by pack, "
    text += "with 95 % limits, by the pack's best recovery. An arrow: given up early, at most that."
    rows = []
    for x in result.aft_limits:
        aft = "none found" if x.aft_mm is None else f"{x.aft_mm:.0f}"
        rows.append((
            x.pack, ", ".join(m.replace("_", " ") for m in x.manoeuvres),
            x.recovery.replace("_", " "), f"beyond {aft}" if x.at_end else aft,
            "-" if x.pct_mac is None else f"{x.pct_mac:.1f}",
            limits_text(x.share_low, x.share_high), f"{x.draws_used}",
            "-" if x.first_failure_mm is None else f"{x.first_failure_mm:.0f}",
        ))  # fmt: skip
    heads = (
        "pack", "manoeuvres", "best recovery", "aft limit, mm", "% MAC", "back there, 95 % limits",
        "draws there", "not shown at, mm",
    )  # fmt: skip
    table = page.table("Aft limits", heads, rows, words=3)
    return page.section("Aft limit by pack", page.picture(figure, "limits", text), table)


def _trims(result: StudyResult) -> str:
    rows = []
    for x in result.setups:
        t = x.trim
        level = (
            f"{t.alpha_deg:.1f}", f"{t.tail_deg:+.1f}", f"{100.0 * t.throttle:.0f}",
            f"{t.current_a:.1f}", f"{t.minutes:.1f}", f"{t.pitch_response_dps2:.0f}",
        )  # fmt: skip
        added = ", ".join(f"{grams:.0f} g at the {place}" for place, grams in x.added_weights)
        rows.append((
            x.name, x.title, x.pack, added or "nothing", f"{x.pack_aft_mm:.0f}", f"{x.mass_g:.0f}",
            f"{10.0 * x.wing_loading_kg_m2:.0f}", f"{x.balance_aft_mm:.0f}",
            f"{x.balance_pct_mac:.1f}", f"{x.static_margin_pct:.1f}", f"{x.stall_speed_mps:.1f}",
            *(level if t.found else ("none found", "-", "-", "-", "-", "-")),
        ))  # fmt: skip
    heads = (
        "set-up", "what", "pack", "added", "pack at, mm", "mass, g", "g/dm²", "balance, mm",
        "% MAC", "static margin, % MAC", "stall, m/s", "angle of attack, °", "pitch surface, °",
        "throttle, %", "current, A", "flight time, min", "full aft stick, °/s²",
    )  # fmt: skip
    title = f"Weights, and level flight at {result.setups[0].trim.speed_mps:.0f} m/s"
    note = "Tail: trailing edge down is +. Flight time: until 80 % of the pack is used."
    table = page.table(title, heads, rows, words=4)
    return page.section("Trim and flight time", table, page.paragraph(note, "note"))


def _spins(result: StudyResult) -> str:
    rows = [
        (
            setup.name, case.manoeuvre_title, case.spin.mode, f"{100.0 * case.spin.share:.0f} %",
            f"{case.spin.alpha_deg:.0f}", f"{case.spin.yaw_rate_dps:.0f}",
            f"{case.spin.sink_mps:.1f}", f"{case.spin.rate:.2f}",
        )
        for setup in result.setups
        for case in spun_cases(setup)
        if case.spin is not None
    ]  # fmt: skip
    if not rows:
        return page.section("Spins", page.paragraph("No set-up spun."))
    figure, axes = one_axes(8.0, 3.6)
    spin_overview(axes, result.setups)
    text = "Angle of attack against yaw rate of every flight that spun; deep stalls turn too "
    text += "slowly to count. Medians are in the table."
    heads = (
        "set-up", "manoeuvre", "spin", "of flights", "angle of attack, °", "yaw, °/s", "sink, m/s",
        "turn rate, ωb/2V",
    )  # fmt: skip
    table = page.table("Spins: medians of the flights that spun", heads, rows, words=3)
    return page.section("Spins", page.picture(figure, "spins", text), table)


def _histories(flights: Sequence[tuple[str, Flight]]) -> str:
    parts = []
    for i, (words, flight) in enumerate(flights):
        figure = new_figure(8.0, 7.0)
        time_history(figure, flight)
        text = f"{words}: angles, rates, height and sink, and sticks over time. Shaded: the sticks "
        text += "ask for the departure; dashed: the first recovery input."
        parts.append(page.picture(figure, f"flight{i}", text))
    return page.section("Flights over time", *parts)


def _factors(result: StudyResult) -> str:
    if not result.factors:
        return ""
    ranked = sorted(result.factors, key=lambda f: -abs(f.correlation))
    rows = [
        (f.text, f.measure, strength_word(f.correlation), f"{f.correlation:+.2f}") for f in ranked
    ]
    heads = ("not exactly known", "what to measure", "strength", "rank correlation")
    note = "Correlation with coming back: with + more of it brought more back, with - fewer."
    title = "What decided it, and what to measure to know better"
    table = page.table("Uncertainties, the strongest first", heads, rows, words=3)
    return page.section(title, table, page.paragraph(note, "note"))


def _assumptions(result: StudyResult) -> str:
    lines = [
        f"Each case: {result.draws} draws of everything that is not exactly known, the same for "
        f"every set-up (scrambled Sobol points, seed {result.seed}).",
        f"Entered at {result.entry_m:.0f} m, floor {result.floor_m:.0f} m, unless a case says "
        "otherwise; a flight below the floor counts as lost, also one that never departed.",
        f"Asked: lower 95 % Wilson limit of held and recovered at {result.required_share_pct:g} % "
        "or more.",
        f"{result.flights} flights in {result.seconds:.0f} s; aftlimit {result.version}.",
        f"Study {result.study}, aeroplane {result.aeroplane}.",
    ]
    sources = "\n".join(
        f"<li>{page.escape(name)}: <code>{page.escape(digest[:SHORT_HASH])}</code></li>"
        for name, digest in result.sources
    )
    files = f"<details><summary>Files and their hashes</summary><ul>{sources}</ul></details>"
    return page.section("Assumptions", page.bullets(lines), files if sources else "")


def _cautions() -> str:
    return page.section("Cautions", f'<div class="caution">{page.bullets(CAUTIONS)}</div>')
