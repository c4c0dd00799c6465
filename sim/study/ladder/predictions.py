"""What a test flight should show: level trim, stall and one manoeuvre, over the draws."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, inf, isfinite
from pathlib import Path

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.flights.perturb import perturbed
from sim.describe import Case, StudyFiles
from sim.judge import Shares, shares_of
from sim.pack.assemble import Assembled, flown_spreads
from sim.pack.stalling import stall_speed
from sim.study.flights.cases import case_result, flown_case, infinite_unless_back
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Leg, Runner
from sim.study.flights.storing import FlightStore
from sim.study.flights.watch import Watch
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.heights import ceiling_of
from sim.trim.trimming import level

LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9


@dataclass(frozen=True)
class Band:
    """The 10, 50 and 90 % points over draws; None stands for flights that never came back."""

    low: float | None
    middle: float | None
    high: float | None


NO_BAND = Band(None, None, None)


@dataclass(frozen=True)
class Prediction:
    """What a step should show, over ``draws`` draws.

    ``tail_deg`` is the pitch surface in level flight, trailing edge down positive, over
    the ``trims`` draws that have level flight at that speed; ``stall_mps`` the slowest
    level flight; ``height_lost_m`` runs from the first recovery input to level;
    ``most_needed_m`` is the entry height that the flight which needs most takes, floor
    included, None where one never came back; ``departed`` flights let go of the manoeuvre.
    """

    draws: int
    trims: int
    tail_deg: Band
    stall_mps: Band
    height_lost_m: Band
    most_needed_m: float | None
    departed: int


def band(values: np.ndarray) -> Band:
    """Return the 10, 50 and 90 % points of values (n,), the upper of two neighbours.

    Infinite ones come out as None, and so do all three where there are no values.
    """
    if values.size == 0:
        return NO_BAND
    ordered = np.sort(values)
    points = [float(ordered[ceil(q * (values.size - 1))]) for q in (LOW, MIDDLE, HIGH)]
    return Band(*(p if isfinite(p) else None for p in points))


def mildest_first(files: StudyFiles, wanted: SetUpResult, recovery: str) -> list[Case]:
    """Return the cases of a study, the mildest first.

    By the entry height that 95 % of flights need in the wanted set-up by the recovery given,
    so that manoeuvres of any name have their order; heights too close to matter leave it
    to the peak angle of attack. Those that have no such height come last.
    """
    flown = {c.manoeuvre: c for c in wanted.cases if c.recovery == recovery}
    same = tables.card().same_height_m

    def rank(case: Case) -> tuple[float, float]:
        own = flown.get(case.manoeuvre)
        need = None if own is None else own.entry_height_needed_m.p95
        if own is None or need is None:
            return inf, inf
        return need // same, own.peak_alpha_deg.p95 or inf

    return sorted(files.study.cases, key=rank)


class Predictor:
    """Flies a study's draws at the steps of a ladder, and says what they show."""

    def __init__(
        self,
        files: StudyFiles,
        folder: Path | None = None,
        workers: int | None = None,
        watch: Watch | None = None,
    ) -> None:
        """Keep flights under ``folder``, with those of the study, if one is given."""
        values = tables.card()
        study = files.study
        self.files = files
        self.count = values.ladder_draws
        self.ceiling_m = ceiling_of(study)
        self.draws = make_draws(flown_spreads(files.aeroplane), self.count, study.seed)
        watch = watch or Watch()
        store = FlightStore(folder, told=watch.damaged)
        self.runner = Runner(self.draws, study.seed, store, workers, watch.ended)

    def fly(
        self, wanted: Sequence[tuple[Assembled, Sequence[Case]]], recovery: str
    ) -> list[list[CaseResult]]:
        """Return the cases of each set-up, flown with one recovery, all in one go.

        They are judged from the study's entry height or the ceiling, whichever is lower.
        """
        script = self.files.recoveries[recovery]
        which = np.arange(self.count)
        pairs = [(ready, case) for ready, cases in wanted for case in cases]
        legs = [
            Leg(ready, self.files.manoeuvres[case.manoeuvre], script, self._heights(case)[0], which)
            for ready, case in pairs
        ]
        done = []
        for leg, (_, case), rows in zip(legs, pairs, self.runner.fly(legs), strict=True):
            entry, floor = self._heights(case)
            span = leg.assembled.weighed.reference.span_m
            sides = self.runner.sides_of(leg)
            entry = min(entry, self.ceiling_m)
            flown = flown_case(self.files, case.manoeuvre, recovery, entry, floor)
            done.append(case_result(flown, rows, sides, span))
        told = iter(done)
        return [[next(told) for _ in cases] for _, cases in wanted]

    def _heights(self, case: Case) -> tuple[float, float]:
        return self.files.study.heights_of(case)

    def shares(self, case: CaseResult) -> Shares:
        """Return how a case's flights ended, judged from the study's own entry height."""
        wish = next(x for x in self.files.study.cases if x.manoeuvre == case.manoeuvre)
        return shares_of(case.rows, *self._heights(wish))

    def trim(self, ready: Assembled, speed_mps: float) -> Band:
        """Return the pitch surface [deg] in level flight, trailing edge down positive."""
        return band(self._tails(ready, speed_mps))

    def _tails(self, ready: Assembled, speed_mps: float) -> np.ndarray:
        """Return the pitch surface [deg] of the draws (n,) that have level flight at a speed."""
        models = [perturbed(ready.model, ready.roles, draw) for draw in self.draws.physical]
        trims = [level(replace(ready, model=model), speed_mps) for model in models]
        return np.array([trim.tail_deg for trim in trims if trim.found])

    def seen(self, ready: Assembled, case: CaseResult, speed_mps: float) -> Prediction:
        """Return what level flight at a speed, the stall and a flown case should show."""
        area = ready.weighed.reference.area_m2
        tails = self._tails(ready, speed_mps)
        models = [perturbed(ready.model, ready.roles, draw) for draw in self.draws.physical]
        stalls = [stall_speed(x, area, float(x.mass[k.M_MASS])) for x in models]
        most = float(infinite_unless_back(case.rows, s.R_DROP).max()) + case.floor_m
        return Prediction(
            draws=self.count,
            trims=len(tails),
            tail_deg=band(tails),
            stall_mps=band(np.array(stalls)),
            height_lost_m=band(infinite_unless_back(case.rows, s.R_HEIGHT_LOST)),
            most_needed_m=most if isfinite(most) else None,
            departed=int((case.rows[:, s.R_DEPARTED] > 0.0).sum()),
        )
