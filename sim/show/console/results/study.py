"""The tables of a study: what came back, heights, aft limits, trim, spins, what decided."""

from collections.abc import Sequence

from sim.judge import outcome
from sim.show.console.aeroplane.landing import windows_table
from sim.show.console.console import (
    Tables,
    add,
    bullets,
    heading,
    names_whole,
    notes,
    paragraph,
    table,
)
from sim.show.console.results.agility import agility_tables
from sim.show.console.results.changes import change_tables, set_up_tables
from sim.show.console.results.deep_stall import deep_stall_tables
from sim.show.console.results.flight_time import flight_time_tables
from sim.show.console.results.limits import limits_tables
from sim.show.console.results.measuring import measuring_tables
from sim.show.console.results.recovery import groups, recovery_tables, stacked
from sim.show.console.results.structure import structure_tables
from sim.show.words.findings.answer import answer_sentences, headline
from sim.show.words.findings.first import FIRST_TITLE, first_lines
from sim.show.words.findings.left_out import left_out_texts
from sim.show.words.findings.packs import PACKS_TITLE, pack_heads, pack_rows, packs_text
from sim.show.words.phrases import (
    CAUTION,
    MARKS,
    NONE_STANDS_OUT,
    also_texts,
    limits_text,
    lost_texts,
    luck_text,
    needed_texts,
    reasons_text,
    signed,
    spoken,
    strength_word,
)
from sim.show.words.recovery.fly_from import RULE, SHOWN_FROM, shown_from_cell
from sim.show.words.recovery.higher import ceiling_text, entries_text, higher_texts
from sim.show.words.steps import step_sentence
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.chance import noise_level, told_apart
from sim.study.standing.heights import Budget, budget
from sim.study.standing.outcomes import best_case, best_recovery, manoeuvres_of, recoveries_of
from sim.study.standing.packs import pack_choices
from sim.units.quantities import HEIGHT, LENGTH, SPEED

MOST_FACTORS = 6
FULL_TITLE = "In full sentences"
NOT_HERE = (
    "What each set-up is, what each change bought and cost, agility, trim, flight time, spins, "
    "what decided it, and all in full sentences: in the report, or here with 'aftlimit study ... "
    "--whole'."
)
BUDGET_WORDS = {
    Budget.FITS: "yes", Budget.SHORT: "short", Budget.ABOVE: "leave", Budget.UNSHOWN: "unshown",
    Budget.NO: "NO",
}  # fmt: skip


def study_tables(result: StudyResult, whole: bool = True) -> Tables:
    """Return what a study prints, in reading order: the answer and what to do first.

    What decides it follows as tables. ``whole``: then the rest too; each limit and set-up told in
    full stands last, and is no more than the tables say.
    """
    out: Tables = [heading(f"{result.title} ({result.aeroplane_title})"), paragraph("")]
    short = first_lines(result)
    if short:
        out += [paragraph(FIRST_TITLE, "bold"), *bullets(short), paragraph("")]
    for text in (*higher_texts(result), *left_out_texts(result)):
        out += [paragraph(text, "bold"), paragraph("")]
    out += [paragraph(headline(result, limits=not short)), *_packs(result)]
    if result.aft_limits:
        out += [*limits_tables(result.aft_limits), *windows_table(result.aft_limits)]
    if result.setups:
        out += [*_matrices(result), *recovery_tables(result), *_heights(result)]
        out += _all_else(result) if whole else structure_tables(result.setups)
        out += deep_stall_tables(result, whole)
        out += _factors(result) if whole else []
    out += measuring_tables(result)
    out += _key(result)
    if whole:
        out += [paragraph(FULL_TITLE, "bold"), *bullets(answer_sentences(result)), paragraph("")]
        out += notes(_step_note(result))
    elif result.setups:
        out += notes([NOT_HERE])
    out += [*notes([_small_print(result)]), paragraph("")]
    return [*out, paragraph(f"Caution: {CAUTION}")]


