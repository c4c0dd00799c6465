"""Run a study: weigh and assemble every set-up, fly every case, find the limits."""

import time
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from pathlib import Path
from typing import TypeVar

from sim import tables
from sim.describe import (
    Manoeuvre,
    Recovery,
    Study,
    StudyFiles,
    StudySetUp,
    data_folder,
    resolve_setup,
)
from sim.fly import warming
from sim.fly.flying import Settings, demand_units
from sim.judge import is_resolved
from sim.pack.assemble import Assembled, assemble, flown_spreads
from sim.study.agility import with_agility
from sim.study.changes import before_and_after, today_of
from sim.study.checks.step_check import FlownLeg, check_step
from sim.study.combinations import gyro_words, nozzle_words, weights_words
from sim.study.factors import deciding_factors
from sim.study.flight_time.reckoning import flight_time
from sim.study.flights.deciding import fly_cases
from sim.study.flights.draws import Draws, make_draws
from sim.study.flights.running import Pool, Runner
from sim.study.flights.storing import FlightStore, sources_of
from sim.study.flights.watch import Watch
from sim.study.flights.ways_out import with_ways_out
from sim.study.forward import ForwardAside, with_forward
from sim.study.gains import trim_line
from sim.study.limits.aft import find_limits
from sim.study.measure.reckoning import with_measuring
from sim.study.results.aft_limit import AftLimit
from sim.study.results.flight_time import FlightTime
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult, TrimLine
from sim.study.results.stepped import StepCheck
from sim.study.standing.heights import ceiling_of
from sim.study.structure import SAID, with_structure
from sim.study.throws_told import throws_words
from sim.trim.cruise import cruise_speed
from sim.trim.senses import demand_senses
from sim.trim.trimming import level, neutral_point_pct
from sim.version import __version__

Named = TypeVar("Named", Manoeuvre, Recovery)
Cases = list[tuple[CaseResult, ...]]  # by set-up


def planned_flights(files: StudyFiles) -> int:
    """Return how many flights the set-ups and cases of a study take at most, without limits."""
    study = files.study
    return len(study.setups) * study.draws * sum(len(c.recoveries) for c in study.cases)


def _asked_by(files: StudyFiles) -> str:
    """Return what the command takes to fly a study again: a bundled one's name, or its file.

    Empty for one that was read from no file.
    """
    if not files.paths:
        return ""
    path = files.paths[0]
    return path.stem if data_folder("scenarios") in path.parents else path.as_posix()


