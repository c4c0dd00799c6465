"""What weighs: airframe, parts, tray, packs, loose weights, and home measurements."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, Grams, Milliohm, Name, Place, Size, between

Shape = Literal["point", "bar", "box", "shell"]
Condition = Literal["good", "ordinary", "tired"]
# labels go up to 150 C or so (common practice, no source); beyond is a slip of the pen
CRate = Annotated[float, between(0.5, 200.0, "C, times the capacity")]
FULL_CELL_V = 4.2  # of a charged lithium-polymer cell, as in lipo_cell.toml (a test holds it)
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


PutBack = Annotated[float, between(10.0, 20000.0, "mAh")]
FlownMinutes = Annotated[float, between(0.2, 120.0, "minutes")]


def half_told(mah: float | None, minutes: float | None) -> list[tuple[str, str]]:
    """Return a fault where only one of what was charged and how long was flown is given."""
    if (mah is None) == (minutes is None):
        return []
    missing = "after_minutes" if minutes is None else "mah_put_back"
    other = "mah_put_back" if minutes is None else "after_minutes"
    return [(missing, f"is missing; {other} alone tells no current, give both")]


class Part(Described):
    """A part of known mass; a mirrored one is there twice, each of ``mass_g``.

    A bar is thin, a shell a thin round tube open at both ends; both lie ``along`` the
    fuselage unless told otherwise. A box has its length fore and aft. ``fitting`` says that it is
    one of those (controller, receiver, legs) which a kind has in its share of fittings, where the
    weight that is not listed is spread by kind.
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
    fitting: bool = False

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
    """Where a pack may lie, from its front end to its rear end.

    ``ends`` says of what: of the pack's centre, the same for all packs, or of its edges, so that a
    longer pack reaches less far.
    """

    front_aft_mm: Place
    rear_aft_mm: Place
    ends: Literal["centre", "edges"] = "centre"
    right_mm: Place = 0.0
    up_mm: Place = 0.0

    @model_validator(mode="after")
    def _front_before_rear(self) -> "Tray":
        if self.front_aft_mm >= self.rear_aft_mm:
            text = f"must lie forward of (below) rear_aft_mm, {self.rear_aft_mm:g}"
            refuse([("front_aft_mm", f"{text}; got {self.front_aft_mm:g}")])
        return self

    def of(self, length_mm: float) -> "Tray":
        """Return where the centre of a pack of a length [mm] may lie."""
        if self.ends == "centre":
            return self
        front, rear = self.front_aft_mm + 0.5 * length_mm, self.rear_aft_mm - 0.5 * length_mm
        update = {"ends": "centre", "front_aft_mm": front, "rear_aft_mm": rear}
        return self.model_copy(update=update)


