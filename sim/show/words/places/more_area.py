"""What a larger elevator does for a forward limit, in words."""

from sim.landing.more_area import CHORD, MoreArea
from sim.show.words.phrases import capital
from sim.study.standing.window import aft_whole
from sim.units.quantities import LENGTH
from sim.units.ranges import range_words

AGAIN = "fly the study again with it: what it does to the aft limit is not reckoned"


def more_area_text(more: MoreArea | None, other: bool = True) -> str:
    """Return what a larger elevator does, as sentences; empty where it was not looked at.

    Where it does not do, with what ``other`` things are left to try.
    """
    if more is None:
        return ""
    size = f"{size_text(more)} instead of {_told(more, more.now)}"
    goal = f"{LENGTH.at_most(more.goal_mm)} {LENGTH}"
    if more.reached:
        return (
            f"{capital(size)} brings the forward limit to {_limit(more)}, which does for {goal}: "
            f"write {place_text(more)}, and {AGAIN}."
        )
    text = (
        f"More area alone does not do for {goal}, its throw as it is: {size}, the foremost of the "
        f"sizes looked at, puts the forward limit at {_limit(more)}."
    )
    return f"{text} {_else(more)}" if other else text


def _else(more: MoreArea) -> str:
    """Return what is left to try, which nothing was reckoned of."""
    what = "both together"
    if more.key == CHORD:
        what += f", or a larger {more.surface} (its panel_span_mm)"
    return (
        f"Not reckoned: {what}; 'aftlimit trim --landing' tells its forward limit at once, the "
        "study flown again both."
    )


def place_text(more: MoreArea) -> str:
    """Return the key of the larger size and where it stands, to be written."""
    table = f"the [[surfaces]] named {more.surface}"
    if more.key == CHORD:
        first = "the elevator's" if more.pieces == 1 else "the elevator's first"
        table = f"{first} [[surfaces.controls]] of {table}"
    rest = "" if more.pieces == 1 else f", and each of its others {more.value / more.now:.2f} times"
    return f"{more.key} = {more.value:.1f} into {table} in the aeroplane's file{rest}"


def size_text(more: MoreArea) -> str:
    """Return the larger size in words."""
    if more.key == CHORD:
        return f"an elevator of {_told(more, more.value)} of the chord"
    return f"a panel of {more.surface} of {_told(more, more.value)}"


def _told(more: MoreArea, value: float) -> str:
    return f"{value:.3g} %" if more.key == CHORD else LENGTH(value)


def _limit(more: MoreArea) -> str:
    """Return the forward limit with it, shown by draws, with its 95 % limits."""
    aft = more.aft_mm or 0.0
    ends = (aft if x is None else x for x in (more.low_mm, more.high_mm))
    low, high = (LENGTH.at_least(aft_whole(x)) for x in ends)
    place = LENGTH.at_least(aft_whole(aft))
    return f"{place} {LENGTH} over the draws (95 % limits {range_words(low, high)})"
