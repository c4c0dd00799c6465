"""The numbers of weigh, trim and fly for JSON, and a flight's history for CSV."""

import csv
import io
from math import degrees, isfinite
from typing import Any

import numpy as np

from sim.core import script_layout as s
from sim.fly.flying import Flight
from sim.judge import Event, Verdict, reasons_of
from sim.trim.criteria import Criteria
from sim.trim.modes import Mode
from sim.trim.trimming import Trim
from sim.version import __version__
from sim.weigh import Weighed


def _header(kind: str) -> dict[str, Any]:
    return {"schema": f"aftlimit.{kind}/1", "version": __version__}


def weigh_json(weighed: Weighed) -> dict[str, Any]:
    """Return mass, balance point and inertia of a set-up."""
    return {
        **_header("weigh"),
        "setup": weighed.setup.name,
        "mass_g": round(1000.0 * weighed.mass_kg, 2),
        "balance_aft_mm": round(weighed.balance_aft_mm, 3),
        "balance_pct_mac": round(weighed.balance_pct_mac, 3),
        "balance_right_mm": round(1000.0 * float(weighed.balance_m[1]), 3),
        "balance_up_mm": round(-1000.0 * float(weighed.balance_m[2]), 3),
        "inertia_kg_m2": np.round(weighed.inertia_kg_m2, 8).tolist(),
        "wing_loading_kg_m2": round(weighed.wing_loading_kg_m2, 4),
        "radii_of_gyration_m": [round(float(r), 5) for r in weighed.radii_of_gyration_m],
        "pack_aft_mm": round(weighed.pack_aft_mm, 2),
        "added_weights_g": {name: round(g, 2) for name, g in weighed.added_weights},
        "parts": [
            {
                "name": row.name,
                "kind": row.kind,
                "mass_g": round(1000.0 * row.mass_kg, 2),
                "aft_mm": round(-1000.0 * float(row.position_m[0]), 2),
                "right_mm": round(1000.0 * float(row.position_m[1]), 2),
                "up_mm": round(-1000.0 * float(row.position_m[2]), 2),
            }
            for row in weighed.rows
        ],
        "notes": list(weighed.notes),
    }


def _mode(mode: Mode) -> dict[str, Any]:
    return {
        "name": mode.name,
        "real_per_s": round(mode.real, 5),
        "imaginary_per_s": round(mode.imaginary, 5),
        "frequency_rps": round(mode.frequency_rps, 5),
        "damping": round(mode.damping, 5),
        "period_s": None if mode.period_s is None else round(mode.period_s, 4),
        "half_time_s": round(mode.half_time_s, 4) if isfinite(mode.half_time_s) else None,
    }


def trim_json(
    trim: Trim,
    neutral_pct: float,
    margin_pct: float,
    stall_mps: float,
    modes: list[Mode],
    criteria: Criteria,
) -> dict[str, Any]:
    """Return level trim, stability and modes of a set-up."""
    return {
        **_header("trim"),
        "found": trim.found,
        "speed_mps": round(trim.speed_mps, 3),
        "alpha_deg": round(trim.alpha_deg, 4),
        "tail_deg": round(trim.tail_deg, 4),
        "throttle": round(trim.throttle, 5),
        "static_margin_pct": round(margin_pct, 3),
        "neutral_point_pct_mac": round(neutral_pct, 3),
        "stall_speed_mps": round(stall_mps, 3),
        "modes": [_mode(mode) for mode in modes],
        "departure": [
            {
                "alpha_deg": float(alpha),
                "cn_beta_dyn_per_deg": round(float(dynamic), 6),
                "lcdp_per_deg": round(float(lcdp), 6) if isfinite(lcdp) else None,
                "aileron_roll_power": round(float(power), 6),
            }
            for alpha, dynamic, lcdp, power in zip(
                criteria.alphas_deg,
                criteria.dynamic,
                criteria.aileron,
                criteria.roll_power,
                strict=True,
            )
        ],
    }


def fly_json(
    flight: Flight, verdict: Verdict, events: list[Event], flown: dict[str, Any]
) -> dict[str, Any]:
    """Return verdict, heights, events and peaks of one flight.

    ``flown`` holds what else it was flown with: entry, floor, draw, seed.
    """
    row = flight.summary
    back = bool(row[s.R_BACK] > 0.0)
    return {
        **_header("fly"),
        "aeroplane": flight.assembled.aeroplane.name,
        "setup": flight.assembled.setup.name,
        "manoeuvre": flight.manoeuvre.name,
        "recovery": flight.recovery.name,
        "side": "right" if flight.side > 0 else "left",
        **flown,
        "verdict": verdict.value,
        "reason": reasons_of(row[None, :], flown["entry_m"], flown["floor_m"])[0].value,
        "height_lost_m": round(float(row[s.R_HEIGHT_LOST]), 3) if back else None,
        "pull_out_m": round(float(row[s.R_PULL_OUT]), 3) if back else None,
        "height_used_m": round(float(row[s.R_DROP]), 3) if back else None,
        "peak_alpha_deg": round(degrees(row[s.R_PEAK_ALPHA]), 3),
        "peak_load_factor_g": round(float(row[s.R_PEAK_LOAD]), 3),
        "turns_before_recovery": round(abs(float(row[s.R_TURNS_ENTRY])), 3),
        "turns_in_recovery": round(abs(float(row[s.R_TURNS_RECOVERY])), 3),
        "turns_while_stalled": round(float(row[s.R_STALLED_TURNS]), 3),
        "events": [
            {
                "name": e.name,
                "time_s": round(e.time_s, 3),
                "below_start_m": round(e.height_lost_m, 3),
            }
            for e in events
        ],
    }


def history_csv(flight: Flight) -> str:
    """Return a flight's history as CSV, one line a control tick, surfaces in degrees."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    columns = flight.to_columns()
    writer.writerow(columns)
    for cells in zip(*columns.values(), strict=True):
        writer.writerow([f"{value:.5g}" if isfinite(value) else "" for value in cells])
    return out.getvalue()
