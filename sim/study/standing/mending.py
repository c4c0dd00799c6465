"""What a set-up that may not be flown lacks, in the order to mend it."""

from collections.abc import Sequence
from enum import StrEnum

from sim.judge import Outcome
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import aft_of, own_limit
from sim.study.standing.higher import never_back, short_cases
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.window import Kind, forward_of_limit, window_of


class Lack(StrEnum):
    """What is missing.

    ``WINDOW``: no balance point of its pack and combination both lands and comes back, so balance
    alone is no cure. ``FORWARD``: throw, as it lies forward of its forward limit. ``NEVER``: too
    many never come back, or from no height of use. ``HEIGHT``: it comes back, but too low.
    ``AFT``: it meets what is asked, but lies aft of its aft limit. ``SHOWN``: more draws, as those
    flown cannot tell.
    """

    WINDOW = "window"
    FORWARD = "forward"
    AFT = "aft"
    HEIGHT = "height"
    NEVER = "never"
    SHOWN = "shown"


def lacks(
    setup: SetUpResult, required_share_pct: float, draws: int, limits: Sequence[AftLimit] = ()
) -> tuple[Lack, ...]:
    """Return what a set-up lacks: landing first, as its cure changes every flight.

    Where no balance point both lands and comes back, none further forward or aft is a cure.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    limits : sequence of AftLimit
        Those of the study.
    """
    own = own_limit(limits, setup)
    stands = setup_outcome(setup, required_share_pct)
    closed = no_window(setup, own)
    never = bool(never_back(setup, required_share_pct))
    nowhere = failed_from_mm(setup, limits) is not None
    aft = stands is Outcome.MET and aft_of(setup.balance_aft_mm, own)
    found = {
        Lack.WINDOW: closed,
        Lack.FORWARD: forward_of_limit(setup) > 0.0 and not closed,
        Lack.AFT: aft and not closed,
        Lack.NEVER: never and (nowhere or not closed),
        Lack.HEIGHT: bool(short_cases(setup, required_share_pct, draws)),
    }
    open_ = stands is Outcome.OPEN
    found[Lack.SHOWN] = open_ and not (found[Lack.HEIGHT] or found[Lack.NEVER])
    return tuple(lack for lack, there in found.items() if there)


def no_window(setup: SetUpResult, own: AftLimit | None) -> bool:
    """Return whether no balance point of its pack and combination both lands and comes back.

    Judged by the limit that holds, without what is not to be flown.
    """
    return own is not None and window_of(setup.forward, own.held).kind is Kind.NONE


def failed_from_mm(setup: SetUpResult, limits: Sequence[AftLimit]) -> float | None:
    """Return the foremost balance point [mm] that a set-up's search tried, where even that failed.

    None where one did, where none lies ahead of the set-up, or where none was searched.
    """
    found = next((x for x in limits if setup.name in x.setups), None)
    if found is None or found.aft_mm is not None or not found.steps:
        return None
    foremost = min(x.balance_aft_mm for x in found.steps)
    return foremost if foremost < setup.balance_aft_mm else None
