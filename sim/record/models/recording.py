"""What a recording holds: one flight and its aeroplane, small enough for a page."""

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from sim.describe.faults import refuse
from sim.judge import Verdict
from sim.record.fields import Kind, Lax, Many, Number, Numbers, Record, said
from sim.record.models.playable import (
    MOST_S,
    MOST_SIZE_M,
    MOST_UP_M,
    UNIT_WITHIN,
    column_faults,
    not_within,
    shell_faults,
    too_many,
    vector_faults,
)

Metres = Annotated[list[float], Numbers("m", 2)]
Degrees = Annotated[list[float], Numbers("degrees", 1)]
DegreesPerSecond = Annotated[list[float], Numbers("degrees/s", 0)]
Stick = Annotated[list[float], Numbers("1", 2, "of full stick")]
Quaternion = Annotated[list[float], Numbers("1", 3)]
BALANCE = Number("mm", 2, "balance point aft of the datum")
Point = Annotated[list[float], Numbers("m", 4, "x, y, z")]


class MeshHinge(Record):
    """How a part turns: by sign times its servo's angle, right-handed about the axis."""

    channel: Annotated[str, said("a key of the recording's surfaces")]
    point: Point
    axis: Annotated[list[float], Numbers("1", 4, "unit vector")]
    sign: Annotated[int, Number("1", what="of the turn")]

    @model_validator(mode="after")
    def _turns(self) -> Self:
        refuse([
            *vector_faults("point", self.point, MOST_SIZE_M),
            *vector_faults("axis", self.axis, 1.0 + UNIT_WITHIN),
            *(() if abs(self.sign) == 1 else [("sign", f"must be 1 or -1; got {self.sign}")]),
        ])  # fmt: skip
        return self


class MeshPart(Record):
    """One shell of the aeroplane, closed, seen from outside anticlockwise."""

    name: Annotated[str, said("of the part")]
    kind: Annotated[str, said("what it is")]
    vertices: Annotated[list[float], Numbers("m", 3, "x, y, z after each other")]
    triangles: Annotated[
        list[Annotated[int, Number("1")]], said("three numbers of vertices each, from 0")
    ]
    hinge: Annotated[MeshHinge | None, said("null: it does not move")]

    @model_validator(mode="after")
    def _can_be_drawn(self) -> Self:
        refuse(shell_faults(self.vertices, self.triangles))
        return self


class Mesh(Record):
    """An aeroplane as triangles."""

    unit: Annotated[Literal["m"], said("of all its points")]
    axes: Annotated[str, said("their directions and origin")]
    origin_aft_mm: Annotated[float, Number("mm", what="where the origin lies aft of the datum")]
    span_m: Annotated[float, Number("m", 3, "tip to tip")]
    length_m: Annotated[float, Number("m", 3, "nose to tail")]
    parts: Annotated[Many[MeshPart], said("all shells")]

    @model_validator(mode="after")
    def _can_be_drawn(self) -> Self:
        sizes = {"span_m": self.span_m, "length_m": self.length_m}
        refuse([
            *((key, f"must be above 0 and at most {MOST_SIZE_M:g}; got {size:g}")
              for key, size in sizes.items() if not 0.0 < size <= MOST_SIZE_M),
            *too_many("parts", self.parts),
            *not_within("origin_aft_mm", self.origin_aft_mm, 1000.0 * MOST_SIZE_M),
        ])  # fmt: skip
        return self


