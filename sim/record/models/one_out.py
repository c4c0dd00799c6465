"""The record of one unit stopped: its moments and drags, least speeds, and the climb left."""

from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import Field

from sim.pack.assemble import Assembled
from sim.record.fields import Kind, Many, Number, Record, said
from sim.trim.one_out import LeastSpeed, OneOut
from sim.version import __version__


class LeastSpeedRow(Record):
    """The minimum control speed at one throttle and bank."""

    throttle: Annotated[float, Number("1", 3, "of full, of the units that run")]
    bank_deg: Annotated[float, Number("degrees", 1, "towards the units that run")]
    speed_mps: Annotated[float | None, Number("m/s", 3, "null: held straight at no speed")]
    bound: Annotated[str, said("what ends it: rudder, ailerons, elevator, stall, none found")]
    rudder_stick: Annotated[float | None, Number("1", 4, "there, right plus")]
    aileron_stick: Annotated[float | None, Number("1", 4, "there, right plus")]
    sideslip_deg: Annotated[float | None, Number("degrees", 3, "there, from the right plus")]
    climb_mps: Annotated[float | None, Number("m/s", 3, "there")]


class StoppedRow(Record):
    """What the outermost unit of one side does when it stops."""

    unit: Annotated[str, said("name of the fan or propeller")]
    side: Annotated[Literal["left", "right"], said("on which it stands")]
    speed_mps: Annotated[float, Number("m/s", 3, "of moments and drags, throttle full")]
    yawing_moment_nm: Annotated[float, Number("N m", 4, "left, sticks centred, nose right plus")]
    full_rudder_nm: Annotated[float, Number("N m", 4, "yawing moment of full right rudder")]
    thrust_left_n: Annotated[float, Number("N", 3, "of the units that run")]
    turning_drag_n: Annotated[float, Number("N", 3, "of it driven round by the air")]
    held_drag_n: Annotated[float, Number("N", 3, "of it held still")]
    best_climb_mps: Annotated[float | None, Number("m/s", 3, "on the rest, full throttle, banked")]
    best_climb_at_mps: Annotated[float | None, Number("m/s", 3, "airspeed there")]
    least_speeds: Annotated[Many[LeastSpeedRow], said("by throttle and bank")]


class OneOutRecord(Kind):
    """Flight with one fan or propeller stopped, left and right, nominal."""

    kind: Literal["aftlimit.one_out/1"] = Field(alias="schema")
    setup: Annotated[str, said("name of the set-up")]
    stall_speed_mps: Annotated[float, Number("m/s", 3, "power off")]
    stopped: Annotated[Many[StoppedRow], said("left and right")]


def one_out_record(ready: Assembled, found: Sequence[OneOut]) -> OneOutRecord:
    """Return the record of what was found on both sides."""
    return OneOutRecord(
        schema="aftlimit.one_out/1",
        version=__version__,
        setup=ready.setup.name,
        stall_speed_mps=ready.stall.speed_mps,
        stopped=[_stopped(one) for one in found],
    )


def _stopped(one: OneOut) -> StoppedRow:
    return StoppedRow(
        unit=one.unit,
        side="right" if one.side > 0.0 else "left",
        speed_mps=one.speed_mps,
        yawing_moment_nm=one.yaw_nm,
        full_rudder_nm=one.rudder_nm,
        thrust_left_n=one.thrust_left_n,
        turning_drag_n=one.turning_drag_n,
        held_drag_n=one.held_drag_n,
        best_climb_mps=one.best_climb_mps,
        best_climb_at_mps=one.best_climb_at_mps,
        least_speeds=[_least(row) for row in one.speeds],
    )


def _least(row: LeastSpeed) -> LeastSpeedRow:
    return LeastSpeedRow(
        throttle=row.throttle,
        bank_deg=row.bank_deg,
        speed_mps=row.speed_mps,
        bound=row.bound,
        rudder_stick=row.rudder_stick,
        aileron_stick=row.aileron_stick,
        sideslip_deg=row.sideslip_deg,
        climb_mps=row.climb_mps,
    )
