"""The table of a study's flights for CSV."""

import csv
import io
from math import isfinite

from sim.study.results.columns import Column
from sim.study.results.result import StudyResult

# how numbers stand in flights.csv; all others as they are
FORMATS = {
    "balance_aft_mm": ".2f", "entry_m": "g", "floor_m": "g", "height_lost_m": ".1f",
    "pull_out_m": ".1f", "height_used_m": ".1f", "peak_alpha_deg": ".1f",
    "peak_load_factor_g": ".2f", "turns_entry": ".2f", "turns_recovery": ".2f",
    "turns_stalled": ".2f", "seconds_at_high_alpha": ".2f", "seconds_hung": ".2f", "spun": ".0f",
    "spin_alpha_deg": ".1f", "spin_yaw_rate_dps": ".1f", "spin_sink_mps": ".2f",
}  # fmt: skip


def flights_csv(result: StudyResult) -> str:
    """Return one line for each flight of the cases; the limits' searches are left out.

    What is not finite, or has no meaning in a flight that did not come back, is left blank.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    columns = result.to_columns("flights")
    writer.writerow(columns)
    writer.writerows(zip(*(_cells(*column) for column in columns.items()), strict=True))
    return out.getvalue()


def _cells(name: str, column: Column) -> list[str]:
    """Return a column as text for CSV, blank where a number is not finite."""
    if name not in FORMATS:
        return [str(value) for value in column.tolist()]
    return [f"{x:{FORMATS[name]}}" if isfinite(x) else "" for x in column.tolist()]