class Pack(Described):
    """A battery pack: its mass, size and label, and the resistance of the whole pack.

    Where ``resistance_mohm`` is left out it follows from capacity, ``condition`` (or
    ``cell_mohm_ah``, resistance of one cell times its capacity) and ``temperature_c``.
    ``max_c`` and ``burst_c`` are the label's: currents in multiples of the capacity.
    """

    cells: Annotated[int, between(1, 14, "cells in series")]
    capacity_mah: Annotated[float, between(100.0, 20000.0, "mAh")]
    mass_g: Annotated[float, between(5.0, 6000.0, "g")]
    resistance_mohm: Milliohm | None = None
    condition: Condition | None = None
    cell_mohm_ah: Annotated[float, between(1.0, 300.0, "mΩ·Ah")] | None = None
    temperature_c: Annotated[float, between(-20.0, 60.0, "°C")] | None = None
    max_c: CRate | None = None
    burst_c: CRate | None = None
    length_mm: Annotated[float, between(10.0, 500.0, "mm")]
    width_mm: Annotated[float, between(5.0, 200.0, "mm")]
    height_mm: Annotated[float, between(5.0, 200.0, "mm")]

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> "Pack":
        refuse([*self._said_twice(), *self._currents()])
        return self

    def _said_twice(self) -> Iterator[tuple[str, str]]:
        others = ("condition", "cell_mohm_ah", "temperature_c")
        if self.resistance_mohm is not None:
            for key in others:
                if getattr(self, key) is not None:
                    text = "has no meaning beside resistance_mohm, which is taken as it is"
                    yield key, f"{text}; leave out one of the two"
        elif self.condition is not None and self.cell_mohm_ah is not None:
            yield "condition", "has no meaning beside cell_mohm_ah; leave out one of the two"

    def _currents(self) -> Iterator[tuple[str, str]]:
        if self.max_c is not None and self.burst_c is not None and self.burst_c < self.max_c:
            text = f"must be no less than max_c, {self.max_c:g}: a burst is more than what lasts"
            yield "burst_c", f"{text}; got {self.burst_c:g}"
        if self.resistance_mohm is None:
            return
        # into half its voltage a source gives all the power it can; more current gives less
        most_a = 0.5 * FULL_CELL_V * self.cells / (self.resistance_mohm / 1000.0)
        most_c = most_a / (self.capacity_mah / 1000.0)
        for key in ("max_c", "burst_c"):
            asked = getattr(self, key)
            if asked is not None and asked > most_c:
                text = (
                    f"cannot be: with resistance_mohm, {self.resistance_mohm:g}, this pack gives "
                    f"no more power above {most_a:.0f} A, {most_c:.0f} C; got {asked:g}"
                )
                yield key, f"{text}; a label's C is often more than the pack can, look at both"


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


OF_MASSES = ("mass_g", "balance_aft_mm", "roll_swing", "pitch_swing", "yaw_swing")
STATIC = ("static_thrust_g", "static_current_a")
CRUISE = ("cruise_throttle_pct", "cruise_speed_mps")
OF_POWER = (*STATIC, "pack_v", *CRUISE, "top_speed_mps")


class Measured(Described):
    """What was measured at home and in the air, in the set-up it was measured in.

    ``setup`` names it; left out, it is the first one that says where its pack lies if masses
    were measured, else the first of all. Scales, balance stand and swings; and at full
    throttle, standing still, the pull of all fans or propellers, the current out of the pack and
    the pack's voltage under it; the throttle that holds level flight at a speed; the fastest
    level flight. ``mah_put_back`` is what the charger put back after ``after_minutes`` of the
    flying that is usual.
    """

    setup: Name | None = None
    mass_g: Annotated[float, between(50.0, 25000.0, "g")] | None = None
    balance_aft_mm: Place | None = None
    roll_swing: SwingTest | None = None
    pitch_swing: SwingTest | None = None
    yaw_swing: SwingTest | None = None
    mah_put_back: PutBack | None = None
    after_minutes: FlownMinutes | None = None
    static_thrust_g: Annotated[float, between(20.0, 50000.0, "g")] | None = None
    static_current_a: Annotated[float, between(0.2, 1000.0, "A")] | None = None
    pack_v: Annotated[float, between(2.0, 62.0, "V")] | None = None
    cruise_throttle_pct: Annotated[float, between(5.0, 100.0, "%")] | None = None
    cruise_speed_mps: Annotated[float, between(3.0, 150.0, "m/s")] | None = None
    top_speed_mps: Annotated[float, between(5.0, 200.0, "m/s")] | None = None

    @model_validator(mode="after")
    def _measured_together(self) -> "Measured":
        faults = half_told(self.mah_put_back, self.after_minutes)
        for key, other in (CRUISE, CRUISE[::-1]):
            if self.has(key) and not self.has(other):
                faults.append((other, f"is missing; {key} says nothing without it"))
        if self.has("pack_v") and not self.has(*STATIC):
            text = f"is the voltage under full throttle; give {' or '.join(STATIC)} with it"
            faults.append(("pack_v", text))
        refuse(faults)
        return self

    def has(self, *keys: str) -> bool:
        """Return True if any of these keys was given."""
        return any(getattr(self, key) is not None for key in keys)
