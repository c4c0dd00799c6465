"""What was answered with the usual of its kind, as everything that the file is made of reads it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sim import tables
from sim.describe.known import Kind
from sim.start.asking.asked import driver
from sim.start.asking.question import FAN, PACKS, Answer
from sim.start.driving import INCH_MM, Driven, PackTold, TrayTold, driven, packs_told, tray_told
from sim.start.planform import Cut, body_cuts, size_at
from sim.tables.models.kinds import KindOfAeroplane


@dataclass(frozen=True)
class Wheels:
    """Where main and third wheel touch the ground, (aft, up) of x [mm]."""

    third: str
    main_mm: tuple[float, float]
    third_mm: tuple[float, float]
    measured: bool


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
        return driver(self.answers) == FAN

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
    def tray(self) -> TrayTold:
        """Where packs may lie, the one weighed where it lay."""
        told = tray_told(self.number("tray_front_mm"), self.number("tray_rear_mm"), self.packs)
        if not told.edges:
            return told
        back, half = self.number("pack_back_mm"), 0.5 * self.pack_in_it.length_mm
        front, rear = min(told.front_mm, back - half), max(told.rear_mm, back + half)
        return TrayTold(front, rear, edges=True)

    @property
    def wheels(self) -> Wheels | None:
        """Where the tyres touch the ground; None where none do, or nobody knows."""
        back, down = self.given("main_wheel_back_mm"), self.given("main_wheel_down_mm")
        third = self.given("third_wheel_back_mm"), self.given("third_wheel_down_mm")
        which = self.answers.get("wheels")
        if which not in ("nose", "tail") or back is None or down is None:
            return None
        if third[0] is not None and third[1] is not None:
            return Wheels(str(which), (back, -down), (third[0], -third[1]), measured=True)
        if which == "nose":
            return None
        under = -0.5 * self.cuts[-1].height_mm
        return Wheels("tail", (back, -down), (self.end_mm, under), measured=False)

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

    @property
    def propeller_place(self) -> tuple[float, float]:
        """Where its propeller turns, (aft, up) of x [mm]: where it was measured, or at the nose."""
        back = self.given("propeller_back_mm")
        if back is None:
            return -self.number("nose_ahead_mm"), 0.0
        return back, self.number("propeller_up_mm")

    def half_width(self, aft_mm: float) -> float:
        """Return half the body's width at a place [mm]."""
        return 0.5 * size_at(self.cuts, aft_mm)[0]

    @property
    def drive(self) -> Driven:
        """What drives it."""
        inches, pitch = self.number("propeller_in"), self.number("pitch_in")
        return driven(
            self.number("fan_mm") if self.fan else INCH_MM * inches,
            self.number("kv_rpm_per_v"), self.pack_in_it.cells,
            pitch_mm=None if self.fan else INCH_MM * pitch, mass_g=self.given("motor_g"),
            limit_a=self.given("controller_a"), nozzle_mm=self.given("nozzle_mm"),
        )  # fmt: skip
