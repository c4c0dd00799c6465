"""What an aeroplane file says, as the facts that slips are looked for in."""

from collections.abc import Iterator
from math import cos, radians, tan
from typing import get_args

from sim.describe import Aeroplane, Surface
from sim.describe.known import Kind
from sim.weigh.slips import MOST_PACKS, Fact

Named = Iterator[tuple[str, Fact]]


def kinds_of(aeroplane: Aeroplane) -> tuple[Kind, ...]:
    """Return the kind of an aeroplane, or all that it may be where its file does not say."""
    if aeroplane.kind is not None:
        return (aeroplane.kind,)
    kinds: tuple[Kind, ...] = get_args(Kind)
    if not aeroplane.surfaces_as("tail", "canard"):
        return ("delta",)
    jets = tuple(kind for kind in kinds if kind.startswith("fan_jet"))
    return jets if aeroplane.fans else tuple(k for k in kinds if k not in (*jets, "delta"))


def facts_of(aeroplane: Aeroplane) -> dict[str, Fact]:
    """Return the facts of an aeroplane [mm, g, degrees], places from its wing's leading edge.

    Geometry: spans across, whatever the dihedral. A wing of several surfaces has none, nor has an
    aeroplane with a canard.
    """
    wings = aeroplane.surfaces_as("wing")
    if len(wings) != 1 or aeroplane.surfaces_as("canard"):
        return {}
    wing = wings[0]
    facts = dict(_plane(wing, "wing"))
    facts["wing_inner_mm"] = _as_is(wing.root_right_mm, f"surfaces.{wing.name}.root_right_mm")
    for tail in aeroplane.surfaces_as("tail")[:1]:
        facts |= dict(_plane(tail, "tail"))
        facts["tail_inner_mm"] = _as_is(tail.root_right_mm, f"surfaces.{tail.name}.root_right_mm")
        facts["tail_back_mm"] = _place(tail, wing)
    facts |= {name: fact for item in (_strakes, _fins, _bodies) for name, fact in item(aeroplane)}
    facts |= dict(_weights(aeroplane, wing))
    facts |= dict(_drive(aeroplane))
    return facts | dict(_throws(aeroplane))


def _as_is(value: float, key: str) -> Fact:
    return Fact(value, key, value)


def _place(surface: Surface, wing: Surface) -> Fact:
    key = f"surfaces.{surface.name}.root_aft_mm"
    return Fact(surface.root_aft_mm - wing.root_aft_mm, key, surface.root_aft_mm)


def _plane(surface: Surface, what: str) -> Named:
    """Yield span, chords and sweep of a lying surface [mm]; geometry."""
    path, across = f"surfaces.{surface.name}", cos(radians(surface.dihedral_deg))
    span = 2.0 * (surface.root_right_mm + surface.panel_span_mm * across)
    yield f"{what}_span_mm", Fact(span, f"{path}.panel_span_mm", surface.panel_span_mm)
    yield f"{what}_root_chord_mm", _as_is(surface.root_chord_mm, f"{path}.root_chord_mm")
    yield f"{what}_tip_chord_mm", _as_is(surface.tip_chord_mm, f"{path}.tip_chord_mm")
    back = surface.panel_span_mm * tan(radians(surface.sweep_deg))
    yield f"{what}_tip_back_mm", Fact(back, f"{path}.sweep_deg", surface.sweep_deg)


def _strakes(aeroplane: Aeroplane) -> Named:
    for strake in aeroplane.surfaces_as("strake")[:1]:
        path = f"surfaces.{strake.name}"
        yield "strake_length_mm", _as_is(strake.root_chord_mm, f"{path}.root_chord_mm")
        yield "strake_width_mm", _as_is(strake.panel_span_mm, f"{path}.panel_span_mm")


