"""What each set-up can do: the manoeuvres that pilots go aft for, flown by a few of the draws."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from math import ceil, floor

import numpy as np

from sim import tables
from sim.core import measured_layout as m
from sim.describe import Manoeuvre, StudyFiles, load_recovery
from sim.fly.measured import fly_measured
from sim.judge import wilson
from sim.judge.agility import DEGREES, FIGURES, came_out, counted, done, figures, flew, times
from sim.pack.assemble import Assembled
from sim.study.flights.cases import titles_apart
from sim.study.flights.running import Call, Job, Leg, Runner
from sim.study.flights.storing import FlightStore
from sim.study.results.agility import Shown, Spread
from sim.study.results.set_up import SetUpResult

Told = tuple[Callable[[str], None], Callable[[int], None]]
SAID = "what the set-ups can do"
LOW, HIGH = 0.1, 0.9


class MeasuringRunner(Runner):
    """Flies legs with one recovery, and keeps what is measured of their flights."""

    @staticmethod
    def beside(runner: Runner) -> "MeasuringRunner":
        """Return one with the draws, the threads and the listener of another, and its own store."""
        folder, told = runner.store.folder, runner.store.told
        store = FlightStore(None if folder is None else folder / "measured", m.N_MEASURED, told)
        return MeasuringRunner(runner.draws, runner.seed, store, runner.workers, runner.progress)

    def _call(self, legs: Sequence[Leg], job: Job) -> Call:
        return partial(self._measured, legs[job.legs[0]], job)

    def _measured(self, leg: Leg, job: Job) -> np.ndarray:
        return fly_measured(
            leg.assembled, leg.manoeuvre, leg.recovery, self.draws.physical, job.which,
            self.sides_of(leg, job.which), leg.entry_m,
        )[None]  # fmt: skip


def with_agility(
    runner: Runner,
    files: StudyFiles,
    setups: Sequence[SetUpResult],
    ready: Sequence[Assembled],
    told: Told = (lambda _: None, lambda _: None),
) -> tuple[SetUpResult, ...]:
    """Return the set-ups with what they show in the study's manoeuvres of agility.

    The first of the study's draws fly them, the same for every set-up. Flights count in
    ``runner``.
    """
    study, values = files.study, tables.agility()
    names = study.agility
    if not names or not setups:
        return tuple(setups)
    said, planned = told
    said(SAID)
    which = np.arange(min(values.draws, study.draws))
    planned(len(names) * len(setups) * which.size)
    recovery = load_recovery(values.recovery)
    legs = [
        Leg(assembled, files.manoeuvres[name], recovery, study.entry_m, which)
        for assembled in ready
        for name in names
    ]
    measuring = MeasuringRunner.beside(runner)
    found = measuring.fly(legs)
    runner.flown += measuring.flown
    runner.store.resumed += measuring.store.resumed
    titles = titles_apart(files.manoeuvres)
    height = study.entry_m - study.floor_m
    rows = iter(found)
    return tuple(
        replace(setup, agility=tuple(
            shown_of(name, titles[name], _kind(files.manoeuvres[name]), next(rows), height)
            for name in names
        ))
        for setup in setups
    )  # fmt: skip


def _kind(script: Manoeuvre) -> str:
    assert script.shows is not None  # a study's file that lacks it is refused
    return script.shows


def shown_of(name: str, title: str, shows: str, rows: np.ndarray, height_m: float) -> Shown:
    """Return what the flights (n, N_MEASURED) of a manoeuvre of a kind show.

    ``height_m`` may be used from the start down to the floor.
    """
    out = int(came_out(rows, shows, height_m).sum())
    low, high = wilson(out, len(rows))
    flown = rows[flew(rows)]
    values = figures(rows, shows)
    held = flown[np.isfinite(flown[:, m.M_SLOWEST])]
    return Shown(
        manoeuvre=name,
        title=title,
        shows=shows,
        unit=FIGURES[shows].unit,
        flights=len(rows),
        done=int(done(rows, shows).sum()),
        out=out,
        out_low=low,
        out_high=high,
        best=float(np.min(values) if FIGURES[shows].less else np.max(values)),
        figure=spread(values),
        counted=spread(counted(rows, shows, height_m)),
        time_s=spread(times(rows, shows)),
        angle_deg=spread(DEGREES * flown[:, m.M_ANGLE]),
        pitch_rate_dps=spread(DEGREES * flown[:, m.M_PITCH_RATE]),
        held_angle_deg=spread(DEGREES * held[:, m.M_SLOWEST_ANGLE]),
        load_g=spread(flown[:, m.M_LOAD]),
        height_used_m=spread(flown[:, m.M_USED]),
        rows=rows,
        which=np.arange(len(rows)),
    )


def spread(values: np.ndarray) -> Spread:
    """Return median, 10 and 90 % of values (n,), NaN without any.

    Order statistics without interpolation, so that an infinite neighbour is never averaged
    away; the two ends outwards.
    """
    if values.size == 0:
        return Spread(np.nan, np.nan, np.nan)
    ordered, last = np.sort(values), values.size - 1
    places = ceil(0.5 * last), floor(LOW * last), ceil(HIGH * last)
    return Spread(*(float(ordered[at]) for at in places))
