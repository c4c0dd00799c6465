"""The tables of a study: what came back, heights, aft limits, trim, spins, what decided."""

from collections.abc import Sequence

from rich.table import Table

from sim.describe.study import ENTRY_M
from sim.show.answer import band_sentences, recovery_sentence, spoken
from sim.study.chance import noise_level, told_apart
from sim.show.console import Tables, add, bullets, heading, notes, paragraph, table
from sim.show.phrases import (
    CAUTION,
    Budget,
    answer_sentences,
    budget,
    headline,
    limits_text,
    lost_texts,
    needed_texts,
    strength_word,
    time_text,
)
from sim.study.standing import Outcome, best_case, manoeuvres_of, outcome, recoveries_of
from sim.study.result import AftLimit, CaseResult, SetUpResult, StudyResult

MOST_COLUMNS = 5  # manoeuvres or recoveries side by side that 100 characters hold
MOST_FACTORS = 6
LONGEST_NAME = 18
BUDGET_WORDS = {Budget.FITS: "yes", Budget.SHORT: "short", Budget.ABOVE: "(NO)", Budget.NO: "NO"}
MARKS = {Outcome.MET: "+", Outcome.OPEN: "?", Outcome.NOT_MET: "x"}


def study_tables(result: StudyResult) -> Tables:
    """Return everything that a study prints, in reading order."""
    out: Tables = [heading(f"{result.title} ({result.aeroplane_title})"), paragraph("")]
    out += [paragraph(headline(result))]
    best = recovery_sentence(result)
    out += bullets([*band_sentences(result), *([best] if best else []), *answer_sentences(result)])
    if result.aft_limits:
        out.append(limits_table(result.aft_limits))
    if result.setups:
        out += [*_matrices(result), *_recoveries(result.setups), *_heights(result)]
        out += [_weights(result.setups), *_level(result.setups), *_spins(result.setups)]
    if result.setups:
        out += _factors(result)
    out += [*_key(result), *notes([_small_print(result)]), paragraph("")]
    return [*out, paragraph(f"Caution: {CAUTION}")]


def stacked(name: str) -> str:
    """Return a file's name as words below each other, two short ones to a line."""
    lines = [""]
    for word in name.split("_"):
        if lines[-1] and len(lines[-1]) + len(word) < 12:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return "\n".join(lines[1:])


def signed(value: float) -> str:
    """Return a number with its sign and one decimal, never a minus before nought."""
    return f"{round(value, 1) + 0.0:+.1f}"


def names_whole(to: Table, setups: Sequence[SetUpResult]) -> None:
    """Keep set-up names, up to a length, on one line of the first column."""
    to.columns[0].min_width = min(LONGEST_NAME, max(len(x.name) for x in setups))


def limits_table(limits: Sequence[AftLimit]) -> Table:
    """Return the aft limit of each pack."""
    out = table(
        "Aft limit by pack", "pack", "from", "best recovery", "mm aft", "% MAC",
        "back there,\n95 % limits", "draws\nthere", "not shown\nat, mm", "flights\nin all", left=3,
    )  # fmt: skip
    for limit in limits:
        aft = "none found" if limit.aft_mm is None else f"{limit.aft_mm:.0f}"
        if limit.at_end:
            aft = f"beyond {aft}"
        add(
            out, limit.pack, " and ".join(spoken(m) for m in limit.manoeuvres),
            spoken(limit.recovery), aft,
            "-" if limit.pct_mac is None else f"{limit.pct_mac:.1f}",
            limits_text(limit.share_low, limit.share_high), f"{limit.draws_used}",
            "-" if limit.first_failure_mm is None else f"{limit.first_failure_mm:.0f}",
            f"{limit.flights_used}",
        )  # fmt: skip
    return out


def _cell(case: CaseResult | None, required: float) -> str:
    if case is None:
        return "-"
    mark = MARKS[outcome(case.shares, required)]
    resolved = case.shares.flights - case.shares.unresolved
    limits = limits_text(case.shares.back_low, case.shares.back_high)
    return f"{mark} {case.shares.back}/{resolved}\n{limits}"


