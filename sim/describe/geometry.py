"""Shape: the datum, surfaces with their controls, and bodies."""

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import (
    MOST_FLAP_PCT,
    Described,
    Filled,
    Listed,
    Name,
    Place,
    Share,
    Size,
    Text,
    between,
)
from sim.describe.section_table import NamedTable

Role = Literal["wing", "strake", "tail", "fin", "canard"]
UPRIGHT_FROM_DEG = 45.0  # what stands more than it lies is reckoned as a fin
LYING_FIN_DEG = 15.0  # a fin that stands less than this is no fin (common practice, no source)


class Datum(Described):
    """Where all places are measured from, in words."""

    text: Text


class Section(Described):
    """Section of a surface; a sharp edge separates at once, a round one holds suction.

    ``table`` names a CSV file of its own coefficients, see `sim.describe.section_table`.
    """

    thickness_pct: Annotated[float, between(0.5, 30.0, "% of the chord")]
    camber_pct: Annotated[float, between(-10.0, 10.0, "% of the chord")] = 0.0
    edge: Literal["round", "sharp"]
    table: NamedTable = None

    @model_validator(mode="after")
    def _covers_both_sides(self) -> "Section":
        if self.table is not None and self.table.one_sided and self.camber_pct != 0.0:
            text = (
                f"{self.table.file!r}: needs angles below 0 too: a section of camber_pct = "
                f"{self.camber_pct:g} is not its own mirror"
            )
            refuse([("table", text)])
        return self

    @property
    def symmetric(self) -> bool:
        """Whether its lower half is the mirror of its upper."""
        return self.camber_pct == 0.0 and (self.table is None or self.table.one_sided)


class Control(Described):
    """A movable part of a surface: a flap, or the whole surface about a pivot.

    ``width_mm``, hinge to trailing edge at the inner end of a flap as the ruler has it, is where
    throws in mm are read; without it they are read by ``chord_pct``, which flies in either case.
    """

    channel: Name
    kind: Literal["flap", "all_moving"]
    inner_pct: Share | None = None
    outer_pct: Share | None = None
    chord_pct: Annotated[float, between(3.0, MOST_FLAP_PCT, "% of the chord")] | None = None
    width_mm: Annotated[float, between(2.0, 1000.0, "mm")] | None = None
    pivot_pct: Annotated[float, between(0.0, 60.0, "% of the mean chord")] | None = None

    @model_validator(mode="after")
    def _fits_its_kind(self) -> "Control":
        flap = {"inner_pct": self.inner_pct, "outer_pct": self.outer_pct}
        flap["chord_pct"] = self.chord_pct
        moving = {"pivot_pct": self.pivot_pct}
        needed, foreign = (
            (flap, moving) if self.kind == "flap" else (moving, {**flap, "width_mm": self.width_mm})
        )
        faults = [
            (k, f'is missing; kind "{self.kind}" needs it') for k, v in needed.items() if v is None
        ]
        faults += [
            (k, f'does not belong to kind "{self.kind}"; leave it out')
            for k, v in foreign.items()
            if v is not None
        ]
        inner, outer = self.inner_pct, self.outer_pct
        if inner is not None and outer is not None and inner >= outer:
            faults.append(("inner_pct", f"must be less than outer_pct, {outer:g}; got {inner:g}"))
        refuse(faults)
        return self


class Droop(Described):
    """A leading edge turned down, for good or for landing: how far, and where."""

    down_deg: Annotated[float, between(0.5, 45.0, "degrees")]
    chord_pct: Annotated[float, between(3.0, 40.0, "% of the chord")]
    inner_pct: Share = 0.0
    outer_pct: Share = 100.0

    @model_validator(mode="after")
    def _has_a_span(self) -> "Droop":
        if self.inner_pct >= self.outer_pct:
            text = f"must be less than outer_pct, {self.outer_pct:g}; got {self.inner_pct:g}"
            refuse([("inner_pct", text)])
        return self


