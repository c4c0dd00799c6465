"""The first lines of an answer: what not to do, the limits, where it lands, heights, what next."""

import shlex
from collections.abc import Sequence

from sim.judge import Outcome
from sim.show.words.findings.mending import (
    further_forward,
    mending_lines,
    undecided_too,
    window_line,
)
from sim.show.words.phrases import back_text, capital, listed, spoken
from sim.show.words.places.begin_at import (
    begin_text,
    behind_line,
    inside_limits,
    inside_line,
    reach_note,
    tray_ends_behind,
)
from sim.show.words.places.limits import aft_text, for_whom
from sim.show.words.places.never import never_short, not_forward_text
from sim.show.words.places.one_apart import apart_lines
from sim.show.words.places.window import known_to_land_text, short_window
from sim.show.words.recovery.fly_from import shown_from_m
from sim.show.words.recovery.higher import asked
from sim.show.words.recovery.on_paper import on_paper, on_paper_text
from sim.show.words.recovery.which_sticks import sticks_line
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import aft_of, own_limit
from sim.study.standing.outcomes import best_recovery, setup_outcome, worst_case
from sim.study.standing.window import Kind, forward_of_limit, window_of
from sim.units.quantities import HEIGHT, LENGTH

FIRST_TITLE = "In short"
STANDS = {
    Outcome.MET: "MEETS what is asked",
    Outcome.OPEN: "is UNDECIDED",
    Outcome.NOT_MET: "does NOT meet what is asked",
}


def first_lines(result: StudyResult) -> list[str]:
    """Return the answer in about eight lines, the details of which follow."""
    lines = [*_packs(result), *_refuted(result)]
    now = next((x for x in result.setups if x.name == result.today), None)
    lines += [_now(now, result)] if now is not None else []
    sticks = sticks_line(result)
    lines += [sticks] if sticks else []
    lines = lines or [_setups(result)]
    told = (
        behind_line(result), inside_line(result), *apart_lines(result), on_paper_text(result),
    )  # fmt: skip
    lines += [x for x in told if x]
    heights = _heights(result)
    lines += [heights] if heights else []
    return [*lines, f"Next: {_next(result)}"]


def _packs(result: StudyResult) -> list[str]:
    """Return what holds for each pack and combination, those of whom the same does in one line."""
    whose: dict[str, list[str]] = {}
    for limit in result.aft_limits:
        whose.setdefault(_pack(limit), []).append(for_whom(limit, result.aft_limits))
    return [f"{capital(listed(who))}: {told}" for told, who in whose.items()]


def _pack(limit: AftLimit) -> str:
    """Return what not to fly with a pack, its limit with its interval, and whether it lands."""
    shown = limit.without if limit.without is not None else limit
    told = never_short(limit)
    if not told:
        told = begin_text(limit)
        if limit.aft_mm is None:
            names = listed([spoken(x) for x in limit.manoeuvres])
            told = f"no aft limit found over all of {names}"
        ahead = "" if tray_ends_behind(limit) else not_forward_text(limit)
        told += f". {ahead}." if ahead else "."
    window = window_of(shown.forward, shown)
    if window.kind is Kind.REFUTED:
        return told  # of all packs in a line of its own
    return f"{told} {capital(short_window(window))}."


def _refuted(result: StudyResult) -> list[str]:
    """Return that a forward limit is refuted by what is flown today, once for all; maybe none."""
    windows = [window_of(x.held.forward, x.held) for x in result.aft_limits]
    told = [capital(short_window(x)) for x in windows if x.kind is Kind.REFUTED]
    return [f"{told[0]}."] if told else []


def _now(setup: SetUpResult, result: StudyResult) -> str:
    """Return how the aeroplane stands as it is flown today."""
    required = result.required_share_pct
    text = f"Today, balanced at {LENGTH.ahead(setup.balance_aft_mm)} with {setup.pack}, it "
    own, place = own_limit(result.aft_limits, setup), setup.balance_aft_mm
    aft = aft_text(setup, result)
    if own is not None and own.held.aft_mm is not None and aft_of(place, own.held) and not aft:
        text += f"lies {LENGTH(place - own.held.aft_mm)} BEHIND its aft limit, NOT to be flown "
        text += "there; alone it "
    text += STANDS[setup_outcome(setup, required)]
    case = worst_case(best_recovery(setup, required), required)
    if inside_limits(place, own):
        text += ", inside the 95 % limits of its aft limit"
    text += "" if case is None else f"; worst in {spoken(case.manoeuvre)}, {back_text(case.shares)}"
    short = forward_of_limit(setup)
    text += f"; {LENGTH(short)} FORWARD of its forward limit" if short else ""
    text = f"{text}; {aft}." if aft else f"{text}."
    return f"{text} {known_to_land_text(setup)}".rstrip()


