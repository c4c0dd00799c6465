"""Manoeuvres and recoveries: scripts of phases, with what ends each."""

from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar, Literal, Self, TypeVar

from pydantic import BeforeValidator, Field, model_validator

from sim.describe.faults import Fault, FileFault, refuse
from sim.describe.quantity import Described, FileName, Filled, Name, Text, between

Stick = Annotated[float, between(-1.0, 1.0, "of full stick")]
Seconds = Annotated[float, between(0.0, 60.0, "s")]
Angle = Annotated[float, between(-180.0, 180.0, "degrees")]
PositiveAngle = Annotated[float, between(0.0, 180.0, "degrees")]
TurnedThrough = Annotated[float, between(0.0, 3600.0, "degrees")]
SpeedRatio = Annotated[float, between(0.3, 6.0, "times the stall speed")]
Rate = Annotated[float, between(0.0, 2000.0, "degrees/s")]
Shows = Literal["angle", "pass", "somersault", "loop", "roll"]
SignedRate = Annotated[float, between(-2000.0, 2000.0, "degrees/s")]


class Until(Described):
    """What ends a phase: every condition given must hold for ``for_s`` together."""

    alpha_above_deg: Angle | None = None
    alpha_below_deg: Angle | None = None
    size_of_alpha_below_deg: PositiveAngle | None = None
    yaw_rate_below_dps: SignedRate | None = None
    yaw_rate_above_dps: SignedRate | None = None
    rotation_below_dps: Rate | None = None
    turns_above: Annotated[float, between(0.0, 100.0, "turns")] | None = None
    bank_above_deg: Angle | None = None
    pitch_above_deg: Annotated[float, between(-90.0, 90.0, "degrees")] | None = None
    speed_over_stall_above: SpeedRatio | None = None
    speed_over_stall_below: SpeedRatio | None = None
    flight_path_above_deg: Annotated[float, between(-90.0, 90.0, "degrees")] | None = None
    pitch_turned_above_deg: TurnedThrough | None = None
    roll_turned_above_deg: TurnedThrough | None = None
    unstalled: bool | None = None
    for_s: Seconds = 0.0

    @model_validator(mode="after")
    def _can_hold(self) -> "Until":
        given = self.model_dump(exclude_none=True, exclude={"for_s"})
        faults = []
        if not given:
            faults.append(("", "gives no condition; name one, or leave until out"))
        pairs = (
            ("alpha_above_deg", "alpha_below_deg"),
            ("yaw_rate_above_dps", "yaw_rate_below_dps"),
            ("speed_over_stall_above", "speed_over_stall_below"),
        )
        for above, below in pairs:
            if above in given and below in given and given[above] >= given[below]:
                text = f"must be less than {below}, {given[below]:g}, or it never ends"
                faults.append((above, f"{text}; got {given[above]:g}"))
        refuse(faults)
        return self


class Start(Described):
    """How a manoeuvre begins: trimmed at a multiple of the stall speed.

    ``gust_mps`` is the height of one 1-cosine gust, upwards positive, ``side_gust_mps`` what of
    it blows from the left; the aeroplane meets it at ``gust_at_s`` and flies through within
    ``gust_length_m``.
    """

    speed_over_stall: Annotated[float, between(0.8, 6.0, "times the stall speed")]
    bank_deg: Angle = 0.0
    inverted: bool = False
    gust_mps: Annotated[float, between(-20.0, 20.0, "m/s")] = 0.0
    side_gust_mps: Annotated[float, between(-20.0, 20.0, "m/s")] = 0.0
    gust_at_s: Seconds = 0.0
    gust_length_m: Annotated[float, between(2.0, 300.0, "m")] = 20.0


Pilot = Literal[
    "sticks", "wings_level", "level_flight", "pull_out", "rocking", "either_way_up", "level_pass",
    "hard_pull",
]  # fmt: skip