def _all_else(result: StudyResult) -> Tables:
    """Return what decides nothing: what set-ups are, what each change bought, what they can do."""
    return [
        *set_up_tables(result), *change_tables(result), *agility_tables(result),
        *_level(result.setups), *flight_time_tables(result.setups),
        *structure_tables(result.setups), *_spins(result.setups),
    ]  # fmt: skip


def _packs(result: StudyResult) -> Tables:
    """Return a row a pack, where set-ups differ by their packs alone."""
    choices = pack_choices(result)
    if not choices:
        return []
    out, rows = table(PACKS_TITLE, *pack_heads(choices)), pack_rows(choices)
    names_whole(out, [row[0] for row in rows])
    for row in rows:
        add(out, *row)
    return [out, *notes([packs_text(choices)])]


def _cell(case: CaseResult | None, required: float) -> str:
    if case is None:
        return "-"
    mark = MARKS[outcome(case.shares, required)]
    limits = limits_text(case.shares.back_low, case.shares.back_high)
    return f"{mark} {case.shares.back}/{case.shares.flights}\n{limits}"


def _matrices(result: StudyResult) -> Tables:
    out: Tables = []
    for names in groups(list(manoeuvres_of(result.setups))):
        grid = table(
            "Came back, by manoeuvre, with the set-up's best single recovery (95 % limits below)",
            "set-up", str(LENGTH), "% MAC", *(stacked(name) for name in names),
        )  # fmt: skip
        for setup in result.setups:
            required = result.required_share_pct
            cells = (_cell(best_case(setup, k, required), required) for k in names)
            place = LENGTH.at_most(setup.balance_aft_mm), f"{setup.balance_pct_mac:.1f}"
            add(grid, setup.name, *place, *cells)
        out.append(grid)
    need = f"{result.required_share_pct:g} %"
    legend = f"+ lower limit at or above {need};  x upper limit below {need};  ? cannot be told. "
    legend += "Each case flies on until it is decided, or no answer hangs on it any more; its "
    legend += "limits allow for looking so often."
    return [*out, *notes([legend, *_lost_notes(result)])]


def _lost_notes(result: StudyResult) -> list[str]:
    """Return why flights were lost, and which held ones went to high angles, set-up by set-up."""
    lines = []
    for setup in result.setups:
        for case in best_recovery(setup, result.required_share_pct):
            parts = [x for x in (reasons_text(case.shares), *also_texts(case.shares)) if x]
            if parts:
                lines.append(f"{setup.name}, {spoken(case.manoeuvre)}: {'; '.join(parts)}.")
    return lines


def _heights(result: StudyResult) -> Tables:
    out = table(
        f"Height, {HEIGHT}, with the set-up's best single recovery",
        "set-up", "manoeuvre", "recovery", "lost from\nfirst\ninput,\nmedian",
        "95 % of\nthose\nflown",
        "entry\nheight\nneeded,\nmedian", SHOWN_FROM, f"fits\n{HEIGHT(result.ceiling_m)}", left=3,
    )  # fmt: skip
    names_whole(out, [x.name for x in result.setups])
    for setup in result.setups:
        for i, name in enumerate(manoeuvres_of([setup])):
            case = best_case(setup, name, result.required_share_pct)
            if case is None:
                continue
            told = (*lost_texts(case), needed_texts(case)[0], shown_from_cell(case, result))
            cells = [_short(text) for text in told]
            fits = BUDGET_WORDS[
                budget(case, result.ceiling_m, result.required_share_pct, result.draws)
            ]
            add(
                out, setup.name if i == 0 else "", spoken(name), spoken(case.recovery), *cells, fits
            )
    text = [
        "Entry height needed: the whole manoeuvre and the floor under it. > is more than: flights "
        f"that never came back count as endless. {RULE}",
        f"yes: shown from no more than {ceiling_text(result)}. leave: from the study's entry "
        "height, which lies above that ceiling: only with leave. short: from below the ceiling, "
        "but not from the study's entry height. unshown: enough of those flown fit, and the draws "
        "do not show it. NO: none of these.",
    ]
    return [out, *notes(text)]


