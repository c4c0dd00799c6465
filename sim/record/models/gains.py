"""The record of gains: what each axis of a gyro stands by speed, and what to set."""

from math import degrees, tau
from typing import Annotated, Literal

from pydantic import Field

from sim.gyro.advice import Advice, set_against
from sim.gyro.allowed import Allowed, At, AxisAt
from sim.gyro.motion import AXES
from sim.record.fields import Kind, Many, Number, Record, said
from sim.version import __version__

GAIN = "degrees/(degree/s)"
Speed = Annotated[float, Number("m/s", 2)]
Factor = Annotated[float, Number("1", 2)]


class AxisRow(Record):
    """One axis at one speed."""

    axis: Annotated[str, said("roll, pitch or yaw")]
    advised: Annotated[float, Number(GAIN, 4, "all axes together, and no throw met in a slow turn")]
    kept: Annotated[float, Number(GAIN, 4, "margins kept by nearly all draws, others as set")]
    nominal: Annotated[float | None, Number(GAIN, 4, "margins of the nominal aeroplane")]
    swings: Annotated[float | None, Number(GAIN, 4, "nominal, swings on its own; null: never")]
    swings_hz: Annotated[float | None, Number("Hz", 2, "at which it would; null: never")]
    phase_margin_deg: Annotated[float | None, Number("degrees", 1, "nominal, advised; null: any")]
    delay_margin_s: Annotated[float | None, Number("s", 4, "nominal, advised; null: any")]
    as_set: Annotated[float | None, Number(GAIN, 4, "of the set-up at this throttle; null: none")]


class SpeedRow(Record):
    """All axes at one speed."""

    speed_mps: Annotated[float, Number("m/s", 2)]
    throttle: Annotated[float, Number("1", 3, "of full")]
    dive: Annotated[bool, said("true: at idle, else level flight")]
    unresolved_draws: Annotated[int, Number("draws", what="fly at no angle; stand nothing")]
    draws_at_stop: Annotated[int, Number("draws", what="need more than full elevator")]
    doubling_s: Annotated[
        float | None, Number("s", 2, "nominal, without a gyro; null: nothing grows")
    ]
    axes: Annotated[Many[AxisRow], said("those that a surface moves")]


class LoopRow(Record):
    """What stands between a turn and its surface, without the servo."""

    filter_s: Annotated[float, Number("s", 4, "first-order lag")]
    delay_s: Annotated[float, Number("s", 4, "pure delay")]
    frame_s: Annotated[float, Number("s", 4, "held for")]
    hold_per_s: Annotated[float, Number("1/s", 3, "angle over rate; 0: rate mode")]
    assumed: Annotated[bool, said("true: the file has no gyro")]


class ScheduleRow(Record):
    """Gains of one axis to set."""

    axis: Annotated[str, said("roll, pitch or yaw")]
    every_speed: Annotated[float, Number(GAIN, 4, "stands every speed and the dive")]
    scheduled: Annotated[float, Number(GAIN, 4, "times the factors of the throttle")]
    idle_over_dive: Annotated[
        float | None, Number("1", 2, "gain at idle over what the dive stands; null: no surface")
    ]


class StandingRow(Record):
    """The set-up's own gain on an axis."""

    axis: Annotated[str, said("roll, pitch or yaw")]
    inside: Annotated[bool, said("at every speed and in the dive, and not backwards")]
    over_at_mps: Annotated[Many[Speed], said("where it is more than advised")]
    swings_at_mps: Annotated[Many[Speed], said("where the nominal aeroplane swings")]


class GainsRecord(Kind):
    """How much gain each axis of a gyro stands, by speed and by throttle."""

    kind: Literal["aftlimit.gains/1"] = Field(alias="schema")
    aeroplane: Annotated[str, said("its name")]
    setup: Annotated[str, said("its name")]
    gyro: Annotated[str, said("on, off or none")]
    draws: Annotated[int, Number("draws")]
    loop: Annotated[LoopRow, said("as it was reckoned")]
    speeds: Annotated[Many[SpeedRow], said("rising; the last is the dive")]
    throttle_schedule: Annotated[Many[Factor], said("factors at idle, half and full throttle")]
    gains: Annotated[Many[ScheduleRow], said("to set, by axis")]
    as_set: Annotated[Many[StandingRow], said("of the set-up's gyro; empty: it has none")]


def gains_record(found: Allowed, advice: Advice) -> GainsRecord:
    """Return the record of a set-up's gyro."""
    setup = found.assembled.setup
    each = zip(AXES, advice.fixed, advice.schedule.gains, advice.over, strict=True)
    return GainsRecord(
        schema="aftlimit.gains/1",
        version=__version__,
        aeroplane=found.assembled.aeroplane.name,
        setup=setup.name,
        gyro="none" if setup.gyro_settings is None else setup.gyro,
        draws=found.draws,
        loop=LoopRow.model_validate(found.loop),
        speeds=[_speed(at) for at in found.points],
        throttle_schedule=advice.schedule.factors,
        gains=[
            ScheduleRow(axis=a, every_speed=f, scheduled=s, idle_over_dive=o) for a, f, s, o in each
        ],
        as_set=[
            StandingRow(
                axis=AXES[one.axis], inside=not one.over and not one.backwards,
                over_at_mps=[at.point.speed_mps for at in one.over],
                swings_at_mps=[at.point.speed_mps for at in one.swings],
            )
            for one in set_against(found)
        ],
    )  # fmt: skip


def _speed(at: At) -> SpeedRow:
    axes = [_axis(AXES[j], one) for j, one in enumerate(at.axes) if one is not None]
    return SpeedRow(
        speed_mps=at.point.speed_mps,
        throttle=at.point.throttle,
        dive=at.point.dive,
        unresolved_draws=at.unresolved,
        draws_at_stop=at.at_stop,
        doubling_s=at.doubling_s,
        axes=axes,
    )


def _axis(name: str, one: AxisAt) -> AxisRow:
    return AxisRow(
        axis=name,
        advised=one.advised,
        kept=one.kept,
        nominal=one.nominal.kept,
        swings=one.nominal.swings,
        swings_hz=one.nominal.crossing_rps / tau,
        phase_margin_deg=degrees(one.phase_margin_rad),
        delay_margin_s=one.delay_margin_s,
        as_set=one.set_gain,
    )
