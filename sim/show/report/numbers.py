"""Sections of a report on numbers: what going aft buys, weights and trim, spins."""

from shlex import quote

from sim.show.console.results.changes import (
    CHANGES_TOLD,
    change_cells,
    change_heads,
    change_rows,
)
from sim.show.console.results.flight_time import time_cells, time_heads, time_notes
from sim.show.console.results.study import spun_cases
from sim.show.drawing.canvas import one_axes
from sim.show.figures.gain_risk import draw_gains_and_risks
from sim.show.figures.study_figures import draw_spin_overview
from sim.show.report.parts import Bullets, Paragraph, Part, Picture, Section, Table, section
from sim.show.words.bench.changes import differing, weight_note
from sim.show.words.bench.flight_time import warnings_of
from sim.show.words.findings.agility import (
    TOLD,
    figure_text,
    head_of,
    manoeuvres_shown,
    out_text,
    shortfalls,
    spread_text,
    time_text,
)
from sim.show.words.findings.bought import TRADED_HEADS, traded_notes, traded_rows, traded_title
from sim.show.words.phrases import signed, spoken
from sim.study.combinations import GYRO_ON
from sim.study.results.result import StudyResult
from sim.study.results.set_up import TrimLine
from sim.units.quantities import HEIGHT, LENGTH, LOADING, MASS, SPEED

GYRO_TOLD = (
    "A study flies the gyro and does not look whether its loop keeps its margins. The card of the "
    "set-up does, by the command beside it, given where the study was flown: each axis inside, "
    "OVER or BACKWARDS from the approach to a dive at idle. aftlimit gains tells what to set, for "
    "the set-ups of the aeroplane's own file."
)
PICTURED = ("angle", "pass", "loop")  # kinds that stand against risk in the picture


def gains_and_risks(result: StudyResult) -> Section:
    """Return what the set-ups can do against what they risk."""
    gains = _gains(result)
    figure = draw_gains_and_risks(result.setups, gains, result.required_share_pct)
    text = "What set-ups give (better to the right) against what they risk (upwards), by the best "
    text += "single recovery in the worst manoeuvre. Numbers: balance point in "
    text += f"{LENGTH.spelled}. Bars: 10 to 90 % "
    text += "of draws across, 95 % limits upwards; a triangle: so few flights set no upper limit. "
    text += "Rings, joined by a dotted line: the best compromises, no other set-up gives as much "
    text += "for less risk, by middle values; where bars overlap, chance may have chosen. Flights "
    text += "that did not come out forwards count as no gain."
    numbers = "; ".join(
        f"{x.name}: {x.trim.pitch_response_dps2:.0f} °/s², throttle {100.0 * x.trim.throttle:.0f} %"
        for x in result.setups
    )
    picture = Picture(figure, "gains", text, f"{numbers}.")
    parts: list[Part] = [picture, *_agility(result), Paragraph(_cruise(result))]
    return section("What going aft buys, and what it costs", *parts)


def _gains(result: StudyResult) -> list[str]:
    """Return what is set against risk: one manoeuvre of each kind, else level flight's."""
    kinds = {x.shows: x.manoeuvre for x in reversed(manoeuvres_shown(result.setups))}
    found = [kinds[kind] for kind in PICTURED if kind in kinds]
    return found or ["pitch_response", "pitch_trim"]


def _agility(result: StudyResult) -> list[Part]:
    """Return what each set-up shows in each manoeuvre, and what it cannot do."""
    rows = [
        (
            setup.name, spoken(x.manoeuvre), head_of(x).replace("\n", " "), figure_text(x),
            time_text(x), spread_text(x.angle_deg), spread_text(x.pitch_rate_dps),
            f"{x.load_g.median:.1f}", HEIGHT.figure(x.height_used_m.median),
            out_text(x).replace("\n", ", "),
        )
        for setup in result.setups
        for x in setup.agility
    ]  # fmt: skip
    if not rows:
        return []
    heads = (
        "set-up", "manoeuvre", "flown for", "median (10-90 %)", "after, s", "peak angle, °",
        "pitch rate, °/s", "load factor", f"height used, {HEIGHT}", "came out",
    )  # fmt: skip
    draws = max(x.flights for x in manoeuvres_shown(result.setups))
    lines = shortfalls(result.setups)
    return [
        Table(f"What each set-up can do, {draws} draws each", heads, rows, words=3),
        Paragraph(TOLD, "note"),
        *([Bullets(lines)] if lines else []),
    ]


def _cruise(result: StudyResult) -> str:
    """Return what the set-ups cost in level flight, in a sentence."""
    flying = [x.trim for x in result.setups if x.trim.found]
    if not flying:
        return "No set-up has level flight at the cruise speed of the study."
    throttle, current = [100.0 * t.throttle for t in flying], [t.current_a for t in flying]
    return (
        f"In level flight at {SPEED(flying[0].speed_mps)} the set-ups take {min(throttle):.1f} to "
        f"{max(throttle):.1f} % throttle and {min(current):.1f} to {max(current):.1f} A."
    )