class Phase(Described):
    """One phase: where the sticks go, how fast, and what ends it.

    Elevator +1 is full aft stick; aileron and rudder +1 are right, or towards the side
    or the spin if ``relative_to`` says so. ``throttle`` left out stays as it is.
    A pilot who keeps the ``wings_level`` flies the ailerons; ``rocking`` moves the elevator
    by its size with the swing of the nose, aft while it rises, forward while it falls;
    ``level_flight`` and ``pull_out`` are flown on all sticks; who pulls out with power gives no
    less than the level flight took that it began with. ``either_way_up`` keeps the wings
    level upright or inverted, as they are; so do ``level_pass``, who takes the angle of attack to
    ``hold_alpha_deg`` within ``ramp_s`` and holds the height on the throttle, and ``hard_pull``,
    who pulls to the limits in angle and load. ``reaction`` puts the pilot's
    own delay before the phase. ``recovery_tried``: a phase of a manoeuvre that is a recovery
    which may hang in a deep stall; as soon as it does, the recovery proper begins.
    ``stop_unit``: as the phase begins, the outermost fan or propeller on that side, or on the
    side of the draw, stops and does not start again.
    """

    name: Name
    throttle: Annotated[float, between(0.0, 1.0, "of full throttle")] | None = None
    elevator: Stick = 0.0
    aileron: Stick = 0.0
    rudder: Stick = 0.0
    relative_to: Literal["centre", "side", "spin"] = "centre"
    pilot: Pilot = "sticks"
    hold_alpha_deg: Angle | None = None
    ramp_s: Seconds = 0.2
    at_least_s: Seconds = 0.0
    at_most_s: Annotated[float, between(0.01, 120.0, "s")]
    reaction: bool = False
    recovery_tried: bool = False
    stop_unit: Literal["none", "left", "right", "side"] = "none"
    until: Until | None = None

    @model_validator(mode="after")
    def _lasts(self) -> "Phase":
        if self.at_least_s > self.at_most_s:
            text = f"must be no more than at_most_s, {self.at_most_s:g}; got {self.at_least_s:g}"
            refuse([("at_least_s", text)])
        if self.pilot == "level_pass" and self.hold_alpha_deg is None:
            text = (
                "is missing; a level_pass needs the angle of attack that it goes to, such as 40.0"
            )
            refuse([("hold_alpha_deg", f"{text}; less than 0 inverted")])
        if self.pilot != "level_pass" and self.hold_alpha_deg is not None:
            text = 'belongs to pilot = "level_pass" alone'
            refuse(
                [("hold_alpha_deg", f"{text}; got it with pilot = {self.pilot!r}; leave it out")]
            )
        return self


class Script(Described):
    """What a manoeuvre and a recovery share: a file is always one or the other."""

    own_kind: ClassVar[str]

    format: Literal["aftlimit.manoeuvre/1"] = Field(alias="schema")
    kind: Literal["manoeuvre", "recovery"]
    name: FileName
    title: Text
    sides: Literal["both", "none"] = "both"
    shows: Shows | None = None
    start: Start | None = None
    phases: Filled[Phase]

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        faults = [] if self.kind == self.own_kind else [("kind", _other_kind(self, type(self)))]
        refuse([*faults, *self._own_faults(), *_order_faults(self.phases)])
        return self

    def _own_faults(self) -> list[tuple[str, str]]:
        """Return what does not belong to this kind: (key path, what is wrong)."""
        return []


def _begun(start: object) -> object:
    if start is None:
        refuse([("", "is missing; a manoeuvre says how it begins")])
    return start


class Manoeuvre(Script):
    """A script that leads to trouble, from a trimmed start."""

    own_kind = "manoeuvre"

    start: Annotated[Start, BeforeValidator(_begun)] = Field(default=None, validate_default=True)


class Recovery(Script):
    """A script that leads out of trouble, from where the manoeuvre ends."""

    own_kind = "recovery"

    def _own_faults(self) -> list[tuple[str, str]]:
        faults = []
        if self.start is not None:
            text = "does not belong to a recovery, which begins where the manoeuvre ends"
            faults.append(("start", f"{text}; leave it out"))
        if self.shows is not None:
            text = "does not belong to a recovery; only a manoeuvre shows what an aeroplane can do"
            faults.append(("shows", f"{text}; leave it out"))
        if any(phase.recovery_tried for phase in self.phases):
            text = "does not belong to a recovery, only to a manoeuvre that ends in one that fails"
            faults.append(("phases", f"recovery_tried {text}; leave it out"))
        return faults


def _order_faults(phases: Sequence[Phase]) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with the phases of a script one after the other."""
    tried = [phase.recovery_tried for phase in phases]
    if sorted(tried) != tried:
        text = "recovery_tried must hold for all phases after the first that has it"
        yield "phases", f"{text}; set it there too, or leave it out"
    seen: set[str] = set()
    for phase in phases:
        if phase.name in seen:
            yield f"phases.{phase.name}", "name is used twice; give each its own"
        seen.add(phase.name)


SCRIPTS: dict[str, type[Manoeuvre] | type[Recovery]] = {
    "manoeuvre": Manoeuvre,
    "recovery": Recovery,
}
OfKind = TypeVar("OfKind", Manoeuvre, Recovery)


def as_wanted(script: Script, wanted: type[OfKind], file: str | None = None) -> OfKind:
    """Return the script, refused if it is a recovery where a manoeuvre is wanted, or reverse.

    Parameters
    ----------
    file : str, optional
        Name of the file that it was read from; by its own name where not given.

    Raises
    ------
    FileFault
        Naming the file, what is wanted and what it is.
    """
    if not isinstance(script, wanted):
        fault = Fault("kind", _other_kind(script, wanted))
        raise FileFault(file or f"{script.name}.toml", [fault])
    return script


def _other_kind(script: Script, wanted: type[Script]) -> str:
    return f'must be "{wanted.own_kind}" here; got "{script.kind}"'
