"""The answer in a few sentences: aft limits, set-ups, the best recovery and its height."""

from collections.abc import Sequence

from sim.core import script_layout as s
from sim.judge import Outcome
from sim.show.words.bench.changes import added_words
from sim.show.words.findings.measuring import measuring_line
from sim.show.words.phrases import (
    MAC_SAID,
    OUTCOME_WORDS,
    back_text,
    capital,
    few_draws_text,
    height_text,
    listed,
    reasons_text,
    share_text,
    spoken,
)
from sim.show.words.places.limits import (
    aft_text,
    for_whom,
    limit_sentences,
    limits_in_short,
    other_recovery_text,
    set_up_neutral_text,
)
from sim.show.words.places.never import never_text, not_forward_text
from sim.show.words.places.window import forward_of_text, window_sentences, windows_in_short
from sim.show.words.recovery.deep_stall import reason_text, short_text
from sim.show.words.recovery.fly_from import NOT_SHOWN, shown_from_cell
from sim.show.words.recovery.higher import height_need_text
from sim.show.words.recovery.in_vain import in_vain_texts
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.bands import Band, Percent, bands, own_limit, percent_line, standing
from sim.study.standing.outcomes import (
    best_case,
    best_recovery,
    failing_recoveries,
    manoeuvres_of,
    recoveries_of,
    setup_outcome,
    worst_case,
)
from sim.study.standing.window import forward_of_limit
from sim.units.quantities import HEIGHT, LENGTH
from sim.units.ranges import range_words


def band_text(band: Band, percent: Percent | None, few_draws: str = "") -> str:
    """Return a band's ends in mm and % MAC, or that there is none.

    ``few_draws`` is what a study says whose draws can never show it, empty where they can.
    """
    if band.front_mm is None or band.aft_mm is None:
        return (few_draws or "not shown: undecided") if band.open else "none found"
    front, aft = LENGTH.at_least(band.front_mm), LENGTH.at_most(band.aft_mm)
    beyond = "at least " if band.at_end and band.limit is not None else ""
    whole = range_words(front, f"{beyond}{aft} {LENGTH}")
    # rounded inwards, the ends of one place pass each other
    one = front == aft or band.front_mm == band.aft_mm
    place = f"{aft} {LENGTH} only" if one else whole
    if percent is None:
        return place
    ends = f"{percent(band.front_mm):.1f}", f"{percent(band.aft_mm):.1f}"
    return f"{place} ({ends[0] if ends[0] == ends[1] else range_words(*ends)} % MAC)"


def band_sentences(result: StudyResult) -> list[str]:
    """Return the bands that the set-ups flown stand for, where no limit was searched."""
    percent = percent_line(result)
    few = few_draws_text(result.required_share_pct, result.draws)
    return [_band_sentence(band, percent, few) for band in bands(result) if band.limit is None]


def _band_sentence(band: Band, percent: Percent | None, few_draws: str) -> str:
    who = f"Pack {band.pack} ({listed(band.setups)})"
    text = f"{who}: band that met the requirement {band_text(band, percent, few_draws)}"
    if band.aft_mm is None:
        return f"{text}."
    names = listed([spoken(m) for m in band.manoeuvres])
    by = " or ".join(spoken(name) for name in band.recoveries)
    return f"{text}, over all of {names}, by {by}; only at the set-ups flown, no limit searched."


def recovery_sentence(result: StudyResult) -> str | None:
    """Return each set-up's best single recovery and the height it takes; None without set-ups."""
    if not result.setups:
        return None
    required = result.required_share_pct
    titles = recoveries_of(result.setups)
    by: dict[str, list[str]] = {}
    for x in result.setups:
        for case in best_recovery(x, required)[:1]:
            by.setdefault(case.recovery, []).append(x.name)
    every = [f"{titles[r]} ({listed(names)})" for r, names in by.items()]
    if len(by) == 1:
        every = [titles[r] for r in by]
    text = f"Best single recovery: {'; '.join(every)}."
    stand = standing(result)
    if not stand:
        return f"{text} With it no set-up meets the requirement."
    parts = [_range_of(result, stand, name) for name in manoeuvres_of(stand)]
    who = "the set-up that meets" if len(stand) == 1 else f"the {len(stand)} set-ups that meet"
    return (
        f"{text} Height in {who} the requirement or may, each by its "
        f"best single recovery: {'; '.join(p for p in parts if p)}."
    )


