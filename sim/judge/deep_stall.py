"""A deep stall: a recovery that hangs, stalled and sinking, whatever the stick asks.

What hanging is was counted as the flight was summarised (`sim.core.flights.summary`), by the
thresholds of judge.toml; here stands what follows from it.
"""

from dataclasses import dataclass
from math import degrees

import numpy as np

from sim import tables
from sim.core import script_layout as s


@dataclass(frozen=True)
class Hang:
    """What a deep stall is like, erect or inverted: medians over the flights that hung so.

    ``flights`` hung this way up, ``inverted`` by the sign of their mean angle of attack, which
    ``alpha_deg`` has too; ``nose_deg`` is the nose above the horizon, ``swing_deg`` and
    ``wallow_deg`` the standard deviations of that and of bank; ``period_s`` of the swing is 0
    where there is none; ``turn_dps`` about the vertical, without its side; ``hung_s`` how long
    it hung.
    """

    flights: int
    inverted: bool
    alpha_deg: float
    nose_deg: float
    swing_deg: float
    period_s: float
    wallow_deg: float
    turn_dps: float
    sink_mps: float
    speed_mps: float
    hung_s: float


def has_hung(summaries: np.ndarray) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether its recovery hung, whatever came of it."""
    sound = np.isfinite(summaries).all(axis=1)
    return sound & (summaries[:, s.R_HUNG_FOR] > 0.0)


def hung_for_most(summaries: np.ndarray) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether the recovery hung for most of its time [s].

    Own: nothing published says how long; judge.toml gives the share.
    """
    share = tables.judge().deep_stall_share
    recovering = summaries[:, s.R_TIME] - summaries[:, s.R_T_RECOVERY]
    return has_hung(summaries) & (summaries[:, s.R_HUNG_FOR] >= share * recovering)


def hung_away(summaries: np.ndarray, budget_m: float) -> np.ndarray:
    """Return for each row (n, N_SUMMARY) whether it used too much height only because it hung.

    Own: without what it sank while it hung, its drop would have been within the budget [m].
    """
    sunk = summaries[:, s.R_HUNG_FOR] * summaries[:, s.R_HANG_SINK]
    return has_hung(summaries) & (summaries[:, s.R_DROP] - sunk <= budget_m)


def typical_hangs(summaries: np.ndarray) -> tuple[Hang, ...]:
    """Return what hanging was like in the rows (n, N_SUMMARY), erect and then inverted.

    Each of them only where a flight hung so, and so none where none hung.
    """
    rows = summaries[has_hung(summaries)]
    inverted = rows[:, s.R_HANG_ALPHA] < 0.0
    sides = ((rows[inverted == side], side) for side in (False, True))
    return tuple(_typical(hung, side) for hung, side in sides if len(hung))


def _typical(rows: np.ndarray, inverted: bool) -> Hang:
    """Return what hanging one way up was like in rows (n, N_SUMMARY).

    Medians, by definition; [rad] become [deg].
    """

    def middle(column: int) -> float:
        return float(np.median(rows[:, column]))

    swinging = rows[rows[:, s.R_HANG_PERIOD] > 0.0]
    often = 2 * len(swinging) > len(rows)
    return Hang(
        flights=len(rows),
        inverted=inverted,
        alpha_deg=degrees(middle(s.R_HANG_ALPHA)),
        nose_deg=degrees(middle(s.R_HANG_PITCH)),
        swing_deg=degrees(middle(s.R_HANG_SWING)),
        period_s=float(np.median(swinging[:, s.R_HANG_PERIOD])) if often else 0.0,
        wallow_deg=degrees(middle(s.R_HANG_WALLOW)),
        turn_dps=degrees(float(np.median(np.abs(rows[:, s.R_HANG_TURN])))),
        sink_mps=middle(s.R_HANG_SINK),
        speed_mps=middle(s.R_HANG_SPEED),
        hung_s=middle(s.R_HUNG_FOR),
    )
