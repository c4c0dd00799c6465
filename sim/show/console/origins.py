"""Where the numbers of each surface's table come from: for the console and for JSON."""

from typing import Any

from sim.aero.origins import origins
from sim.pack.assemble import Assembled, reference_speed
from sim.show.console.console import Tables, add, notes, table
from sim.version import __version__

SKETCH_SCHEMA = "aftlimit.sketch/1"


def _table_speed(assembled: Assembled) -> float:
    area = assembled.weighed.reference.area_m2
    return reference_speed(assembled.weighed.mass_kg, area)


def sketch_json(assembled: Assembled, neutral_point_pct: float) -> dict[str, Any]:
    """Return what a sketch shows in numbers, and where its coefficients come from."""
    weighed, speed = assembled.weighed, _table_speed(assembled)
    return {
        "schema": SKETCH_SCHEMA,
        "version": __version__,
        "aeroplane": assembled.aeroplane.name,
        "setup": assembled.setup.name,
        "wing_area_m2": round(weighed.reference.area_m2, 5),
        "span_m": round(weighed.reference.span_m, 4),
        "mean_chord_mm": round(1000.0 * weighed.reference.mean_chord_m, 1),
        "balance_aft_mm": round(weighed.balance_aft_mm, 2),
        "neutral_point_pct_mac": round(neutral_point_pct, 2),
        "table_speed_mps": round(speed, 2),
        "coefficients_from": {
            surface.name: list(origins(surface, speed)) for surface in assembled.aeroplane.surfaces
        },
    }


def origin_tables(assembled: Assembled) -> Tables:
    """Return what is measured and what is formula in the coefficients of each surface."""
    speed = _table_speed(assembled)
    out = table("Where the coefficients come from", "surface", "measured or by formula", left=2)
    for surface in assembled.aeroplane.surfaces:
        for i, line in enumerate(origins(surface, speed)):
            add(out, surface.name if i == 0 else "", line)
    return [out, *notes([f"Tables are made for {speed:.0f} m/s."])]
