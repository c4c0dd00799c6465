"""The record of a sketch: its sizes, and where its coefficients come from."""

from typing import Annotated, Literal

from pydantic import Field

from sim.aero.origins import origins
from sim.pack.assemble import Assembled, reference_speed
from sim.record.fields import Kind, Many, Number, said
from sim.version import __version__


class SketchRecord(Kind):
    """What a sketch shows in numbers, and where its coefficients come from."""

    kind: Literal["aftlimit.sketch/1"] = Field(alias="schema")
    aeroplane: Annotated[str, said("its name")]
    setup: Annotated[str, said("the set-up drawn")]
    wing_area_m2: Annotated[float, Number("m2", 5, "reference area")]
    span_m: Annotated[float, Number("m", 4, "reference span")]
    mean_chord_mm: Annotated[float, Number("mm", 1, "mean aerodynamic chord")]
    balance_aft_mm: Annotated[float, Number("mm", 2, "balance point aft of the datum")]
    flap_deg: Annotated[float, Number("degrees", 2, "where the flap stands, down plus")]
    neutral_point_pct_mac: Annotated[float, Number("% MAC", 2, "stick fixed, gyro off")]
    table_speed_mps: Annotated[float, Number("m/s", 2, "for which the tables are made")]
    coefficients_from: Annotated[
        dict[str, Many[str]], said("by surface: what is measured, and what is a formula")
    ]


def sketch_record(ready: Assembled, neutral_point_pct: float) -> SketchRecord:
    """Return the record of an aeroplane that was sketched."""
    weighed = ready.weighed
    speed = reference_speed(weighed.mass_kg, weighed.reference.area_m2)
    return SketchRecord(
        schema="aftlimit.sketch/1",
        version=__version__,
        aeroplane=ready.aeroplane.name,
        setup=ready.setup.name,
        wing_area_m2=weighed.reference.area_m2,
        span_m=weighed.reference.span_m,
        mean_chord_mm=1000.0 * weighed.reference.mean_chord_m,
        balance_aft_mm=weighed.balance_aft_mm,
        flap_deg=ready.setup.flap_deg,
        neutral_point_pct_mac=neutral_point_pct,
        table_speed_mps=speed,
        coefficients_from={x.name: origins(x, speed) for x in ready.aeroplane.surfaces},
    )
