"""Fly a flight of a study again, with its history: the study itself keeps summaries only."""

from dataclasses import dataclass

import numpy as np

from sim.describe import StudyFiles, resolve_setup
from sim.fly.flying import Flight, fly_one
from sim.pack.assemble import Assembled, assemble, flown_spreads
from sim.study.flights.draws import Draws, make_draws
from sim.study.results.set_up import CaseResult


@dataclass(frozen=True)
class FlightOfCase:
    """The flight at row ``row`` of a set-up's case."""

    setup: str
    case: CaseResult
    row: int

    @property
    def draw(self) -> int:
        """Which draw was flown."""
        return int(self.case.which[self.row])

    @property
    def summary(self) -> np.ndarray:
        """The summary (N_SUMMARY,) that the study stored."""
        row: np.ndarray = self.case.rows[self.row]
        return row


class Again:
    """Flies flights of one study again; each set-up is assembled once, when first asked for."""

    def __init__(self, files: StudyFiles) -> None:
        """Fly with the draws, the aeroplane and the scripts of ``files``."""
        self.files = files
        self._ready: dict[str, Assembled] = {}
        self._draws: Draws | None = None

    def _assembled(self, name: str) -> Assembled:
        if name not in self._ready:
            aeroplane = self.files.aeroplane
            wish = next(x for x in self.files.study.setups if x.name == name)
            self._ready[name] = assemble(aeroplane, resolve_setup(aeroplane, wish))
        return self._ready[name]

    def fly(self, wanted: FlightOfCase) -> Flight:
        """Return a flight with its history; its summary is the one the study stored."""
        ready, case, study = self._assembled(wanted.setup), wanted.case, self.files.study
        if self._draws is None:
            self._draws = make_draws(flown_spreads(self.files.aeroplane), study.draws, study.seed)
        return fly_one(
            ready,
            self.files.manoeuvres[case.manoeuvre],
            self.files.recoveries[case.recovery],
            float(case.sides[wanted.row]),
            self._draws.physical[wanted.draw],
            case.entry_m,
        )
