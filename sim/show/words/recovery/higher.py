"""Where height is what is missing: the cause, the height that would do, how to fly it again."""

import shlex
from collections.abc import Sequence
from math import ceil, isfinite

from sim.describe.study import MOST_DRAWS
from sim.judge import Outcome, least_draws, outcome
from sim.show.words.phrases import listed, spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.higher import (
    Higher,
    Short,
    higher_to_fly,
    most_m,
    short_of_height,
    shortest,
)
from sim.study.standing.outcomes import best_recovery
from sim.units.quantities import HEIGHT
from sim.units.ranges import range_words

FROM_THERE = ", and would meet it from there"  # some may be lost all the same
ROUND_UP_M, ROUND_UP_FT = 5.0, 20.0  # heights to be asked for are rounded up to this


def asked(height_m: float) -> str:
    """Return a height to be asked for, rounded up to 5 m."""
    return asked_height(ceil(height_m / ROUND_UP_M - 1e-9) * ROUND_UP_M, height_m)


def asked_height(rounded_m: float, height_m: float) -> str:
    """Return a height to be asked for [m]: rounded up to 5 m, or by itself up to 20 ft."""
    if HEIGHT.is_default:
        return HEIGHT(rounded_m)
    return f"{ceil(round(HEIGHT.value(height_m) / ROUND_UP_FT, 6)) * ROUND_UP_FT:.0f} {HEIGHT}"


def height_need_text(setup: SetUpResult, result: StudyResult, short: bool = False) -> str:
    """Return "needs 190 m of entry height" where more height would do; else empty.

    Where the flights flown cannot show that, what they say so far, as no proof: the height that
    the share asked for of them needs, as in the table of heights. ``short`` leaves the reasons out.
    """
    required, draws = result.required_share_pct, result.draws
    shorts = short_of_height(setup, required, draws)
    worst = shortest(shorts)
    if worst is None:
        return ""
    cases = best_recovery(setup, required)
    unmet = sum(outcome(c.shares, required) is not Outcome.MET for c in cases)
    sure = [(x.sure_m, x) for x in shorts if x.sure_m is not None]
    if len(sure) == unmet:
        height, worst = max(sure, key=lambda pair: pair[0])
        text = f"needs {asked(height)} of entry height"
        if short:
            return text
        same = asked(height) == asked(worst.need_m)
        why = "" if same else f" ({short_text(worst, required)}; the rest makes it sure)"
        return f"{text}{FROM_THERE}{why}"
    if worst.need_m <= worst.case.entry_m:
        return ""
    enough = worst.case.shares.flights >= least_draws(required / 100.0)
    proof = "no proof yet"
    if enough and worst.sure_m is None:
        proof = "but no height shows it by its lower 95 % limit"
    text = f"may need about {asked(worst.need_m)} of entry height"
    return f"{text}, not shown" if short else f"{text}: {short_text(worst, required)}, {proof}"


def again_command(result: StudyResult, entry_m: float) -> str:
    """Return the command that flies a study again with every manoeuvre begun at a height [m].

    What it was told of floor and ceiling is said again.
    """
    name, height = result.asked_by or result.study, f"{entry_m:g}"
    out = f"{result.study}_from_{height}_m"
    said = _said(result, "--entry-m", "--out")
    return shlex.join(["aftlimit", "study", name, "--entry-m", height, *said, "--out", out])


def more_draws_command(result: StudyResult) -> str:
    """Return the command that flies a study on by twice as many draws, from what it has flown."""
    name, draws = result.asked_by or result.study, f"{min(2 * result.draws, MOST_DRAWS)}"
    return shlex.join(["aftlimit", "study", name, "--draws", draws, *_said(result, "--draws")])


def _said(result: StudyResult, *anew: str) -> list[str]:
    """Return the options that a study was flown with, but for those said anew."""
    return [word for pair in result.options if pair[0] not in anew for word in pair]


