"""Answers and the usual of their kind, put together to all that an aeroplane file says."""

from collections.abc import Mapping
from typing import cast

from sim import tables
from sim.describe.known import Kind
from sim.describe.masses import STATIC
from sim.start.asking.question import Answer
from sim.start.filled import Filled
from sim.start.shaping import surfaces

# a straight edge tells these to half a per cent, as good as any measuring of a camber
SYMMETRICAL = ("symmetrical", "flat_plate")


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
        if surface.role != "wing":
            filled.assumed.append(f"{path}.section")
        else:
            filled.assumed += _of_the_wing(filled, path)
        told = surface.pivot_measured if surface.flap is None else surface.flap.measured
        if surface.landing is not None and not surface.landing.measured:
            told = False
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
    if answers.get("static_from") == "data_sheet":
        filled.from_box += [f"measured.{key}" for key in STATIC if key in answers]
    known = filled.from_box if "controller_a" in answers else filled.assumed
    known.append("controllers.controller")
    filled.from_box += [f"packs.{pack.name}.mass_g" for pack in filled.packs if not pack.weighed]
    filled.assumed += [f"packs.{pack.name}.length_mm" for pack in filled.packs if not pack.long]
    if filled.wheels is not None and not filled.wheels.measured:
        filled.assumed += ["undercarriage.tail_aft_mm", "undercarriage.tail_up_mm"]
    if answers.get("gyro") == "yes":
        told = all(f"gyro_{axis}_gain" in answers for axis in ("roll", "pitch", "yaw"))
        filled.assumed += ["gyro.filter_s", "gyro.delay_s"] if told else ["gyro"]
    return filled


def _of_the_wing(filled: Filled, path: str) -> list[str]:
    """Return the keys of section and angles of the wing that nobody measured."""
    told = filled.answers
    thick, seen = "wing_thickness_mm" in told, told.get("wing_section") in SYMMETRICAL
    out = [f"{path}.section"] if not (thick or seen) else []
    out += [f"{path}.section.camber_pct"] if thick and not seen else []
    out += [f"{path}.section.thickness_pct"] if seen and not thick else []
    root = "wing_lead_up_mm" in told
    for key, other in (("incidence_deg", "tail"), ("washout_deg", "wing_tip")):
        if not root or f"{other}_lead_up_mm" not in told:
            out.append(f"{path}.{key}")
    return out


def fan_names(filled: Filled) -> tuple[str, ...]:
    """Return the names of the fans."""
    return ("left fan", "right fan") if filled.answers.get("fans") == "2" else ("fan",)
