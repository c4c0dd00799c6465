"""Aft limits in words: the figure with its interval, for whom it holds, where it is neutral."""

from collections.abc import Sequence

from sim.show.words.phrases import limits_text, listed, spoken
from sim.show.words.places.out_of_reach import out_of_reach_text
from sim.study.limits.interval import forward_mm
from sim.study.results.aft_limit import AftLimit, ManoeuvreLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import (
    Band,
    bands,
    behind_limit,
    front_of,
    held_by_another,
)
from sim.study.standing.outcomes import manoeuvres_of
from sim.units.quantities import LENGTH
from sim.units.ranges import range_cell, range_words


def forward_text(end_mm: float | None) -> str | None:
    """Return an end of an interval, without its unit, rounded forward; None where it is open."""
    forward = forward_mm(end_mm)
    return None if forward is None else LENGTH.at_most(forward)


def interval_text(low_mm: float | None, high_mm: float | None) -> str:
    """Return 95 % limits, both rounded forward; an open end is told."""
    if low_mm is None and high_mm is None:
        return "95 % limits not found"
    low, high = forward_text(low_mm), forward_text(high_mm)
    if low is None:
        return f"95 % limits up to {high}, the lower one not found"
    if high is None:
        return f"95 % limits from {low}, the upper one not found"
    return f"95 % limits {range_words(low, high)}"


def ends_cell(low_mm: float | None, high_mm: float | None) -> str:
    """Return 95 % limits for a narrow cell, in lines: "179-190", or which one was not found."""
    low, high = forward_text(low_mm), forward_text(high_mm)
    if low is None and high is None:
        return "not found"
    if low is None:
        return f"up to {high},\nlower one\nnot found"
    return f"from {low},\nupper one\nnot found" if high is None else range_cell(low, high)


def figure_text(limit: AftLimit | ManoeuvreLimit) -> str:
    """Return "184 mm (95 % limits 179 to 190)", "none found", or "at least 240 mm (...)".

    Where one holds without what is not to be flown, that follows, marked.
    """
    if limit.aft_mm is None:
        held = held_text(limit) if isinstance(limit, AftLimit) else ""
        return f"none found over all; {held}" if held else "none found"
    beyond = "at least " if limit.at_end else ""
    figure = f"{LENGTH.at_most(limit.aft_mm)} {LENGTH}"
    return f"{beyond}{figure} ({interval_text(limit.low_mm, limit.high_mm)})"


def gone_text(limit: AftLimit) -> str:
    """Return the manoeuvres that are met nowhere and so not to be flown; empty without any."""
    return listed([spoken(x.manoeuvre) for x in limit.never])


def held_text(limit: AftLimit) -> str:
    """Return the limit that holds without what is not to be flown, in a clause; maybe empty."""
    if limit.without is None or limit.without.aft_mm is None:
        return ""
    return f"flown without {gone_text(limit)}, the aft limit is {figure_text(limit.without)}"


def shown_nowhere(limit: AftLimit | None) -> str:
    """Return "showed no balance point", with what and what holds without it where that is known."""
    text = "showed no balance point"
    if limit is None or not limit.never:
        return text
    held = held_text(limit)
    return f"{text} with {gone_text(limit)}{'; ' if held else ''}{held}"


def neutral_text(limit: AftLimit) -> str:
    """Return where the neutral point lies, and whether the limit lies behind it; maybe empty."""
    if limit.neutral_mm is None:
        return ""
    text = f"stick-fixed neutral point {LENGTH(limit.neutral_mm)}"
    if limit.margin_pct is not None:
        tried = [step.balance_aft_mm for step in limit.steps]
        at = "the limit" if limit.aft_mm is not None else LENGTH(min(tried, default=0.0))
        text += f", static margin at {at} {limit.margin_pct:.1f} % MAC"
    if limit.aft_mm is None:
        return text
    if limit.behind_neutral_mm > 0.0:
        text += f": the limit lies {LENGTH(limit.behind_neutral_mm)} BEHIND it, flown with "
        return f"{text}{limit.gyro}"
    high = limit.high_mm
    if high is not None and high > limit.neutral_mm:
        return f"{text}, inside the limits of the aft limit; flown with {limit.gyro}"
    return text


