"""Fly every case of a study until it is decided, or a cap is reached."""

from collections.abc import Callable, Sequence

import numpy as np

from sim.describe import StudyFiles
from sim.judge import Outcome, looks_for, outcome, shares_of
from sim.judge.looks import Looks
from sim.pack.assemble import Assembled
from sim.study.cases import Flown, case_result, flown_case
from sim.study.results.set_up import CaseResult
from sim.study.running import Leg, Runner


class Trial:
    """One case under trial: what it flies, and the summaries so far (n, N_SUMMARY)."""

    def __init__(self, setup: int, flown: Flown, leg: Leg) -> None:
        """Try the case ``flown`` of the set-up with this index; ``leg`` has no draws yet."""
        self.setup = setup
        self.flown = flown
        self.leg = leg
        self.rows: list[np.ndarray] = []
        self.count = 0

    def next_leg(self, count: int) -> Leg:
        """Return the leg from the draws flown so far up to ``count`` of them."""
        leg, self.count = self.leg, count
        done = sum(len(rows) for rows in self.rows)
        return Leg(leg.assembled, leg.manoeuvre, leg.recovery, leg.entry_m, np.arange(done, count))

    def decided(self, looks: Looks, required_share_pct: float) -> bool:
        """Return True once the share that came back is known to meet the requirement, or not."""
        flown = self.flown
        rows = np.concatenate(self.rows)
        shares = shares_of(rows, flown.entry_m, flown.floor_m, looks.limits)
        return outcome(shares, required_share_pct) is not Outcome.OPEN


def fly_cases(
    runner: Runner,
    files: StudyFiles,
    ready: Sequence[Assembled],
    left_out: Callable[[int], None] = lambda _: None,
) -> list[tuple[CaseResult, ...]]:
    """Return the cases of each set-up; all undecided ones fly on together, chunk by chunk.

    Each flies the same draws in the same order, so one with fewer has the first of them.

    Parameters
    ----------
    left_out : callable
        Told how many of the planned flights were not needed.
    """
    study = files.study
    looks = looks_for(study.required_share_pct / 100.0, study.draws)
    trials = _trials(files, ready)
    running = trials
    for count in looks.counts:
        legs = [trial.next_leg(count) for trial in running]
        for trial, rows in zip(running, runner.fly(legs), strict=True):
            trial.rows.append(rows)
        still = [t for t in running if not t.decided(looks, study.required_share_pct)]
        left_out((len(running) - len(still)) * (study.draws - count))
        running = still
        if not running:
            break
    out: list[list[CaseResult]] = [[] for _ in ready]
    for trial in trials:
        rows = np.concatenate(trial.rows)
        leg = Leg(
            trial.leg.assembled, trial.leg.manoeuvre, trial.leg.recovery, trial.leg.entry_m,
            np.arange(len(rows)),
        )  # fmt: skip
        span = leg.assembled.weighed.reference.span_m
        sides = runner.sides_of(leg)
        out[trial.setup].append(case_result(trial.flown, rows, sides, span, looks.limits))
    return [tuple(cases) for cases in out]


def _trials(files: StudyFiles, ready: Sequence[Assembled]) -> list[Trial]:
    study = files.study
    none = np.arange(0)
    out = []
    for i, assembled in enumerate(ready):
        for case in study.cases:
            entry, floor = study.heights_of(case)
            manoeuvre = files.manoeuvres[case.manoeuvre]
            for name in case.recoveries:
                flown = flown_case(files, case.manoeuvre, name, entry, floor)
                leg = Leg(assembled, manoeuvre, files.recoveries[name], entry, none)
                out.append(Trial(i, flown, leg))
    return out