def _fins(aeroplane: Aeroplane) -> Named:
    for fin in aeroplane.surfaces_as("fin")[:1]:
        path = f"surfaces.{fin.name}"
        yield "fin_height_mm", _as_is(fin.panel_span_mm, f"{path}.panel_span_mm")
        yield "fin_root_chord_mm", _as_is(fin.root_chord_mm, f"{path}.root_chord_mm")


def _bodies(aeroplane: Aeroplane) -> Named:
    if len(aeroplane.bodies) != 1:
        return
    (body,), (wing,) = aeroplane.bodies, aeroplane.surfaces_as("wing")
    path = f"bodies.{body.name}.stations"
    nose, end = body.stations[0].aft_mm, body.stations[-1].aft_mm
    yield "body_length_mm", Fact(end - nose, path, end - nose)
    yield "nose_ahead_mm", Fact(wing.root_aft_mm - nose, path, wing.root_aft_mm - nose)
    yield "datum_behind_nose_mm", _as_is(-nose, path)
    widest = max(body.stations, key=lambda x: x.width_mm)
    yield "middle_width_mm", _as_is(widest.width_mm, path)
    yield "middle_height_mm", _as_is(widest.height_mm, path)


def _weights(aeroplane: Aeroplane, wing: Surface) -> Named:
    measured = aeroplane.measured
    if measured is not None and measured.mass_g is not None:
        yield "mass_g", _as_is(measured.mass_g, "measured.mass_g")
    first = aeroplane.first_setup
    balance, key = aeroplane.setups[first].balance_aft_mm, f"setups.{first}.balance_aft_mm"
    if measured is not None and measured.balance_aft_mm is not None:
        balance, key = measured.balance_aft_mm, "measured.balance_aft_mm"
    if balance is not None:
        yield "balance_back_mm", Fact(balance - wing.root_aft_mm, key, balance)
    for i, (name, pack) in enumerate(list(aeroplane.packs.items())[:MOST_PACKS], 1):
        yield f"pack_{i}_g", _as_is(pack.mass_g, f"packs.{name}.mass_g")
        yield f"pack_{i}_mah", _as_is(pack.capacity_mah, f"packs.{name}.capacity_mah")
        yield f"pack_{i}_cells", _as_is(float(pack.cells), f"packs.{name}.cells")


def _drive(aeroplane: Aeroplane) -> Named:
    if aeroplane.drive is None:
        return
    motor = aeroplane.drive.motor
    key = f"motors.{motor}.kv_rpm_per_v"
    yield "kv_rpm_per_v", _as_is(aeroplane.motors[motor].kv_rpm_per_v, key)
    for fan in aeroplane.fans[:1]:
        diameter = aeroplane.fan_units[fan.fan].duct_mm
        yield "diameter_mm", _as_is(diameter, f"fan_units.{fan.fan}.duct_mm")
    for item in aeroplane.propellers[:1]:
        diameter = aeroplane.propeller_units[item.propeller].diameter_mm
        yield "diameter_mm", _as_is(diameter, f"propeller_units.{item.propeller}.diameter_mm")


def _throws(aeroplane: Aeroplane) -> Named:
    for name, servo in list(aeroplane.servo_types.items())[:1]:
        if servo.torque_ncm is not None:
            key = f"servo_types.{name}.torque_ncm"
            yield "servo_torque_ncm", _as_is(servo.torque_ncm, key)
    for name, channel in aeroplane.channels.items():
        stick = channel.stick
        sticks = [x for x in ("elevator", "aileron") if getattr(stick, x) != 0.0]
        if len(sticks) == 1:  # one that mixes two has the throw of both
            up, down = channel.up_deg, channel.down_deg
            yield f"{sticks[0]}_up_deg", _as_is(up, f"channels.{name}.up_deg")
            yield f"{sticks[0]}_down_deg", _as_is(down, f"channels.{name}.down_deg")
        elif stick.rudder != 0.0 and not sticks:
            yield "rudder_deg", _as_is(channel.up_deg, f"channels.{name}.up_deg")
