"""Answers and the usual of their kind, put together to all that an aeroplane file says."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import cast

from sim import tables
from sim.describe.known import Kind
from sim.start.controls import PIVOT, FlapTold, flap_told, pivot_pct
from sim.start.driving import INCH_MM, Driven, PackTold, driven, packs_told
from sim.start.planform import (
    Cut,
    Measured,
    Panel,
    body_cuts,
    from_the_side,
    size_at,
    strake_panel,
    to_the_middle,
)
from sim.start.questions import FANS, PACKS, Answer
from sim.tables.models.kinds import KindOfAeroplane, Seen


@dataclass(frozen=True)
class SurfaceTold:
    """A surface with its movable part, a flap or, about its pivot, the whole."""

    name: str
    role: str
    panel: Panel
    ruler: str
    thickness_pct: float
    channel: str = ""
    flap: FlapTold | None = None
    mirrored: bool = True
    camber_pct: float = 0.0
    edge: str = "round"
    incidence_deg: float = 0.0
    washout_deg: float = 0.0
    pivot_pct: float = 25.0
    pivot_measured: bool = False
    strips: int = 6
    vortex: bool = False


@dataclass(frozen=True)
class ChannelTold:
    """A channel, its throws and sticks."""

    name: str
    up_deg: float
    down_deg: float
    stick: str


@dataclass
class Filled:
    """Everything that the file says, from answers and kind; see `fill`."""

    answers: Mapping[str, Answer]
    kind: Kind
    usual: KindOfAeroplane
    assumed: list[str] = field(default_factory=list)
    from_box: list[str] = field(default_factory=list)

    def number(self, key: str, default: float = 0.0) -> float:
        """Return an answered number, or the default where it was left blank."""
        value = self.answers.get(key, default)
        return value if isinstance(value, float) else float(default)

    def given(self, key: str) -> float | None:
        """Return an answered number, or None."""
        value = self.answers.get(key)
        return value if isinstance(value, float) else None

    @property
    def fan(self) -> bool:
        """Whether a fan drives it."""
        return self.kind in FANS

    @property
    def delta(self) -> bool:
        """Whether it has no tailplane."""
        return self.kind == "delta"

    @property
    def packs(self) -> list[PackTold]:
        """Its packs, in the order answered."""
        lines = self.answers[PACKS]
        return packs_told(lines if isinstance(lines, tuple) else ())

    @property
    def pack_in_it(self) -> PackTold:
        """The pack that was in it on the scales."""
        packs = self.packs
        return packs[min(int(self.number("pack_in_it", 1.0)), len(packs)) - 1]

    @property
    def cuts(self) -> list[Cut]:
        """The body's cross-sections."""
        shape = self.usual.shape
        ratios = {
            "front": shape.front_height_over_width, "middle": shape.middle_height_over_width,
            "end": shape.end_height_over_width,
        }  # fmt: skip
        sizes = []
        for place, ratio in ratios.items():
            width = self.number(f"{place}_width_mm")
            sizes.append((width, self.number(f"{place}_height_mm", ratio * width)))
        return body_cuts(
            self.number("nose_ahead_mm"), self.number("body_length_mm"), tuple(sizes), shape
        )

    @property
    def end_mm(self) -> float:
        """The body's end [mm aft of x]."""
        return self.number("body_length_mm") - self.number("nose_ahead_mm")

    @property
    def fan_back_mm(self) -> float:
        """Where its fan's blades turn [mm aft of x], measured or usual."""
        return self.number("fan_back_mm", tables.kinds().body.fan_over_rear * self.end_mm)

    def half_width(self, aft_mm: float) -> float:
        """Return half the body's width at a place [mm]."""
        return 0.5 * size_at(self.cuts, aft_mm)[0]

    @property
    def drive(self) -> Driven:
        """What drives it."""
        inches = self.given("propeller_in")
        pitch = self.given("pitch_in")
        return driven(
            self.number("fan_mm") if inches is None else INCH_MM * inches,
            self.number("kv_rpm_per_v"), self.pack_in_it.cells,
            pitch_mm=None if pitch is None else INCH_MM * pitch, mass_g=self.given("motor_g"),
            limit_a=self.given("controller_a"), nozzle_mm=self.given("nozzle_mm"),
        )  # fmt: skip


