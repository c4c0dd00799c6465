"""The deep stall of a set-up, as numbers for JSON."""

from typing import Any

from sim.judge import Hang
from sim.record.changes import rounded
from sim.study.result import DeepStall, WayOut


def deep_stall_json(found: DeepStall | None) -> dict[str, Any] | None:
    """Return where flights hung, what it is like and what ended it; None where none hung."""
    if found is None:
        return None
    return {
        "recovery": found.recovery,
        "manoeuvres": [
            {
                "manoeuvre": place.manoeuvre,
                "flights": place.flights,
                "hung": place.hung,
                "lost": place.lost,
            }
            for place in found.places
        ],
        "seen": _hang(found.hang),
        "ways_out": [_way(way) for way in found.ways],
    }


def _hang(hang: Hang) -> dict[str, Any]:
    return {
        "alpha_deg": rounded(hang.alpha_deg, 1),
        "nose_deg": rounded(hang.nose_deg, 1),
        "nose_swing_deg": rounded(hang.swing_deg, 1),
        "nose_swing_period_s": rounded(hang.period_s, 2),
        "bank_swing_deg": rounded(hang.wallow_deg, 1),
        "turn_dps": rounded(hang.turn_dps, 1),
        "sink_mps": rounded(hang.sink_mps, 2),
        "speed_mps": rounded(hang.speed_mps, 2),
        "hung_s": rounded(hang.hung_s, 1),
    }


def _way(way: WayOut) -> dict[str, Any]:
    return {
        "recovery": way.name,
        "flights": way.flights,
        "out": way.out,
        "low": rounded(way.low, 4),
        "high": rounded(way.high, 4),
        "height_m": {
            "median": rounded(way.height_m.median, 1),
            "p95": rounded(way.height_m.p95, 1),
        },
    }
