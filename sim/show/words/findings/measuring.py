"""What measuring would change of an aft limit, in a pilot's words."""

from sim import tables
from sim.show.words.phrases import listed, spoken
from sim.show.words.places.limits import ends_cell, for_whom, interval_text
from sim.show.words.recovery.higher import more_draws_command
from sim.study.results.aft_limit import AftLimit
from sim.study.results.measuring import Measuring, OwnShare, Promise
from sim.study.results.result import StudyResult
from sim.units.quantities import LENGTH

MEASURING_TITLE = "What measuring would change"
AS_IT_STANDS = "if it comes out as it stands in the file"


def told_limit(result: StudyResult) -> AftLimit | None:
    """Return the limit of which measuring is told: of today's pack, else the first that has it."""
    shown = [x if x.without is None else x.without for x in result.aft_limits]
    telling = [x for x in shown if x.measuring is not None]
    own = next((x.pack for x in result.setups if x.name == result.today), None)
    return next((x for x in telling if x.pack == own), next(iter(telling), None))


def measuring_line(result: StudyResult) -> str:
    """Return the one line for a first page: the best thing to measure, or that nothing helps."""
    limit = told_limit(result)
    if limit is None or limit.measuring is None:
        return _nothing_to_move(result)
    found = limit.measuring
    who = _whose(limit, result)
    if not found.tells:
        return (
            f"What measuring would change of the aft limit of {who} cannot be told from the "
            f"{found.lost} draws that its search lost: {tables.study().told_lost_draws} or more "
            f"tell it. Fly it by more: {more_draws_command(result)}"
        )
    if found.promises:
        best = next((x for x in found.promises if x.assumed), found.promises[0])
        if not best.assumed:
            return (
                f"Nothing that the file assumes moves the aft limit of {who} visibly. Measured "
                f"already, and worth it only if not so well: {best.text} ({best.measure}); it "
                f"becomes {_becomes(limit, best)}, {AS_IT_STANDS} (reckoned)."
            )
        return (
            f"Worth measuring first: {best.text} ({best.measure}). The aft limit of {who} becomes "
            f"{_becomes(limit, best)}, {AS_IT_STANDS} (reckoned)."
        )
    return (
        f"No single measurement would move the aft limit of {who} by as much as a millimetre or "
        f"narrow its limits visibly{_what_holds(found)}."
    )


def _whose(limit: AftLimit, result: StudyResult) -> str:
    """Return the pack of a limit; of one that leaves manoeuvres out, with those it is over."""
    who = for_whom(limit, result.aft_limits)
    if limit in result.aft_limits:
        return who
    return f"{who} (over {listed([spoken(x) for x in limit.manoeuvres])} alone)"


def _nothing_to_move(result: StudyResult) -> str:
    """Return why nothing is told of measuring where limits were searched and none has two sides."""
    if not result.aft_limits or any(
        x.aft_mm is not None and not x.at_end for x in result.aft_limits
    ):
        return ""
    return (
        "What measuring would change is not told: it is reckoned from where, going aft, each draw "
        "is first lost, and the search found no aft limit between the places it flew; nor is it "
        "told of the share that comes back or of the height, which no measurement was reckoned for."
    )


def _what_holds(found: Measuring) -> str:
    """Return what holds the spread instead, maybe nothing."""
    if not found.own:
        return ""
    return f": what moves it is the method's own, {found.own[0].text} most of all"


def _becomes(limit: AftLimit, promise: Promise) -> str:
    """Return "113 mm (95 % limits 100 to 118) instead of 112 mm (95 % limits 99 to 117)"."""
    new, old = (
        f"{LENGTH.at_most(aft)} {LENGTH} ({interval_text(low, high)})"
        for aft, low, high in (
            (promise.aft_mm, promise.low_mm, promise.high_mm),
            (limit.aft_mm or 0.0, limit.low_mm, limit.high_mm),
        )
    )
    return f"{new} instead of {old}"


def measuring_heads() -> tuple[str, ...]:
    """Return the heads of the table of what to measure; the first three hold words."""
    return (
        "not exactly known", "in the file", "how to measure it", "of the\nspread",
        f"limit\nbecomes, {LENGTH}", f"95 %\nlimits, {LENGTH}",
    )  # fmt: skip


def measuring_rows(found: Measuring) -> list[tuple[str, ...]]:
    """Return a row for each measurement that would move the limit visibly, the best first."""
    return [
        (
            x.text, "assumed" if x.assumed else "measured, could be better", x.measure,
            f"{100.0 * x.share:.0f} %", LENGTH.at_most(x.aft_mm), ends_cell(x.low_mm, x.high_mm),
        )
        for x in found.promises
    ]  # fmt: skip


def measuring_sentences(limit: AftLimit, result: StudyResult) -> list[str]:
    """Return whom it is told of, what each kind of ignorance holds, and how it was reckoned."""
    found = limit.measuring
    assert found is not None
    if not found.tells:
        return [measuring_line(result)]
    out = []
    if not found.promises:
        out.append(measuring_line(result))
        if found.nearest is not None:
            text = f"{found.nearest.text} ({found.nearest.measure})"
            out.append(f"The most that any one would move it: {text}, {_gain(found.nearest)}.")
    if found.together is not None:
        out.append(
            "All that can be measured on the ground, together: the limit moves aft by "
            f"{_gain(found.together)}, if all comes out as it stands in the file."
        )
    out.append(_shares(found))
    tells = [f"{x.text} ({x.measure})" for x in found.own if x.measure]
    if tells:
        out.append(f"Of the method's own only flying tells more: {'; '.join(tells)}.")
    out.append(
        f"Of {_whose(limit, result)}, reckoned from the {found.lost} draws that its "
        "search lost; nothing was flown again. What is measured as it does not stand in the file "
        "moves the limit with it, either way."
    )
    return out


def _gain(promise: Promise) -> str:
    low, high = (LENGTH.figure(x, ".1f") for x in (promise.gain_low_mm, promise.gain_high_mm))
    return f"{LENGTH.figure(promise.gain_mm, '.1f')} {LENGTH} (95 % limits {low} to {high})"


def _shares(found: Measuring) -> str:
    """Return how much of the spread measuring would take away, and what holds the rest."""
    together = found.together
    held = [
        f"{_percent(None if together is None else together.share)} measuring would take away",
        f"{_percent(found.day_share)} is the pilot's and the day's",
        f"{_percent(found.method_share)} is the method's own, which no measuring shrinks",
        f"{_percent(found.untraced_share)} goes with no single draw",
    ]
    text = "Of the spread of the balance points where draws are first lost, in "
    text += f"{spoken(found.manoeuvre)}, {listed(held)}."
    if found.own:
        text += f" The most of the method's own: {listed([_own(x) for x in found.own])}."
    return text


def _own(own: OwnShare) -> str:
    return f"{own.text} ({_percent(own.share)})"


def _percent(share: float | None) -> str:
    return "-" if share is None else f"{100.0 * share:.0f} %"
