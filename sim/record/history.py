"""A flight's history for CSV."""

import csv
import io
from math import isfinite

from sim.fly.flying import Flight


def history_csv(flight: Flight) -> str:
    """Return a flight's history as CSV, one line a control tick, surfaces in degrees."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    columns = flight.to_columns()
    writer.writerow(columns)
    for cells in zip(*columns.values(), strict=True):
        writer.writerow([f"{value:.5g}" if isfinite(value) else "" for value in cells])
    return out.getvalue()
