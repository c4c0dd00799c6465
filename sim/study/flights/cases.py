"""From flight summaries to the numbers of a case."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, isfinite

import numpy as np

from sim.core import script_layout as s
from sim.describe import Script, StudyFiles
from sim.judge import is_resolved, shares_of, typical_spin, wilson
from sim.judge.verdicts import Limits
from sim.study.results.set_up import CaseResult, Heights


def heights(values: np.ndarray) -> Heights:
    """Return the median and the 95th percentile of heights; infinite ones come out as None.

    Order statistics without interpolation, the upper of two neighbours, so that an
    infinite neighbour is never averaged away.
    """
    if values.size == 0:
        return Heights(None, None)
    ordered = np.sort(values)
    out: list[float | None] = []
    for share in (0.5, 0.95):
        value = float(ordered[min(values.size - 1, ceil(share * (values.size - 1)))])
        out.append(value if isfinite(value) else None)
    return Heights(out[0], out[1])


def infinite_unless_back(rows: np.ndarray, column: int) -> np.ndarray:
    """Return a column of the rows (n, N_SUMMARY), infinite for flights that never came back.

    So it is for flights that could not be resolved.
    """
    back = (rows[:, s.R_BACK] > 0.0) & is_resolved(rows)
    return np.where(back, rows[:, column], np.inf)


@dataclass(frozen=True)
class Flown:
    """What a case is about: its scripts by the names the study gives them, and its heights."""

    manoeuvre: str
    manoeuvre_title: str
    recovery: str
    recovery_title: str
    entry_m: float
    floor_m: float


def titles_apart(scripts: Mapping[str, Script]) -> dict[str, str]:
    """Return the titles of scripts by name; one that several have gets the name added."""
    counts = Counter(script.title for script in scripts.values())
    return {
        name: script.title if counts[script.title] == 1 else f"{script.title} ({name})"
        for name, script in scripts.items()
    }


def flown_case(
    files: StudyFiles, manoeuvre: str, recovery: str, entry: float, floor: float
) -> Flown:
    """Return what a case of a study is about."""
    return Flown(
        manoeuvre=manoeuvre,
        manoeuvre_title=titles_apart(files.manoeuvres)[manoeuvre],
        recovery=recovery,
        recovery_title=titles_apart(files.recoveries)[recovery],
        entry_m=entry,
        floor_m=floor,
    )


def case_result(
    flown: Flown,
    rows: np.ndarray,
    sides: np.ndarray,
    span_m: float,
    limits: Limits = wilson,
) -> CaseResult:
    """Return one case from its flights (n, N_SUMMARY).

    Parameters
    ----------
    limits : callable
        Limits of the share that came back: those of `judge.looks` where the case was
        looked at as it went.
    """
    departed = rows[rows[:, s.R_DEPARTED] > 0.0]
    told = departed if len(departed) else rows
    return CaseResult(
        manoeuvre=flown.manoeuvre,
        manoeuvre_title=flown.manoeuvre_title,
        recovery=flown.recovery,
        recovery_title=flown.recovery_title,
        entry_m=flown.entry_m,
        floor_m=flown.floor_m,
        shares=shares_of(rows, flown.entry_m, flown.floor_m, limits),
        height_lost_m=heights(infinite_unless_back(rows, s.R_HEIGHT_LOST)),
        pull_out_m=heights(infinite_unless_back(told, s.R_PULL_OUT)),
        entry_height_needed_m=heights(infinite_unless_back(rows, s.R_DROP) + flown.floor_m),
        peak_alpha_deg=heights(np.degrees(rows[:, s.R_PEAK_ALPHA])),
        spin=typical_spin(rows, span_m),
        rows=rows,
        which=np.arange(len(rows)),
        sides=sides,
    )
