"""Where to stay with a pack, who lies behind that, and what other throws do to the limits."""

from sim.judge import Outcome
from sim.show.words.limits import figure_text, interval_text
from sim.show.words.phrases import listed, spoken
from sim.study.limits.interval import forward_mm
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import aft_of, own_limit, same_balance
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.window import aft_whole
from sim.units.quantities import LENGTH

TELLS = {
    Outcome.MET: "meets what is asked",
    Outcome.OPEN: "is undecided",
    Outcome.NOT_MET: "does not meet what is asked",
}


def stay_mm(limit: AftLimit) -> float | None:
    """Return how far aft to stay [mm]: the lower 95 % limit of an aft limit; None without one.

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
    """Return whether where to stay lies ahead of where it lands, or holds, at all.

    Though its aft limit does not: then no one balance point is known well enough to be named.
    """
    most, first = stay_mm(limit), _foremost(limit)
    if most is None or first is None or limit.aft_mm is None:
        return False
    return most < first <= limit.aft_mm


def _foremost(limit: AftLimit) -> float | None:
    """Return from where it lands, and comes back [mm]; None where neither bounds it."""
    ahead = limit.forward.aft_mm if limit.forward is not None else None
    return max((x for x in (ahead, limit.from_mm) if x is not None), default=None)


def past_staying(balance_mm: float, limit: AftLimit | None) -> bool:
    """Return whether a balance point lies aft of where to stay, though not of its aft limit."""
    most = None if limit is None else stay_mm(limit.held)
    if most is None or limit is None or aft_of(balance_mm, limit.held):
        return False
    return balance_mm > most and not same_balance(balance_mm, most)


def stay_text(limit: AftLimit) -> str:
    """Return "stay at or ahead of 115 mm, the forward end of the limits below. Aft limit 126 mm".

    With how far its tray alone reaches, where that is less; no place where it does not land from
    so far forward.
    """
    most = stay_mm(limit)
    if most is None:
        return f"aft limit {figure_text(limit)}"
    ahead = _foremost(limit)
    if ahead is not None and lands_behind(limit):
        does = "comes back" if ahead == limit.from_mm else "lands"
        return (
            f"NOT KNOWN WELL ENOUGH to name one balance point: it {does} from "
            f"{LENGTH.at_least(aft_whole(ahead))} {LENGTH}, and other draws may put the aft limit "
            "ahead of that; more draws (study --draws), or measuring, narrow it. Aft limit "
            f"{figure_text(limit)}"
        )
    rule = "the forward end of the limits below"
    if limit.low_mm is None:
        lows = _lows(limit)
        rule = "the limit itself, as the lower 95 % one was not found"
        if lows:
            first = spoken(min(lows, key=lambda name: lows[name]))
            rule = f"the forward end of those of {first} alone, as that of all was not found"
    reach = ""
    if limit.reach_mm is not None and limit.reach_mm[1] < most:
        reach = f"; its tray alone reaches only to {LENGTH.at_most(limit.reach_mm[1])} {LENGTH}"
    return f"stay at or ahead of {LENGTH.at_most(most)} {LENGTH}, {rule}{reach}. Aft limit " + (
        figure_text(limit)
    )


def behind_line(result: StudyResult) -> str:
    """Return which set-ups balance behind their aft limit, and by how much; maybe empty."""
    told = []
    for x in result.setups:
        own = own_limit(result.aft_limits, x)
        if own is None or own.held.aft_mm is None or not aft_of(x.balance_aft_mm, own.held):
            continue
        behind = x.balance_aft_mm - own.held.aft_mm
        ends = interval_text(own.held.low_mm, own.held.high_mm)
        told.append(
            f"{x.name}, at {LENGTH.ahead(x.balance_aft_mm)}, is {LENGTH(behind)} behind its aft "
            f"limit of {LENGTH.at_most(own.held.aft_mm)} {LENGTH} ({ends})"
        )
    if not told:
        return ""
    return f"Behind the aft limit, NOT to be flown there: {'; '.join(told)}."


def inside_line(result: StudyResult) -> str:
    """Return which set-ups balance aft of where to stay, inside their limit's; maybe empty."""
    told = []
    for x in result.setups:
        own = own_limit(result.aft_limits, x)
        most = None if own is None else stay_mm(own.held)
        if own is not None and most is not None and past_staying(x.balance_aft_mm, own):
            place = LENGTH.ahead(x.balance_aft_mm)
            told.append(f"{x.name}, at {place} ({LENGTH.ahead(most)} to stay)")
    if not told:
        return ""
    return (
        "Aft of where to stay, inside the 95 % limits of the aft limit, where other draws may "
        f"put it ahead of them: {'; '.join(told)}."
    )


def throws_lines(result: StudyResult) -> list[str]:
    """Return what other throws do to both limits of a pack, a line each pair; maybe none.

    Set-ups of one pack that differ in their throws and in nothing else of their combination, each
    against today's, or the first.
    """
    out = []
    told: set[tuple[str, str]] = set()
    for pack in dict.fromkeys(x.pack for x in result.setups):
        alike = [x for x in result.setups if x.pack == pack]
        first = next((x for x in alike if x.name == result.today), alike[0])
        for x in alike:
            same = (x.weights, x.nozzle, x.gyro) == (first.weights, first.nozzle, first.gyro)
            if same and x.throws != first.throws and (pack, x.throws) not in told:
                told.add((pack, x.throws))
                out.append(_throws_line(first, x, result))
    return out


def _throws_line(one: SetUpResult, two: SetUpResult, result: StudyResult) -> str:
    old, new = (_apart(x.throws, y.throws) for x, y in ((one, two), (two, one)))
    text = f"Throws, pack {one.pack}: {new} ({two.name}) instead of {old} ({one.name}): "
    return f"{text}aft limit {_aft_change(one, two, result)}{_forward_change(one, two)}."


def _apart(mine: str, other: str) -> str:
    """Return of throws in words those that another set-up has otherwise."""
    parts, others = mine.split(", "), other.split(", ")
    return ", ".join(x for x in parts if x not in others) or mine


def _aft_change(one: SetUpResult, two: SetUpResult, result: StudyResult) -> str:
    limits = [own_limit(result.aft_limits, x) for x in (one, two)]
    if all(x is None for x in limits):
        return f"not searched with either{_stands(one, two, result)}"
    ends = ["not searched" if x is None else figure_text(x.held) for x in limits]
    known = None not in limits
    return f"{ends[1]} instead of {ends[0]}" + ("" if known else _stands(one, two, result))


def _stands(one: SetUpResult, two: SetUpResult, result: StudyResult) -> str:
    """Return how both stand where they balance, as no limit of both tells."""
    required = result.required_share_pct
    told = [
        f"{x.name} at {LENGTH.ahead(x.balance_aft_mm)} {TELLS[setup_outcome(x, required)]}"
        for x in (one, two)
    ]
    return f" ({listed(told)})"


def _forward_change(one: SetUpResult, two: SetUpResult) -> str:
    places = [None if x.forward is None else x.forward.aft_mm for x in (one, two)]
    if places[0] is None or places[1] is None:
        return ""
    old, new = (f"{LENGTH.at_least(aft_whole(x))} {LENGTH}" for x in places if x is not None)
    return f"; forward limit {new} instead of {old}"
