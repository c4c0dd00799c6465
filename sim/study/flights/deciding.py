"""Fly the cases of a study until its set-ups are decided, or a cap is reached.

A set-up stands by one single recovery in every manoeuvre. A case flies on until it is decided
itself, or no answer hangs on it any more: a recovery has been shown to meet the requirement in
every manoeuvre; or its own has been shown to fail in one, and another may still stand. Where all
have failed, the one that does best flies on, so that each manoeuvre is told. What a case has
flown by then is told as it is, with the limits of so many draws; to stop for what became of
other cases is no look at its own share, and leaves those limits as they are.
"""

from collections.abc import Callable, Sequence

import numpy as np

from sim.describe import StudyFiles
from sim.judge import Outcome, looks_for, outcome
from sim.judge.looks import Looks
from sim.pack.assemble import Assembled
from sim.study.flights.cases import Flown, case_result, flown_case
from sim.study.flights.running import Leg, Runner
from sim.study.results.set_up import CaseResult
from sim.study.standing.outcomes import best_of, competing


class Trial:
    """One case under trial: what it flies, and the summaries so far (n, N_SUMMARY)."""

    def __init__(self, flown: Flown, leg: Leg) -> None:
        """Try the case ``flown``; ``leg`` has no draws yet."""
        self.flown = flown
        self.leg = leg
        self.rows: list[np.ndarray] = []
        self.count = 0

    def next_leg(self, count: int) -> Leg:
        """Return the leg from the draws flown so far up to ``count`` of them."""
        leg, self.count = self.leg, count
        done = sum(len(rows) for rows in self.rows)
        return Leg(leg.assembled, leg.manoeuvre, leg.recovery, leg.entry_m, np.arange(done, count))

    def result(self, runner: Runner, looks: Looks) -> CaseResult:
        """Return the case as flown so far."""
        rows = np.concatenate(self.rows)
        sides = runner.sides_of(self.leg, np.arange(len(rows)))
        span = self.leg.assembled.weighed.reference.span_m
        return case_result(self.flown, rows, sides, span, looks.limits)


def fly_cases(
    runner: Runner,
    files: StudyFiles,
    ready: Sequence[Assembled],
    left_out: Callable[[int], None] = lambda _: None,
) -> list[tuple[CaseResult, ...]]:
    """Return the cases of each set-up; all that are still asked fly on together, look by look.

    Each flies the same draws in the same order, so one with fewer has the first of them.

    Parameters
    ----------
    left_out : callable
        Told how many of the planned flights are not needed; fewer than none where some are
        needed after all.
    """
    study = files.study
    looks = looks_for(study.required_share_pct / 100.0, study.draws)
    trials = [_trials(files, assembled) for assembled in ready]
    cases: list[tuple[CaseResult, ...]] = [()] * len(ready)
    running = [trial for own in trials for trial in own]
    planned = study.draws * len(running)
    while running:
        legs = [t.next_leg(next(n for n in looks.counts if n > t.count)) for t in running]
        for trial, rows in zip(running, runner.fly(legs), strict=True):
            trial.rows.append(rows)
        running = []
        for i, own in enumerate(trials):
            cases[i] = tuple(trial.result(runner, looks) for trial in own)
            on = asked(cases[i], study.required_share_pct)
            running += [t for t, x in zip(own, on, strict=True) if x and t.count < study.draws]
        flown = sum(trial.count for own in trials for trial in own)
        still = flown + sum(study.draws - trial.count for trial in running)
        left_out(planned - still)
        planned = still
    return cases


def asked(cases: Sequence[CaseResult], required_share_pct: float) -> list[bool]:
    """Return of each case of a set-up whether it is undecided and an answer hangs on it."""
    told = [(case, outcome(case.shares, required_share_pct)) for case in cases]
    met = {(case.manoeuvre, case.recovery) for case, how in told if how is Outcome.MET}
    manoeuvres, recoveries = {c.manoeuvre for c in cases}, {c.recovery for c in cases}
    if any(all((m, r) in met for m in manoeuvres) for r in recoveries):
        return [False] * len(cases)
    may = recoveries - {case.recovery for case, how in told if how is Outcome.NOT_MET}
    if not may & competing(cases).keys():
        may = {best_of(cases, required_share_pct)[0].recovery}
    return [how is Outcome.OPEN and case.recovery in may for case, how in told]


def _trials(files: StudyFiles, assembled: Assembled) -> list[Trial]:
    study = files.study
    none = np.arange(0)
    out = []
    for case in study.cases:
        entry, floor = study.heights_of(case)
        manoeuvre = files.manoeuvres[case.manoeuvre]
        for name in case.recoveries:
            flown = flown_case(files, case.manoeuvre, name, entry, floor)
            leg = Leg(assembled, manoeuvre, files.recoveries[name], entry, none)
            out.append(Trial(flown, leg))
    return out
