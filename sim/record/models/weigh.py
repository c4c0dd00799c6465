"""The record of weigh: mass, balance point and inertia."""

from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import Field

from sim.pack.unknowns import Unknown
from sim.record.fields import Kind, Many, Number, Record, said
from sim.record.models.senses import SenseRow, sense_rows
from sim.record.models.unknowns import UnknownRow, unknown_rows
from sim.trim.senses import Senses
from sim.version import __version__
from sim.weigh import Weighed
from sim.weigh.reach import Reach

Inertia = Annotated[float, Number("kg m2", 8)]
Radius = Annotated[float, Number("m", 5)]


class PartRow(Record):
    """One part of the ledger; its place is from the datum."""

    name: Annotated[str, said("of the part")]
    kind: Annotated[str, said("what it is")]
    mass_g: Annotated[float, Number("g", 2, "of the part")]
    aft_mm: Annotated[float, Number("mm", 2, "behind the datum")]
    right_mm: Annotated[float, Number("mm", 2, "right of the plane of symmetry")]
    up_mm: Annotated[float, Number("mm", 2, "above the datum")]


class ReachRow(Record):
    """How far a pack's tray moves the balance point, nothing added; from the datum."""

    pack: Annotated[str, said("the pack")]
    front_mm: Annotated[float, Number("mm", 2, "its centre at the front of the tray")]
    rear_mm: Annotated[float, Number("mm", 2, "its centre at the rear of the tray")]
    foremost_mm: Annotated[float, Number("mm", 3, "balance point with it at the front")]
    rearmost_mm: Annotated[float, Number("mm", 3, "balance point with it at the rear")]


class WeighRecord(Kind):
    """Mass, balance point and inertia of a set-up."""

    kind: Literal["aftlimit.weigh/1"] = Field(alias="schema")
    setup: Annotated[str, said("the set-up weighed")]
    mass_g: Annotated[float, Number("g", 2, "ready to fly")]
    balance_aft_mm: Annotated[float, Number("mm", 3, "balance point aft of the datum")]
    balance_pct_mac: Annotated[float, Number("% MAC", 3, "balance point")]
    balance_right_mm: Annotated[float, Number("mm", 3, "balance point right of the middle")]
    balance_up_mm: Annotated[float, Number("mm", 3, "balance point above the datum")]
    inertia_kg_m2: Annotated[Many[Many[Inertia]], said("3 x 3, x forward, y right, z down")]
    wing_loading_kg_m2: Annotated[float, Number("kg/m2", 4, "mass over wing area")]
    radii_of_gyration_m: Annotated[Many[Radius], said("about x, y, z")]
    pack_aft_mm: Annotated[float, Number("mm", 2, "the pack's place aft of the datum")]
    added_weights_g: Annotated[
        dict[str, Annotated[float, Number("g", 2)]], said("what the balance point needs besides")
    ]
    packs: Annotated[Many[ReachRow], said("each pack on its tray")]
    parts: Annotated[Many[PartRow], said("the ledger")]
    notes: Annotated[Many[str], said("what to know of the weighing")]
    controls: Annotated[Many[SenseRow], said("which way surfaces move with the sticks")]
    unmeasured: Annotated[Many[UnknownRow], said("what nobody measured, by what weighing shows")]


def weigh_record(
    weighed: Weighed,
    controls: Senses,
    open_: Sequence[Unknown],
    reach: Sequence[Reach] = (),
) -> WeighRecord:
    """Return the record of a set-up: weighed, which way surfaces move, what was not measured."""
    _, right, down = (1000.0 * float(x) for x in weighed.balance_m)
    return WeighRecord(
        schema="aftlimit.weigh/1",
        version=__version__,
        setup=weighed.setup.name,
        mass_g=1000.0 * weighed.mass_kg,
        balance_aft_mm=weighed.balance_aft_mm,
        balance_pct_mac=weighed.balance_pct_mac,
        balance_right_mm=right,
        balance_up_mm=-down,
        inertia_kg_m2=weighed.inertia_kg_m2.tolist(),
        wing_loading_kg_m2=weighed.wing_loading_kg_m2,
        radii_of_gyration_m=[float(r) for r in weighed.radii_of_gyration_m],
        pack_aft_mm=weighed.pack_aft_mm,
        added_weights_g=dict(weighed.added_weights),
        packs=[ReachRow(**vars(x)) for x in reach],
        parts=[
            PartRow(
                name=row.name,
                kind=row.kind,
                mass_g=1000.0 * row.mass_kg,
                aft_mm=-1000.0 * float(row.position_m[0]),
                right_mm=1000.0 * float(row.position_m[1]),
                up_mm=-1000.0 * float(row.position_m[2]),
            )
            for row in weighed.rows
        ],
        notes=(*weighed.notes, *weighed.doubts),
        controls=sense_rows(controls),
        unmeasured=unknown_rows(open_),
    )
