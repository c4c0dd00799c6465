"""Manoeuvres and recoveries: scripts of phases, with what ends each."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, FileName, Filled, Name, Text, between

Stick = Annotated[float, between(-1.0, 1.0, "of full stick")]
Seconds = Annotated[float, between(0.0, 60.0, "s")]
Angle = Annotated[float, between(-180.0, 180.0, "degrees")]
PositiveAngle = Annotated[float, between(0.0, 180.0, "degrees")]
SpeedRatio = Annotated[float, between(0.3, 6.0, "times the stall speed")]
Rate = Annotated[float, between(0.0, 2000.0, "degrees/s")]
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

    ``gust_mps`` is the height of one 1-cosine gust, upwards positive, that the aeroplane
    meets at ``gust_at_s`` and flies through within ``gust_length_m``.
    """

    speed_over_stall: Annotated[float, between(0.8, 6.0, "times the stall speed")]
    bank_deg: Angle = 0.0
    inverted: bool = False
    gust_mps: Annotated[float, between(-20.0, 20.0, "m/s")] = 0.0
    gust_at_s: Seconds = 0.0
    gust_length_m: Annotated[float, between(2.0, 300.0, "m")] = 20.0


class Phase(Described):
    """One phase: where the sticks go, how fast, and what ends it.

    Elevator +1 is full aft stick; aileron and rudder +1 are right, or towards the side
    or the spin if ``relative_to`` says so. ``throttle`` left out stays as it is.
    A pilot who keeps the ``wings_level`` flies the ailerons; ``rocking`` moves the elevator
    by its size with the swing of the nose, aft while it rises, forward while it falls;
    ``level_flight`` and ``pull_out`` are flown on all sticks. ``reaction`` puts the pilot's
    own delay before the phase. ``recovery_tried``: a phase of a manoeuvre that is a recovery
    which may hang in a deep stall; as soon as it does, the recovery proper begins.
    """

    name: Name
    throttle: Annotated[float, between(0.0, 1.0, "of full throttle")] | None = None
    elevator: Stick = 0.0
    aileron: Stick = 0.0
    rudder: Stick = 0.0
    relative_to: Literal["centre", "side", "spin"] = "centre"
    pilot: Literal["sticks", "wings_level", "level_flight", "pull_out", "rocking"] = "sticks"
    ramp_s: Seconds = 0.2
    at_least_s: Seconds = 0.0
    at_most_s: Annotated[float, between(0.01, 120.0, "s")]
    reaction: bool = False
    recovery_tried: bool = False
    until: Until | None = None

    @model_validator(mode="after")
    def _lasts(self) -> "Phase":
        if self.at_least_s > self.at_most_s:
            text = f"must be no more than at_most_s, {self.at_most_s:g}; got {self.at_least_s:g}"
            refuse([("at_least_s", text)])
        return self


class Manoeuvre(Described):
    """A script that leads to trouble (a manoeuvre) or out of it (a recovery)."""

    format: Literal["aftlimit.manoeuvre/1"] = Field(alias="schema")
    kind: Literal["manoeuvre", "recovery"]
    name: FileName
    title: Text
    sides: Literal["both", "none"] = "both"
    start: Start | None = None
    phases: Filled[Phase]

    @model_validator(mode="after")
    def _fits_its_kind(self) -> "Manoeuvre":
        faults = []
        if self.kind == "manoeuvre" and self.start is None:
            faults.append(("start", "is missing; a manoeuvre says how it begins"))
        if self.kind == "recovery" and self.start is not None:
            text = "does not belong to a recovery, which begins where the manoeuvre ends"
            faults.append(("start", f"{text}; leave it out"))
        tried = [phase.recovery_tried for phase in self.phases]
        if self.kind == "recovery" and any(tried):
            text = "does not belong to a recovery, only to a manoeuvre that ends in one that fails"
            faults.append(("phases", f"recovery_tried {text}; leave it out"))
        if sorted(tried) != tried:
            text = "recovery_tried must hold for all phases after the first that has it"
            faults.append(("phases", f"{text}; set it there too, or leave it out"))
        seen: set[str] = set()
        for phase in self.phases:
            if phase.name in seen:
                faults.append((f"phases.{phase.name}", "name is used twice; give each its own"))
            seen.add(phase.name)
        refuse(faults)
        return self