def _range_of(result: StudyResult, stand: Sequence[SetUpResult], manoeuvre: str) -> str:
    best = [best_case(x, manoeuvre, result.required_share_pct) for x in stand]
    cases = [c for c in best if c is not None]
    if not cases:
        return ""
    return (
        f"{spoken(manoeuvre)}: 95 % of those flown lost at most "
        f"{_range([lost_95(c) for c in cases])} {HEIGHT} after its first input; to be flown from "
        f"{_range([shown_from_cell(c, result) for c in cases])} {HEIGHT} (shown by the lower 95 % "
        f"limit, floor of {HEIGHT(cases[0].floor_m)} included)"
    )


def lost_95(case: CaseResult) -> str:
    """Return the height that 95 % of flights stay within after the first recovery input."""
    return height_text(case.height_lost_m.p95, case, s.R_HEIGHT_LOST, 0.95)


def _range(texts: Sequence[str]) -> str:
    """Return "37 to 56", or "56" where all are alike; what has no end counts as the highest."""
    ordered = sorted(dict.fromkeys(texts), key=_size)
    return ordered[0] if len(ordered) == 1 else f"{ordered[0]} to {ordered[-1]}"


def _size(text: str) -> float:
    if text in ("never", NOT_SHOWN):
        return 1e9
    return float(text.removeprefix("more than ")) + (1e6 if text.startswith("more") else 0.0)


def place_text(setup: SetUpResult) -> str:
    """Return where a set-up balances, with its static margin and the ballast that it takes."""
    place = (
        f"{LENGTH.ahead(setup.balance_aft_mm)}, {setup.balance_pct_mac:.0f} % MAC, "
        f"static margin {setup.static_margin_pct:.1f} % MAC, {setup.pack}"
    )
    added = added_words(setup)
    return f"{place}, with {added} for balance" if added else place


def open_text(setup: SetUpResult, result: StudyResult) -> str:
    """Return why a set-up is neither shown to meet the requirement nor shown not to."""
    few = few_draws_text(result.required_share_pct, result.draws)
    if few:
        return few
    most = max(c.shares.flights for c in best_recovery(setup, result.required_share_pct))
    return f"is undecided after {most} draws"


def failing_text(setup: SetUpResult, required_share_pct: float) -> str:
    """Return the recoveries flown that are shown not to do, with their counts; maybe empty."""
    return "; ".join(
        f"by {c.recovery_title} alone it does not meet the requirement: in "
        f"{spoken(c.manoeuvre)} {back_text(c.shares)}"
        for c in failing_recoveries(setup, required_share_pct)
    )


def setup_sentence(setup: SetUpResult, result: StudyResult) -> str:
    """Return what became of a set-up, with its uncertainty and why flights were lost."""
    required = result.required_share_pct
    cases = best_recovery(setup, required)
    case = worst_case(cases, required)
    if case is None:
        return f"{setup.name}: nothing was flown."
    stands = setup_outcome(setup, required)
    verdict = open_text(setup, result) if stands is Outcome.OPEN else OUTCOME_WORDS[stands]
    need = height_need_text(setup, result)
    where = "Worst of its manoeuvres" if len(cases) > 1 else "Flown"
    lines = [f"{setup.name} ({place_text(setup)}) {verdict}{'; it ' + need if need else ''}."]
    lines.append(
        f"{where}: {case.manoeuvre_title}; {share_text(case.shares)}; recovering by: "
        f"{case.recovery_title}."
    )
    by = other_recovery_text(setup, result)
    deep = "" if setup.deep_stall is None else short_text(setup.deep_stall)
    failing = failing_text(setup, required)
    aft, behind = aft_text(setup, result), set_up_neutral_text(setup)
    own = own_limit(result.aft_limits, setup)
    window = None if own is None else own.held.more_throw
    # what more throw does not do for the pack's window it does not do further forward either
    told = own is not None and own.held.forward is not None
    ahead = forward_of_text(setup, more=window is None or window.reached, why=not told)
    for more in (aft, by, failing, deep, behind, ahead):
        if more:
            lines.append(f"{more[0].upper()}{more[1:]}.")
    return " ".join([*lines, *in_vain_texts(setup, result)])