def set_up_neutral_text(setup: SetUpResult) -> str:
    """Return how a set-up lies to its neutral point, where it lies behind; else empty."""
    if setup.static_margin_pct >= 0.0:
        return ""
    return (
        f"it balances {-setup.static_margin_pct:.1f} % MAC BEHIND the stick-fixed neutral point, "
        f"with {setup.gyro}"
    )


def other_recovery_text(setup: SetUpResult, result: StudyResult) -> str:
    """Return why a set-up is not shown though its aft limit lies further aft; else empty.

    The limit may hold by a recovery that the set-up did not fly in every manoeuvre, or
    that does not stand for it.
    """
    limit = held_by_another(setup, result)
    if limit is None:
        return ""
    flown = {c.manoeuvre for c in setup.cases if c.recovery == limit.recovery}
    missing = [spoken(m) for m in manoeuvres_of([setup]) if m not in flown]
    text = (
        f"its aft limit of {LENGTH.at_most(limit.aft_mm)} {LENGTH} is by {spoken(limit.recovery)}"
    )
    return f"{text}, which it did not fly in {listed(missing)}" if missing else text


def aft_text(setup: SetUpResult, result: StudyResult) -> str:
    """Return that a set-up which meets the requirement lies aft of its aft limit; else empty."""
    limit = behind_limit(setup, result)
    if limit is None:
        return ""
    by = f"by {spoken(limit.recovery)}"
    if limit.aft_mm is None:
        return f"NOT TO BE FLOWN: the search for its aft limit, {by}, {shown_nowhere(limit)}"
    behind = setup.balance_aft_mm - limit.aft_mm
    where = f"{LENGTH(behind)} AFT of its aft limit, {LENGTH.at_most(limit.aft_mm)} {LENGTH} {by}"
    return f"NOT TO BE FLOWN: it lies {where}"


def several_combinations(limits: Sequence[AftLimit]) -> bool:
    """Return True if limits of more than one combination stand side by side."""
    return len({x.key for x in limits}) > 1


def for_whom(limit: AftLimit, limits: Sequence[AftLimit]) -> str:
    """Return the pack of a limit, and a set-up that it is set as where there are several ways."""
    if not several_combinations(limits):
        return f"pack {limit.pack}"
    return f"pack {limit.pack} as in {limit.as_in}"


def combination_sentence(limits: Sequence[AftLimit]) -> str:
    """Return for which combinations limits were searched."""
    combinations = {x.key: x for x in limits}
    if len(combinations) == 1:
        only = limits[0]
        like = "" if only.setups else f" (as in {only.like})"
        return f"Searched with{like}: {only.combination}."
    parts = [f"{listed(x.setups or (x.like,))}: {x.combination}" for x in combinations.values()]
    return f"Searched with {len(combinations)} combinations. {'. '.join(parts)}."


def each_text(limit: AftLimit) -> str:
    """Return the limit of each manoeuvre alone; empty where there is one only."""
    if len(limit.each) < 2:
        return ""
    return "; ".join(f"{spoken(x.manoeuvre)} {figure_text(x)}" for x in limit.each)


def flown_text(limit: AftLimit) -> str:
    """Return the manoeuvres over which a limit holds, and the recovery."""
    names = listed([spoken(name) for name in limit.manoeuvres])
    over = "in" if len(limit.manoeuvres) == 1 else "over all of"
    return f"{over} {names}, recovering by {spoken(limit.recovery)}"


def against_text(band: Band) -> str:
    """Return what speaks against a band; empty where nothing does."""
    against = [
        f"{setup.name} at {LENGTH.ahead(setup.balance_aft_mm)} does not meet the requirement in "
        f"{spoken(case.manoeuvre)}, {case.shares.back} of {case.shares.flights} came back"
        for setup, case in band.against
    ]
    if band.unsearched:
        against.append(f"{listed([spoken(name) for name in band.unsearched])} not searched")
    if not against:
        return ""
    return f"NOT THE WHOLE ANSWER: {'; '.join(against)}"