def higher_texts(result: StudyResult) -> tuple[str, ...]:
    """Return that height is what is missing, and the command to fly from higher; maybe empty."""
    higher = higher_to_fly(result)
    if higher is None:
        return ()
    by: dict[str, list[Short]] = {}
    for x in higher.shorts:
        by.setdefault(x.case.manoeuvre, []).append(x)
    where = f" IN {listed([spoken(name) for name in by])}" if higher.others else ""
    text = f"WHAT IS MISSING{where} IS HEIGHT: it does come back, but too low. "
    share = f"{result.required_share_pct:g} %"
    text += " ".join(_manoeuvre(shorts, share) for shorts in by.values())
    beyond: dict[str, list[str]] = {}
    for name, case in higher.others:
        beyond.setdefault(case.manoeuvre, []).append(name)
    for manoeuvre, names in beyond.items():
        text += f" Height is no cure in {spoken(manoeuvre)} ({', '.join(names)}): too many never "
        text += f"came back, or not from {HEIGHT(most_m())}."
    text += f" The one height to set is --entry-m, {HEIGHT(higher.entry_m)}"
    text += f"{_leave(higher.entry_m, result)}{_helped(result, higher)}:"
    return text, again_command(result, higher.entry_m)


def _helped(result: StudyResult, higher: Higher) -> str:
    """Return which manoeuvres a height raises, and which were entered from there already."""
    entries = {c.manoeuvre: c.entry_m for x in result.setups for c in x.cases}
    raised = [k for k, entry in entries.items() if entry < higher.entry_m]
    same = [k for k, entry in entries.items() if entry >= higher.entry_m]
    text = "; it raises " + listed([f"{spoken(k)} from {HEIGHT(entries[k])}" for k in raised])
    if not raised:
        return ""
    if same:
        text += f", and not {listed([spoken(k) for k in same])}, entered from there already"
    return text


def short_text(short: Short, required_share_pct: float) -> str:
    """Return from where the share asked for of a manoeuvre's flights comes back."""
    return (
        f"{required_share_pct:g} % of its {short.case.shares.flights} flights in "
        f"{spoken(short.case.manoeuvre)} come back from {asked(short.need_m)}"
    )


def _manoeuvre(shorts: Sequence[Short], share: str) -> str:
    """Return how a manoeuvre falls short of height, over the set-ups it does so in."""
    case = shorts[0].case
    lost, low = sum(x.lost for x in shorts), sum(x.too_low for x in shorts)
    needs = [asked(f([x.need_m for x in shorts])) for f in (min, max)]
    need = needs[0] if needs[0] == needs[1] else range_words(needs[0].split()[0], needs[1])
    highest = max(x.high_m for x in shorts)
    bound = "upper 95 % limit not known, too few were flown"
    if isfinite(highest):
        bound = f"upper 95 % limit {asked(highest)}"
    name = spoken(case.manoeuvre)
    names = ", ".join(x.setup for x in shorts)
    return (
        f"{name[0].upper()}{name[1:]} ({names}), entered at {HEIGHT(case.entry_m)} with the floor "
        f"at {HEIGHT(case.floor_m)}: {low} of the {lost} flights lost came back below it; {share} "
        f"of the flights flown need {need} of entry height, floor included ({bound})."
    )


def entries_text(result: StudyResult) -> str:
    """Return at which height manoeuvres were entered, and the floor; by name if they differ."""
    cases = {c.manoeuvre: c for x in result.setups for c in x.cases}
    if len({(c.entry_m, c.floor_m) for c in cases.values()}) < 2:
        one = next(iter(cases.values()), result)
        return f"entered at {HEIGHT(one.entry_m)}, floor {HEIGHT(one.floor_m)}"
    return "entered at " + listed([
        f"{HEIGHT(c.entry_m)} in {spoken(name)} (floor {HEIGHT(c.floor_m)})"
        for name, c in cases.items()
    ])  # fmt: skip


def _leave(entry_m: float, result: StudyResult) -> str:
    """Return what the law says of a height above the ceiling; empty below it."""
    if entry_m <= result.ceiling_m:
        return ""
    return f" (for real, above {ceiling_text(result)}, only with leave)"


def ceiling_text(result: StudyResult) -> str:
    """Return "the usual ceiling of 120 m", or "your ceiling of 90 m" where it was said."""
    whose = "your" if result.ceiling_said else "the usual"
    return f"{whose} ceiling of {HEIGHT(result.ceiling_m)}"