def answer_sentences(result: StudyResult) -> list[str]:
    """Return the answer of a study: aft limits first, then bands, recovery, each set-up."""
    best = recovery_sentence(result)
    windows = window_sentences(result.aft_limits, result.setups)
    line = measuring_line(result)
    never = [
        f"{capital(for_whom(x, result.aft_limits))}: {never_text(x) or f'{not_forward_text(x)}.'}"
        for x in result.aft_limits
        if x.never or not_forward_text(x)
    ]
    out = [
        *never,
        *limit_sentences(result),
        *windows,
        *([line] if line else []),
        *band_sentences(result),
    ]
    out += [best] if best else []
    return out + [setup_sentence(setup, result) for setup in result.setups]


def headline(result: StudyResult, limits: bool = True) -> str:
    """Return the first sentences of all: what was asked, the aft limits, and the set-ups.

    Without the ``limits`` where they have just been told.
    """
    asked = result.required_share_pct
    sentences = [
        f"Asked: at least {asked:g} % of flights back above the floor of {HEIGHT(result.floor_m)} "
        f"(lower 95 % limit), by one single recovery. {MAC_SAID}"
    ]
    if limits and result.aft_limits:
        sentences.append(limits_in_short(result.aft_limits))
        windows = windows_in_short(result.aft_limits)
        sentences += [windows] if windows else []
    if result.setups:
        deep = reason_text(result)
        sentences += [_setups_in_short(result), *([deep] if deep else []), *_unresolved(result)]
    return " ".join(sentences)


def _setups_in_short(result: StudyResult) -> str:
    """Return which set-ups meet it, of these which to leave alone, and which do not."""
    words = {
        Outcome.MET: "met it in every manoeuvre",
        "forward": "came back as asked in every manoeuvre, but FORWARD of the forward limit",
        "aft": "came back as asked in every manoeuvre, but AFT of the aft limit, not to be flown",
        Outcome.OPEN: few_draws_text(result.required_share_pct, result.draws) or "undecided",
        Outcome.NOT_MET: "did not meet it",
    }
    by: dict[Outcome | str, list[str]] = {kind: [] for kind in words}
    for x in result.setups:
        kind: Outcome | str = setup_outcome(x, result.required_share_pct)
        need = height_need_text(x, result, short=True) if kind is not Outcome.MET else ""
        short, aft = forward_of_limit(x), bool(aft_text(x, result))
        if kind is Outcome.MET and (aft or short):
            kind = "aft" if aft else "forward"
        told = [
            need,
            f"{LENGTH(short)} FORWARD of its forward limit" if short and kind != "forward" else "",
            "AFT of its aft limit, not to be flown" if aft and kind != "aft" else "",
        ]
        more = "; ".join(text for text in told if text)
        name = f"{x.name} by {LENGTH(short)}" if kind == "forward" else x.name
        by[kind].append(f"{name} ({more})" if more else name)
    parts = [f"{len(names)} {words[k]} ({', '.join(names)})" for k, names in by.items() if names]
    return f"Of {len(result.setups)} set-ups, {'; '.join(parts)}.{_failing(result)}"


def _failing(result: StudyResult) -> str:
    """Return which recoveries are shown to fail in set-ups that meet the requirement or may."""
    by: dict[str, list[str]] = {}
    for x in standing(result):
        for case in failing_recoveries(x, result.required_share_pct):
            count = f"{x.name} {case.shares.back} of {case.shares.flights} back"
            by.setdefault(case.recovery, []).append(count)
    text = "; ".join(f"{spoken(name)} ({', '.join(counts)})" for name, counts in by.items())
    return f" Shown NOT to be enough alone: {text}." if text else ""


def _unresolved(result: StudyResult) -> list[str]:
    """Return which flights could not be resolved, and why, where there are any."""
    worst: list[tuple[SetUpResult, CaseResult]] = []
    for x in result.setups:
        case = max(x.cases, key=lambda c: c.shares.unresolved, default=None)
        if case is not None and case.shares.unresolved:
            worst.append((x, case))
    if not worst:
        return []
    text = "; ".join(
        f"{c.shares.unresolved} of {c.shares.flights} of {x.name} in {spoken(c.manoeuvre)} "
        f"({reasons_text(c.shares)})"
        for x, c in worst
    )
    return [f"UNRESOLVED flights count against: {text}."]