def fill(answers: Mapping[str, Answer]) -> Filled:
    """Return answers with the usual of their kind, and what of it nobody measured."""
    kind = cast(Kind, answers["kind"])
    filled = Filled(answers, kind, tables.kinds().kinds[kind])
    filled.assumed += ["airframe", "structure"]
    if "servo_torque_ncm" in answers:
        filled.from_box.append("servo_types.servo.torque_ncm")
        loose = ("rate_dps", "lag_s", "deadband_deg")
        filled.assumed += [f"servo_types.servo.{key}" for key in loose]
    else:
        filled.assumed.append("servo_types")
    for surface in surfaces(filled):
        path = f"surfaces.{surface.name}"
        filled.assumed.append(f"{path}.section")
        if surface.role == "wing":
            filled.assumed += [f"{path}.incidence_deg", f"{path}.washout_deg"]
        told = surface.pivot_measured if surface.flap is None else surface.flap.measured
        if surface.channel and not told:
            filled.assumed.append(f"{path}.controls")
    if not all(f"{place}_height_mm" in answers for place in ("front", "middle", "end")):
        filled.assumed.append("bodies.body.stations")
    filled.assumed += ["bodies.body.corner_pct", "weight_places", "motors.motor.resistance_mohm",
                       "motors.motor.no_load_current_a", "expo"]  # fmt: skip
    filled.assumed.append("fan_units.fan" if filled.fan else "propeller_units.propeller.rotates")
    if filled.fan and "nozzle_mm" not in answers:
        filled.assumed += [f"fans.{name}.nozzle_mm" for name in fan_names(filled)]
    if filled.fan and "fan_back_mm" not in answers:
        filled.assumed += [f"fans.{name}.aft_mm" for name in fan_names(filled)]
    filled.from_box.append("motors.motor.kv_rpm_per_v")
    known = filled.from_box if "controller_a" in answers else filled.assumed
    known.append("controllers.controller")
    filled.from_box += [f"packs.{pack.name}.mass_g" for pack in filled.packs if not pack.weighed]
    if answers.get("gyro") == "yes":
        told = all(f"gyro_{axis}_gain" in answers for axis in ("roll", "pitch", "yaw"))
        filled.assumed += ["gyro.filter_s", "gyro.delay_s"] if told else ["gyro"]
    return filled


def fan_names(filled: Filled) -> tuple[str, ...]:
    """Return the names of the fans."""
    return ("left fan", "right fan") if filled.answers.get("fans") == "2" else ("fan",)


def _camber_pct(filled: Filled) -> float:
    """Return the wing's camber [%]: by the look of its section, else as usual for the kind."""
    seen = filled.answers.get("wing_section")
    if seen is None:
        return filled.usual.shape.camber_pct
    return tables.kinds().sections[cast(Seen, seen)].camber_pct


def surfaces(filled: Filled) -> list[SurfaceTold]:
    """Return the surfaces, the wing first."""
    number, shape, flaps = filled.number, filled.usual.shape, filled.usual.flaps
    inner = filled.half_width(0.0)
    wing = Measured(
        0.0, number("wing_span_mm"), number("wing_root_chord_mm"), number("wing_tip_chord_mm"),
        number("wing_tip_back_mm"), number("wing_up_mm"), number("wing_tip_up_mm"),
    )  # fmt: skip
    panel = to_the_middle(wing, inner)
    usual = (flaps.aileron_inner_pct, flaps.aileron_outer_pct, flaps.aileron_chord_pct)
    out = [
        SurfaceTold(
            "wing", "wing", panel,
            f"A, B, C, D: span {wing.span:g}, chords {wing.root:g} and {wing.tip:g}, tip "
            f"{wing.tip_back:g} back; carried on to the middle",
            shape.thickness_pct, "elevon" if filled.delta else "aileron",
            flap_told(filled.answers, "aileron", panel, 0.5 * wing.span, usual),
            camber_pct=_camber_pct(filled), edge=shape.edge, incidence_deg=shape.incidence_deg,
            washout_deg=shape.washout_deg, strips=12,
            vortex=shape.edge == "sharp" and panel.sweep_deg >= 45.0,
        )
    ]  # fmt: skip
    if filled.kind == "fan_jet_strakes":
        length, width = number("strake_length_mm"), number("strake_width_mm")
        ruler = f"S, T: {length:g} forward of x, {width:g} out"
        out.append(SurfaceTold("strake", "strake", strake_panel(length, width, inner), ruler, 3.0,
                               edge="sharp", strips=3))  # fmt: skip
    if not filled.delta:
        out.append(_tail(filled))
    out.append(_fin(filled))
    return out


