"""Surfaces with their movable parts, and channels with their throws, from answers and kind."""

from dataclasses import dataclass
from math import asin, atan, cos, degrees, radians, sin, tan
from typing import cast

from sim import tables
from sim.start.controls import (
    MORE_DOWN,
    MORE_UP,
    PIVOT,
    READING_MM,
    FlapTold,
    flap_told,
    mean_chord,
    pivot_pct,
)
from sim.start.filled import Filled
from sim.start.planform import Measured, Panel, from_the_side, size_at, strake_panel, to_the_middle
from sim.tables.models.kinds import Seen
from sim.units.quantities import LENGTH

RUDDER_BELOW = "rudder below"
LEAST_BELOW_MM = 20.0  # the least span that a file may have of a surface


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
    landing: FlapTold | None = None
    mirrored: bool = True
    camber_pct: float = 0.0
    edge: str = "round"
    incidence_deg: float = 0.0
    washout_deg: float = 0.0
    pivot_pct: float = 25.0
    pivot_measured: bool = False
    strips: int = 6
    vortex: bool = False
    servo: bool = True


@dataclass(frozen=True)
class ChannelTold:
    """A channel, its throws and sticks."""

    name: str
    up_deg: float
    down_deg: float
    stick: str


def _camber_pct(filled: Filled) -> float:
    """Return the wing's camber [%]: by the look of its section, else as usual for the kind."""
    seen = filled.answers.get("wing_section")
    if seen is None:
        return filled.usual.shape.camber_pct
    return tables.kinds().sections[cast(Seen, seen)].camber_pct


def _thickness_pct(filled: Filled, panel: Panel) -> float:
    """Return the wing's thickness [%] of the chord, as measured at its root or as usual.

    A plate's, as thick everywhere, is that of its mean chord.
    """
    thick = filled.given("wing_thickness_mm")
    if thick is None:
        return filled.usual.shape.thickness_pct
    if filled.answers.get("wing_section") == "flat_plate":
        return 100.0 * thick / mean_chord(panel)[1]
    return 100.0 * thick / filled.number("wing_root_chord_mm")


def _landing_flap(filled: Filled, panel: Panel) -> FlapTold | None:
    """Return the landing flap where there is one: between body and aileron if its ends are blank.

    Geometry.
    """
    if filled.delta or filled.given("flap_width_mm") is None:
        return None
    half = 0.5 * filled.number("wing_span_mm")
    aileron = filled.given("aileron_inner_mm")
    ends = filled.usual.flaps.aileron_inner_pct if aileron is None else 100.0 * aileron / half
    usual = (100.0 * filled.half_width(0.0) / half, ends, 0.0)
    return flap_told(filled.answers, "flap", panel, half, usual)


def set_at(filled: Filled, place: str, chord: str) -> float | None:
    """Return the angle [degrees] of a chord to the table, by the heights of its edges; geometry."""
    rise = filled.given(f"{place}_lead_up_mm")
    return None if rise is None else degrees(asin(rise / filled.number(f"{chord}_chord_mm")))


def _angles(filled: Filled) -> tuple[float, float]:
    """Return the wing's incidence to the tailplane, and its washout [degrees].

    Measured or usual for the kind; geometry.
    """
    root, tail = set_at(filled, "wing", "wing_root"), set_at(filled, "tail", "tail_root")
    tip, shape = set_at(filled, "wing_tip", "wing_tip"), filled.usual.shape
    return (
        shape.incidence_deg if root is None or tail is None else root - tail,
        shape.washout_deg if root is None or tip is None else root - tip,
    )