def run_study(
    files: StudyFiles,
    folder: Path | None = None,
    workers: int | None = None,
    watch: Watch | None = None,
    pool: Pool | None = None,
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
    pool : Pool, optional
        What flies cases and limits, such as `sim.study.cluster.pool.Cluster`; None is threads.

    Raises
    ------
    FileFault
        A set-up cannot be had, does not follow its sticks, or a unit stops that the aeroplane
        has not got.
    """
    watch = watch or Watch()
    started = time.monotonic()
    study, aeroplane = files.study, files.aeroplane
    for manoeuvre in files.manoeuvres.values():
        demand_units(aeroplane, manoeuvre)
    compiling = warming.start()
    most = max(study.draws, study.aft_limit.most if study.aft_limit else 0)
    spreads = flown_spreads(aeroplane)
    draws = make_draws(spreads, most, study.seed)
    store = FlightStore(folder, told=watch.damaged)
    runner = Runner(draws, study.seed, store, workers, watch.ended, pool)
    ready = [assemble(aeroplane, resolve_setup(aeroplane, s)) for s in study.setups]
    for assembled in ready or [assemble(aeroplane)]:
        demand_senses(assembled)
    cruise = cruise_speed(ready) if ready else 0.0
    levels = [_Level.of(assembled, cruise, study) for assembled in ready]
    with ForwardAside(files, ready, runner.workers) as aside:
        warming.finish(compiling)
        cases, setups, limits = _flown(runner, files, ready, levels, cruise, watch)
        watch.said("forward limits")
        setups, limits = with_forward(files, setups, limits, aside)
    watch.said("what measuring would change")
    limits = with_measuring(files, limits, draws)
    watch.said("what each change moved")
    changes = before_and_after(files, setups, ready, limits, cruise)
    everything = [case for row in cases for case in row]
    factors, telling = deciding_factors(everything, draws, spreads)
    return StudyResult(
        asked_by=_asked_by(files),
        options=files.options,
        ceiling_m=ceiling_of(study),
        ceiling_said=study.ceiling_m is not None,
        study=study.name,
        title=study.title,
        story=study.story,
        aeroplane=aeroplane.name,
        aeroplane_title=aeroplane.title,
        version=__version__,
        seed=study.seed,
        draws=study.draws,
        entry_m=study.entry_m,
        floor_m=study.floor_m,
        required_share_pct=study.required_share_pct,
        setups=setups,
        aft_limits=limits,
        factors=factors,
        factor_draws=telling,
        flights=runner.flown + runner.store.resumed,
        seconds=time.monotonic() - started,
        sources=sources_of(files),
        kept=runner.store.resumed,
        today=today_of(files),
        changes=changes,
        step=_step(runner, draws, ready, cases, files) if everything else None,
    )


def _flown(
    runner: Runner, files: StudyFiles, ready: Sequence[Assembled], levels: "Sequence[_Level]",
    cruise_mps: float, watch: Watch,
) -> tuple[Cases, tuple[SetUpResult, ...], tuple[AftLimit, ...]]:  # fmt: skip
    """Return what flights tell: cases by set-up, set-ups, and aft limits where they are asked."""
    watch.planned(planned_flights(files))
    cases = fly_cases(runner, files, ready, watch.left_out)
    flown = tuple(
        _setup_result(files.study.setups[i], assembled, levels[i], cases[i])
        for i, assembled in enumerate(ready)
    )
    setups = _shown_further(runner, files, flown, ready, watch)
    cruise = cruise_mps if ready else None
    return cases, setups, find_limits(runner, files, cruise, watch.said, setups)


def _shown_further(
    runner: Runner, files: StudyFiles, setups: tuple[SetUpResult, ...],
    ready: Sequence[Assembled], watch: Watch,
) -> tuple[SetUpResult, ...]:  # fmt: skip
    """Return set-ups with their ways out, what they are flown for, and what they carry."""
    told = (watch.said, watch.planned)
    setups = with_ways_out(runner, files, setups, ready, told)
    setups = with_agility(runner, files, setups, ready, told)
    watch.said(SAID)
    return with_structure(runner, files, setups, ready)


def _step(
    runner: Runner,
    draws: Draws,
    ready: list[Assembled],
    cases: Cases,
    files: StudyFiles,
) -> StepCheck:
    """Return what half the integration step does to a sample of the flights."""
    legs = []
    for assembled, row in zip(ready, cases, strict=True):
        for case in row:
            known = is_resolved(case.rows)
            legs.append(
                FlownLeg(
                    assembled=assembled,
                    manoeuvre=_named(files.manoeuvres[case.manoeuvre], case.manoeuvre),
                    recovery=_named(files.recoveries[case.recovery], case.recovery),
                    entry_m=case.entry_m,
                    floor_m=case.floor_m,
                    which=case.which[known],
                    sides=case.sides[known],
                    rows=case.rows[known],
                )
            )
    table = tables.study()
    flown = sum(len(leg.rows) for leg in legs)
    sample = min(table.step_check_flights, ceil(table.step_check_share * flown))
    return check_step(legs, draws, Settings.standard(), sample, files.study.seed, runner.workers)


def _named(script: Named, name: str) -> Named:
    """Return a script under the name that the study uses."""
    return script.model_copy(update={"name": name})


@dataclass(frozen=True)
class _Level:
    """Level flight of a set-up, found before the flights."""

    neutral_pct: float
    margin_pct: float
    trim: TrimLine
    time: FlightTime | None

    @staticmethod
    def of(assembled: Assembled, cruise: float, study: Study) -> "_Level":
        """Return level flight at the study's cruise speed [m/s]."""
        neutral, margin = neutral_point_pct(assembled, level(assembled, cruise))
        time = flight_time(assembled, study.duty, study.seed)
        return _Level(neutral, margin, trim_line(assembled, cruise), time)


def _setup_result(
    wish: StudySetUp, assembled: Assembled, at: _Level, cases: tuple[CaseResult, ...]
) -> SetUpResult:
    """Return what is told of one set-up."""
    weighed = assembled.weighed
    return SetUpResult(
        name=wish.name,
        title=wish.title or wish.name,
        pack=assembled.setup.pack,
        mass_g=1000.0 * weighed.mass_kg,
        balance_aft_mm=weighed.balance_aft_mm,
        balance_pct_mac=weighed.balance_pct_mac,
        neutral_point_pct_mac=at.neutral_pct,
        static_margin_pct=at.margin_pct,
        stall_speed_mps=assembled.stall.speed_mps,
        wing_loading_kg_m2=weighed.wing_loading_kg_m2,
        pack_aft_mm=weighed.pack_aft_mm,
        added_weights=weighed.added_weights,
        weights=weights_words(assembled.setup),
        throws=throws_words(assembled.setup, assembled.aeroplane),
        nozzle=nozzle_words(assembled.setup),
        gyro=gyro_words(assembled.setup),
        trim=at.trim,
        cases=cases,
        flight_time=at.time,
    )