def _setups(result: StudyResult) -> str:
    """Return which set-ups may be flown, where no limit was searched and none is today's."""
    fit, tried = _may_be_flown(result), len(result.setups)
    if not fit:
        who = f"None of {tried} set-ups both meets what is asked and lands"
        if tried == 1:
            who = "The one set-up does not both meet what is asked and land"
        return f"{who}: nothing that stands here is flown."
    names = listed([x.name for x in fit])
    return f"Of {tried} set-ups {len(fit)} may be flown, and no other: {names}."


def _heights(result: StudyResult) -> str:
    """Return the height to enter each manoeuvre at, in the set-ups that may be flown.

    None of those that count on paper alone, in any of them.
    """
    needs: dict[str, float] = {}
    above: set[str] = set()
    for x in _may_be_flown(result):
        for case in best_recovery(x, result.required_share_pct):
            need = shown_from_m(case, result)
            if need is not None:
                needs[case.manoeuvre] = max(need, needs.get(case.manoeuvre, 0.0))
            if on_paper(case, result):
                above.add(case.manoeuvre)
    told = [f"{asked(need)} in {spoken(name)}" for name, need in needs.items() if name not in above]
    if not told:
        return ""
    return (
        f"Enter no lower than {listed(told)}: above the ground, the floor of "
        f"{HEIGHT(result.floor_m)} included, shown for every set-up that meets what is asked and "
        "is barred by no limit (each one's own height stands in the table and on its card)."
    )


def _next(result: StudyResult) -> str:
    """Return the one thing to do next, with its command or key: first what today's lacks.

    In the words of the card's list of what to mend, which is made by the same judgement.
    """
    fit = _may_be_flown(result)
    now = next((x for x in result.setups if x.name == result.today), None)
    mend = mending_lines(now, result)[:1] if now is not None and now not in fit else ()
    besides = undecided_too(now, result) if now is not None and mend else ""
    own = None if now is None else own_limit(result.aft_limits, now)
    if mend and own is not None and now is not None and _only_behind(now, own):
        balance = (x for x in mending_lines(now, result) if x.startswith("Balance"))
        mend = (next(balance, f"{further_forward(own)}{reach_note(own.held)}."),)
        besides = ""
    if not mend and not fit:
        mend = _of_limits(result) or _of_best(result)
    card = [_card(_for_the_card(fit, result), result)] if fit else []
    if not mend and not card:
        return "nothing is flown with it until something else than balance has changed."
    return " ".join(x for x in (*mend, besides, *card) if x)


def _only_behind(setup: SetUpResult, own: AftLimit) -> bool:
    """Return whether a set-up lies behind a limit that has room ahead: what no more draws mend."""
    held = own.held
    if held.aft_mm is None or window_of(held.forward, held).kind is Kind.NONE:
        return False
    return aft_of(setup.balance_aft_mm, held)


def _for_the_card(fit: Sequence[SetUpResult], result: StudyResult) -> SetUpResult:
    """Return the set-up to print a card of: today's, else the rearmost where flying begins.

    Where all lie inside the 95 % limits of their aft limit, the foremost.
    """
    now = next((x for x in fit if x.name == result.today), None)
    if now is not None:
        return now
    staying = [
        x for x in fit if not inside_limits(x.balance_aft_mm, own_limit(result.aft_limits, x))
    ]
    if not staying:
        return min(fit, key=lambda x: x.balance_aft_mm)
    return max(staying, key=lambda x: x.balance_aft_mm)


def _of_limits(result: StudyResult) -> tuple[str, ...]:
    """Return what to mend by the limits alone, where no set-up tells."""
    for x in result.aft_limits:
        if window_of(x.held.forward, x.held).kind is Kind.NONE:
            return (window_line(x),)
    wanted = next((x for x in result.aft_limits if x.held.aft_mm is not None), None)
    if wanted is None:
        return ()
    return (f"{further_forward(wanted)} with {wanted.pack}, and fly the study again.",)


def _of_best(result: StudyResult) -> tuple[str, ...]:
    """Return what the set-up that stands best lacks first, by name, where no limit tells."""
    required, ranks = result.required_share_pct, list(STANDS)
    ranked = sorted(result.setups, key=lambda x: ranks.index(setup_outcome(x, required)))
    return tuple(f"{x.name}: {line}" for x in ranked[:1] for line in mending_lines(x, result)[:1])


def _card(best: SetUpResult, result: StudyResult) -> str:
    """Return the command that prints the card of a set-up."""
    said = [word for pair in result.options for word in pair]
    name = result.asked_by or result.study
    return f"{shlex.join(['aftlimit', 'card', name, *said, '--setup', best.name])} prints its card."


def _may_be_flown(result: StudyResult) -> list[SetUpResult]:
    """Return the set-ups that meet what is asked and lie within both their limits."""
    return [
        x
        for x in result.setups
        if setup_outcome(x, result.required_share_pct) is Outcome.MET
        and not forward_of_limit(x)
        and not aft_text(x, result)
    ]
