"""Where height is what is missing: how much of it, and from where to fly a study again."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from sim import tables
from sim.judge import Outcome, is_back, outcome
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.chance import quantile_limits
from sim.study.standing.heights import height_to_meet, needed_heights, quantile
from sim.study.standing.outcomes import best_recovery


@dataclass(frozen=True)
class Short:
    """A manoeuvre of a set-up that flights come back from, but too low.

    ``need_m`` is the entry height [m] that the share asked for of its flights needs, with 95 %
    limits ``low_m`` and ``high_m``, infinite where so few flights do not bound it; ``sure_m``
    the one from which they would show that share by its lower 95 % limit, None where no height of
    use does. ``lost`` flights did not come back, ``too_low`` of them for want of height.
    """

    setup: str
    case: CaseResult
    need_m: float
    low_m: float
    high_m: float
    sure_m: float | None
    lost: int
    too_low: int


def short_cases(setup: SetUpResult, required_share_pct: float, draws: int) -> tuple[Short, ...]:
    """Return the manoeuvres of a set-up that more height would bring back, by its best recovery.

    None that meets the requirement anyway, or that needs more height than card.toml would have
    flown again.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    """
    out, share = [], required_share_pct / 100.0
    for case in best_recovery(setup, required_share_pct):
        needed = needed_heights(case)
        need = quantile(needed, share)
        if outcome(case.shares, required_share_pct) is Outcome.MET or need > most_m():
            continue
        sure = height_to_meet(case, required_share_pct, draws)
        sure = None if sure is None or sure > most_m() else sure
        higher = need if need > case.entry_m else sure
        if higher is None or higher <= case.entry_m:
            continue
        lost = needed[~is_back(case.rows, case.entry_m, case.floor_m)]
        low, high = quantile_limits(needed, share)
        too_low = int(np.isfinite(lost).sum())
        out.append(Short(setup.name, case, need, low, high, sure, len(lost), too_low))
    return tuple(out)


def most_m() -> float:
    """Return the entry height [m] above which height is no cure (card.toml)."""
    return tables.card().again_most_m


def never_back(setup: SetUpResult, required_share_pct: float) -> tuple[CaseResult, ...]:
    """Return the cases not shown that too many never came back from, or from no height of use."""
    share = required_share_pct / 100.0
    return tuple(
        case
        for case in best_recovery(setup, required_share_pct)
        if outcome(case.shares, required_share_pct) is not Outcome.MET
        and quantile(needed_heights(case), share) > most_m()
    )


def short_of_height(setup: SetUpResult, required_share_pct: float, draws: int) -> tuple[Short, ...]:
    """Return the manoeuvres that more height would bring back, where that is all it lacks.

    Parameters
    ----------
    draws : int
        The most that the study flies.
    """
    if never_back(setup, required_share_pct):
        return ()
    return short_cases(setup, required_share_pct, draws)


def shortest(shorts: Sequence[Short]) -> Short | None:
    """Return the manoeuvre that lacks most height; None without any."""
    return max(shorts, key=lambda x: x.need_m - x.case.entry_m, default=None)


@dataclass(frozen=True)
class Higher:
    """What of a study is short of height, and the height to fly it again from.

    ``entry_m`` is no lower than any manoeuvre was entered, so that none loses height by it, and no
    higher than card.toml calls a cure; ``others`` are cases, with their set-up, for which height is
    no cure.
    """

    shorts: tuple[Short, ...]
    entry_m: float
    others: tuple[tuple[str, CaseResult], ...]


def higher_to_fly(result: StudyResult) -> Higher | None:
    """Return what a study needs to be flown again from higher; None where that is not it."""
    asked = result.required_share_pct
    shorts = [
        short
        for setup in result.setups
        for short in short_cases(setup, asked, result.draws)
        if short.need_m > short.case.entry_m
    ]
    if not shorts:
        return None
    others = tuple((x.name, case) for x in result.setups for case in never_back(x, asked))
    entries = [c.entry_m for x in result.setups for c in x.cases]
    step = tables.card().again_step_m
    needs = [x.high_m if np.isfinite(x.high_m) else x.need_m for x in shorts]
    wanted = step * ceil(max([*entries, *needs]) / step - 1e-9)
    return Higher(tuple(shorts), max([*entries, min(wanted, most_m())]), others)
