"""Write what a study found: results.json and flights.csv."""

import csv
import io
import json
from collections.abc import Iterator, Sequence
from math import isfinite
from pathlib import Path
from typing import Any

from sim.record.changes import changes_json, rounded, step_json
from sim.record.deep_stall import deep_stall_json
from sim.study.columns import Column
from sim.study.limits.interval import forward_mm
from sim.study.result import (
    AftLimit,
    CaseResult,
    Heights,
    SetUpResult,
    StudyResult,
)
from sim.study.standing.bands import aft_of, own_limit
from sim.study.standing.outcomes import study_met
from sim.study.storing import write_atomically

STUDY_SCHEMA = "aftlimit.results/1"


def _heights(heights: Heights) -> dict[str, float | None]:
    return {"median": rounded(heights.median, 1), "p95": rounded(heights.p95, 1)}


def _case(case: CaseResult) -> dict[str, Any]:
    shares = case.shares
    spin = case.spin
    return {
        "manoeuvre": case.manoeuvre,
        "recovery": case.recovery,
        "entry_m": case.entry_m,
        "floor_m": case.floor_m,
        "flights": shares.flights,
        "held": shares.held,
        "recovered": shares.recovered,
        "lost": shares.lost,
        "never": shares.never,
        "below_floor": shares.below_floor,
        "entry_used": shares.entry_used,
        "unresolved": shares.unresolved,
        "no_trim": shares.no_trim,
        "guard": shares.guard,
        "step": shares.step,
        "touched_high_alpha": shares.touched,
        "hung": shares.hung,
        "hung_never": shares.hung_never,
        "hung_late": shares.hung_late,
        "back_low": rounded(shares.back_low, 4),
        "back_high": rounded(shares.back_high, 4),
        "height_lost_m": _heights(case.height_lost_m),
        "pull_out_m": _heights(case.pull_out_m),
        "entry_height_needed_m": _heights(case.entry_height_needed_m),
        "peak_alpha_deg": _heights(case.peak_alpha_deg),
        "spin": None
        if spin is None
        else {
            "mode": spin.mode,
            "alpha_deg": rounded(spin.alpha_deg, 1),
            "yaw_rate_dps": rounded(spin.yaw_rate_dps, 1),
            "sink_mps": rounded(spin.sink_mps, 2),
            "rate": rounded(spin.rate, 4),
            "share": rounded(spin.share, 4),
        },
    }


def _setup(setup: SetUpResult, limits: Sequence[AftLimit]) -> dict[str, Any]:
    trim, limit = setup.trim, own_limit(limits, setup)
    return {
        "name": setup.name,
        "title": setup.title,
        "pack": setup.pack,
        "mass_g": rounded(setup.mass_g, 1),
        "balance_aft_mm": rounded(setup.balance_aft_mm, 2),
        "balance_pct_mac": rounded(setup.balance_pct_mac, 2),
        "neutral_point_pct_mac": rounded(setup.neutral_point_pct_mac, 2),
        "static_margin_pct": rounded(setup.static_margin_pct, 2),
        "aft_of_its_limit": None if limit is None else aft_of(setup.balance_aft_mm, limit),
        "stall_speed_mps": rounded(setup.stall_speed_mps, 2),
        "wing_loading_kg_m2": rounded(setup.wing_loading_kg_m2, 2),
        "pack_aft_mm": rounded(setup.pack_aft_mm, 1),
        "added_weights_g": {name: rounded(grams, 1) for name, grams in setup.added_weights},
        "loose_weights": setup.weights,
        "throws": setup.throws,
        "nozzle": setup.nozzle,
        "gyro": setup.gyro,
        "trim": {
            "speed_mps": rounded(trim.speed_mps, 2),
            "found": trim.found,
            "alpha_deg": rounded(trim.alpha_deg, 2),
            "tail_deg": rounded(trim.tail_deg, 2),
            "throttle": rounded(trim.throttle, 4),
            "current_a": rounded(trim.current_a, 2),
            "level_cruise_minutes": rounded(trim.minutes, 2),
            "pitch_response_dps2": rounded(trim.pitch_response_dps2, 1),
        },
        "cases": [_case(case) for case in setup.cases],
        "deep_stall": deep_stall_json(setup.deep_stall),
    }