def _groups(names: Sequence[str]) -> list[Sequence[str]]:
    return [names[i : i + MOST_COLUMNS] for i in range(0, len(names), MOST_COLUMNS)]


def _matrices(result: StudyResult) -> Tables:
    out: Tables = []
    for names in _groups(list(manoeuvres_of(result.setups))):
        grid = table(
            "Came back, by manoeuvre, with the best recovery of each (95 % limits below)",
            "set-up", "mm", "% MAC", *(stacked(name) for name in names),
        )  # fmt: skip
        for setup in result.setups:
            cells = (_cell(best_case(setup, k), result.required_share_pct) for k in names)
            place = f"{setup.balance_aft_mm:.0f}", f"{setup.balance_pct_mac:.1f}"
            add(grid, setup.name, *place, *cells)
        out.append(grid)
    need = f"{result.required_share_pct:g} %"
    legend = f"+ lower limit at or above {need};  x upper limit below {need};  ? cannot be told"
    return [*out, *notes([legend])]


def _recoveries(setups: Sequence[SetUpResult]) -> Tables:
    out: Tables = []
    for names in _groups(list(recoveries_of(setups))):
        grid = table(
            "Came back, by recovery, all manoeuvres together",
            "set-up", *(stacked(name) for name in names),
        )  # fmt: skip
        for setup in setups:
            add(grid, setup.name, *(_together(setup, name) for name in names))
        out.append(grid)
    return out


def _together(setup: SetUpResult, recovery: str) -> str:
    cases = [c for c in setup.cases if c.recovery == recovery]
    total = sum(c.shares.flights - c.shares.unresolved for c in cases)
    back = sum(c.shares.back for c in cases)
    return f"{back}/{total} {100.0 * back / total:3.0f} %" if total else "-"


def _heights(result: StudyResult) -> Tables:
    out = table(
        "Height, m, with the best recovery of each manoeuvre",
        "set-up", "manoeuvre", "best recovery", "lost from\nfirst\ninput,\nmedian", "95 %",
        "entry\nheight\nneeded,\nmedian", "95 %", f"fits\n{ENTRY_M:.0f} m", left=3,
    )  # fmt: skip
    names_whole(out, result.setups)
    for setup in result.setups:
        for i, name in enumerate(manoeuvres_of([setup])):
            case = best_case(setup, name)
            assert case is not None
            cells = [_short(text) for text in (*lost_texts(case), *needed_texts(case))]
            fits = BUDGET_WORDS[budget(case)]
            add(
                out, setup.name if i == 0 else "", spoken(name), spoken(case.recovery), *cells, fits
            )
    text = [
        "Entry height needed: the whole manoeuvre and the floor under it. > is more than: flights "
        "that never came back count as endless.",
        f"NO: 95 % of flights need more; it cannot be tested lawfully from {ENTRY_M:.0f} m here. "
        "(NO): nor from there, but the study's own entry height is enough. short: below the usual "
        "ceiling, but not from the study's entry height.",
    ]
    return [out, *notes(text)]


def _short(text: str) -> str:
    return text.replace("more than ", "> ")


def _weights(setups: Sequence[SetUpResult]) -> Table:
    out = table(
        "Weight and balance",
        "set-up", "pack", "pack\nat, mm", "added\ng", "mass\ng", "balance\nmm aft",
        "balance\n% MAC", "neutral\n% MAC", "margin\n% MAC", "stall\nm/s", left=2,
    )  # fmt: skip
    names_whole(out, setups)
    for x in setups:
        added = sum(grams for _, grams in x.added_weights)
        add(
            out, x.name, x.pack, f"{x.pack_aft_mm:.0f}", f"{added:.0f}" if added else "-",
            f"{x.mass_g:.0f}", f"{x.balance_aft_mm:.0f}", f"{x.balance_pct_mac:.1f}",
            f"{x.neutral_point_pct_mac:.1f}", f"{x.static_margin_pct:.1f}",
            f"{x.stall_speed_mps:.1f}",
        )  # fmt: skip
    return out


