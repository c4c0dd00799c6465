"""The first screen of a report: the answer in words, and one picture of where it balances."""

from sim.describe import Aeroplane
from sim.judge import Outcome
from sim.pack.assemble import assemble, power_fit_of
from sim.power.bench_words import unmet_lines
from sim.show.drawing.canvas import new_figure, rows_of_axes
from sim.show.figures.balance_scale import draw_balance_scale, join_scales, scale_in
from sim.show.figures.side_view import draw_side_view
from sim.show.figures.study_figures import SYMBOLS
from sim.show.report.parts import (
    Bullets,
    First,
    Folded,
    Heading,
    Paragraph,
    Part,
    Picture,
    Section,
    Table,
    section,
)
from sim.show.words.findings.answer import (
    answer_sentences,
    band_text,
    headline,
    place_text,
    recovery_sentence,
)
from sim.show.words.findings.first import FIRST_TITLE, first_lines
from sim.show.words.findings.measuring import measuring_line
from sim.show.words.findings.packs import PACKS_TITLE, pack_heads, pack_rows, packs_text
from sim.show.words.phrases import CAUTIONS, capital, few_draws_text, listed, share_text, spoken
from sim.show.words.places.limits import (
    aft_text,
    against_text,
    each_text,
    figure_text,
    flown_text,
    for_whom,
    held_text,
    neutral_text,
    set_up_neutral_text,
)
from sim.show.words.places.never import never_text, not_forward_text
from sim.show.words.places.out_of_reach import out_of_reach_text
from sim.show.words.places.window import forward_of_text, forward_text, opening_text, window_text
from sim.show.words.recovery.deep_stall import short_text
from sim.show.words.recovery.higher import height_need_text, higher_texts
from sim.show.words.recovery.in_vain import IN_VAIN_NOTE, in_vain_short
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import Band, Percent, bands, shown_setup
from sim.study.standing.outcomes import best_recovery, failing_recoveries, setup_outcome, worst_case
from sim.study.standing.packs import pack_choices
from sim.study.standing.window import Kind, window_of
from sim.trim.senses import sense_doubts, senses
from sim.units.quantities import LENGTH
from sim.weigh.plausible import doubts
from sim.weigh.reference import reference

WIDE_IN, SIDE_IN = 5.6, 3.2


def answer(result: StudyResult, aeroplane: Aeroplane) -> Section:
    """Return the first screen of the report."""
    ref = reference(aeroplane)

    def percent(mm: float) -> float:
        return ref.pct_mac(mm / 1000.0)

    all_bands = bands(result)
    each = [_searched(x, result, percent) for x in all_bands if x.limit is not None]
    each += [_flown(x, result, percent) for x in all_bands if x.limit is None]
    beside = each[0] if each else []
    parts = [x for one in each[1:] for x in one]
    best = recovery_sentence(result)
    if best is not None:
        name, _, rest = best.partition(". ")
        parts += [Heading("Recovery"), Paragraph(f"{name}.", "big")]
        parts.append(Paragraph(rest, "note"))
    if result.setups:
        parts += [Heading("Set-ups"), Bullets([_setup(x, result) for x in result.setups])]
        if any(in_vain_short(x, result) for x in result.setups):
            parts.append(Paragraph(IN_VAIN_NOTE, "note"))
    caution = Paragraph(f"Caution: {CAUTIONS[0]} {CAUTIONS[1]}", "caution")
    first = First(beside, caution, _picture(result, aeroplane), parts)
    signs = sense_doubts(senses(assemble(aeroplane)))
    slips = [*doubts(aeroplane), *unmet_lines(power_fit_of(aeroplane)), *signs]
    doubtful = [Paragraph(f"Doubtful: {text}", "caution") for text in slips]
    full = Folded("The same in full sentences", (Bullets(answer_sentences(result)),))
    short = first_lines(result)
    head = headline(result, limits=not short)
    told = [x for x in (head, measuring_line(result)) if x]
    missing = [Paragraph(x, "caution") for x in higher_texts(result)]
    top = [*missing, *(Paragraph(text, "note") for text in told)]
    start: list[Part] = [Heading(FIRST_TITLE), Bullets(short)] if short else []
    return section("The answer", *doubtful, *start, *top, *_packs(result), first, full)


def _packs(result: StudyResult) -> list[Part]:
    """Return a row a pack, where set-ups differ by their packs alone."""
    choices = pack_choices(result)
    if not choices:
        return []
    heads = [head.replace("\n", " ") for head in pack_heads(choices)]
    rows = [[cell.replace("\n", " ") for cell in row] for row in pack_rows(choices)]
    return [Table(PACKS_TITLE, heads, rows), Paragraph(packs_text(choices), "note")]