def surfaces(filled: Filled) -> list[SurfaceTold]:
    """Return the surfaces, the wing first."""
    number, shape, flaps = filled.number, filled.usual.shape, filled.usual.flaps
    inner = filled.half_width(0.0)
    incidence, washout = _angles(filled)
    wing = Measured(
        0.0, number("wing_span_mm"), number("wing_root_chord_mm"), number("wing_tip_chord_mm"),
        number("wing_tip_back_mm"), number("wing_up_mm"), number("wing_tip_up_mm"),
    )  # fmt: skip
    panel = to_the_middle(wing, inner)
    landing = _landing_flap(filled, panel)
    edge = str(filled.answers.get("wing_edge", shape.edge))
    begins = max(flaps.aileron_inner_pct, 0.0 if landing is None else landing.outer_pct)
    usual = (begins, flaps.aileron_outer_pct, flaps.aileron_chord_pct)
    out = [
        SurfaceTold(
            "wing", "wing", panel,
            f"A, B, C, D: span {wing.span:g}, chords {wing.root:g} and {wing.tip:g}, tip "
            f"{wing.tip_back:g} back; carried on to the middle",
            _thickness_pct(filled, panel), "elevon" if filled.delta else "aileron",
            flap_told(filled.answers, "aileron", panel, 0.5 * wing.span, usual),
            landing,
            camber_pct=_camber_pct(filled), edge=edge, incidence_deg=incidence,
            washout_deg=washout, strips=12,
            vortex=edge == "sharp" and panel.sweep_deg >= 45.0,
        )
    ]  # fmt: skip
    if filled.kind == "fan_jet_strakes":
        length, width = number("strake_length_mm"), number("strake_width_mm")
        ruler = f"S, T: {length:g} forward of x, {width:g} out"
        out.append(SurfaceTold("strake", "strake", strake_panel(length, width, inner), ruler, 3.0,
                               edge="sharp", strips=3))  # fmt: skip
    if not filled.delta:
        out.append(_tail(filled))
    fin = _fin(filled)
    below = rudder_below(filled, fin)
    return [*out, fin] if below is None else [*out, fin, below]


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
    up = filled.number("fin_foot_up_mm", 0.3 * foot if two else 0.9 * foot)
    upright = from_the_side(Measured(back, 2.0 * height, root, tip, number("fin_tip_back_mm")), 0.0)
    panel = Panel(
        back, 0.5 * number("fin_apart_mm") if two else 0.0, up,
        height, root, tip, upright.sweep_deg, 90.0 - number("fin_lean_deg") if two else 90.0,
    )  # fmt: skip
    ruler = f"J, K, L, M: {back:g} behind x, height {height:g}, chords {root:g} and {tip:g}"
    ends = (6.0, 97.0, filled.usual.flaps.rudder_chord_pct)
    flap = flap_told(filled.answers, "rudder", panel, height, ends)
    return SurfaceTold("fin", "fin", panel, ruler, shape.tail_thickness_pct, "rudder", flap,
                       mirrored=two, edge=shape.edge)  # fmt: skip


def rudder_below(filled: Filled, fin: SurfaceTold) -> SurfaceTold | None:
    """Return the part of a rudder that runs on below the fin's foot: a surface that moves whole.

    Geometry: width and hinge line carried on straight; from its lowest end up, so that it turns
    the same way as the rest. One of less than `LEAST_BELOW_MM` is left out.
    """
    width, low = filled.given("rudder_width_mm"), -filled.number("rudder_inner_mm")
    if width is None or fin.flap is None or low < LEAST_BELOW_MM:
        return None
    high = filled.number("rudder_outer_mm", filled.number("fin_height_mm"))
    foot = width + (filled.number("rudder_tip_width_mm", width) - width) * low / (low + high)
    panel, lean = fin.panel, radians(90.0 - fin.panel.dihedral_deg)
    growing = (foot - width) / low
    edge = tan(radians(panel.sweep_deg))
    edge -= (panel.root_chord_mm - panel.tip_chord_mm) / panel.panel_span_mm
    hinge = edge - growing
    part = Panel(
        panel.root_aft_mm + panel.root_chord_mm - foot - hinge * low,
        max(panel.root_right_mm - low * sin(lean), 0.0), panel.root_up_mm - low * cos(lean),
        low, width, foot, degrees(atan(hinge)), panel.dihedral_deg,
    )  # fmt: skip
    return SurfaceTold(RUDDER_BELOW, "fin", part, f"the rudder's part {low:g} mm below the fin's "
                       "foot: it turns as a whole about its hinge, its front edge",
                       fin.thickness_pct, "rudder", mirrored=fin.mirrored, edge=fin.edge,
                       pivot_pct=0.0, pivot_measured=True, strips=2, servo=False)  # fmt: skip


def rudder_doubts(filled: Filled) -> list[str]:
    """Return that a rudder which runs on below its fin would lie in the body, or nothing."""
    below = next((x for x in surfaces(filled) if x.name == RUDDER_BELOW), None)
    if below is None:
        return []
    hinge = below.panel.root_aft_mm
    inside = filled.end_mm - hinge
    if below.mirrored or inside <= READING_MM:
        return []
    return [
        "rudder_inner_mm: the rudder runs on below the fin's foot, yet its hinge lies "
        f"{LENGTH(inside)} ahead of the body's end there, inside the body: look at fin_back_mm, "
        "the fin's chords, body_length_mm and nose_ahead_mm"
    ]


def more_throw(filled: Filled) -> ChannelTold | None:
    """Return the elevator with the larger throw [degrees] that its pilot would like to try.

    A delta's, as elevator alone, keeps the proportion of up to down, as all that moves elevons.
    """
    up = filled.given(MORE_UP)
    if up is None:
        return None
    if filled.delta:
        down = up * filled.number("elevator_down_deg") / filled.number("elevator_up_deg")
        return ChannelTold("elevator", up, down, "")
    down = filled.number(MORE_DOWN, filled.number("elevator_down_deg"))
    return ChannelTold("elevator", up, down, "elevator = 1.0")


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
        *(
            [ChannelTold("flap", 0.0, number("flap_down_deg"), "")]
            if "flap_width_mm" in filled.answers
            else []
        ),
    ]