class Surface(Described):
    """A lifting surface of one straight-tapered panel, or a left and a right one.

    ``sweep_deg`` is that of the leading edge; ``panel_span_mm`` runs along the panel from
    root to tip; ``dihedral_deg`` 90 stands upright, and a fin must give it. ``washout_deg``
    is how much less the tip is set at than the root. ``leading_edge_vortex`` marks a sharp,
    strongly swept edge whose rolled-up vortex lifts the surface. ``droop`` is where its leading
    edge is turned down.
    """

    name: Name
    role: Role
    mirrored: bool
    root_aft_mm: Place
    root_right_mm: Annotated[float, between(-2000.0, 2000.0, "mm")]
    root_up_mm: Annotated[float, between(-2000.0, 2000.0, "mm")]
    panel_span_mm: Annotated[float, between(20.0, 10000.0, "mm")]
    root_chord_mm: Annotated[float, between(10.0, 3000.0, "mm")]
    tip_chord_mm: Annotated[float, between(5.0, 3000.0, "mm")]
    sweep_deg: Annotated[float, between(-60.0, 85.0, "degrees")]
    dihedral_deg: Annotated[float, between(-90.0, 90.0, "degrees")] = 0.0
    incidence_deg: Annotated[float, between(-15.0, 15.0, "degrees")] = 0.0
    washout_deg: Annotated[float, between(-10.0, 10.0, "degrees")] = 0.0
    section: Section
    strips: Annotated[int, between(1, 60)]
    leading_edge_vortex: bool = False
    droop: Droop | None = None
    controls: Listed[Control] = ()

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> "Surface":
        faults = []
        if self.mirrored and self.root_right_mm < 0.0:
            text = f"must not be negative on a mirrored surface; got {self.root_right_mm:g}"
            faults.append(("root_right_mm", text))
        lies = abs(self.dihedral_deg) <= UPRIGHT_FROM_DEG
        if not self.mirrored and lies and self.root_right_mm < 0.0:
            text = (
                "must not be negative: one panel that lies runs from its root to the right; got "
                f"{self.root_right_mm:g} (for both sides give mirrored = true and half the span)"
            )
            faults.append(("root_right_mm", text))
        if (
            not self.mirrored
            and self.role in ("wing", "tail", "canard")
            and self.root_right_mm == 0
        ):
            text = f"must be true: a {self.role} with one panel only would be half a {self.role}"
            faults.append(("mirrored", text))
        if self.role == "fin":
            faults += self._fin()
        if self.leading_edge_vortex and (self.sweep_deg < 45.0 or self.section.edge != "sharp"):
            text = "needs a sharp edge and a sweep of at least 45 degrees to form one"
            faults.append(("leading_edge_vortex", text))
        if self.section.table is not None and (
            self.leading_edge_vortex or self.role == "strake" or not lies
        ):
            text = "has no effect: only what lies, without leading-edge vortices, has a section's"
            faults.append(("section.table", f"{text} coefficients; leave it out"))
        faults += self._droop(lies)
        moving = [c for c in self.controls if c.kind == "all_moving"]
        if len(moving) > 1:
            faults.append(
                ("controls", 'holds more than one control of kind "all_moving"; keep one')
            )
        faults += self._overlaps()
        refuse(faults)
        return self

    def _fin(self) -> list[tuple[str, str]]:
        stands = f"{LYING_FIN_DEG:g} to 90, or -{LYING_FIN_DEG:g} to -90 for one that hangs"
        if "dihedral_deg" not in self.model_fields_set:
            text = f"is missing; a fin needs it, for without it lies flat: 90 is upright ({stands})"
            return [("dihedral_deg", text)]
        if abs(self.dihedral_deg) < LYING_FIN_DEG:
            text = (
                f"must be {stands}; got {self.dihedral_deg:g}, which lies flat "
                '(a lying surface is a "tail" or "canard")'
            )
            return [("dihedral_deg", text)]
        return []

    def _droop(self, lies: bool) -> list[tuple[str, str]]:
        if self.droop is None:
            return []
        if self.leading_edge_vortex or self.role == "strake" or not lies:
            return [
                ("droop", "has no effect: only what lies, without leading-edge vortices, has it")
            ]
        if self.section.table is not None:
            text = "must be left out: the section's own table is of the section as it is"
            return [("droop", text)]
        return []

    def _overlaps(self) -> list[tuple[str, str]]:
        spans = [(c.inner_pct, c.outer_pct, c.channel) for c in self.controls]
        flaps = sorted((i, o, c) for i, o, c in spans if i is not None and o is not None)
        return [
            (
                f"controls.{second}.inner_pct",
                f"must be at least {outer:g}, where the flap of {first!r} ends; got {inner:g}",
            )
            for (_, outer, first), (inner, _, second) in pairwise(flaps)
            if inner < outer
        ]


class Station(Described):
    """One cross-section of a body; ``up_mm`` is the height of its centre."""

    aft_mm: Place
    width_mm: Size
    height_mm: Size
    up_mm: Place = 0.0
    right_mm: Place = 0.0


class Body(Described):
    """A body through its stations, nose first.

    ``corner_pct`` is the corner radius as a share of half a side: 100 is round or
    elliptical, 0 a box with sharp corners.
    """

    name: Name
    strips: Annotated[int, between(1, 60)]
    corner_pct: Share
    stations: Filled[Station]

    @model_validator(mode="after")
    def _runs_aft(self) -> "Body":
        faults = []
        if len(self.stations) < 2:
            faults.append(("stations", "needs at least two, the nose and the tail; got 1"))
        for number, (a, b) in enumerate(pairwise(self.stations), 2):
            if b.aft_mm <= a.aft_mm:
                text = f"must lie aft of the station before it, {a.aft_mm:g} mm; got {b.aft_mm:g}"
                faults.append((f"stations[{number}].aft_mm", text))
        refuse(faults)
        return self
