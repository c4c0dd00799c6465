"""What a record holds of a set-up's flight time, key by key."""

from typing import Annotated, Literal

from sim.record.fields import Many, Number, Record, said
from sim.study.results.flight_time import FlightTime


class MinutesRow(Record):
    """10, 50 and 90 % points over draws."""

    p10: Annotated[float, Number("min", 2, "10 % of draws fly shorter")]
    median: Annotated[float, Number("min", 2, "of draws")]
    p90: Annotated[float, Number("min", 2, "90 % of draws fly shorter")]


class WorkRow(Record):
    """One kind of work: its share of the time and what it takes."""

    name: Annotated[str, said("cruise, manoeuvring, climb or high_alpha")]
    share_pct: Annotated[float, Number("%", 2, "of the time")]
    speed_mps: Annotated[float, Number("m/s", 2, "airspeed")]
    throttle: Annotated[float, Number("1", 3, "of full")]
    current_a: Annotated[float, Number("A", 2, "of the pack, median over draws")]
    holds: Annotated[bool, said("false: full throttle does not hold it level")]


class TooMuchRow(Record):
    """A limit that full throttle is beyond."""

    what: Annotated[
        Literal["controller", "pack", "burst", "cell"],
        said("one motor's current, the pack's by its label, or a cell's voltage near the end"),
    ]
    asked: Annotated[float, Number("A or V", 3, "by full throttle standing still")]
    allowed: Annotated[float, Number("A or V", 3, "the limit")]


class FullLoadRow(Record):
    """Full throttle standing still; currents as if no controller held them back."""

    pack_a: Annotated[float, Number("A", 2, "of the charged pack")]
    motor_a: Annotated[float, Number("A", 2, "of one motor")]
    c_rate: Annotated[float, Number("1/h", 2, "the pack's current over its capacity")]
    resistance_mohm: Annotated[float, Number("mohm", 2, "of the whole pack")]
    start_cell_v: Annotated[float, Number("V", 3, "of a cell, pack charged")]
    end_cell_v: Annotated[float, Number("V", 3, "of a cell, at the reserve")]
    too_much: Annotated[Many[TooMuchRow], said("limits that it is beyond")]


class FlightTimeRow(Record):
    """Flight time to the pack's reserve, and the timer that follows from it."""

    reserve_pct: Annotated[float, Number("%", 1, "of what the pack holds, left at landing")]
    usable_mah: Annotated[float, Number("mAh", 0, "of what the pack still holds, less the reserve")]
    works: Annotated[Many[WorkRow], said("what the time is shared out to")]
    shares_assumed: Annotated[bool, said("true: the table's, nobody gave them")]
    mah_put_back: Annotated[float | None, Number("mAh", what="null: nobody measured it")]
    after_minutes: Annotated[float | None, Number("min", what="null: nobody measured it")]
    current_a: Annotated[float, Number("A", 2, "of the pack, mean over the flight")]
    minutes: Annotated[MinutesRow, said("to the reserve")]
    timer_min: Annotated[float, Number("min", 2, "rounded down; 0: too short for a timer")]
    cruise_alone_min: Annotated[float, Number("min", 2, "level at cruise speed all the time")]
    full_throttle: Annotated[FullLoadRow, said("what it asks of controller and pack")]


def flight_time_row(time: FlightTime | None) -> FlightTimeRow | None:
    """Return the record of a flight time; None: there is none."""
    if time is None:
        return None
    put_back, flown = time.charged or (None, None)
    return FlightTimeRow(
        reserve_pct=time.reserve_pct,
        usable_mah=time.usable_mah,
        works=[WorkRow.model_validate(x) for x in time.works],
        shares_assumed=time.assumed,
        mah_put_back=put_back,
        after_minutes=flown,
        current_a=time.current_a,
        minutes=MinutesRow(p10=time.minutes.low, median=time.minutes.middle, p90=time.minutes.high),
        timer_min=time.timer_min,
        cruise_alone_min=time.cruise_alone_min,
        full_throttle=FullLoadRow.model_validate(time.load),
    )