def _level(setups: Sequence[SetUpResult]) -> Tables:
    out = table(
        f"Level flight at {setups[0].trim.speed_mps:.0f} m/s",
        "set-up", "angle of\nattack, deg", "pitch\nsurface, deg", "throttle\n%", "current\nA",
        "level cruise\nonly, min", "pitch-up, full\naft stick, deg/s2",
    )  # fmt: skip
    for x in setups:
        trim = x.trim
        cells = (
            f"{trim.alpha_deg:.1f}", signed(trim.tail_deg), f"{100.0 * trim.throttle:.0f}",
            f"{trim.current_a:.1f}", f"{trim.minutes:.1f}", f"{trim.pitch_response_dps2:.0f}",
        )  # fmt: skip
        add(out, x.name, *(cells if trim.found else ("not found", "-", "-", "-", "-", "-")))
    text = (
        "Pitch surface: tail or elevons, trailing edge down is +. Level cruise only: until 80 % of "
    )
    text += "the pack is used, flying nothing else; no timer setting."
    return [out, *notes([text])]


def _spins(setups: Sequence[SetUpResult]) -> Tables:
    out = table(
        "Spins and deep stalls: medians of the flights that did so",
        "set-up", "manoeuvre", "spin", "of\nflights", "alpha\ndeg", "yaw\ndeg/s",
        "sink\nm/s", "turn rate\nwb/2V", left=3,
    )  # fmt: skip
    names_whole(out, setups)
    for setup in setups:
        for i, case in enumerate(spun_cases(setup)):
            spin = case.spin
            assert spin is not None
            add(
                out, setup.name if i == 0 else "", spoken(case.manoeuvre), spin.mode,
                f"{100.0 * spin.share:.0f} %", f"{spin.alpha_deg:.0f}",
                f"{spin.yaw_rate_dps:.0f}", f"{spin.sink_mps:.1f}", f"{spin.rate:.2f}",
            )  # fmt: skip
    return [out] if out.row_count else [paragraph(""), paragraph("No set-up spun.")]


def spun_cases(setup: SetUpResult) -> list[CaseResult]:
    """Return one case for each manoeuvre that spun; recoveries share its entries."""
    seen: dict[str, CaseResult] = {}
    for case in setup.cases:
        if case.spin is not None:
            seen.setdefault(case.manoeuvre, case)
    return list(seen.values())


def _factors(result: StudyResult) -> Tables:
    ranked = told_apart(result.factors, result.draws)[:MOST_FACTORS]
    title = "What decided it, and what to measure to know better"
    level = f"With {result.draws} draws chance alone shows up to {noise_level(result.draws):.2f} "
    level += "(95 % of the time); what is weaker is not distinguishable and not listed."
    if not ranked:
        return [paragraph(""), paragraph(title, "bold"), *notes([f"Not distinguishable. {level}"])]
    out = table(
        title, "not exactly known", "goes with coming back", "measure", left=3,
    )  # fmt: skip
    for f in ranked:
        add(out, f.text, f"{f.correlation:+.2f} {strength_word(f.correlation)}", f.measure)
    text = "Rank correlation with coming back: with + more of it brought more back, with - fewer."
    return [out, *notes([text, level])]


def _key(result: StudyResult) -> Tables:
    pairs = manoeuvres_of(result.setups) | recoveries_of(result.setups)
    if not pairs:
        return [paragraph("")]
    out = table("Manoeuvres and recoveries", "name", "what is flown", left=2)
    for name, title in pairs.items():
        add(out, spoken(name), title)
    return [out, paragraph("")]


def _small_print(result: StudyResult) -> str:
    return (
        f"{time_text(result)} {result.draws} draws a case, seed {result.seed}, the same for every "
        f"set-up; entered at {result.entry_m:.0f} m, floor {result.floor_m:.0f} m; "
        f"aftlimit {result.version}."
    )
