"""From flight summaries to the numbers of a case."""

from math import ceil, degrees, isfinite

import numpy as np

from sim.core import script_layout as s
from sim.describe import Manoeuvre
from sim.judge import shares_of, typical_spin
from sim.study.result import CaseResult, Heights


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
    """Return a column of the rows (n, N_SUMMARY), infinite for flights that never came back."""
    return np.where(rows[:, s.R_BACK] > 0.0, rows[:, column], np.inf)


def case_result(
    manoeuvre: Manoeuvre,
    recovery: Manoeuvre,
    rows: np.ndarray,
    sides: np.ndarray,
    entry_m: float,
    floor_m: float,
    span_m: float,
) -> CaseResult:
    """Return one case from its flights (n, N_SUMMARY)."""
    departed = rows[rows[:, s.R_DEPARTED] > 0.0]
    told = departed if len(departed) else rows
    return CaseResult(
        manoeuvre.name,
        manoeuvre.title,
        recovery.name,
        recovery.title,
        entry_m,
        floor_m,
        shares_of(rows, entry_m, floor_m),
        heights(infinite_unless_back(rows, s.R_HEIGHT_LOST)),
        heights(infinite_unless_back(told, s.R_PULL_OUT)),
        heights(infinite_unless_back(rows, s.R_DROP) + floor_m),
        heights(np.array([degrees(a) for a in rows[:, s.R_PEAK_ALPHA]])),
        typical_spin(rows, span_m),
        rows,
        np.arange(len(rows)),
        sides,
    )
