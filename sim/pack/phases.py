"""Manoeuvre and recovery files to the kernel's table of phases."""

from math import radians

import numpy as np

from sim.core import script_layout as s
from sim.describe import Manoeuvre, Phase, Recovery

FRAMES = {"centre": s.FRAME_CENTRE, "side": s.FRAME_SIDE, "spin": s.FRAME_SPIN}
PILOTS = {
    "sticks": s.PILOT_STICKS,
    "level_flight": s.PILOT_LEVEL,
    "pull_out": s.PILOT_PULL_OUT,
    "wings_level": s.PILOT_WINGS,
    "rocking": s.PILOT_ROCKING,
    "either_way_up": s.PILOT_EITHER_WAY,
    "level_pass": s.PILOT_PASS,
    "hard_pull": s.PILOT_HARD_PULL,
}
STOPS = {"none": 0.0, "left": -1.0, "right": 1.0, "side": s.STOP_SIDE}
# condition key -> column, and whether it is an angle or a rate in degrees
CONDITIONS = {
    "alpha_above_deg": s.PH_ALPHA_ABOVE,
    "alpha_below_deg": s.PH_ALPHA_BELOW,
    "size_of_alpha_below_deg": s.PH_ALPHA_SIZE_BELOW,
    "yaw_rate_below_dps": s.PH_YAW_RATE_BELOW,
    "yaw_rate_above_dps": s.PH_YAW_RATE_ABOVE,
    "rotation_below_dps": s.PH_ROTATION_BELOW,
    "turns_above": s.PH_TURNS_ABOVE,
    "bank_above_deg": s.PH_BANK_ABOVE,
    "pitch_above_deg": s.PH_PITCH_ABOVE,
    "speed_over_stall_above": s.PH_SPEED_ABOVE,
    "speed_over_stall_below": s.PH_SPEED_BELOW,
    "flight_path_above_deg": s.PH_PATH_ABOVE,
    "pitch_turned_above_deg": s.PH_PITCHED_ABOVE,
    "roll_turned_above_deg": s.PH_ROLLED_ABOVE,
}


def phase_row(phase: Phase, stage: int) -> np.ndarray:
    """Return the row (N_PHASE,) of a phase; degrees become radians here."""
    row = np.full(s.N_PHASE, 0.0)
    row[s.PH_ALPHA_ABOVE : s.PH_UNSTALLED] = s.NONE
    row[s.PH_THROTTLE] = -1.0 if phase.throttle is None else phase.throttle
    row[s.PH_ELEVATOR] = phase.elevator
    row[s.PH_AILERON] = phase.aileron
    row[s.PH_RUDDER] = phase.rudder
    row[s.PH_FRAME] = FRAMES[phase.relative_to]
    row[s.PH_PILOT] = PILOTS[phase.pilot]
    row[s.PH_RAMP] = phase.ramp_s
    row[s.PH_AT_LEAST] = phase.at_least_s
    row[s.PH_AT_MOST] = phase.at_most_s
    row[s.PH_REACTION] = 1.0 if phase.reaction else 0.0
    row[s.PH_HOLD_ALPHA] = radians(phase.hold_alpha_deg or 0.0)
    row[s.PH_STAGE] = stage
    row[s.PH_STOP] = STOPS[phase.stop_unit]
    if phase.until is not None:
        row[s.PH_FOR] = phase.until.for_s
        row[s.PH_UNSTALLED] = 1.0 if phase.until.unstalled else 0.0
        for key, column in CONDITIONS.items():
            value = getattr(phase.until, key)
            if value is not None:
                row[column] = radians(value) if key.endswith(("_deg", "_dps")) else value
    return row


def phase_table(manoeuvre: Manoeuvre, recovery: Recovery) -> np.ndarray:
    """Return the phases (n, N_PHASE) of an entry followed by a recovery.

    In the recovery a phase that is flown as a pull-out counts as the pull-out stage.
    """
    rows = [phase_row(p, _stage_of_entry(p)) for p in manoeuvre.phases]
    for phase in recovery.phases:
        stage = s.STAGE_PULL_OUT if phase.pilot == "pull_out" else s.STAGE_RECOVERY
        rows.append(phase_row(phase, stage))
    return np.array(rows)


def _stage_of_entry(phase: Phase) -> int:
    if not phase.recovery_tried:
        return s.STAGE_ENTRY
    return s.STAGE_TRIED_PULL_OUT if phase.pilot == "pull_out" else s.STAGE_TRIED


def longest(manoeuvre: Manoeuvre, recovery: Recovery, retries_s: float) -> float:
    """Return how long a flight can last [s]: all phases at their longest, and retries."""
    return sum(p.at_most_s for p in (*manoeuvre.phases, *recovery.phases)) + retries_s
