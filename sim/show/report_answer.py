"""The first screen of a report: the answer in words, and one picture of where it balances."""

from sim.describe import Aeroplane
from sim.judge.plausible import doubts
from sim.show import page
from sim.show.answer import band_text, limit_in_short, listed, recovery_sentence, spoken
from sim.show.balance_scale import balance_scale, join_scales
from sim.show.canvas import new_figure, rows_of_axes
from sim.show.figures import SYMBOLS
from sim.show.phrases import CAUTIONS, answer_sentences, headline, setup_outcome, share_text
from sim.study.standing import best_recovery, worst_case
from sim.show.side_view import side_view
from sim.study.bands import Percent, Window, shown_setup, windows
from sim.study.result import SetUpResult, StudyResult
from sim.weigh.reference import reference

WIDE_IN, SIDE_IN, ROW_IN = 5.6, 3.2, 0.52


def answer(result: StudyResult, aeroplane: Aeroplane) -> str:
    """Return the first screen of the report."""
    ref = reference(aeroplane)

    def percent(mm: float) -> float:
        return ref.pct_mac(mm / 1000.0)

    found = windows(result)
    told = [w for w in found if w.aft_mm is not None or w.searched]
    parts = [_window(window, band_text(window, percent), result) for window in told]
    parts += _without_band([w for w in found if w not in told], percent)
    best = recovery_sentence(result)
    if best is not None:
        name, _, rest = best.partition(". ")
        parts += ["<h3>Recovery</h3>", page.paragraph(f"{name}.", "big")]
        parts.append(page.paragraph(rest, "note"))
    if result.setups:
        parts.append("<h3>Set-ups</h3>")
        parts.append(page.bullets(_setup(x, result.required_share_pct) for x in result.setups))
    inside = f'<div class="answer">{"".join(parts)}</div>'
    caution = page.paragraph(f"Caution: {CAUTIONS[0]} {CAUTIONS[1]}", "caution")
    first = f'<div class="first"><div>{inside}{caution}</div>{_picture(result, aeroplane)}</div>'
    doubtful = [page.paragraph(f"Doubtful: {text}", "caution") for text in doubts(aeroplane)]
    full = page.folded(
        "The same in full sentences",
        page.paragraph(headline(result)),
        page.bullets(answer_sentences(result)),
    )
    return page.section("The answer", *doubtful, first, full)


def _window(window: Window, band: str, result: StudyResult) -> str:
    limit = next((x for x in result.aft_limits if x.pack == window.pack), None)
    flown = " and ".join(spoken(m) for m in window.manoeuvres)
    big = f"Band that met the requirement: {band}"
    lines = [f"For {flown}, recovering by {spoken(window.recovery)}"]
    if limit is not None:
        lines = [f"{limit_in_short(limit)[0].upper()}{limit_in_short(limit)[1:]}.", *lines]
    text = f"{' '.join(lines)}; other manoeuvres were not searched." if limit else f"{lines[0]}."
    return (
        f"<h3>Pack {page.escape(window.pack)}</h3>"
        + page.paragraph(big, "big")
        + page.paragraph(text, "note")
    )


def _without_band(none: list[Window], percent: Percent) -> list[str]:
    """Return the packs whose set-ups show no band, those of a kind together."""
    groups: dict[str, list[str]] = {}
    for window in none:
        groups.setdefault(band_text(window, percent), []).append(window.pack)
    return [
        f"<h3>Pack {page.escape(listed(packs))}</h3>"
        + page.paragraph(f"Band that met the requirement: {text}", "big")
        for text, packs in groups.items()
    ]


def _setup(setup: SetUpResult, required: float) -> str:
    found = setup_outcome(setup, required)
    case = worst_case(best_recovery(setup))
    told = f"; at worst ({spoken(case.manoeuvre)}) {share_text(case.shares)}" if case else ""
    return f"{SYMBOLS[found]} {setup.name}, {setup.balance_aft_mm:.0f} mm: {found.value}{told}"


def _picture(result: StudyResult, aeroplane: Aeroplane) -> str:
    packs = {x.pack for x in result.setups} | {x.pack for x in result.aft_limits}
    rows = 0.95 + ROW_IN * (len(packs) + 0.5)
    figure = new_figure(WIDE_IN, SIDE_IN + rows)
    above, below = rows_of_axes(figure, (SIDE_IN, rows))
    shown = shown_setup(result)
    side_view(above, aeroplane, result.setups, result.aft_limits, shown)
    balance_scale(below, aeroplane, result.setups, result.aft_limits, result.required_share_pct)
    join_scales(above, below)
    text = (
        "Side view in mm, nose left: pack (filled box) in place, balance point (quartered disc), "
    )
    text += "neutral point (diamond). Enlarged below, by pack: the band that met the requirement "
    text += "(filled), what was not shown (hatched), and the set-ups: disc met, diamond undecided, "
    text += "cross not met."
    places = [f"{x.name} balances at {x.balance_aft_mm:.0f} mm" for x in result.setups]
    places += [f"aft limit of {x.pack}: {x.aft_mm:.0f} mm" for x in result.aft_limits if x.aft_mm]
    return page.picture(figure, "where", text, f"{'; '.join(places)}.")
