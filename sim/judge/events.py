"""The events of one flight, in order of time."""

from dataclasses import dataclass

import numpy as np

from sim.core import script_layout as s

UNSTALLED = "unstalled, rotation stopped"
COLUMNS = (
    (s.R_T_STALL, "stall"),
    (s.R_T_DEPART, "departure"),
    (s.R_T_RECOVERY, "recovery starts"),
    (s.R_T_UNSTALLED, UNSTALLED),
    (s.R_T_LEVEL, "level"),
)


@dataclass(frozen=True)
class Event:
    """Something that happened at a time [s] and a height lost since the start [m]."""

    name: str
    time_s: float
    height_lost_m: float


def events_of(history: np.ndarray, summary: np.ndarray) -> list[Event]:
    """Return the events of a flight from its history (n, N_HISTORY) and its summary.

    What never stalled is never told to be unstalled.
    """
    stalled = summary[s.R_T_STALL] >= 0.0
    out = []
    for column, name in COLUMNS:
        time = float(summary[column])
        if time < 0.0 or (name == UNSTALLED and not stalled):
            continue
        i = min(int(np.searchsorted(history[:, s.H_T], time)), len(history) - 1)
        out.append(Event(name, time, float(history[0, s.H_UP] - history[i, s.H_UP])))
    return sorted(out, key=lambda e: e.time_s)
