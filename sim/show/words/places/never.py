"""What a pack is not to be flown in, wherever it balances, and what holds without it, in words."""

from collections.abc import Sequence

from sim.show.words.phrases import capital, limits_text, listed, spoken
from sim.show.words.places.limits import gone_text, held_text
from sim.study.results.aft_limit import AftLimit, NeverMet
from sim.study.standing.higher import most_m
from sim.units.quantities import HEIGHT, LENGTH

NOT_DECIDED = (
    "without them it would do, so it is NOT DECIDED, not shown to be lost; what would decide it is "
    "a level flight to start from in those too (more elevator or power), or measuring more"
)
ROUND_UP_M = 5.0  # as heights to be asked for are


def never_text(limit: AftLimit) -> str:
    """Return what not to fly and why, with counts, and the limit without it; empty where none."""
    if not limit.never:
        return ""
    text = f"DO NOT FLY {_from(limit.never)} with it, {_where(limit.never)}"
    return f"{text}: {counts_text(limit.never)}. {without_text(limit)}"


def not_forward_text(limit: AftLimit) -> str:
    """Return that a limit does not hold from the foremost balance point on, and why; maybe empty.

    The balance point from which it does is a step of the search, not closed in: told too far aft
    rather than too far forward.
    """
    if limit.from_mm is None:
        return ""
    place = f"{LENGTH.at_least(limit.from_mm)} {LENGTH}"
    lost = "; ".join(
        f"{x.lost} of {x.flights} in {spoken(x.manoeuvre)} ({limits_text(x.lost_low, x.lost_high)})"
        f" do not come back at {LENGTH(x.balance_aft_mm)}, the foremost; {height_text(x)}"
        for x in limit.ahead
    )
    return (
        f"NOT FORWARD of {place} either, the first step aft that meets what is asked"
        f"{': ' if lost else ''}{lost}"
    )


def never_short(limit: AftLimit) -> str:
    """Return the same in two short sentences, for a first line; empty where none."""
    if not limit.never:
        return ""
    counts = "; ".join(
        f"{x.lost} of {x.flights} in {spoken(x.manoeuvre)} "
        f"({limits_text(x.lost_low, x.lost_high)}) do not come back even at "
        f"{LENGTH(x.balance_aft_mm)}, the foremost; {height_text(x)}"
        for x in limit.never
    )
    text = f"DO NOT FLY {_from(limit.never)}, {_where(limit.never)}: {counts}."
    other = limit.without
    if other is None:
        return text
    if other.aft_mm is None:
        return f"{text} Without, no aft limit is found either."
    ahead = not_forward_text(other)
    return f"{text} {capital(held_text(limit))}.{' ' if ahead else ''}{ahead}{'.' if ahead else ''}"


def _from(never: Sequence[NeverMet]) -> str:
    """Return what is not to be flown, with the height that it was entered at where more helps."""
    return listed([
        f"{spoken(x.manoeuvre)} from {HEIGHT(x.entry_m)}" if _height_helps(x)
        else spoken(x.manoeuvre) for x in never
    ])  # fmt: skip


def _where(never: Sequence[NeverMet]) -> str:
    """Return at which balance points that was found."""
    if all(x.places == 1 for x in never):
        return f"at {LENGTH(never[0].balance_aft_mm)}, the only balance tried"
    return "at any balance tried"


def _height_helps(never: NeverMet) -> bool:
    return never.need_m is not None and never.entry_m < never.need_m <= most_m()


def counts_text(never: Sequence[NeverMet]) -> str:
    """Return how many do not come back at the foremost balance point, manoeuvre by manoeuvre."""
    return "; ".join(_counted(x) for x in never)


def without_text(limit: AftLimit) -> str:
    """Return the limit over the manoeuvres that are left, or that there is none, a sentence."""
    other = limit.without
    if other is None:
        return "No manoeuvre of the search is left."
    rest = listed([spoken(x) for x in other.manoeuvres])
    if other.aft_mm is None:
        return f"Flown without {gone_text(limit)} there is no aft limit either ({rest})."
    text = f"{capital(held_text(limit))}, by {spoken(other.recovery)} ({rest})."
    ahead = not_forward_text(other)
    return f"{text} {ahead}." if ahead else text


def height_text(never: NeverMet) -> str:
    """Return whether more height would bring enough back there, in a clause."""
    if never.need_m is None or not _height_helps(never):
        text = f"{never.never} of {never.flights} cannot be saved from any height"
        rest = never.lost - never.never - never.unresolved
        text += f", {rest} more from a greater one only" if rest else ""
        if not never.unresolved:
            return text
        count = "counts" if never.unresolved == 1 else "count"
        text += f", {never.unresolved} could not be resolved and {count} against"
        return text if never.shown else f"{text}: {NOT_DECIDED}"
    need = HEIGHT(-(-never.need_m // ROUND_UP_M) * ROUND_UP_M)
    return f"95 % of its flights need {need} of entry height, floor included"


def _counted(x: NeverMet) -> str:
    share = limits_text(x.lost_low, x.lost_high)
    place = f"{LENGTH(x.balance_aft_mm)}, the only balance point flown"
    if x.places > 1:
        place = (
            f"{LENGTH(x.balance_aft_mm)}, the foremost of the {x.places} balance points flown, nor "
            "is it shown to at any of the others flown"
        )
    return (
        f"{x.lost} of {x.flights} flights in {spoken(x.manoeuvre)} (95 % limits {share}) are not "
        f"back above the floor of {HEIGHT(x.floor_m)} even at {place}; entered at "
        f"{HEIGHT(x.entry_m)}, {height_text(x)}"
    )
