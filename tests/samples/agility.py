"""What is measured of made-up flights, for the tests of agility and of what is shown of it."""

import numpy as np

from sim.core import measured_layout as m
from sim.study.agility import shown_of
from sim.study.results.agility import Shown

KINDS = {"pull_through": "angle", "slow_pass": "pass", "over": "somersault", "loop": "loop",
         "roll": "roll"}  # fmt: skip
ALL_HEIGHT_M = 80.0


def flights(count: int, peak_deg: float, lost: int = 0) -> np.ndarray:
    """Return rows (count, N_MEASURED) about a peak angle; the first ``lost`` do not come out."""
    rows = np.zeros((count, m.N_MEASURED))
    peaks = peak_deg + np.linspace(-4.0, 4.0, count)
    rows[:, m.M_BACK] = 1.0
    rows[:, m.M_ANGLE] = np.radians(peaks)
    rows[:, m.M_ANGLE_TIME] = np.where(peaks >= 90.0, 1.1, np.inf)
    rows[:, [m.M_OVER_TIME, m.M_ROLL_TIME, m.M_LOOP_TIME]] = np.inf, 1.9, 6.0
    rows[:, m.M_LOOP_HEIGHT] = 50.0 - 0.2 * peaks
    rows[:, m.M_ROLL_RATE] = np.radians(260.0)
    rows[:, m.M_SLOWEST] = 12.0 - 0.05 * peaks
    rows[:, m.M_SLOWEST_ANGLE] = np.radians(30.0)
    rows[:, m.M_PITCH_RATE] = 3.0
    rows[:, m.M_LOAD] = 4.2
    rows[:, m.M_USED] = 12.0
    rows[:lost, m.M_FORWARD] = np.inf
    return rows


def shown(peak_deg: float, lost: int = 0, count: int = 16) -> tuple[Shown, ...]:
    """Return what a set-up shows in a manoeuvre of each kind."""
    rows = flights(count, peak_deg, lost)
    return tuple(
        shown_of(name, f"the {name}", kind, rows, ALL_HEIGHT_M) for name, kind in KINDS.items()
    )
