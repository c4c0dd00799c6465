"""Weighing a set-up: from the aeroplane's parts to mass, balance point and inertia."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sim.describe import Aeroplane, Fault, FileFault, SetUp, SetUpBlock, resolve_setup
from sim.describe.masses import OF_MASSES
from sim.weigh.balance import Balance, solve_balance
from sim.weigh.by_kind import spread_by_kind
from sim.weigh.ledger import total
from sim.weigh.measured import NO_CORRECTION, check_triangle, correct, corrected
from sim.weigh.parts import added_lump, fixed_lumps, pack_lump, weight_lump
from sim.weigh.reference import Reference, reference
from sim.weigh.solids import Array, Lump

MM_PER_M = 1000.0


@dataclass(frozen=True)
class Row:
    """One line of the ledger.

    Parameters
    ----------
    name, kind : str
    mass_kg : float
    position_m : array, shape (3,)
        Its centre in body axes from the datum.
    """

    name: str
    kind: str
    mass_kg: float
    position_m: Array


@dataclass(frozen=True)
class Weighed:
    """A set-up's mass properties.

    Parameters
    ----------
    setup : SetUp
    mass_kg : float
    balance_m : array, shape (3,)
        Balance point in body axes from the datum (x forward, so x = -aft).
    inertia_kg_m2 : array, shape (3, 3)
        About the balance point in body axes; products negative off the diagonal (-Ixz),
        so that angular momentum is inertia @ omega.
    reference : Reference
    rows : tuple of Row
        Every lump; a mirrored one has two.
    notes : tuple of str
        What measurements changed.
    doubts : tuple of str
        What of the measurements does not fit together.
    pack_aft_mm : float
        Where the pack's centre lies.
    added_weights : tuple of (str, float)
        Weight place and g, where the wanted balance point needs any.
    """

    setup: SetUp
    mass_kg: float
    balance_m: Array
    inertia_kg_m2: Array
    reference: Reference
    rows: tuple[Row, ...]
    notes: tuple[str, ...]
    pack_aft_mm: float
    added_weights: tuple[tuple[str, float], ...]
    doubts: tuple[str, ...] = ()

    @property
    def balance_aft_mm(self) -> float:
        """Balance point aft of the datum [mm]; by definition."""
        return -MM_PER_M * float(self.balance_m[0])

    @property
    def balance_pct_mac(self) -> float:
        """Balance point as a share of the mean aerodynamic chord [%]."""
        return self.reference.pct_mac(-float(self.balance_m[0]))

    @property
    def wing_loading_kg_m2(self) -> float:
        """Mass over wing area [kg/m²]; by definition. Ten times this is g/dm²."""
        return self.mass_kg / self.reference.area_m2

    @property
    def radii_of_gyration_m(self) -> Array:
        """Roll, pitch and yaw radius of gyration √(I/m) [m], shape (3,); by definition."""
        return np.sqrt(np.diag(self.inertia_kg_m2) / self.mass_kg)


def weigh_set_up(aeroplane: Aeroplane, setup: SetUp | SetUpBlock | str | None = None) -> Weighed:
    """Return mass, balance point and inertia of an aeroplane in a set-up.

    Mass [kg], place [m] and inertia [kg m²] by definition: sums over the lumps.

    Parameters
    ----------
    aeroplane : Aeroplane
    setup : SetUp, SetUpBlock, str or None
        A set-up, or a block or name to resolve; None is the aeroplane's first.

    Raises
    ------
    OutOfReachError
        If neither pack nor added weights give the wanted balance point.
    FileFault
        If the set-up or a measurement contradicts the aeroplane.
    """
    chosen = setup if isinstance(setup, SetUp) else resolve_setup(aeroplane, setup)
    fixed, notes, doubts = _fixed(aeroplane)
    mend = NO_CORRECTION
    measured = aeroplane.measured
    if measured is not None and not aeroplane.airframe:
        measured = measured.model_copy(update={"mass_g": None, "balance_aft_mm": None})
    if measured is not None and measured.has(*OF_MASSES):
        mend = correct(measured, fixed, _carried(aeroplane), aeroplane.name)
    fixed = corrected(fixed, mend.mass_factor, mend.shift_aft_mm)
    loose = [weight_lump(weight) for weight in chosen.loose_weights]
    balance = _balance(aeroplane, chosen, [*fixed, *loose])
    lumps = [*fixed, *loose, _pack(aeroplane, chosen, balance.pack_aft_mm)]
    lumps += [added_lump(spot, mass) for spot, mass in balance.added_kg]
    whole = total(lumps)
    inertia = whole.inertia_kg_m2 + np.diag(mend.inertia_kg_m2)
    check_triangle(np.diag(inertia), aeroplane.name)
    return Weighed(
        setup=chosen,
        mass_kg=whole.mass_kg,
        balance_m=whole.centre_m,
        inertia_kg_m2=inertia,
        reference=reference(aeroplane),
        rows=tuple(Row(x.name, x.kind, x.mass_kg, x.centre_m) for x in lumps),
        notes=(*notes, *mend.notes),
        pack_aft_mm=balance.pack_aft_mm,
        added_weights=tuple((spot.name, 1000.0 * mass) for spot, mass in balance.added_kg),
        doubts=doubts,
    )


def _pack(aeroplane: Aeroplane, setup: SetUp, aft_mm: float) -> Lump:
    if setup.pack not in aeroplane.packs:
        packs = ", ".join(aeroplane.packs)
        text = f"names pack {setup.pack!r}, which is not there; packs: {packs}"
        raise FileFault(aeroplane.name, [Fault(f"setups.{setup.name}.pack", text)])
    return pack_lump(setup.pack, aeroplane.packs[setup.pack], aeroplane.tray, aft_mm)


def _balance(aeroplane: Aeroplane, setup: SetUp, others: Iterable[Lump]) -> Balance:
    """Return where the pack goes [mm aft] and what is added; moments by definition."""
    if setup.pack_aft_mm is not None or setup.balance_aft_mm is None:
        return Balance(setup.pack_aft_mm or 0.0)
    rest = total(others)
    return solve_balance(
        mass_kg=rest.mass_kg,
        moment_kg_mm=rest.mass_kg * rest.aft_mm,
        pack_kg=_pack(aeroplane, setup, 0.0).mass_kg,
        tray=aeroplane.tray_of(setup.pack),
        spots=aeroplane.weight_places,
        wanted_mm=setup.balance_aft_mm,
        who=f"{aeroplane.name}.toml: setups.{setup.name}",
    )


def _fixed(aeroplane: Aeroplane) -> tuple[list[Lump], tuple[str, ...], tuple[str, ...]]:
    """Return what is in it in every set-up, listed or spread by kind, with notes and doubts."""
    listed = fixed_lumps(aeroplane)
    if aeroplane.airframe:
        return listed, (), ()
    rest = spread_by_kind(aeroplane, listed, _carried(aeroplane))
    return [*rest.lumps, *listed], rest.notes, rest.doubts


def _carried(aeroplane: Aeroplane) -> list[Lump]:
    """Return pack and loose weights of the set-up that was measured."""
    setup = resolve_setup(aeroplane, aeroplane.measured_setup)
    weights = [weight_lump(weight) for weight in setup.loose_weights]
    return [*weights, _pack(aeroplane, setup, setup.pack_aft_mm or 0.0)]


@dataclass(frozen=True)
class TableRow:
    """A line for a reader: both sides of a mirrored thing together.

    Parameters
    ----------
    name, kind : str
    mass_g, aft_mm, right_mm, up_mm : float
        ``right_mm`` is that of the right one where there are two.
    count : int
        1, or 2 for a left and a right one.
    """

    name: str
    kind: str
    mass_g: float
    aft_mm: float
    right_mm: float
    up_mm: float
    count: int


def weigh_table(weighed: Weighed) -> list[TableRow]:
    """Return the ledger [g, mm] for a reader, in the order weighed, mirrored things in one line.

    By definition: units alone change.
    """
    together: dict[tuple[str, str], list[Row]] = {}
    for row in weighed.rows:
        together.setdefault((row.kind, row.name), []).append(row)
    lines = []
    for (kind, name), rows in together.items():
        forward, right, down = MM_PER_M * rows[0].position_m
        mass_g = 1000.0 * sum(row.mass_kg for row in rows)
        lines.append(
            TableRow(
                name=name,
                kind=kind,
                mass_g=mass_g,
                aft_mm=-forward,
                right_mm=right,
                up_mm=-down,
                count=len(rows),
            )
        )
    return lines
