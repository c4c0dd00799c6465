"""The deep stall of a set-up, as a part of records."""

from typing import Annotated

from sim.judge import Hang
from sim.record.fields import Many, Number, Record, said
from sim.study.results.set_up import DeepStall, WayOut


class HeightsRow(Record):
    """Median and 95th percentile of heights over flights."""

    median: Annotated[float | None, Number("m", 1, "null: half never came back")]
    p95: Annotated[float | None, Number("m", 1, "null: more than 5 % never came back")]


class HungInRow(Record):
    """How many flights of a manoeuvre hung."""

    manoeuvre: Annotated[str, said("the manoeuvre")]
    flights: Annotated[int, Number("flights", what="flown")]
    hung: Annotated[int, Number("flights", what="that hung")]
    lost: Annotated[int, Number("flights", what="lost for that reason")]


class HangRow(Record):
    """What the deep stall is like, one way up: medians over the flights that hung so."""

    flights: Annotated[int, Number("flights", what="that hung this way up")]
    inverted: Annotated[bool, said("true: on its back")]
    alpha_deg: Annotated[float | None, Number("degrees", 1, "angle of attack")]
    nose_deg: Annotated[float | None, Number("degrees", 1, "nose above the horizon")]
    nose_swing_deg: Annotated[float | None, Number("degrees", 1, "its standard deviation")]
    nose_swing_period_s: Annotated[float | None, Number("s", 2, "0: it does not swing")]
    bank_swing_deg: Annotated[float | None, Number("degrees", 1, "standard deviation of bank")]
    turn_dps: Annotated[float | None, Number("degrees/s", 1, "about the vertical")]
    sink_mps: Annotated[float | None, Number("m/s", 2, "downwards")]
    speed_mps: Annotated[float | None, Number("m/s", 2, "airspeed")]
    hung_s: Annotated[float | None, Number("s", 1, "how long it hung")]


class WayOutRow(Record):
    """How many of the draws that hang come out by one recovery."""

    recovery: Annotated[str, said("the recovery")]
    flights: Annotated[int, Number("flights", what="flown from where they hang")]
    out: Annotated[int, Number("flights", what="that came out")]
    low: Annotated[float, Number("1", 4, "lower 95 % limit of the share that came out")]
    high: Annotated[float, Number("1", 4, "upper 95 % limit of the share that came out")]
    height_m: Annotated[HeightsRow, said("first input to level, of those that came out")]


class DeepStallRow(Record):
    """Where flights hung, what it is like and what ended it."""

    recovery: Annotated[str, said("in which they hang")]
    manoeuvres: Annotated[Many[HungInRow], said("where they hung")]
    seen: Annotated[Many[HangRow], said("what it is like, erect and inverted")]
    ways_out: Annotated[Many[WayOutRow], said("what ended it")]


def deep_stall_row(deep_stall: DeepStall | None) -> DeepStallRow | None:
    """Return the row of a deep stall; None where no flight hung."""
    if deep_stall is None:
        return None
    return DeepStallRow(
        recovery=deep_stall.recovery,
        manoeuvres=[HungInRow.model_validate(place) for place in deep_stall.places],
        seen=[_hang(hang) for hang in deep_stall.hangs],
        ways_out=[_way(way) for way in deep_stall.ways],
    )


def _hang(hang: Hang) -> HangRow:
    return HangRow(
        flights=hang.flights,
        inverted=hang.inverted,
        alpha_deg=hang.alpha_deg,
        nose_deg=hang.nose_deg,
        nose_swing_deg=hang.swing_deg,
        nose_swing_period_s=hang.period_s,
        bank_swing_deg=hang.wallow_deg,
        turn_dps=hang.turn_dps,
        sink_mps=hang.sink_mps,
        speed_mps=hang.speed_mps,
        hung_s=hang.hung_s,
    )


def _way(way: WayOut) -> WayOutRow:
    return WayOutRow(
        recovery=way.name,
        flights=way.flights,
        out=way.out,
        low=way.low,
        high=way.high,
        height_m=HeightsRow.model_validate(way.height_m),
    )
