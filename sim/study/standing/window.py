"""The window of balance points: forward limit by authority, aft limit by recovery."""

from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from sim import tables
from sim.landing.forward import ForwardLimit
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import front_of


class Kind(StrEnum):
    """What is known of a window."""

    OPEN = "window"
    NONE = "no window"
    NO_AFT = "no aft limit"
    NOT_SEARCHED = "aft limit not searched"
    UNKNOWN = "forward limit not found"
    REFUTED = "forward limit refuted by what is flown"


@dataclass(frozen=True)
class Window:
    """From where to where [mm aft] a pack and combination lands, and comes back.

    ``front_mm`` is the forward limit, or the foremost balance point from which recovery is
    shown, whichever lies further aft; both ends only with `Kind.OPEN`. ``forward_mm`` and
    ``ends_mm`` are the two limits, where there are such; with `Kind.REFUTED` the first is only
    reckoned, and it is flown from ``front_mm`` today; ``flown_from_mm`` is the foremost
    balance point at which recovery was shown, None where none was.
    """

    kind: Kind
    front_mm: float | None
    aft_mm: float | None
    forward_mm: float | None
    ends_mm: float | None
    flown_from_mm: float | None
    at_end: bool


def aft_whole(mm: float) -> float:
    """Return a forward limit in whole mm, rounded aft, so as to claim no more."""
    return float(ceil(mm - 1e-9))


def window_of(forward: ForwardLimit | None, limit: AftLimit | None) -> Window:
    """Return the window between a forward limit and an aft limit of the same combination."""
    ahead = None if forward is None or forward.aft_mm is None else aft_whole(forward.aft_mm)
    aft = None if limit is None else limit.aft_mm
    flown = None if limit is None else front_of(limit)
    at_end = limit is not None and limit.at_end
    if forward is not None and forward.reckoned_mm is not None:
        reckoned = aft_whole(forward.reckoned_mm)
        return Window(Kind.REFUTED, forward.flown_mm, None, reckoned, aft, flown, at_end)
    if ahead is None:
        return Window(Kind.UNKNOWN, None, None, None, aft, flown, at_end)
    if limit is None:
        return Window(Kind.NOT_SEARCHED, None, None, ahead, aft, flown, at_end)
    if aft is None:
        return Window(Kind.NO_AFT, None, None, ahead, aft, flown, at_end)
    if ahead > aft:
        return Window(Kind.NONE, None, None, ahead, aft, flown, at_end)
    front = ahead if flown is None else max(ahead, flown)
    return Window(Kind.OPEN, front, aft, ahead, aft, flown, at_end)


def forward_of_limit(setup: SetUpResult) -> float:
    """Return how far a set-up lies forward of its forward limit [mm]; 0 where it does not."""
    return ahead_mm(setup.forward, setup.balance_aft_mm)


def even_nominal(forward: ForwardLimit | None, balance_mm: float) -> bool:
    """Tell whether even the nominal aeroplane lies too far forward there to land or take off."""
    nominal = None if forward is None else forward.nominal_mm
    return nominal is not None and balance_mm < nominal


def ahead_mm(forward: ForwardLimit | None, balance_mm: float) -> float:
    """Return how far a balance point lies forward of a forward limit [mm]; 0: it does not."""
    if forward is None or forward.aft_mm is None:
        return 0.0
    short = aft_whole(forward.aft_mm) - balance_mm
    return short if short >= tables.card().same_balance_mm else 0.0
