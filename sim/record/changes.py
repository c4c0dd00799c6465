"""What each change moved and what half the step did, as numbers for JSON."""

from math import isfinite
from typing import Any

from sim.study.limits.interval import forward_mm
from sim.study.result import BeforeAfter
from sim.study.stepped import StepCheck


def rounded(value: float | None, digits: int) -> float | None:
    """Return a number for JSON: rounded, None where it is absent or not finite."""
    return None if value is None or not isfinite(value) else round(value, digits)


def changes_json(one: BeforeAfter) -> dict[str, Any]:
    """Return the lines of a before and after."""
    return {
        "before": one.before,
        "after": one.after,
        "lines": [
            {
                "change": line.what,
                "balance_aft_mm": rounded(line.balance_aft_mm, 2),
                "static_margin_pct": rounded(line.static_margin_pct, 2),
                "tail_deg": rounded(line.tail_deg, 2),
                "stall_speed_mps": rounded(line.stall_speed_mps, 2),
                "pitch_response_dps2": rounded(line.pitch_response_dps2, 1),
                "aft_limit_first_failure_mm": line.limit_fails_mm,
                "aft_limit_at_end": line.limit_at_end,
                "aft_limit_mm": line.limit_mm,
                "aft_limit_low_mm": forward_mm(line.limit_low_mm),
                "aft_limit_high_mm": forward_mm(line.limit_high_mm),
                "flown": line.height_m is not None,
                "entry_height_needed_p95_m": rounded(line.height_m, 1),
            }
            for line in one.lines
        ],
    }


def step_json(step: StepCheck) -> dict[str, Any]:
    """Return what half the integration step did to a sample."""
    return {
        "flights": step.flights,
        "half_step_s": step.step_s / 2.0,
        "most_lowest_m": rounded(step.most_lowest_m, 4),
        "most_height_lost_m": rounded(step.most_lost_m, 4),
        "median_m": rounded(step.median_m, 5),
        "beyond_1_cm": step.beyond_centimetre,
        "beyond_1_m": step.beyond_metre,
        "turned": [
            {
                "setup": one.setup,
                "manoeuvre": one.manoeuvre,
                "recovery": one.recovery,
                "draw": one.draw,
                "was": one.was.value,
                "became": one.became.value,
            }
            for one in step.turned
        ],
    }