def _searched(band: Band, result: StudyResult, percent: Percent) -> list[Part]:
    """Return an aft limit: the figure, then what it holds for, and what speaks against it."""
    limit = band.limit
    assert limit is not None
    who = for_whom(limit, result.aft_limits)
    big = f"Aft limit {figure_text(limit)}"
    if limit.aft_mm is None:
        big = "Aft limit: none found, not shown already at the foremost balance point tried"
        if held_text(limit):
            big = capital(held_text(limit))
    lines = [f"{flown_text(limit)[0].upper()}{flown_text(limit)[1:]}."]
    if limit.aft_mm is not None:
        lines.append(f"Met from {band_text(band, percent)}.")
    if each_text(limit):
        lines.append(f"Each alone: {each_text(limit)}.")
    lines.append(f"Searched with {limit.combination}.")
    reach = out_of_reach_text(limit)
    lines += [f"{reach[0].upper()}{reach[1:]}."] if reach else []
    neutral = neutral_text(limit)
    warnings = [f"{neutral[0].upper()}{neutral[1:]}."] if neutral else []
    if limit.behind_neutral_mm == 0.0:
        lines += warnings
        warnings = []
    if against_text(band):
        warnings.append(f"{against_text(band)}.")
    return [
        Heading(who[0].upper() + who[1:]),
        Paragraph(big, "big"),
        *([Paragraph(never_text(limit), "caution")] if limit.never else []),
        *([Paragraph(f"{not_forward_text(limit)}.", "caution")] if not_forward_text(limit) else []),
        *_lands(limit),
        *(Paragraph(text, "caution") for text in warnings),
        Paragraph(" ".join(lines), "note"),
    ]


def _lands(limit: AftLimit) -> list[Part]:
    """Return the window and what decides its front; where that is refuted, this alone."""
    forward, kind = limit.forward, window_of(limit.forward, limit).kind
    window = capital(window_text(forward, limit))
    told = [Paragraph(window, "big" if kind is Kind.OPEN else "caution")]
    if forward is None:
        return [*told]
    decided = f"{capital(forward_text(forward))}.{opening_text(forward, limit)}"
    if kind is Kind.REFUTED:
        return [Paragraph(decided, "caution")]
    return [*told, Paragraph(decided, "note")]


def _flown(band: Band, result: StudyResult, percent: Percent) -> list[Part]:
    """Return the band that set-ups flown stand for."""
    names = listed([spoken(m) for m in band.manoeuvres])
    note = f"Over all of {names}, at the set-ups flown ({listed(band.setups)}); no limit searched."
    few = few_draws_text(result.required_share_pct, result.draws)
    ends = band_text(band, percent, few)
    return [
        Heading(f"Pack {band.pack}"),
        Paragraph(f"Band that met the requirement: {ends}", "big"),
        Paragraph(note, "note"),
    ]


def _setup(setup: SetUpResult, result: StudyResult) -> str:
    required = result.required_share_pct
    outcome = setup_outcome(setup, required)
    case = worst_case(best_recovery(setup, required), required)
    worst = f"; at worst ({spoken(case.manoeuvre)}) {share_text(case.shares)}" if case else ""
    deep = "" if setup.deep_stall is None else short_text(setup.deep_stall)
    more = (
        aft_text(setup, result), height_need_text(setup, result), deep, set_up_neutral_text(setup),
        forward_of_text(setup),
    )  # fmt: skip
    parts = [x if x.startswith("NOT") else f"It {x.removeprefix('it ')}" for x in more if x]
    failing = [
        f"{spoken(c.recovery)} ({spoken(c.manoeuvre)} {c.shares.back} of {c.shares.flights})"
        for c in failing_recoveries(setup, required)
    ]
    parts += [f"Shown NOT to be enough alone: {listed(failing)}"] if failing else []
    parts += [x for x in (in_vain_short(setup, result),) if x]
    rest = "".join(f". {x}" for x in parts)
    stands = outcome.value
    if outcome is Outcome.OPEN:
        stands = few_draws_text(required, result.draws) or stands
    return f"{SYMBOLS[outcome]} {setup.name} ({place_text(setup)}): {stands}{worst}{rest}"


def _picture(result: StudyResult, aeroplane: Aeroplane) -> Picture:
    rows = scale_in(result.setups, result.aft_limits)
    figure = new_figure(WIDE_IN, SIDE_IN + rows)
    above, below = rows_of_axes(figure, (SIDE_IN, rows))
    shown = shown_setup(result)
    draw_side_view(above, aeroplane, result.setups, result.aft_limits, shown)
    required = result.required_share_pct
    draw_balance_scale(below, aeroplane, result.setups, result.aft_limits, required)
    join_scales(above, below)
    whose = f"{shown.name}'s " if shown is not None else ""
    text = (
        f"Side view in {LENGTH.spelled}, nose left: {whose}pack (filled box) in place, balance "
        "point (quartered disc; open circles: the other set-ups'), "
    )
    text += "neutral point (diamond). Enlarged below, by pack: the band that met the requirement "
    text += "(filled, striped behind the neutral point), the aft limit's 95 % limits (line under "
    text += "it), what was not shown (hatched), the forward limit by full aft stick (upright "
    text += "bar with its 95 % limits), and the set-ups: disc met, diamond undecided, "
    text += "cross not met."
    places = [f"{x.name} balances at {LENGTH.ahead(x.balance_aft_mm)}" for x in result.setups]
    places += [
        f"aft limit of {for_whom(x, result.aft_limits)}: {figure_text(x)}"
        for x in result.aft_limits
    ]
    places += [
        f"{for_whom(x, result.aft_limits)}: {window_text(x.forward, x)}" for x in result.aft_limits
    ]
    return Picture(figure, "where", text, f"{'; '.join(places)}.")