def _limit(limit: AftLimit) -> dict[str, Any]:
    return {
        "pack": limit.pack,
        "combination": limit.combination,
        "like": limit.like,
        "setups": list(limit.setups),
        "gyro": limit.gyro,
        "manoeuvres": list(limit.manoeuvres),
        "recovery": limit.recovery,
        "aft_mm": limit.aft_mm,
        "aft_low_mm": forward_mm(limit.low_mm),
        "aft_high_mm": forward_mm(limit.high_mm),
        "pct_mac": rounded(limit.pct_mac, 2),
        "neutral_mm": rounded(limit.neutral_mm, 1),
        "neutral_pct_mac": rounded(limit.neutral_pct_mac, 2),
        "static_margin_pct": rounded(limit.margin_pct, 2),
        "behind_neutral_mm": rounded(limit.behind_neutral_mm, 1),
        "each": [
            {
                "manoeuvre": one.manoeuvre,
                "aft_mm": one.aft_mm,
                "aft_low_mm": forward_mm(one.low_mm),
                "aft_high_mm": forward_mm(one.high_mm),
                "at_end": one.at_end,
                "first_failure_mm": one.first_failure_mm,
            }
            for one in limit.each
        ],
        "share_low": rounded(limit.share_low, 4),
        "share_high": rounded(limit.share_high, 4),
        "draws_used": limit.draws_used,
        "flights_used": limit.flights_used,
        "at_end": limit.at_end,
        "first_failure_mm": limit.first_failure_mm,
        "steps": [
            {
                "recovery": step.recovery,
                "balance_aft_mm": step.balance_aft_mm,
                "draws": step.draws,
                "back": step.back,
                "complete": step.complete,
                "low": rounded(step.low, 4),
                "high": rounded(step.high, 4),
            }
            for step in limit.steps
        ],
    }


def study_json(result: StudyResult) -> dict[str, Any]:
    """Return a study's numbers, ready for JSON; the same on any number of workers."""
    return {
        "schema": STUDY_SCHEMA,
        "version": result.version,
        "study": result.study,
        "aeroplane": result.aeroplane,
        "seed": result.seed,
        "draws": result.draws,
        "entry_m": result.entry_m,
        "floor_m": result.floor_m,
        "required_share_pct": result.required_share_pct,
        "met": study_met(result),
        "flights": result.flights,
        "setups": [_setup(setup, result.aft_limits) for setup in result.setups],
        "aft_limits": [_limit(limit) for limit in result.aft_limits],
        "step_check": None if result.step is None else step_json(result.step),
        "today": result.today,
        "before_and_after": [changes_json(one) for one in result.changes],
        "decided_by": [
            {"name": f.name, "correlation": rounded(f.correlation, 3), "measure": f.measure}
            for f in result.factors
        ],
        "sources": dict(result.sources),
    }


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


def write_json(path: Path, content: dict[str, Any]) -> None:
    """Write a JSON file atomically.

    Raises
    ------
    ValueError
        A number in it is not finite, which JSON has no word for; null says "not known".
    """
    odd = [key for key, value in _numbers(content) if not isfinite(value)]
    if odd:
        raise ValueError(f"{path.name}: not written; not a finite number: {', '.join(odd)}")
    write_atomically(path, (json.dumps(content, indent=2, allow_nan=False) + "\n").encode())


def _numbers(content: Any, key: str = "") -> Iterator[tuple[str, float]]:
    """Yield every floating-point number of a JSON value with its key path."""
    if isinstance(content, float):
        yield key, content
    elif isinstance(content, dict):
        for name, value in content.items():
            yield from _numbers(value, f"{key}.{name}" if key else str(name))
    elif isinstance(content, list | tuple):
        for number, value in enumerate(content, 1):
            yield from _numbers(value, f"{key}[{number}]")


def write_study(result: StudyResult, folder: Path, more: dict[str, Any] | None = None) -> None:
    """Write results.json, with ``more`` added, and flights.csv into a study's folder."""
    write_json(folder / "results.json", {**study_json(result), **(more or {})})
    write_atomically(folder / "flights.csv", flights_csv(result).encode())
