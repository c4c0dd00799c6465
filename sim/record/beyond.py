"""What the study's own flights are held against, as numbers for JSON."""

from collections.abc import Sequence
from math import isfinite
from typing import Any

from sim.describe import StudyFiles, resolve_setup
from sim.pack.assemble import Assembled, assemble
from sim.study.checks.agreement import departure_agreement
from sim.study.checks.spin_scale import scaled_spins
from sim.study.result import StudyResult


def assembled_setups(files: StudyFiles) -> list[Assembled]:
    """Return the set-ups of a study in its order, ready to fly, nominal."""
    return [
        assemble(files.aeroplane, resolve_setup(files.aeroplane, block))
        for block in files.study.setups
    ]


def beyond_json(result: StudyResult, ready: Sequence[Assembled]) -> dict[str, Any]:
    """Return the departure criteria against flights, and the spins across sizes."""
    return {
        "departure_criteria": [
            {
                "setup": row.setup,
                "manoeuvre": row.manoeuvre,
                "at_stall": str(row.at_stall.value),
                "beyond_stall": str(row.beyond.value),
                "to_alpha_deg": round(row.to_deg, 1),
                "departed": row.departed,
                "flights": row.flights,
                "low": round(row.low, 4),
                "high": round(row.high, 4),
                "agree": row.agree,
            }
            for row in departure_agreement(result, ready)
        ],
        "spins_across_sizes": [
            {
                "setup": one.setup,
                "manoeuvre": one.manoeuvre,
                "turn_rate_wb_2v": round(one.spin.rate, 4),
                "relative_density": round(one.scale.relative_density, 3),
                "mass_loading": round(one.scale.mass_loading, 5),
                "sideslip_deg": round(one.beta_deg, 1),
                "cn_rest_rudder_with": _finite(one.yaw.rudder_with),
                "cn_rest_centred": _finite(one.yaw.centred),
                "cn_rest_rudder_against": _finite(one.yaw.rudder_against),
                "cn_wing": _finite(one.yaw.wing),
                "doubtful": one.yaw.suspicious,
            }
            for one in scaled_spins(result, ready)
        ],
    }


def _finite(value: float) -> float | None:
    return round(value, 5) if isfinite(value) else None
