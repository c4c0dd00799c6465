"""Heavy things in their places: motor with fan or propeller, servos, what was told apart, lead."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from sim.start.asking.question import numbers_in
from sim.start.filled import Filled
from sim.start.planform import size_at
from sim.start.shaping import surfaces


@dataclass(frozen=True)
class PartTold:
    """A heavy thing in its place.

    ``fitting``: one of what its kind has of fittings. ``across_mm`` [mm] is the length of a thing
    that stretches across, 0 of a point.
    """

    name: str
    ruler: str
    mass_g: float
    aft_mm: float
    right_mm: float = 0.0
    up_mm: float = 0.0
    fitting: bool = False
    across_mm: float = 0.0

    @property
    def mirrored(self) -> bool:
        """Whether there is one on either side."""
        return self.right_mm > 0.0


def parts(filled: Filled) -> list[PartTold]:
    """Return the heavy things that stay: motor with fan or propeller, servos, what was told."""
    return [_motor(filled), *_servos(filled), *_fittings(filled)]


def _motor(filled: Filled) -> PartTold:
    ruler, grams = "on the scales or from the box", filled.drive.mass_g
    if not filled.fan:
        at, high = filled.propeller_place
        return PartTold("motor and propeller", ruler, grams, at, up_mm=high)
    apart = 0.5 * filled.number("fan_apart_mm") if filled.answers.get("fans") == "2" else 0.0
    # the motor behind the rotor moves the middle of the two aft
    behind = filled.fan_back_mm + 0.3 * filled.drive.diameter_mm
    return PartTold("fan and motor", ruler, grams, behind, apart)


def _servos(filled: Filled) -> Iterator[PartTold]:
    """Yield servos where they were told, else where they usually sit."""
    grams = filled.number("servo_g", filled.usual.servo.mass_g)
    wing, *others = surfaces(filled)
    chord = 0.5 * (wing.panel.root_chord_mm + wing.panel.tip_chord_mm)
    back = wing.panel.root_aft_mm + 0.5 * filled.number("wing_tip_back_mm") + 0.6 * chord
    told = numbers_in(filled.answers.get("wing_servo_at"))
    out_mm, aft = told or (0.3 * filled.number("wing_span_mm"), back)
    up = wing.panel.root_up_mm + tan(radians(wing.panel.dihedral_deg)) * out_mm
    ruler = "as measured" if told else "usual place, in the wing"
    yield PartTold("wing servo", ruler, grams, aft, out_mm, up)
    place = filled.given("tail_servo_back_mm")
    ruler = "usual place" if place is None else "as measured"
    for surface in others:
        if not (surface.channel and surface.servo):
            continue
        in_body = not filled.fan
        usual = 0.35 * filled.end_mm if in_body else surface.panel.root_aft_mm
        apart = surface.panel.root_right_mm if surface.role == "fin" else 0.0
        high = 0.0 if in_body else surface.panel.root_up_mm
        aft = usual if place is None else place
        yield PartTold(f"{surface.name} servo", ruler, grams, aft, apart, high)


def _fittings(filled: Filled) -> Iterator[PartTold]:
    """Yield controller, receiver and main legs, where they were told apart from the rest.

    Legs lie half-way from the body's underside to the ground, spread evenly from wheel to wheel.
    """
    for name in ("controller", "receiver"):
        told = numbers_in(filled.answers.get(f"{name}_at"))
        if told:
            yield PartTold(name, "on the scales", told[0], told[1], fitting=True)
    told = numbers_in(filled.answers.get("undercarriage_at"))
    aft = filled.given("main_wheel_back_mm")
    if told and aft is not None:
        under = 0.5 * size_at(filled.cuts, aft)[1]
        low = max(filled.number("main_wheel_down_mm", under), under)
        across = told[1] if len(told) > 1 else 0.0
        yield PartTold("undercarriage", "main wheels and legs, on the scales", told[0], aft,
                       up_mm=-0.5 * (under + low), fitting=True, across_mm=across)  # fmt: skip


def lead(filled: Filled) -> PartTold | None:
    """Return the lead that is in it, where any was told."""
    grams = filled.given("lead_g")
    return (
        None if grams is None else PartTold("lead", "weighed", grams, filled.number("lead_back_mm"))
    )