def _short(text: str) -> str:
    return text.replace("more than ", "> ")


def _level(setups: Sequence[SetUpResult]) -> Tables:
    glides = setups[0].trim.descent_deg is not None
    head = "Gliding" if glides else "Level flight"
    heads = ("descent\ndeg",) if glides else ("throttle\n%", "current\nA")
    out = table(
        f"{head} at {SPEED(setups[0].trim.speed_mps)}",
        "set-up", "angle of\nattack, deg", "pitch\nsurface, deg", *heads,
        "pitch-up, full\naft stick, deg/s2",
    )  # fmt: skip
    for x in setups:
        trim = x.trim
        costs: tuple[str, ...] = (f"{100.0 * trim.throttle:.0f}", f"{trim.current_a:.1f}")
        if trim.descent_deg is not None:
            costs = (f"{trim.descent_deg:.1f}",)
        cells = (
            f"{trim.alpha_deg:.1f}", signed(trim.tail_deg), *costs,
            f"{trim.pitch_response_dps2:.0f}",
        )  # fmt: skip
        add(out, x.name, *(cells if trim.found else ("not found", *("-",) * (len(cells) - 1))))
    text = "Pitch surface: tail, canard or elevons, trailing edge down is +. Steady "
    text += (
        "glide, nominal, at this one speed."
        if glides
        else ("level flight, nominal, at this one slow speed: flying takes more, see flight time.")
    )
    return [out, *notes([text])]


def _spins(setups: Sequence[SetUpResult]) -> Tables:
    out = table(
        "Spins and mushes: medians of the flights that did so",
        "set-up", "manoeuvre", "spin", "of\nflights", "alpha\ndeg", "yaw\ndeg/s",
        f"sink\n{SPEED}", "turn rate\nwb/2V", left=3,
    )  # fmt: skip
    names_whole(out, [x.name for x in setups])
    for setup in setups:
        for i, case in enumerate(spun_cases(setup)):
            spin = case.spin
            assert spin is not None
            add(
                out, setup.name if i == 0 else "", spoken(case.manoeuvre), spin.mode,
                f"{100.0 * spin.share:.0f} %", f"{spin.alpha_deg:.0f}",
                f"{spin.yaw_rate_dps:.0f}", SPEED.figure(spin.sink_mps, ".1f"), f"{spin.rate:.2f}",
            )  # fmt: skip
    if not out.row_count:
        return [paragraph(""), paragraph("No set-up spun.")]
    text = "Mush: stalled and hardly turning, whatever holds it there; where it hangs on against a "
    return [out, *notes([f"{text}recovery stands under deep stall."])]


def spun_cases(setup: SetUpResult) -> list[CaseResult]:
    """Return one case for each manoeuvre that spun; recoveries share its entries."""
    seen: dict[str, CaseResult] = {}
    for case in setup.cases:
        if case.spin is not None:
            seen.setdefault(case.manoeuvre, case)
    return list(seen.values())


def _factors(result: StudyResult) -> Tables:
    ranked = told_apart(result.factors, result.factor_draws)[:MOST_FACTORS]
    title = "What decided it, and what to measure to know better"
    if not result.factor_draws:
        return []
    level = luck_text(noise_level(result.factor_draws), result.factor_draws)
    if not ranked:
        return [paragraph(""), paragraph(title, "bold"), *notes([f"{NONE_STANDS_OUT} {level}"])]
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


def _step_note(result: StudyResult) -> list[str]:
    return [] if result.step is None else [step_sentence(result.step)]


def _small_print(result: StudyResult) -> str:
    return (
        f"Up to {result.draws} draws a case, seed {result.seed}, the same for every set-up; "
        f"{entries_text(result)}; aftlimit {result.version}."
    )
