"""Run a study: weigh and assemble every set-up, fly every case, find the limits."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from sim import __version__
from sim.describe import StudyFiles, StudySetUp, resolve_setup
from sim.fly import warming
from sim.fly.assemble import Assembled, assemble
from sim.fly.spreads import spreads_of
from sim.fly.trimming import level, neutral_point_pct
from sim.study.cases import case_result
from sim.study.draws import make_draws
from sim.study.factors import deciding_factors
from sim.study.gains import cruise_speed, trim_line
from sim.study.limits import find_limits
from sim.study.provenance import sources_of
from sim.study.result import CaseResult, SetUpResult, StudyResult, TrimLine
from sim.study.running import Leg, Progress, Runner
from sim.study.storing import FlightStore


@dataclass(frozen=True)
class Watch:
    """Who is told how a study goes: flights planned, flights ended, what comes next."""

    planned: Callable[[int], None] = lambda _: None
    ended: Progress = lambda _: None
    said: Callable[[str], None] = lambda _: None


def planned_flights(files: StudyFiles) -> int:
    """Return how many flights the set-ups and cases of a study take, without the limits."""
    study = files.study
    return len(study.setups) * study.draws * sum(len(c.recoveries) for c in study.cases)


def run_study(
    files: StudyFiles,
    folder: Path | None = None,
    workers: int | None = None,
    watch: Watch | None = None,
) -> StudyResult:
    """Run a study and return what it found.

    Parameters
    ----------
    files : StudyFiles
        The study with everything it names.
    folder : Path, optional
        Where batches of flights are kept as they end; a study that finds them there goes
        on from them. None keeps nothing.
    workers : int, optional
        Threads; None is one a core. The numbers do not depend on it.
    watch : Watch, optional
        Who is told about progress.

    Raises
    ------
    FileFault
        A set-up cannot be had.
    """
    watch = watch or Watch()
    started = time.monotonic()
    compiling = warming.start()
    study, aeroplane = files.study, files.aeroplane
    most = max(study.draws, study.aft_limit.draws if study.aft_limit else 0)
    spreads = spreads_of(aeroplane)
    draws = make_draws(spreads, most, study.seed)
    runner = Runner(draws, study.seed, FlightStore(folder), workers, watch.ended)
    ready = [assemble(aeroplane, resolve_setup(aeroplane, s)) for s in study.setups]
    cruise = cruise_speed(ready) if ready else 0.0
    levels = [_Level.of(assembled, cruise) for assembled in ready]
    warming.finish(compiling)
    watch.planned(planned_flights(files))
    cases = _fly_cases(runner, files, ready)
    setups = tuple(
        _setup_result(files.study.setups[i], assembled, levels[i], cases[i])
        for i, assembled in enumerate(ready)
    )
    limits = find_limits(runner, aeroplane, study, files.manoeuvres, files.recoveries, watch.said)
    everything = [case for row in cases for case in row]
    flights = sum(c.shares.flights for c in everything) + sum(x.flights_used for x in limits)
    return StudyResult(
        study.name,
        study.title,
        study.story,
        aeroplane.name,
        aeroplane.title,
        __version__,
        study.seed,
        study.draws,
        study.entry_m,
        study.floor_m,
        study.required_share_pct,
        setups,
        limits,
        deciding_factors(everything, draws, spreads),
        flights,
        time.monotonic() - started,
        sources_of(files),
        flights - runner.flown if runner.store.resumed else 0,
    )


def _fly_cases(
    runner: Runner, files: StudyFiles, ready: list[Assembled]
) -> list[tuple[CaseResult, ...]]:
    """Return the cases of each set-up, all flown in one go so that cores stay busy."""
    study = files.study
    legs = []
    wanted = []
    for i, assembled in enumerate(ready):
        for case in study.cases:
            entry, floor = study.heights_of(case)
            for name in case.recoveries:
                recovery = files.recoveries[name]
                manoeuvre = files.manoeuvres[case.manoeuvre]
                legs.append(Leg(assembled, manoeuvre, recovery, entry, np.arange(study.draws)))
                wanted.append((i, floor))
    out: list[list[CaseResult]] = [[] for _ in ready]
    for (i, floor), leg, rows in zip(wanted, legs, runner.fly(legs), strict=True):
        span = leg.assembled.weighed.reference.span_m
        out[i].append(
            case_result(
                leg.manoeuvre, leg.recovery, rows, runner.sides_of(leg), leg.entry_m, floor, span
            )
        )
    return [tuple(cases) for cases in out]


@dataclass(frozen=True)
class _Level:
    """Level flight of a set-up, found before the flights."""

    neutral_pct: float
    margin_pct: float
    trim: TrimLine

    @staticmethod
    def of(assembled: Assembled, cruise: float) -> "_Level":
        """Return level flight at the study's cruise speed [m/s]."""
        neutral, margin = neutral_point_pct(assembled, level(assembled, cruise))
        return _Level(neutral, margin, trim_line(assembled, cruise))


def _setup_result(
    wish: StudySetUp, assembled: Assembled, at: _Level, cases: tuple[CaseResult, ...]
) -> SetUpResult:
    """Return what is told of one set-up."""
    weighed = assembled.weighed
    return SetUpResult(
        wish.name,
        wish.title or wish.name,
        assembled.setup.pack,
        1000.0 * weighed.mass_kg,
        weighed.balance_aft_mm,
        weighed.balance_pct_mac,
        at.neutral_pct,
        at.margin_pct,
        assembled.stall.speed_mps,
        weighed.wing_loading_kg_m2,
        weighed.pack_aft_mm,
        weighed.added_weights,
        at.trim,
        cases,
    )
