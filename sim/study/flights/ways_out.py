"""What ends a deep stall: from where flights of a study hang, a few recoveries are flown.

A way out is flown by the draws that hang, and only by them: the same manoeuvre and recovery
once more, given up as soon as it has hung as long as the judge asks, and then the way out.
The study's own flights stay as they are.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import script_layout as s
from sim.describe import Manoeuvre, Recovery, StudyFiles, load_recovery
from sim.judge import has_hung, is_resolved, typical_hangs, wilson
from sim.pack.assemble import Assembled
from sim.study.flights.cases import heights
from sim.study.flights.running import Leg, Runner
from sim.study.results.set_up import CaseResult, DeepStall, HungIn, SetUpResult, WayOut
from sim.study.standing.outcomes import best_recovery

Told = tuple[Callable[[str], None], Callable[[int], None]]
SAID = "ways out of the deep stall"


class _Place(NamedTuple):
    """A manoeuvre that flights hang after, and the draws (n,) that fly the ways out."""

    setup: int
    entry: Manoeuvre
    entry_m: float
    which: np.ndarray


def with_ways_out(
    runner: Runner,
    files: StudyFiles,
    setups: Sequence[SetUpResult],
    ready: Sequence[Assembled],
    told: Told = (lambda _: None, lambda _: None),
) -> tuple[SetUpResult, ...]:
    """Return the set-ups with the deep stall that their flights hang in, and what ends it.

    Parameters
    ----------
    ready : sequence of Assembled
        One a set-up.
    told : pair of callables
        Told what comes next, and how many flights that takes.
    """
    values = tables.study()
    ways = [load_recovery(name) for name in values.ways_out]
    hung = [hanging_cases(x, files.study.required_share_pct) for x in setups]
    places = [
        place
        for i, cases in enumerate(hung)
        for place in _places(i, cases, files, values.ways_out_draws)
    ]
    if not places:
        return tuple(setups)
    said, planned = told
    said(SAID)
    planned(len(ways) * sum(place.which.size for place in places))
    legs = [Leg(ready[p.setup], p.entry, way, p.entry_m, p.which) for p in places for way in ways]
    flown = runner.fly(legs)
    rows: dict[tuple[int, int], list[np.ndarray]] = {}
    for n, found in enumerate(flown):
        rows.setdefault((places[n // len(ways)].setup, n % len(ways)), []).append(found)
    return tuple(
        replace(x, deep_stall=_deep_stall(cases, [
            _way(way, np.concatenate(rows[i, k])) for k, way in enumerate(ways)
        ])) if cases else x
        for i, (x, cases) in enumerate(zip(setups, hung, strict=True))
    )  # fmt: skip


def hanging_cases(setup: SetUpResult, required_share_pct: float) -> tuple[CaseResult, ...]:
    """Return the cases of one recovery in which flights hung; none where none did.

    The recovery that stands for the set-up, or else the one after which most hung.
    """
    hung = [case for case in setup.cases if _hung(case).any()]
    if not hung:
        return ()
    counts: dict[str, int] = {}
    for case in hung:
        counts[case.recovery] = counts.get(case.recovery, 0) + int(_hung(case).sum())
    standing = best_recovery(setup, required_share_pct)[0].recovery
    chosen = standing if standing in counts else max(counts, key=lambda name: counts[name])
    return tuple(case for case in hung if case.recovery == chosen)


def _hung(case: CaseResult) -> np.ndarray:
    return has_hung(case.rows) & is_resolved(case.rows)


def _places(setup: int, cases: Sequence[CaseResult], files: StudyFiles, most: int) -> list[_Place]:
    """Return what flies the ways out: at most so many draws of a set-up, its cases in turn."""
    draws = [case.which[_hung(case)] for case in cases]
    taken = [0] * len(cases)
    while sum(taken) < most and any(t < d.size for t, d in zip(taken, draws, strict=True)):
        for k in range(len(cases)):
            if taken[k] < draws[k].size and sum(taken) < most:
                taken[k] += 1
    return [
        _Place(
            setup,
            tried(files.manoeuvres[case.manoeuvre], files.recoveries[case.recovery]),
            case.entry_m,
            draws[k][: taken[k]],
        )
        for k, case in enumerate(cases)
        if taken[k]
    ]


def tried(manoeuvre: Manoeuvre, recovery: Recovery) -> Manoeuvre:
    """Return a manoeuvre that ends in a recovery, given up as soon as that hangs."""
    phases = tuple(
        phase.model_copy(update={"recovery_tried": True, "name": f"{phase.name}, in vain"})
        for phase in recovery.phases
    )
    return manoeuvre.model_copy(update={"phases": (*manoeuvre.phases, *phases)})


def _deep_stall(cases: Sequence[CaseResult], ways: Sequence[WayOut]) -> DeepStall:
    hangs = typical_hangs(np.concatenate([case.rows[_hung(case)] for case in cases]))
    places = tuple(
        HungIn(
            case.manoeuvre, case.manoeuvre_title, case.shares.flights, int(_hung(case).sum()),
            case.shares.hung_never + case.shares.hung_late,
        )
        for case in cases
    )  # fmt: skip
    return DeepStall(cases[0].recovery, cases[0].recovery_title, places, hangs, tuple(ways))


def _way(way: Recovery, rows: np.ndarray) -> WayOut:
    """Return how many of the flights (n, N_SUMMARY) came out, and the height it cost them."""
    out = (rows[:, s.R_BACK] > 0.0) & (rows[:, s.R_T_RECOVERY] >= 0.0) & is_resolved(rows)
    low, high = wilson(int(out.sum()), len(rows))
    return WayOut(
        name=way.name,
        title=way.title,
        flights=len(rows),
        out=int(out.sum()),
        low=low,
        high=high,
        height_m=heights(rows[out, s.R_HEIGHT_LOST]),
    )
