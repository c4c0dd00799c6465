"""What weighs: airframe, parts, tray, packs, loose weights, and home measurements."""

from typing import Annotated, Literal

from pydantic import model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, Grams, Milliohm, Name, Place, Size, between

Shape = Literal["point", "bar", "box", "shell"]
SIZES: dict[str, tuple[str, ...]] = {
    "point": (),
    "bar": ("length_mm",),
    "box": ("length_mm", "width_mm", "height_mm"),
    "shell": ("length_mm", "diameter_mm"),
}


class AirframeShare(Described):
    """Foam and spars of one surface (both its panels) or one body, spread evenly over it."""

    of: Name
    mass_g: Grams


class Part(Described):
    """A part of known mass; a mirrored one is there twice, each of ``mass_g``.

    A bar is thin, a shell a thin round tube open at both ends; both lie ``along`` the
    fuselage unless told otherwise. A box has its length fore and aft.
    """

    name: Name
    mass_g: Grams
    shape: Shape
    aft_mm: Place
    right_mm: Place
    up_mm: Place
    length_mm: Size | None = None
    width_mm: Size | None = None
    height_mm: Size | None = None
    diameter_mm: Size | None = None
    along: Literal["aft", "right", "up"] = "aft"
    mirrored: bool = False

    @model_validator(mode="after")
    def _has_the_sizes_of_its_shape(self) -> "Part":
        faults = []
        for key in ("length_mm", "width_mm", "height_mm", "diameter_mm"):
            needed, given = key in SIZES[self.shape], getattr(self, key) is not None
            if needed and not given:
                faults.append((key, f"is missing; a {self.shape} needs it"))
            if given and not needed:
                faults.append((key, f"does not belong to a {self.shape}; leave it out"))
        if self.mirrored and self.right_mm == 0.0:
            faults.append(("right_mm", "must not be 0 for a mirrored part: both would coincide"))
        refuse(faults)
        return self


class Tray(Described):
    """Where the pack's centre may lie, from its front end to its rear end."""

    front_aft_mm: Place
    rear_aft_mm: Place
    right_mm: Place = 0.0
    up_mm: Place = 0.0

    @model_validator(mode="after")
    def _front_before_rear(self) -> "Tray":
        if self.front_aft_mm >= self.rear_aft_mm:
            text = f"must lie forward of (below) rear_aft_mm, {self.rear_aft_mm:g}"
            refuse([("front_aft_mm", f"{text}; got {self.front_aft_mm:g}")])
        return self


class Pack(Described):
    """A battery pack: its mass, size, and the resistance of the whole pack."""

    cells: Annotated[int, between(1, 14, "cells in series")]
    capacity_mah: Annotated[float, between(100.0, 20000.0, "mAh")]
    mass_g: Annotated[float, between(5.0, 6000.0, "g")]
    resistance_mohm: Milliohm
    length_mm: Annotated[float, between(10.0, 500.0, "mm")]
    width_mm: Annotated[float, between(5.0, 200.0, "mm")]
    height_mm: Annotated[float, between(5.0, 200.0, "mm")]


class LooseWeight(Described):
    """A weight fixed at a place, carried in one set-up."""

    name: Name
    mass_g: Annotated[float, between(0.1, 10000.0, "g")]
    aft_mm: Place
    right_mm: Place = 0.0
    up_mm: Place = 0.0


class WeightPlace(Described):
    """A place where a loose weight can be fixed, and the most that fits there."""

    name: Name
    aft_mm: Place
    right_mm: Place = 0.0
    up_mm: Place = 0.0
    max_g: Annotated[float, between(0.0, 5000.0, "g")]


class SwingTest(Described):
    """One bifilar swing: hung by two parallel wires, turned about the vertical, timed."""

    mass_g: Annotated[float, between(50.0, 25000.0, "g")]
    wire_spacing_mm: Annotated[float, between(20.0, 5000.0, "mm")]
    wire_length_mm: Annotated[float, between(100.0, 10000.0, "mm")]
    period_s: Annotated[float, between(0.1, 30.0, "s")]


class Measured(Described):
    """What the scales, the balance stand and swings said, in the set-up they were made in.

    ``setup`` names it; left out, it is the first one that says where its pack lies.
    """

    setup: Name | None = None
    mass_g: Annotated[float, between(50.0, 25000.0, "g")] | None = None
    balance_aft_mm: Place | None = None
    roll_swing: SwingTest | None = None
    pitch_swing: SwingTest | None = None
    yaw_swing: SwingTest | None = None
