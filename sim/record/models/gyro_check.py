"""How a set-up's own gyro stands against its loop, as a record."""

from typing import Annotated

from sim.gyro.advice import SetAgainst, set_against, worst_over
from sim.gyro.motion import AXES
from sim.record.fields import Many, Number, Record, said
from sim.record.models.gains import GAIN, Speed
from sim.study.gyro_check import GyroCheck


class GyroAxisRow(Record):
    """The set-up's gain on one axis; the worst speed is where it is furthest over."""

    axis: Annotated[str, said("roll, pitch or yaw")]
    inside: Annotated[bool, said("at every speed and in the dive, and not backwards")]
    backwards: Annotated[bool, said("below 0: it feeds every turn")]
    over_at_mps: Annotated[Many[Speed], said("where it is more than advised")]
    swings_at_mps: Annotated[Many[Speed], said("where the nominal aeroplane swings")]
    worst_at_mps: Annotated[float | None, Number("m/s", 2, "null: never over")]
    worst_in_dive: Annotated[bool, said("that is the dive at idle")]
    worst_set: Annotated[float | None, Number(GAIN, 4, "there, as set; null: never over")]
    worst_advised: Annotated[float | None, Number(GAIN, 4, "there; null: never over")]


class GyroCheckRow(Record):
    """A gyro that is on, held against what its loop stands."""

    checked: Annotated[bool, said("false: no steady flight to look at")]
    why_not: Annotated[str, said("empty: it was checked")]
    draws: Annotated[int, Number("draws")]
    axes: Annotated[Many[GyroAxisRow], said("those that a surface moves")]


def gyro_check_row(check: GyroCheck | None) -> GyroCheckRow | None:
    """Return the row of a check; None without one."""
    if check is None:
        return None
    if check.found is None:
        return GyroCheckRow(checked=False, why_not=check.why, draws=0, axes=[])
    rows = [_axis(one) for one in set_against(check.found)]
    return GyroCheckRow(checked=True, why_not="", draws=check.found.draws, axes=rows)


def _axis(one: SetAgainst) -> GyroAxisRow:
    at, axis = worst_over(one) if one.over else (None, None)
    return GyroAxisRow(
        axis=AXES[one.axis],
        inside=not one.over and not one.backwards,
        backwards=one.backwards,
        over_at_mps=[x.point.speed_mps for x in one.over],
        swings_at_mps=[x.point.speed_mps for x in one.swings],
        worst_at_mps=None if at is None else at.point.speed_mps,
        worst_in_dive=at is not None and at.point.dive,
        worst_set=None if axis is None else axis.set_gain,
        worst_advised=None if axis is None else axis.advised,
    )