def limits_in_short(limits: Sequence[AftLimit]) -> str:
    """Return all aft limits in a sentence or two, each with its interval and neutral point."""
    parts = []
    for x in limits:
        neutral = neutral_text(x)
        by = f", recovering by {spoken(x.recovery)}" if x.aft_mm is not None else ""
        parts.append(
            f"{figure_text(x)} with {for_whom(x, limits)}{by}" + (f", {neutral}" if neutral else "")
        )
    return f"Aft limit {flown_once(limits)}: {'; '.join(parts)}."


def flown_once(limits: Sequence[AftLimit]) -> str:
    """Return over which manoeuvres the limits hold; the same for all limits of a study."""
    names = listed([spoken(name) for name in limits[0].manoeuvres])
    return f"in {names}" if len(limits[0].manoeuvres) == 1 else f"over all of {names}"


def limit_sentence(band: Band, result: StudyResult) -> str:
    """Return the aft limit of a pack and combination, whole, with its uncertainty."""
    limit = band.limit
    assert limit is not None
    asked = f"at least {result.required_share_pct:g} % of flights back"
    who = for_whom(limit, result.aft_limits)
    who = f"{who[0].upper()}{who[1:]}"
    if limit.aft_mm is None:
        tried = [step.balance_aft_mm for step in limit.steps]
        text = f"{who}: no aft limit found ({asked}); "
        if not tried:
            return f"{text}nothing was flown, as it cannot be balanced at any place asked for."
        front = f"{LENGTH(min(tried))}, the foremost balance point tried"
        text += f"it cannot be shown already at {front}, {flown_text(limit)}."
        text += f" Each alone: {each_text(limit)}." if len(limit.each) > 1 else ""
        text += _sentence(out_of_reach_text(limit))
        neutral = neutral_text(limit)
        return f"{text} {neutral[0].upper()}{neutral[1:]}." if neutral else text
    place = f", {limit.pct_mac:.1f} % MAC" if limit.pct_mac is not None else ""
    lines = [f"{who}: aft limit {figure_text(limit)}{place}, {flown_text(limit)}."]
    front = f"{LENGTH.at_least(front_of(limit))} {LENGTH}"
    first = "the foremost balance point tried"
    if limit.from_mm is not None:
        first = "the first step aft that meets it, as the foremost balance point does not"
    lines.append(
        f"The requirement ({asked}) is met from {front}, {first}, to there{_fails(limit)}."
    )
    lines.append(f"At the limit {_counted(limit)}.")
    if each_text(limit):
        lines.append(f"Each alone: {each_text(limit)}.")
    neutral = neutral_text(limit)
    if neutral:
        lines.append(f"{neutral[0].upper()}{neutral[1:]}.")
    if out_of_reach_text(limit):
        lines.append(_sentence(out_of_reach_text(limit)).strip())
    if against_text(band):
        lines.append(f"{against_text(band)}.")
    return " ".join(lines)


def _sentence(text: str) -> str:
    """Return a clause as one more sentence; empty where it is."""
    return f" {text[0].upper()}{text[1:]}." if text else ""


def limit_sentences(result: StudyResult) -> list[str]:
    """Return the aft limits of a study, one by one, and what they were searched with."""
    if not result.aft_limits:
        return []
    searched = [band for band in bands(result) if band.limit is not None]
    sentences = [limit_sentence(band, result) for band in searched]
    return [*sentences, combination_sentence(result.aft_limits)]


def _fails(limit: AftLimit) -> str:
    if limit.at_end:
        return ", the rearmost balance point tried; the limit lies further aft"
    if limit.first_failure_mm is None:
        return ""
    return f"; it can no longer be shown at {LENGTH(limit.first_failure_mm)}"


def _counted(limit: AftLimit) -> str:
    """Return how many came back at the limit itself, with limits on the share."""
    share = limits_text(limit.share_low, limit.share_high)
    for step in limit.steps:
        if (step.balance_aft_mm, step.recovery) == (limit.aft_mm, limit.recovery):
            return f"{step.back} of {step.draws} came back (95 % limits {share})"
    return f"95 % limits of the share that came back are {share}, from {limit.draws_used} draws"
