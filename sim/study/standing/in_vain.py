"""What the recovery that stands for a set-up does not end, and whether another one did.

Told from the study's own flights: recoveries after one manoeuvre fly the same draws.
"""

from dataclasses import dataclass
from math import radians

import numpy as np

from sim import tables
from sim.core import script_layout as s
from sim.judge import is_back, is_resolved
from sim.judge.deep_stall import has_hung
from sim.judge.verdicts import stayed_attached
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.outcomes import best_recovery


@dataclass(frozen=True)
class Other:
    """How many of the draws that one recovery did not end another one flew, and brought back."""

    recovery: str
    flown: int
    back: int


@dataclass(frozen=True)
class InVain:
    """Flights of a manoeuvre that departed and that a ``recovery`` brought back from no height.

    ``lost`` of ``flights``, without those that hung in a deep stall, which are told by
    themselves; ``tumbled`` of them went nose over tail. ``others`` are the recoveries flown by
    some of the same draws, what brought back most first.
    """

    manoeuvre: str
    recovery: str
    flights: int
    lost: int
    tumbled: int
    others: tuple[Other, ...]


def in_vain(setup: SetUpResult, required_share_pct: float) -> tuple[InVain, ...]:
    """Return what the recovery that stands for a set-up does not end, by manoeuvre; maybe none."""
    found = (_of(case, setup) for case in best_recovery(setup, required_share_pct))
    return tuple(x for x in found if x is not None)


def goes_over(rows: np.ndarray) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether its nose went over its tail.

    Own: its angle of attack was beyond NASA's bound of the flattest spin, judge.toml, both ways.
    """
    most = radians(tables.judge().spin_modes.upper_alpha_deg[-1])
    return (rows[:, s.R_PEAK_ALPHA] > most) & (rows[:, s.R_LEAST_ALPHA] < -most)


def _of(case: CaseResult, setup: SetUpResult) -> InVain | None:
    rows = case.rows
    gone = is_resolved(rows) & ~(rows[:, s.R_BACK] > 0.0)
    gone &= ~has_hung(rows) & ~stayed_attached(rows)
    if not gone.any():
        return None
    draws = case.which[gone]
    others = [
        _other(x, draws)
        for x in setup.cases
        if x.manoeuvre == case.manoeuvre and x.recovery != case.recovery
    ]
    return InVain(
        manoeuvre=case.manoeuvre,
        recovery=case.recovery,
        flights=len(rows),
        lost=int(gone.sum()),
        tumbled=int(goes_over(rows[gone]).sum()),
        others=tuple(sorted((x for x in others if x.flown), key=lambda x: -x.back / x.flown)),
    )


def _other(case: CaseResult, draws: np.ndarray) -> Other:
    same = np.isin(case.which, draws)
    back = is_back(case.rows[same], case.entry_m, case.floor_m)
    return Other(case.recovery, int(same.sum()), int(back.sum()))