class Columns(Record):
    """The flight as equally long lists."""

    t_s: Annotated[list[float], Numbers("s", 2, "time since the start, rising")]
    north_m: Annotated[Metres, said("from the start")]
    east_m: Annotated[Metres, said("from the start")]
    up_m: Annotated[Metres, said("above the field")]
    q0: Annotated[Quaternion, said("real part: body to north, east, down, without jumps of sign")]
    q1: Annotated[Quaternion, said("about north")]
    q2: Annotated[Quaternion, said("about east")]
    q3: Annotated[Quaternion, said("about down")]
    alpha_deg: Annotated[Degrees, said("angle of attack")]
    beta_deg: Annotated[Degrees, said("sideslip")]
    p_dps: Annotated[DegreesPerSecond, said("roll rate")]
    q_dps: Annotated[DegreesPerSecond, said("pitch rate")]
    r_dps: Annotated[DegreesPerSecond, said("yaw rate")]
    speed_mps: Annotated[list[float], Numbers("m/s", 1, "airspeed")]
    climb_mps: Annotated[list[float], Numbers("m/s", 1, "upwards")]
    load_g: Annotated[list[float], Numbers("g", 1, "load factor")]
    elevator: Stick
    aileron: Stick
    rudder: Stick
    throttle: Stick
    surfaces: Annotated[dict[str, Degrees], said("each moving part, as the mesh's hinges name it")]

    @model_validator(mode="after")
    def _can_be_played(self) -> Self:
        refuse(column_faults({k: v for k, v in self if k != "surfaces"}, self.surfaces))
        return self


class EventRow(Record):
    """What happened when."""

    name: Annotated[str, said("what happened")]
    t_s: Annotated[float, Number("s", 2, "since the start")]


class PhaseRow(Record):
    """Which phase of the script began when."""

    stage: Annotated[str, said("entry, recovery, pull-out, or a recovery that fails")]
    name: Annotated[str, said("as the script has it")]
    from_s: Annotated[float, Number("s", 2, "since the start")]


class Recording(Kind):
    """One flight as plain lists: what a replay plays."""

    brief: ClassVar[bool] = True
    kind: Literal["aftlimit.recording/2"] = Field(alias="schema")
    title: Annotated[str, said("what a viewer writes over it")]
    aeroplane: Annotated[str, said("its name")]
    setup: Annotated[str, said("the set-up flown")]
    pack: Annotated[str, said("its pack")]
    balance_aft_mm: Annotated[float, BALANCE]
    manoeuvre: Annotated[str, said("flown into the stall or spin")]
    recovery: Annotated[str, said("flown out of it")]
    draw: Annotated[int | None, Number("1", what="number of the draw; null: nominal")]
    seed: Annotated[int | None, Number("1", what="of the draws; null: nominal")]
    side: Annotated[Literal["right", "left"], said("to which it is flown")]
    verdict: Annotated[Lax[Verdict], said("what became of it")]
    height_lost_m: Annotated[
        float | None, Number("m", 1, "first recovery input to level; null: never came back")
    ]
    entry_m: Annotated[float, Number("m", what="height above the field at the start")]
    floor_m: Annotated[float, Number("m", what="to be level above")]
    rate_hz: Annotated[float, Number("1/s", 2, "rows a second")]
    stall_alpha_deg: Annotated[float, Number("degrees", 1, "angle of attack at the stall")]
    stall_inverted_deg: Annotated[float, Number("degrees", 1, "its size, inverted")]
    columns: Annotated[Columns, said("the flight")]
    events: Annotated[Many[EventRow], said("the last is 'ground' where it gets there")]
    phases: Annotated[Many[PhaseRow], said("in order of time")]
    mesh: Annotated[Mesh, said("the aeroplane")]
    kept: Annotated[
        Literal["typical", "worst"] | None, said("which flight of a study it is; others have none")
    ] = None

    @model_validator(mode="after")
    def _can_be_told(self) -> Self:
        refuse([
            *not_within("entry_m", self.entry_m, MOST_UP_M),
            *not_within("floor_m", self.floor_m, MOST_UP_M),
            *not_within("balance_aft_mm", self.balance_aft_mm, 1000.0 * MOST_SIZE_M),
            *too_many("events", self.events),
            *too_many("phases", self.phases),
            *(fault for n, event in enumerate(self.events, 1)
              for fault in not_within(f"events[{n}].t_s", event.t_s, MOST_S)),
            *(fault for n, phase in enumerate(self.phases, 1)
              for fault in not_within(f"phases[{n}].from_s", phase.from_s, MOST_S)),
        ])  # fmt: skip
        return self
