"""What the departure criteria say of each set-up, against what its flights did."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from sim.core import script_layout as s
from sim.judge import wilson
from sim.pack.assemble import Assembled
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.trim.criteria import Says, criteria_beyond_stall, first, says

HALF = 0.5


@dataclass(frozen=True)
class Agreement:
    """One manoeuvre of a set-up: what the criteria say, and how many flights departed.

    ``at_stall`` and ``beyond`` are the criteria at the stall, and from it to ``to_deg``;
    ``low`` and ``high`` the 95 % Wilson limits of the share that departed.
    """

    setup: str
    manoeuvre: str
    at_stall: Says
    beyond: Says
    to_deg: float
    departed: int
    flights: int
    low: float
    high: float

    @property
    def mostly_departed(self) -> bool | None:
        """Whether more than half departed; None where the draws cannot tell."""
        if self.low > HALF:
            return True
        return False if self.high < HALF else None

    @property
    def agree(self) -> bool | None:
        """Whether the criteria expected what was flown; None where that cannot be told."""
        if self.mostly_departed is None:
            return None
        return self.mostly_departed == (self.beyond is not Says.RESISTS)


def entries_of(setup: SetUpResult) -> dict[str, CaseResult]:
    """Return one case for each manoeuvre; its recoveries share the entries."""
    seen: dict[str, CaseResult] = {}
    for case in setup.cases:
        seen.setdefault(case.manoeuvre, case)
    return seen


def departures(case: CaseResult) -> tuple[int, int]:
    """Return how many of the resolved flights departed, and how many those are."""
    status = case.rows[:, s.R_STATUS].astype(int)
    resolved = ~np.isin(status, (s.STATUS_BROKEN, s.STATUS_NO_TRIM))
    return int((case.rows[resolved, s.R_DEPARTED] > 0.0).sum()), int(resolved.sum())


def departure_agreement(result: StudyResult, ready: Iterable[Assembled]) -> list[Agreement]:
    """Return a row for each set-up and manoeuvre.

    Parameters
    ----------
    ready : Assembled, one a set-up
        The set-ups of the study in its order, nominal.
    """
    return [
        row
        for setup, assembled in zip(result.setups, ready, strict=True)
        for row in _rows(setup, assembled)
    ]


def _rows(setup: SetUpResult, assembled: Assembled) -> Sequence[Agreement]:
    criteria = criteria_beyond_stall(assembled)
    out = []
    for name, case in entries_of(setup).items():
        departed, flights = departures(case)
        low, high = wilson(departed, flights)
        out.append(
            Agreement(
                setup=setup.name,
                manoeuvre=name,
                at_stall=says(first(criteria)),
                beyond=says(criteria),
                to_deg=float(criteria.alphas_deg[-1]),
                departed=departed,
                flights=flights,
                low=low,
                high=high,
            )
        )
    return out
