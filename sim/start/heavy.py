"""Heavy things in their places: motor with fan or propeller, servos, lead."""

from dataclasses import dataclass
from math import radians, tan

from sim.start.filled import Filled
from sim.start.shaping import surfaces


@dataclass(frozen=True)
class PartTold:
    """A heavy thing in its place."""

    name: str
    ruler: str
    mass_g: float
    aft_mm: float
    right_mm: float = 0.0
    up_mm: float = 0.0

    @property
    def mirrored(self) -> bool:
        """Whether there is one on either side."""
        return self.right_mm > 0.0


def parts(filled: Filled) -> list[PartTold]:
    """Return the heavy things that stay: motor with fan or propeller, servos."""
    number, servo = filled.number, filled.usual.servo
    grams = number("servo_g", servo.mass_g)
    out = []
    if filled.fan:
        apart = 0.5 * number("fan_apart_mm") if filled.answers.get("fans") == "2" else 0.0
        # the motor behind the rotor moves the middle of the two aft
        behind = filled.fan_back_mm + 0.3 * filled.drive.diameter_mm
        out.append(PartTold("fan and motor", "on the scales or from the box", filled.drive.mass_g,
                            behind, apart))  # fmt: skip
    else:
        at, high = filled.propeller_place
        out.append(PartTold("motor and propeller", "on the scales or from the box",
                            filled.drive.mass_g, at, up_mm=high))  # fmt: skip
    wing, *others = surfaces(filled)
    chord = 0.5 * (wing.panel.root_chord_mm + wing.panel.tip_chord_mm)
    back = wing.panel.root_aft_mm + 0.5 * number("wing_tip_back_mm") + 0.6 * chord
    out_mm = 0.3 * number("wing_span_mm")
    up = wing.panel.root_up_mm + tan(radians(wing.panel.dihedral_deg)) * out_mm
    out.append(PartTold("wing servo", "usual place, in the wing", grams, back, out_mm, up))
    for surface in others:
        if surface.channel:
            in_body = not filled.fan
            aft = 0.35 * filled.end_mm if in_body else surface.panel.root_aft_mm
            apart = surface.panel.root_right_mm if surface.role == "fin" else 0.0
            high = 0.0 if in_body else surface.panel.root_up_mm
            out.append(PartTold(f"{surface.name} servo", "usual place", grams, aft, apart, high))
    return out


def lead(filled: Filled) -> PartTold | None:
    """Return the lead that is in it, where any was told."""
    grams = filled.given("lead_g")
    return (
        None if grams is None else PartTold("lead", "weighed", grams, filled.number("lead_back_mm"))
    )
