"""Servos and structure, as a part of records."""

from typing import Annotated

from sim.record.fields import Many, Number, Record, said
from sim.study.results.structure import Structure


class ServoRow(Record):
    """The most that any servo of a channel needed, over all flights; see p95_ncm."""

    channel: Annotated[str, said("the channel")]
    stated_ncm: Annotated[float | None, Number("N cm", 2, "null: not stated, not judged")]
    needed_ncm: Annotated[float, Number("N cm", 2, "to hold where it is asked to be")]
    p95_ncm: Annotated[
        float | None,
        Number("N cm", 2, "95 % of flights stay below; null: not stated, of those again alone"),
    ]
    share: Annotated[float | None, Number("1", 3, "needed over stated; null: not stated")]
    manoeuvre: Annotated[str, said("where it needed that; empty for one flight alone")]
    speed_mps: Annotated[float, Number("m/s", 2, "there")]
    alpha_deg: Annotated[float, Number("degrees", 1, "there, of the aeroplane")]
    deflection_deg: Annotated[float, Number("degrees", 1, "there")]
    stalled: Annotated[bool, said("the surface's own flow had mostly let go")]
    at_stop: Annotated[bool, said("the air ran it to an end stop, in a flight flown again")]
    flights: Annotated[int, Number("flights", what="that needed more than stated")]
    held_flights: Annotated[int, Number("flights", what="in which the air held it off")]
    short_deg: Annotated[float, Number("degrees", 1, "from where it was asked to be, at most")]


class LoadRow(Record):
    """Load factors of all flights of one manoeuvre."""

    manoeuvre: Annotated[str, said("the manoeuvre")]
    flights: Annotated[int, Number("flights", what="that could be calculated")]
    most_g: Annotated[float, Number("g", 2, "largest load factor, either way")]
    over: Annotated[int, Number("flights", what="that passed the stated limit")]


class StructureRow(Record):
    """Servos and wing of a set-up against what its file states."""

    limit_g: Annotated[float, Number("g", 2, "stated limit load factor")]
    most_g: Annotated[float, Number("g", 2, "largest load factor, either way")]
    p95_g: Annotated[float, Number("g", 2, "95 % of flights stay below")]
    over_g: Annotated[int, Number("flights", what="that passed the limit")]
    flights: Annotated[int, Number("flights", what="that could be calculated")]
    unresolved: Annotated[int, Number("flights", what="that could not, left out here")]
    never_exceed_mps: Annotated[float, Number("m/s", 2, "of the airframe")]
    most_mps: Annotated[float, Number("m/s", 2, "largest airspeed")]
    p95_mps: Annotated[float | None, Number("m/s", 2, "95 % of flights stay below")]
    over_mps: Annotated[int, Number("flights", what="that passed it")]
    speeds_of: Annotated[int, Number("flights", what="that tell a speed")]
    loads: Annotated[Many[LoadRow], said("manoeuvre by manoeuvre")]
    again: Annotated[int, Number("flights", what="flown again with histories")]
    bending_share: Annotated[float, Number("1", 3, "root bending over that at the limit load")]
    bending_in: Annotated[str, said("the manoeuvre of it")]
    bending_over: Annotated[int, Number("flights", what="of those again that passed it")]
    servos: Annotated[Many[ServoRow], said("channel by channel")]


class CarriedRow(Record):
    """What one flight asked of servos and wing."""

    peak_speed_mps: Annotated[float, Number("m/s", 2, "largest airspeed")]
    bending_share: Annotated[float, Number("1", 3, "root bending over that at the limit load")]
    servos: Annotated[Many[ServoRow], said("channel by channel")]


def structure_row(found: Structure | None) -> StructureRow | None:
    """Return the row of a set-up; None where no flight tells."""
    return None if found is None else StructureRow.model_validate(found)