def _tail(filled: Filled) -> SurfaceTold:
    number, shape, flaps = filled.number, filled.usual.shape, filled.usual.flaps
    tail = Measured(
        number("tail_back_mm"), number("tail_span_mm"), number("tail_root_chord_mm"),
        number("tail_tip_chord_mm"), number("tail_tip_back_mm"), number("tail_up_mm"),
    )  # fmt: skip
    inner = filled.half_width(tail.back + 0.5 * tail.root)
    whole = filled.answers.get("tail_moves") == "whole"
    ruler = f"E, G, F, H: {tail.back:g} behind x, span {tail.span:g}, chords {tail.root:g} and "
    ruler += f"{tail.tip:g}, tip {tail.tip_back:g} back"
    if whole:
        panel = from_the_side(tail, inner)
        back = filled.given(PIVOT)
        pct = flaps.pivot_pct if back is None else pivot_pct(back, panel)
        return SurfaceTold("tail", "tail", panel, ruler, shape.tail_thickness_pct, "elevator",
                           pivot_pct=pct, pivot_measured=back is not None)  # fmt: skip
    panel = to_the_middle(tail, inner)
    ends = (5.0, 98.0, flaps.elevator_chord_pct)
    flap = flap_told(filled.answers, "elevator", panel, 0.5 * tail.span, ends)
    return SurfaceTold("tail", "tail", panel, f"{ruler}; carried on to the middle",
                       shape.tail_thickness_pct, "elevator", flap)  # fmt: skip


def _fin(filled: Filled) -> SurfaceTold:
    number, shape = filled.number, filled.usual.shape
    back, height = number("fin_back_mm"), number("fin_height_mm")
    root, tip = number("fin_root_chord_mm"), number("fin_tip_chord_mm")
    two = filled.answers.get("fins") == "2"
    foot = 0.5 * size_at(filled.cuts, back + 0.5 * root)[1]
    upright = from_the_side(Measured(back, 2.0 * height, root, tip, number("fin_tip_back_mm")), 0.0)
    panel = Panel(
        back, 0.5 * number("fin_apart_mm") if two else 0.0, 0.3 * foot if two else 0.9 * foot,
        height, root, tip, upright.sweep_deg, 90.0 - number("fin_lean_deg") if two else 90.0,
    )  # fmt: skip
    ruler = f"J, K, L, M: {back:g} behind x, height {height:g}, chords {root:g} and {tip:g}"
    ends = (6.0, 97.0, filled.usual.flaps.rudder_chord_pct)
    flap = flap_told(filled.answers, "rudder", panel, height, ends)
    return SurfaceTold("fin", "fin", panel, ruler, shape.tail_thickness_pct, "rudder", flap,
                       mirrored=two, edge=shape.edge)  # fmt: skip


def channels(filled: Filled) -> list[ChannelTold]:
    """Return channels with their throws [degrees] and sticks.

    A delta's elevons have room for both sticks: each stick moves them by its share of the sum.
    """
    number = filled.number
    up, down = number("elevator_up_deg"), number("elevator_down_deg")
    roll, yaw = number("aileron_up_deg"), number("rudder_deg")
    rudder = ChannelTold("rudder", yaw, yaw, "rudder = 1.0")
    if filled.delta:
        whole = up + roll
        stick = f"elevator = {up / whole:.3g}, aileron = {roll / whole:.3g}"
        return [ChannelTold("elevon", whole, down * whole / up, stick), rudder]
    return [
        ChannelTold("aileron", roll, number("aileron_down_deg"), "aileron = 1.0"),
        ChannelTold("elevator", up, down, "elevator = 1.0"),
        rudder,
    ]
