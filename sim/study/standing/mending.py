"""What a set-up that may not be flown lacks, in the order to mend it."""

from collections.abc import Sequence
from enum import StrEnum

from sim.judge import Outcome
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.higher import never_back, short_cases
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.window import forward_of_limit


class Lack(StrEnum):
    """What is missing.

    ``FORWARD``: throw, as it lies forward of its forward limit. ``NEVER``: too many never come
    back, or from no height of use. ``HEIGHT``: it comes back, but too low. ``SHOWN``: more draws,
    as those flown cannot tell.
    """

    FORWARD = "forward"
    HEIGHT = "height"
    NEVER = "never"
    SHOWN = "shown"


def lacks(setup: SetUpResult, required_share_pct: float, draws: int) -> tuple[Lack, ...]:
    """Return what a set-up lacks: landing first, as its cure changes every flight.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    """
    found = {
        Lack.FORWARD: forward_of_limit(setup) > 0.0,
        Lack.NEVER: bool(never_back(setup, required_share_pct)),
        Lack.HEIGHT: bool(short_cases(setup, required_share_pct, draws)),
    }
    open_ = setup_outcome(setup, required_share_pct) is Outcome.OPEN
    found[Lack.SHOWN] = open_ and not (found[Lack.HEIGHT] or found[Lack.NEVER])
    return tuple(lack for lack, there in found.items() if there)


def failed_from_mm(setup: SetUpResult, limits: Sequence[AftLimit]) -> float | None:
    """Return the foremost balance point [mm] that a set-up's search tried, where even that failed.

    None where one did, where none lies ahead of the set-up, or where none was searched.
    """
    found = next((x for x in limits if setup.name in x.setups), None)
    if found is None or found.aft_mm is not None or not found.steps:
        return None
    foremost = min(x.balance_aft_mm for x in found.steps)
    return foremost if foremost < setup.balance_aft_mm else None
