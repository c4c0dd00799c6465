"""Recordings of the flights of a study that are kept for replay."""

import re
from pathlib import Path

from sim.describe import StudyFiles
from sim.record.files import write_record
from sim.record.models.recording import Recording
from sim.show.replay.recording import recording
from sim.study.flights.again import Again
from sim.study.results.result import StudyResult
from sim.study.standing.kept import TYPICAL, WORST, Kept, kept_flights


def _title(result: StudyResult, kept: Kept) -> str:
    flight = kept.flight
    setup = next(x for x in result.setups if x.name == flight.setup)
    which = {TYPICAL: "a typical flight", WORST: "the worst flight"}[kept.kind]
    return f"{setup.title}: {which}. {flight.case.manoeuvre_title}; {flight.case.recovery_title}"


def kept_recordings(result: StudyResult, files: StudyFiles) -> list[Recording]:
    """Return the recordings of a study's kept flights, which say which they are.

    Parameters
    ----------
    result : StudyResult
    files : StudyFiles
        What the study was run from; the flights are flown again with it.
    """
    again = Again(files)
    out = []
    for kept in kept_flights(result):
        flight, case = kept.flight, kept.flight.case
        told = recording(
            again.fly(flight), _title(result, kept), case.entry_m, case.floor_m, flight.draw,
            seed=result.seed,
        )  # fmt: skip
        named = {"manoeuvre": case.manoeuvre, "recovery": case.recovery, "setup": flight.setup}
        out.append(told.model_copy(update={**named, "kept": kept.kind}))
    return out


def file_name(flight: Recording) -> str:
    """Return the name of a kept recording's file."""
    words = (flight.setup, flight.manoeuvre, str(flight.kept))
    plain = [re.sub(r"[^\w.-]+", "_", word) for word in words]
    return "_".join(plain) + ".json"


def write_kept(recordings: list[Recording], folder: Path) -> list[Path]:
    """Write kept recordings into a folder, each whole or not at all; return their paths."""
    paths = [folder / file_name(flight) for flight in recordings]
    for flight, path in zip(recordings, paths, strict=True):
        write_record(flight, path)
    return paths
