"""The numbers of spin equilibria for JSON."""

from collections.abc import Sequence
from typing import Any

from sim.pack.stalling import Stall
from sim.spin.births import Birth, kind_of, name_of
from sim.spin.equilibrium import Held
from sim.spin.mapped import Mapped
from sim.spin.roots import SpinRoot
from sim.version import __version__

STICKS = ("elevator", "aileron", "rudder", "throttle")
LEAST_STABLE = 4  # eigenvalues written for each equilibrium


def spin_json(held: Held, roots: Sequence[SpinRoot], stall: Stall) -> dict[str, Any]:
    """Return the equilibria of an aeroplane with its controls held."""
    return {
        "schema": "aftlimit.spin/1",
        "version": __version__,
        "held": held_json(held),
        "equilibria": [root_json(root, stall) for root in roots],
    }


def map_json(mapped: Mapped) -> dict[str, Any]:
    """Return the equilibria along a map."""
    return {
        "schema": "aftlimit.spin_map/1",
        "version": __version__,
        "along": mapped.along,
        "sticks": _sticks(mapped.sticks),
        "towards": None if mapped.goal is None else _sticks(mapped.goal),
        "stops": [
            {
                "at": stop.at,
                "equilibria": [root_json(root, stop.stall) for root in stop.roots],
            }
            for stop in mapped.found.stops
        ],
        "branches": [
            {"stop": link.stop, "equilibrium": link.here, "next": link.there}
            for link in mapped.found.links
        ],
        "flat_modes_begin": [_birth(birth) for birth in mapped.births],
        "flown": [
            {
                "at": flight.at,
                "alpha_deg": round(flight.end.alpha_deg, 3),
                "swing_deg": round(flight.end.swing_deg, 3),
                "turn_dps": round(flight.end.turn_dps, 3),
                "sink_mps": round(flight.end.sink_mps, 4),
            }
            for flight in mapped.flown
        ],
    }


def _birth(birth: Birth) -> dict[str, Any]:
    return {
        "mode": birth.mode,
        "turning": birth.side,
        "at": round(birth.at, 3),
        "within": None if birth.within is None else round(birth.within, 3),
        "stable": birth.stable,
        "last": birth.last,
    }


def _sticks(sticks: Sequence[float]) -> dict[str, float]:
    return {name: round(float(v), 4) for name, v in zip(STICKS, sticks, strict=True)}


def held_json(held: Held) -> dict[str, float]:
    """Return the sticks held and the trims added."""
    trims = zip(STICKS[:3], held.trims, strict=True)
    return _sticks(held.sticks.tolist()) | {f"{name}_trim": round(float(v), 4) for name, v in trims}


def root_json(root: SpinRoot, stall: Stall) -> dict[str, Any]:
    """Return one equilibrium."""
    roll, pitch, yaw = root.rates_dps
    return {
        "what": name_of(root, stall),
        "kind": kind_of(root, stall),
        "alpha_deg": round(root.alpha_deg, 3),
        "beta_deg": round(root.beta_deg, 3),
        "pitch_deg": round(root.pitch_deg, 3),
        "bank_deg": round(root.bank_deg, 3),
        "speed_mps": round(root.speed_mps, 4),
        "turn_dps": round(root.turn_dps, 3),
        "roll_rate_dps": round(roll, 3),
        "pitch_rate_dps": round(pitch, 3),
        "yaw_rate_dps": round(yaw, 3),
        "omega_b_over_2v": round(root.rate, 5),
        "sink_mps": round(root.sink_mps, 4),
        "radius_m": round(root.radius_m, 4) if root.radius_m < 1e6 else None,
        "load_g": round(root.load_g, 4),
        "stable": root.stable,
        "left_swinging": root.swings and not root.stable,
        "half_time_s": round(root.half_time_s, 4) if abs(root.half_time_s) < 1e6 else None,
        "period_s": None if root.period_s is None else round(root.period_s, 4),
        "eigenvalues_per_s": [
            [round(float(v.real), 4), round(float(v.imag), 4)]
            for v in root.eigenvalues[:LEAST_STABLE]
        ],
        "left_over_g": float(f"{root.left_over:.2e}"),
    }
