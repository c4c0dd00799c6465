"""What the columns of a flight are called, with their units: the one list of them.

Tables, CSV, recordings and data frames take names and numbers from here; where a number
stands in the kernel's arrays is said in `sim.core.script_layout`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from sim.core import script_layout as s

if TYPE_CHECKING:
    from pandas import DataFrame

Floats = NDArray[np.float64]
Columns = dict[str, Floats]
NO_PANDAS = (
    "a data frame needs pandas; install it with: pip install pandas; or take to_columns(), "
    "the same as NumPy arrays"
)
ANGLES = ("deg", "deg/s")


class Column(NamedTuple):
    """A column: its name, which ends in its unit, where it stands, its unit, what it is."""

    name: str
    at: int
    unit: str
    text: str

    def of(self, rows: Floats) -> Floats:
        """Return the column (n,) of the kernel's rows (n, ...), angles in degrees."""
        values = rows[:, self.at]
        return np.degrees(values) if self.unit in ANGLES else values.copy()


HISTORY = (
    Column("time_s", s.H_T, "s", "since the start"),
    Column("north_m", s.H_N, "m", "from the start"),
    Column("east_m", s.H_E, "m", "from the start"),
    Column("up_m", s.H_UP, "m", "height above the field"),
    Column("roll_deg", s.H_PHI, "deg", "bank, right wing down plus"),
    Column("pitch_deg", s.H_THETA, "deg", "nose above the horizon"),
    Column("yaw_deg", s.H_PSI, "deg", "heading, from north to the right"),
    Column("alpha_deg", s.H_ALPHA, "deg", "angle of attack"),
    Column("beta_deg", s.H_BETA, "deg", "sideslip, air from the right plus"),
    Column("speed_mps", s.H_SPEED, "m/s", "through the air"),
    Column("climb_mps", s.H_CLIMB, "m/s", "upwards plus"),
    Column("roll_rate_dps", s.H_P, "deg/s", "about the body's x, right wing down plus"),
    Column("pitch_rate_dps", s.H_Q, "deg/s", "about the body's y, nose up plus"),
    Column("yaw_rate_dps", s.H_R, "deg/s", "about the body's z, nose right plus"),
    Column("load_factor_g", s.H_LOAD, "g", "along the aeroplane's own vertical"),
    Column("elevator_stick", s.H_ELEVATOR, "of full stick", "aft plus"),
    Column("aileron_stick", s.H_AILERON, "of full stick", "right plus"),
    Column("rudder_stick", s.H_RUDDER, "of full stick", "right plus"),
    Column("throttle_stick", s.H_THROTTLE, "of full throttle", "0 to 1"),
    Column("current_a", s.H_CURRENT, "A", "of the pack"),
    Column("phase", s.H_PHASE, "", "which phase of manoeuvre and recovery, from 0"),
)

SUMMARY = (
    Column("height_lost_m", s.R_HEIGHT_LOST, "m", "from the first recovery input to level"),
    Column("pull_out_m", s.R_PULL_OUT, "m", "of it, after rotation has stopped"),
    Column("height_used_m", s.R_DROP, "m", "from the start to the lowest point"),
    Column("peak_alpha_deg", s.R_PEAK_ALPHA, "deg", "greatest angle of attack"),
    Column("peak_load_factor_g", s.R_PEAK_LOAD, "g", "greatest load"),
    Column("turns_entry", s.R_TURNS_ENTRY, "turns", "before the recovery, either way"),
    Column("turns_recovery", s.R_TURNS_RECOVERY, "turns", "in the recovery, either way"),
    Column("turns_stalled", s.R_STALLED_TURNS, "turns", "most while stalled, about any axis"),
    Column("seconds_at_high_alpha", s.R_HIGH_FOR, "s", "longest beyond the judge's angle"),
    Column("seconds_hung", s.R_HUNG_FOR, "s", "that a recovery hung in a deep stall"),
    Column("spun", s.R_SPUN, "", "1 where it spun"),
    Column("spin_alpha_deg", s.R_SPIN_ALPHA, "deg", "mean of the spin"),
    Column("spin_yaw_rate_dps", s.R_SPIN_YAW, "deg/s", "mean of the spin, right plus"),
    Column("spin_sink_mps", s.R_SPIN_SINK, "m/s", "mean of the spin"),
)
EITHER_WAY = (s.R_TURNS_ENTRY, s.R_TURNS_RECOVERY)
ONLY_IF_BACK = (s.R_HEIGHT_LOST, s.R_PULL_OUT, s.R_DROP)
SIDES = {1.0: "_right", -1.0: "_left", 0.0: ""}


def history_columns(history: Floats) -> Columns:
    """Return the columns (n,) of `HISTORY` from a history (n, N_HISTORY)."""
    return {column.name: column.of(history) for column in HISTORY}


def surface_columns(history: Floats, channels: dict[tuple[str, float], int]) -> Columns:
    """Return the deflections (n,) [deg] that a history (n, N_HISTORY) keeps, by channel and side.

    Trailing edge down plus, of a standing surface to the right.

    Parameters
    ----------
    channels : dict of (channel, side) to int
        As `sim.aero.build.AeroArrays` has them.
    """
    kept = list(channels)[: s.KEPT_SERVOS]
    return {
        f"{name}{SIDES[side]}_deg": np.degrees(history[:, s.H_SERVO + i])
        for i, (name, side) in enumerate(kept)
    }


def summary_columns(rows: Floats) -> Columns:
    """Return the columns (n,) of `SUMMARY` from summaries (n, N_SUMMARY), as `fly_many` gives them.

    Heights are NaN in flights that never came back.
    """
    out = {column.name: column.of(rows) for column in SUMMARY}
    for column in SUMMARY:
        if column.at in EITHER_WAY:
            out[column.name] = np.abs(out[column.name])
        if column.at in ONLY_IF_BACK:
            out[column.name] = np.where(rows[:, s.R_BACK] > 0.0, out[column.name], np.nan)
    return out


def frame(columns: Mapping[str, NDArray[np.generic]]) -> DataFrame:
    """Return columns as a pandas data frame.

    Raises
    ------
    ModuleNotFoundError
        pandas is not installed.
    """
    try:
        import pandas  # no other function needs it
    except ModuleNotFoundError:
        raise ModuleNotFoundError(NO_PANDAS, name="pandas") from None
    return pandas.DataFrame(dict(columns))
