"""What a change bought and what it cost: all that moved by more than it is known to, by its sense.

Numbers of level flight, of full throttle and of the flight time are nominal, and hold of every
change. What only flights tell, shares that came back, height and agility, is known of the two
set-ups at the ends alone, if they were flown, and is told of all changes together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import inf, isfinite

import numpy as np

from sim import tables
from sim.judge.agility import FIGURES, figures
from sim.landing.forward import ForwardLimit
from sim.study.results.agility import Shown
from sim.study.results.result import BeforeAfter, Change, StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.heights import shown_from_all
from sim.study.standing.outcomes import best_recovery
from sim.study.standing.trade import achieved
from sim.study.standing.window import aft_whole

ALL = "all together"


class What(StrEnum):
    """What is set against each other; the unit at the end, of `SHOWN` that of its kind."""

    MASS = "mass_g"
    STALL = "stall_speed_mps"
    MARGIN = "static_margin_pct"
    PITCH_UP = "pitch_response_dps2"
    THROTTLE = "throttle"
    CURRENT = "current_a"
    MINUTES = "minutes"
    THRUST = "thrust_to_weight"
    TOP = "top_mps"
    FORWARD = "forward_limit_mm"
    AFT = "aft_limit_mm"
    WINDOW = "window_mm"
    FORWARD_OF = "forward_of_its_forward_limit_mm"
    AFT_OF = "aft_of_its_aft_limit_mm"
    BACK = "came_back"
    HEIGHT = "entry_height_shown_m"
    SHOWN = "shown"
    DONE = "done"
    OUT = "came_out"


# what is better more of; of the others less is, and what a manoeuvre shows has its kind's sense
MORE = {
    What.MARGIN, What.PITCH_UP, What.MINUTES, What.THRUST, What.TOP, What.AFT, What.WINDOW,
    What.BACK, What.OUT,
}  # fmt: skip
NOMINAL = {
    What.MASS, What.STALL, What.MARGIN, What.PITCH_UP, What.THROTTLE, What.CURRENT, What.THRUST,
    What.TOP,
}  # fmt: skip


@dataclass(frozen=True)
class Moved:
    """What moved, from ``was`` to ``now``, and whether that is better.

    Infinite: not to be had, or without end. `What.DONE` is 1 or 0. ``manoeuvre`` and its kind
    ``shows`` belong to what one manoeuvre tells.
    """

    what: What
    was: float
    now: float
    better: bool
    manoeuvre: str = ""
    shows: str = ""


@dataclass(frozen=True)
class Traded:
    """A change, and all that it moved; ``flown`` tells whether flights stand at both its ends.

    ``had`` False: the change cannot be had.
    """

    change: str
    moved: tuple[Moved, ...]
    flown: bool
    had: bool = True

    @property
    def bought(self) -> tuple[Moved, ...]:
        """What is better by it."""
        return tuple(x for x in self.moved if x.better)

    @property
    def cost(self) -> tuple[Moved, ...]:
        """What is worse by it."""
        return tuple(x for x in self.moved if not x.better)


def traded(one: BeforeAfter, result: StudyResult) -> tuple[Traded, ...]:
    """Return what each change on the way bought and cost, and what flights tell of all together.

    A single change has both in one.
    """
    first, *rest = one.lines
    out, before = [], first
    for line in rest:
        had = line.balance_aft_mm is not None
        out.append(Traded(line.what, tuple(_nominal(before, line)) if had else (), False, had))
        before = line if had else before
    flown = {x.name: x for x in result.setups}
    old, new = flown.get(one.before), flown.get(one.after)
    moved: list[Moved] = []
    if old is not None and new is not None:
        whole = first, before
        moved = [*_outside_ahead(*whole)] if len(out) > 1 else []
        moved += [*_risked(old, new, result), *_shown(old, new)]
    flies = old is not None and new is not None
    if len(out) == 1:
        return (replace(out[0], moved=(*out[0].moved, *moved), flown=flies),)
    return (*out, Traded(ALL, tuple(moved), True)) if flies else tuple(out)


def _moved(what: What, was: float, now: float, manoeuvre: str = "") -> Moved:
    return Moved(what, was, now, now > was if what in MORE else now < was, manoeuvre)


def _nominal(before: Change, after: Change) -> Iterator[Moved]:
    """Yield what moved of all that needs no flight of its own."""
    table = tables.study()
    ahead = bool(_forward_of(after))
    response = table.told_pitch_up_pct / 100.0 * (before.pitch_response_dps2 or 0.0)
    steps = (
        (What.MASS, before.mass_g, after.mass_g, table.told_mass_g),
        (What.STALL, before.stall_speed_mps, after.stall_speed_mps, table.told_stall_mps),
        (What.MARGIN, before.static_margin_pct, after.static_margin_pct, table.told_margin_pct),
        (What.PITCH_UP, before.pitch_response_dps2, after.pitch_response_dps2, response),
        (What.THROTTLE, before.throttle, after.throttle, table.told_throttle),
        (What.CURRENT, before.current_a, after.current_a, table.told_current_a),
        (What.MINUTES, before.minutes, after.minutes, table.told_minutes),
        (
            What.THRUST, before.thrust_to_weight, after.thrust_to_weight,
            table.told_thrust_to_weight,
        ),
        (What.TOP, before.top_mps, after.top_mps, table.told_top_mps),
    )  # fmt: skip
    for what, was, now, step in steps:
        if was is not None and now is not None and abs(now - was) >= step:
            moved = _moved(what, was, now)
            # margin is no gain where the tail does not land it any more
            yield replace(moved, better=False) if what is What.MARGIN and ahead else moved
    yield from _limits(before, after)
    yield from _outside(before, after)


def _limits(before: Change, after: Change) -> Iterator[Moved]:
    """Yield which ends of the window moved, and its width if one did."""
    ends = []
    was, now = _forward_ends(before.forward), _forward_ends(after.forward)
    if was is not None and now is not None and _apart(was[1:], now[1:]):
        ends.append(_moved(What.FORWARD, was[0], now[0]))
    old, new = _aft_ends(before), _aft_ends(after)
    if old is not None and new is not None and _apart(old[1:], new[1:]):
        ends.append(_moved(What.AFT, old[0], new[0]))
    yield from ends
    widths = before.window_mm, after.window_mm
    if ends and widths[0] is not None and widths[1] is not None:
        yield _moved(What.WINDOW, widths[0], widths[1])


def _outside(before: Change, after: Change) -> Iterator[Moved]:
    """Yield how far each lies outside its own window [mm], where that changed."""
    told = tables.card().same_balance_mm
    for what, of in ((What.FORWARD_OF, _forward_of), (What.AFT_OF, _aft_of)):
        was, now = of(before), of(after)
        if was is not None and now is not None and abs(now - was) >= told:
            yield _moved(what, was, now)


def _outside_ahead(before: Change, after: Change) -> Iterator[Moved]:
    """Yield that what is at the end lies forward of its forward limit, moved there or not."""
    was, now = _forward_of(before), _forward_of(after)
    if now:
        yield Moved(What.FORWARD_OF, was or 0.0, now, now < (was or 0.0))


def _forward_of(x: Change) -> float | None:
    """Return how far a line lies forward of its forward limit [mm], 0 where it does not."""
    ends = _forward_ends(x.forward)
    return _beyond(None if ends is None else aft_whole(ends[0]), x.balance_aft_mm)


def _aft_of(x: Change) -> float | None:
    """Return how far a line lies aft of its aft limit [mm], 0 where it does not."""
    return _beyond(x.balance_aft_mm, x.limit_mm)


def _beyond(one: float | None, two: float | None) -> float | None:
    if one is None or two is None:
        return None
    return one - two if one - two >= tables.card().same_balance_mm else 0.0


def _forward_ends(x: ForwardLimit | None) -> tuple[float, float, float] | None:
    """Return a forward limit with its 95 % limits; None without one."""
    if x is None or x.aft_mm is None:
        return None
    return x.aft_mm, -inf if x.low_mm is None else x.low_mm, inf if x.high_mm is None else x.high_mm


def _aft_ends(x: Change) -> tuple[float, float, float] | None:
    """Return an aft limit with its 95 % limits; None without one."""
    if x.limit_mm is None:
        return None
    low = -inf if x.limit_low_mm is None else x.limit_low_mm
    return x.limit_mm, low, inf if x.limit_high_mm is None else x.limit_high_mm


def _apart(one: Sequence[float], two: Sequence[float]) -> bool:
    """Return True if two intervals (low, high) have nothing in common."""
    return one[1] < two[0] or two[1] < one[0]


def _risked(before: SetUpResult, after: SetUpResult, result: StudyResult) -> Iterator[Moved]:
    """Yield which shares came back otherwise, and the height needed, by each best recovery."""
    required = result.required_share_pct
    rows = [{c.manoeuvre: c for c in best_recovery(x, required)} for x in (before, after)]
    for name in (x for x in rows[0] if x in rows[1]):
        was, now = rows[0][name].shares, rows[1][name].shares
        if _apart((was.back_low, was.back_high), (now.back_low, now.back_high)):
            shares = was.back / max(was.flights, 1), now.back / max(now.flights, 1)
            yield _moved(What.BACK, *shares, name)
    if not all(rows):
        return
    one, two = (shown_from_all(list(x.values()), required, result.draws) for x in rows)
    if (isfinite(one) or isfinite(two)) and abs(two - one) >= tables.card().same_height_m:
        yield _moved(What.HEIGHT, one, two)


def _shown(before: SetUpResult, after: SetUpResult) -> Iterator[Moved]:
    """Yield what both set-ups showed in the same manoeuvres, and how many came out of them."""
    known = {x.manoeuvre: x for x in before.agility}
    for now in after.agility:
        was = known.get(now.manoeuvre)
        if was is None:
            continue
        ends = achieved(was), achieved(now)
        if ends[0] != ends[1]:
            was_done, now_done = (float(x) for x in ends)
            yield Moved(What.DONE, was_done, now_done, ends[1], now.manoeuvre, now.shows)
        elif not all(ends) and _showed_otherwise(was, now):
            yield Moved(What.DONE, 0.0, 0.0, False, now.manoeuvre, now.shows)
        elif _showed_otherwise(was, now):
            less = FIGURES[now.shows].less
            one, two = was.figure.median, now.figure.median
            better = two < one if less else two > one
            yield Moved(What.SHOWN, one, two, better, now.manoeuvre, now.shows)
        if _apart((was.out_low, was.out_high), (now.out_low, now.out_high)):
            shares = was.out / max(was.flights, 1), now.out / max(now.flights, 1)
            yield _moved(What.OUT, *shares, now.manoeuvre)


def _showed_otherwise(was: Shown, now: Shown) -> bool:
    """Return True if medians lie apart, and most of the draws flown by both moved that way.

    The same draws fly every set-up, so that each is held against itself.
    """
    one, two = was.figure.median, now.figure.median
    table = tables.study()
    if not (isfinite(one) and isfinite(two)):
        if isfinite(one) == isfinite(two):
            return False
    elif abs(two - one) < table.told_shown_pct / 100.0 * abs(one):
        return False
    _, at, to = np.intersect1d(was.which, now.which, return_indices=True)
    pairs = figures(was.rows, was.shows)[at], figures(now.rows, now.shows)[to]
    way = pairs[1] > pairs[0] if two > one else pairs[1] < pairs[0]
    return bool(way.size and way.mean() >= table.told_same_way)