def trims(result: StudyResult, card_command: str = "aftlimit card FOLDER") -> Section:
    """Return weights and level flight of the set-ups, in two tables."""
    weights: list[tuple[str, ...]] = []
    levels = []
    same, apart = differing(result.setups)
    for x in result.setups:
        behind = " (BEHIND neutral)" if x.static_margin_pct < 0.0 else ""
        weights.append((
            x.name, x.title, x.pack, *(told[len(weights)] for told in apart.values()),
            LENGTH.figure(x.pack_aft_mm), MASS.figure(x.mass_g),
            LOADING.figure(10.0 * x.wing_loading_kg_m2), LENGTH.at_most(x.balance_aft_mm),
            f"{x.balance_pct_mac:.1f}", f"{x.static_margin_pct:.1f}{behind}",
            SPEED.figure(x.stall_speed_mps, ".1f"),
        ))  # fmt: skip
        levels.append((x.name, *_level(x.trim)))
    weight_heads = (
        "set-up", "what", "pack", *apart, f"pack at, {LENGTH}", f"mass, {MASS}", str(LOADING),
        f"balance, {LENGTH}",
        "% MAC", "static margin, % MAC", f"stall, {SPEED}",
    )  # fmt: skip
    level_heads = (
        "set-up", "angle of attack, °", "pitch surface, °", "throttle, %", "current, A",
        "full aft stick, °/s²",
    )  # fmt: skip
    title = f"Level flight at {SPEED(result.setups[0].trim.speed_mps)}"
    note = (
        "Pitch surface: trailing edge down is +. Steady level flight, nominal, at this slow speed: "
    )
    note += "flying takes more current, see flight time."
    shared = (
        f"The same in all set-ups: {'; '.join(same)}." if same else "Nothing is the same in all."
    )
    shared += f" {weight_note(result)}"
    return section(
        "What each set-up is, and its trim",
        Table("What each set-up is", weight_heads, weights, words=3 + len(apart)),
        Paragraph(shared, "note"),
        Table(title, level_heads, levels),
        Paragraph(note, "note"),
        *_gyros(result, card_command),
        *_times(result),
        *_changes(result),
    )


def _gyros(result: StudyResult, card_command: str) -> list[Part]:
    """Return the gyros that are on, and what tells whether their loops stand their gains."""
    rows = [
        (x.name, x.gyro, f"{card_command} --setup {quote(x.name)}")
        for x in result.setups
        if x.gyro.startswith(GYRO_ON)
    ]
    if not rows:
        return []
    return [
        Table("Gyro, not held against its loop here", ("set-up", "as set", "see"), rows, words=3),
        Paragraph(GYRO_TOLD, "note"),
    ]


def _times(result: StudyResult) -> list[Part]:
    """Return flight times and timers, how they come about, and what is too much."""
    heads = ("set-up", "pack", *(head.replace("\n", " ") for head in time_heads()))
    rows = [(x.name, x.pack, *time_cells(x)) for x in result.setups]
    warnings = [Paragraph(f"Too much: {x}", "caution") for x in warnings_of(result.setups)]
    told = [Paragraph(text, "note") for text in time_notes(result.setups)]
    return [Table("Flight time, from flown work", heads, rows, words=2), *warnings, *told]


def _level(trim: TrimLine) -> tuple[str, ...]:
    if not trim.found:
        return ("none found", "-", "-", "-", "-")
    return (
        f"{trim.alpha_deg:.1f}", signed(trim.tail_deg), f"{100.0 * trim.throttle:.0f}",
        f"{trim.current_a:.1f}", f"{trim.pitch_response_dps2:.0f}",
    )  # fmt: skip


def _changes(result: StudyResult) -> list[Part]:
    """Return what every single change moved, from the set-up flown today."""
    if not result.changes:
        return []
    heads = ("to", "change", *(head.replace("\n", " ") for head in change_heads()))
    start = result.changes[0].lines[0]
    first = (result.today, start.what, *change_cells(start, None))
    rows = [first, *(row for one in result.changes for row in change_rows(one, name_all=True))]
    told = [tuple(cell.replace("\n", " ") for cell in row) for row in rows]
    title = f"Before and after: from {result.today}, one change at a time"
    traded = traded_rows(result, name_all=True)
    return [
        Table(title, heads, told, words=2),
        Paragraph(CHANGES_TOLD, "note"),
        Table(traded_title(result), TRADED_HEADS, traded, words=len(TRADED_HEADS)),
        *(Paragraph(text, "note") for text in traded_notes(result)),
    ]


def spins(result: StudyResult) -> Section:
    """Return the spins of the set-ups: figure and medians."""
    rows = [
        (
            setup.name, spoken(case.manoeuvre), case.spin.mode, f"{100.0 * case.spin.share:.0f} %",
            f"{case.spin.alpha_deg:.0f}", f"{case.spin.yaw_rate_dps:.0f}",
            SPEED.figure(case.spin.sink_mps, ".1f"), f"{case.spin.rate:.2f}",
        )
        for setup in result.setups
        for case in spun_cases(setup)
        if case.spin is not None
    ]  # fmt: skip
    if not rows:
        return section("Spins", Paragraph("No set-up spun."))
    figure, axes = one_axes(6.2, 3.3)
    draw_spin_overview(axes, result.setups)
    text = "Angle of attack against turn about the vertical of every flight that spun; a mush "
    text += "(stalled, hardly turning, whatever holds it there) is in the table alone."
    heads = (
        "set-up", "manoeuvre", "spin", "of flights", "angle of attack, °", "yaw, °/s",
        f"sink, {SPEED}", "turn rate, ωb/2V",
    )  # fmt: skip
    table = Table("Spins and mushes: medians of the flights that did so", heads, rows, words=3)
    return section("Spins", Picture(figure, "spins", text), table)
