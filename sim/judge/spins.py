"""What a spin is called, and the typical spin of a set of flights."""

from dataclasses import dataclass
from math import degrees, radians

import numpy as np

from sim import tables
from sim.core import script_layout as s

MUSH = "mush"  # stalled, hardly turning


@dataclass(frozen=True)
class Spin:
    """What an entry ends in before the first recovery input: medians over such flights.

    ``mode`` names a spin, or a mush where they stay at high angle without turning
    fast; ``rate`` is the non-dimensional turn rate about the flight path, omega b / 2 V;
    ``share`` the part of all flights that did so.
    """

    mode: str
    alpha_deg: float
    yaw_rate_dps: float
    sink_mps: float
    rate: float
    share: float


def mode_name(alpha: float, swing: float) -> str:
    """Return the name of a spin from its mean and its spread of angle of attack [rad].

    NASA's bounds by angle of attack, erect or inverted, with "oscillatory" where the
    angle swings more than the judge's table says; beyond 90 degrees it is a tumble.
    """
    values = tables.judge()
    modes = values.spin_modes
    size = abs(degrees(alpha))
    name = "tumbling"
    for upper, text in zip(modes.upper_alpha_deg, modes.names, strict=True):
        if size <= upper:
            name = text
            break
    words = ["erect" if alpha >= 0.0 else "inverted", name]
    if swing > radians(values.oscillatory_deg):
        words.append("oscillatory")
    return ", ".join(words)


def typical_spin(summaries: np.ndarray, span_m: float) -> Spin | None:
    """Return the commoner of spin and mush among the rows (n, N_SUMMARY), if any.

    Medians [deg, deg/s, m/s], and omega b / 2 V by definition. Own: a case has one to speak of
    where at least a share of its flights did it, judge.toml. A mush
    is a departed flight beyond NASA's bound of the steep spin that does not turn as fast as
    a spin; whether it hangs on when a recovery is tried is `judge.deep_stall`'s to say.
    """
    values = tables.judge()
    least, from_share = values.spin_modes.upper_alpha_deg[0], values.spin_named_from_share
    sound = np.isfinite(summaries).all(axis=1)
    spinning = sound & (summaries[:, s.R_SPUN] > 0.0)
    high = np.abs(summaries[:, s.R_SPIN_ALPHA]) > radians(least)
    mushing = sound & ~spinning & high & (summaries[:, s.R_DEPARTED] > 0.0)
    chosen = spinning if spinning.sum() >= mushing.sum() else mushing
    if chosen.sum() == 0 or chosen.sum() < from_share * len(summaries):
        return None
    rows = summaries[chosen]
    alpha = float(np.median(rows[:, s.R_SPIN_ALPHA]))
    yaw = float(np.median(np.abs(rows[:, s.R_SPIN_YAW])))
    turn = float(np.median(np.abs(rows[:, s.R_SPIN_RATE])))
    speed = float(np.median(rows[:, s.R_SPIN_SPEED]))
    mode = MUSH
    if chosen is spinning:
        mode = mode_name(alpha, float(np.median(rows[:, s.R_SPIN_SWING])))
    return Spin(
        mode=mode,
        alpha_deg=degrees(alpha),
        yaw_rate_dps=degrees(yaw),
        sink_mps=float(np.median(rows[:, s.R_SPIN_SINK])),
        rate=turn * span_m / (2.0 * max(speed, values.spin_least_mps)),
        share=len(rows) / len(summaries),
    )
