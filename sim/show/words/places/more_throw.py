"""What more travel of the pitch surface does for a forward limit, in words."""

from sim.landing.forward import FLARE, ROTATE, TOUCH_DOWN
from sim.landing.more_throw import Ended, MoreThrow, Travel
from sim.study.standing.window import aft_whole
from sim.units.quantities import LENGTH
from sim.units.ranges import range_words

DOING = {FLARE: "the flare", TOUCH_DOWN: "holding off", ROTATE: "lifting the nose for take-off"}
AGAIN = (
    "More throw can also cost aft limit, as it is easier to overdo in flight: fly the study again "
    "with it."
)


def more_throw_text(more: MoreThrow | None) -> str:
    """Return what more travel does, as sentences; empty where it was not looked at."""
    if more is None:
        return ""
    best = more.best
    now = f"{more.now.deg:.3g}° ({LENGTH(more.now.mm)})"
    if best is None:
        return f"Full aft stick gives {now} of {_surface(more)} already; no more was looked at."
    others = f" (and {', '.join(more.others)} in proportion)" if more.others else ""
    gives = f"{_travel(best)} of {_surface(more)}{others} instead of {now}"
    goal = f"{LENGTH.at_most(more.goal_mm)} {LENGTH}"
    if more.reached:
        near = best.high_mm is not None and best.high_mm > more.goal_mm
        only = ", if only just (its 95 % limits reach further aft)" if near else ""
        return (
            f"About {gives} brings the forward limit to {_limit(best)}, which does for {goal}"
            f"{only}. {key_text(more)} {AGAIN}"
        )
    by = DOING.get(best.decided_by or "", "")
    by = f", now by {by}" if by else ""
    yet = "no further was looked at" if more.ended is Ended.MOST else "yet more does not help"
    nominally = "; by the file's own values alone it does" if more.nominally else ""
    if best.decided_by == ROTATE:
        nominally += "; main wheels nearer behind the balance point help there"
    return (
        f"More throw alone does not do for {goal}: {gives} puts the forward limit at "
        f"{_limit(best)}{by}; {yet}{nominally}."
    )


def key_text(more: MoreThrow) -> str:
    """Return which key of the aeroplane's file gives the best travel; empty without one."""
    if more.best is None:
        return ""
    if more.other_way is not None:
        return f"To do so write {place_text(more)}."
    own = f"{{ {more.channel} = {{ {_key(more, more.best)} }} }}"
    return f"To do so write {place_text(more)}, or throws = {own} in a set-up that has its own."


def place_text(more: MoreThrow) -> str:
    """Return the key of the best travel and where it stands, to be written; empty without one."""
    if more.best is None:
        return ""
    if more.other_way is not None:  # the elevator's part of a channel that sticks share
        back = f"{'down_deg' if more.up else 'up_deg'} = {more.other_way * more.best.deg:.3g}"
        return f"throws = {{ elevator = {{ {_key(more, more.best)}, {back} }} }} in its set-up"
    return f"{_key(more, more.best)} under [channels.{more.channel}] in the aeroplane's file"


def _key(more: MoreThrow, travel: Travel) -> str:
    return f"{'up_deg' if more.up else 'down_deg'} = {travel.deg:.3g}"


def more_throw_clause(more: MoreThrow | None) -> str:
    """Return the same in a clause, to follow a semicolon; empty where it was not looked at."""
    if more is None or more.best is None:
        return ""
    best = more.best
    turned = f"{best.deg:.3g}° of {_surface(more)} ({LENGTH(best.mm)} at the trailing edge)"
    if more.reached:
        return (
            f"about {turned} instead of {more.now.deg:.3g}° brings that to {_limit(best)}: fly "
            "the study again with it"
        )
    return f"more throw alone does not do ({turned} gives {_limit(best)})"


def more_throw_short(more: MoreThrow | None) -> str:
    """Return the travel that does in a sentence for a card; empty where none is known to."""
    if more is None or not more.reached or more.best is None:
        return ""
    return (
        f" Full aft stick wants about {more.best.deg:.3g}° of {_surface(more)} "
        f"({LENGTH(more.best.mm)}) instead of {more.now.deg:.3g}°: fly the study again with it."
    )


def _surface(more: MoreThrow) -> str:
    return f"{'up' if more.up else 'down'} {more.channel}"


def _travel(travel: Travel) -> str:
    return f"{travel.deg:.3g}° ({LENGTH(travel.mm)} at the trailing edge)"


def _limit(travel: Travel) -> str:
    """Return a forward limit shown by draws with its 95 % limits."""
    ends = (travel.low_mm or 0.0, travel.high_mm or 0.0)
    low, high = (LENGTH.at_least(aft_whole(x)) for x in ends)
    return (
        f"{LENGTH.at_least(aft_whole(travel.aft_mm or 0.0))} {LENGTH} over the draws "
        f"(95 % limits {range_words(low, high)})"
    )
