"""What a set-up can do, as a part of records."""

from typing import Annotated

from sim.record.fields import Number, Record, said
from sim.study.results.agility import Shown


class DegreesRow(Record):
    """Median of draws, and what 10 and 90 % of them stay below."""

    median: Annotated[float | None, Number("degrees", 1, "null: not to be had")]
    low: Annotated[float | None, Number("degrees", 1, "10 % of draws stay below")]
    high: Annotated[float | None, Number("degrees", 1, "90 % of draws stay below")]


class FigureRow(Record):
    """The one number of a manoeuvre, in the unit named beside it."""

    median: Annotated[float | None, Number("as named", 2, "null: not to be had")]
    low: Annotated[float | None, Number("as named", 2, "10 % of draws stay below")]
    high: Annotated[float | None, Number("as named", 2, "90 % of draws stay below")]


class AgilityRow(Record):
    """One manoeuvre that pilots go aft for, over the draws of a set-up."""

    manoeuvre: Annotated[str, said("the manoeuvre")]
    shows: Annotated[str, said("angle, pass, somersault, loop or roll")]
    unit: Annotated[str, said("of figure and counted")]
    flights: Annotated[int, Number("flights", what="flown")]
    done: Annotated[int, Number("flights", what="that did it: reached the angle, went round, held")]
    out: Annotated[int, Number("flights", what="that came out pointing forwards")]
    out_low: Annotated[float, Number("1", 4, "lower 95 % limit of that share")]
    out_high: Annotated[float, Number("1", 4, "upper 95 % limit of that share")]
    figure: Annotated[
        FigureRow, said("angle: its peak; pass: slowest held; loop: half its height; roll: rate")
    ]
    best: Annotated[float | None, Number("as named", 2, "of the best flight")]
    counted: Annotated[FigureRow, said("the same, flights that did not come out as the worst")]
    time_median_s: Annotated[float | None, Number("s", 2, "to having done it; null: half never")]
    peak_angle_deg: Annotated[DegreesRow, said("from nose to flight path, before the last input")]
    pitch_rate_median_dps: Annotated[float | None, Number("degrees/s", 1, "its peak")]
    held_angle_median_deg: Annotated[float | None, Number("degrees", 1, "of a pass at its slowest")]
    load_median_g: Annotated[float | None, Number("g", 2, "its peak, either way")]
    height_used_median_m: Annotated[float | None, Number("m", 1, "start to lowest point")]


def agility_row(one: Shown) -> AgilityRow:
    """Return the row of a manoeuvre."""
    return AgilityRow(
        manoeuvre=one.manoeuvre,
        shows=one.shows,
        unit=one.unit,
        flights=one.flights,
        done=one.done,
        out=one.out,
        out_low=one.out_low,
        out_high=one.out_high,
        best=one.best,
        figure=FigureRow.model_validate(one.figure),
        counted=FigureRow.model_validate(one.counted),
        time_median_s=one.time_s.median,
        peak_angle_deg=DegreesRow.model_validate(one.angle_deg),
        pitch_rate_median_dps=one.pitch_rate_dps.median,
        held_angle_median_deg=one.held_angle_deg.median,
        load_median_g=one.load_g.median,
        height_used_median_m=one.height_used_m.median,
    )
