"""Where to begin with a pack, how far aft to go, and who lies behind.

An aft limit has shown what is asked, by the draws flown; other draws may put it anywhere between
its 95 % limits. So there are three places: ahead of those limits, where to begin; from there to the
aft limit itself, which meets what is asked and is gone to step by step; behind it, not to be flown.
"""

from sim.show.words.phrases import spoken
from sim.show.words.places.limits import figure_text
from sim.study.limits.interval import forward_mm
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.standing.bands import aft_of, own_limit, same_balance
from sim.study.standing.window import aft_whole, forward_of_limit
from sim.units.quantities import LENGTH


def begin_mm(limit: AftLimit) -> float | None:
    """Return how far aft to begin [mm]: the lower 95 % limit of an aft limit; None without one.

    Own: where its lower end was not found, the foremost that was found of a manoeuvre alone, as
    the whole one lies no further aft; without any, or where that lies behind it, the limit itself.
    """
    if limit.aft_mm is None:
        return None
    low = forward_mm(limit.low_mm)
    if low is None:
        low = forward_mm(min(_lows(limit).values(), default=None))
    return limit.aft_mm if low is None else min(low, limit.aft_mm)


def _lows(limit: AftLimit) -> dict[str, float]:
    """Return the lower 95 % limits [mm] that were found of manoeuvres alone."""
    return {x.manoeuvre: x.low_mm for x in limit.each if x.low_mm is not None}


def lands_behind(limit: AftLimit) -> bool:
    """Return whether where to begin lies ahead of where it lands, or holds, at all.

    Though its aft limit does not: then no one balance point is known well enough to be named.
    """
    most, first = begin_mm(limit), _foremost(limit)
    if most is None or first is None or limit.aft_mm is None:
        return False
    return most < first <= limit.aft_mm


def _foremost(limit: AftLimit) -> float | None:
    """Return from where it lands, and comes back [mm]; None where neither bounds it."""
    ahead = limit.forward.aft_mm if limit.forward is not None else None
    return max((x for x in (ahead, limit.from_mm) if x is not None), default=None)


def inside_limits(balance_mm: float, limit: AftLimit | None) -> bool:
    """Return whether a balance point lies inside the 95 % limits of its aft limit, ahead of it."""
    most = None if limit is None else begin_mm(limit.held)
    if most is None or limit is None or aft_of(balance_mm, limit.held):
        return False
    return balance_mm > most and not same_balance(balance_mm, most)


def begin_text(limit: AftLimit) -> str:
    """Return "aft limit 126 mm (95 % limits 115 to 130): begin at or ahead of 115 mm, ...".

    With where its tray alone lets it begin, where that is elsewhere; no place where it does not
    land from so far forward.
    """
    most = begin_mm(limit)
    text = f"aft limit {figure_text(limit)}"
    if most is None or limit.aft_mm is None:
        return text
    ahead = _foremost(limit)
    if ahead is not None and ahead > limit.aft_mm:
        return text  # no window: there is no place to begin
    if ahead is not None and lands_behind(limit):
        does = "comes back" if ahead == limit.from_mm else "lands"
        return (
            f"{text}. NOT KNOWN WELL ENOUGH to name one balance point: it {does} from "
            f"{LENGTH.at_least(aft_whole(ahead))} {LENGTH}, and other draws may put the aft limit "
            "ahead of that; more draws (study --draws), or measuring, narrow it"
        )
    whose = ""
    if limit.low_mm is None:
        lows = _lows(limit)
        whose = " (the limit itself, as its lower 95 % one was not found)"
        if lows:
            first = spoken(min(lows, key=lambda name: lows[name]))
            whose = f" (of {first} alone, as the lower end of all was not found)"
    last = f"{LENGTH.at_most(limit.aft_mm)} {LENGTH}"
    place = f"{LENGTH.at_most(most)} {LENGTH}"
    if place == last:
        return f"{text}: fly it at or ahead of {place}{whose}{reach_note(limit)}"
    return (
        f"{text}: begin at or ahead of {place}{whose}{reach_note(limit)}; from there aft only "
        f"step by step, never behind {last}"
    )


def begin_short(limit: AftLimit) -> str:
    """Return "; begin at 115 mm", for a line of a card that ends with the limit; maybe empty."""
    most, ahead = begin_mm(limit), _foremost(limit)
    if most is None or limit.aft_mm is None or same_balance(most, limit.aft_mm):
        return ""
    if ahead is not None and most < ahead:
        return ""
    return f"; begin at {LENGTH.at_most(most)} {LENGTH}"


def reach_note(limit: AftLimit) -> str:
    """Return where its tray alone lets it begin, where that is not where to begin; else empty."""
    most_mm = begin_mm(limit)
    if limit.reach_mm is None or limit.aft_mm is None or most_mm is None:
        return ""
    front, rear = limit.reach_mm
    if rear < most_mm:
        return f" (its tray alone reaches aft only to {LENGTH.at_most(rear)} {LENGTH})"
    if front <= most_mm or same_balance(front, most_mm):
        return ""
    reach = f"its tray alone reaches forward only to {LENGTH.at_least(aft_whole(front))} {LENGTH}"
    if front > limit.aft_mm:
        return f" ({reach}, BEHIND the limit: it takes weight in the nose)"
    return f" ({reach}: begin there, inside the limits, or put weight in the nose)"


def tray_ends_behind(limit: AftLimit) -> bool:
    """Return whether its tray alone reaches no place ahead of where a limit begins to hold."""
    if limit.from_mm is None or limit.reach_mm is None:
        return False
    return limit.from_mm <= limit.reach_mm[0]


def behind_line(result: StudyResult) -> str:
    """Return which set-ups but today's balance behind their aft limit; maybe empty."""
    told = []
    for x in (x for x in result.setups if x.name != result.today):
        own = own_limit(result.aft_limits, x)
        if own is None or own.held.aft_mm is None or not aft_of(x.balance_aft_mm, own.held):
            continue
        told.append(
            f"{x.name}, at {LENGTH.ahead(x.balance_aft_mm)} (limit "
            f"{LENGTH.at_most(own.held.aft_mm)})"
        )
    if not told:
        return ""
    return f"Behind the aft limit, NOT to be flown there: {'; '.join(told)}."


def inside_line(result: StudyResult) -> str:
    """Return which set-ups but today's lie inside their aft limit's 95 % limits; maybe empty."""
    told = []
    for x in (x for x in result.setups if x.name != result.today):
        own = own_limit(result.aft_limits, x)
        most = None if own is None else begin_mm(own.held)
        if forward_of_limit(x) or own is None or most is None:
            continue
        if inside_limits(x.balance_aft_mm, own):
            place = LENGTH.ahead(x.balance_aft_mm)
            told.append(f"{x.name}, at {place}")
    if not told:
        return ""
    return f"Flown step by step only, inside the 95 % limits of their aft limit: {'; '.join(told)}."
