"""The record of one flight: verdict, heights, events and peaks."""

from math import degrees
from typing import Annotated, Literal

from pydantic import Field

from sim.core import script_layout as s
from sim.fly.flying import Flight
from sim.fly.measured import measured
from sim.judge import Event, Reason, Verdict, reasons_of, verdict_of
from sim.judge.agility import done
from sim.record.fields import Kind, Lax, Many, Number, Record, said
from sim.record.models.structure import CarriedRow
from sim.version import __version__


class EventRow(Record):
    """Something that happened in the flight."""

    name: Annotated[str, said("what happened")]
    time_s: Annotated[float, Number("s", 3, "since the start")]
    below_start_m: Annotated[float, Number("m", 3, "height lost since the start")]


class FlyRecord(Kind):
    """Verdict, heights, events and peaks of one flight."""

    kind: Literal["aftlimit.fly/1"] = Field(alias="schema")
    aeroplane: Annotated[str, said("its name")]
    setup: Annotated[str, said("the set-up flown")]
    manoeuvre: Annotated[str, said("flown into the stall or spin")]
    recovery: Annotated[str, said("flown out of it")]
    side: Annotated[Literal["right", "left"], said("to which it is flown")]
    entry_m: Annotated[float, Number("m", what="height above the field at the start")]
    floor_m: Annotated[float, Number("m", what="to be level above")]
    draw: Annotated[int | None, Number("1", what="number of the draw; null: nominal")]
    seed: Annotated[int, Number("1", what="of the draws")]
    verdict: Annotated[Lax[Verdict], said("what became of it")]
    reason: Annotated[Lax[Reason], said("why it is lost or unresolved; empty where it is neither")]
    did: Annotated[
        bool | None, said("what the manoeuvre is flown for; null: it is flown for no feat")
    ]
    height_lost_m: Annotated[
        float | None, Number("m", 3, "first recovery input to level; null: never came back")
    ]
    pull_out_m: Annotated[
        float | None, Number("m", 3, "of it after rotation stopped; null: never came back")
    ]
    height_used_m: Annotated[float | None, Number("m", 3, "start to level; null: never came back")]
    peak_alpha_deg: Annotated[float, Number("degrees", 3, "largest angle of attack")]
    peak_load_factor_g: Annotated[float, Number("g", 3, "largest load factor")]
    turns_before_recovery: Annotated[float, Number("turns", 3, "until the first recovery input")]
    turns_in_recovery: Annotated[float, Number("turns", 3, "from it until rotation stopped")]
    turns_while_stalled: Annotated[float, Number("turns", 3, "while stalled")]
    carried: Annotated[CarriedRow, said("servos and wing")]
    events: Annotated[Many[EventRow], said("in order of time")]


def fly_record(
    flight: Flight,
    events: list[Event],
    heights_m: tuple[float, float],
    draw: int | None,
    seed: int,
    carried: CarriedRow,
) -> FlyRecord:
    """Return the record of a flight; ``heights_m`` are those of entry and floor."""
    row = flight.summary
    back = bool(row[s.R_BACK] > 0.0)
    entry_m, floor_m = heights_m
    shows = flight.manoeuvre.shows
    return FlyRecord(
        schema="aftlimit.fly/1",
        version=__version__,
        aeroplane=flight.assembled.aeroplane.name,
        setup=flight.assembled.setup.name,
        manoeuvre=flight.manoeuvre.name,
        recovery=flight.recovery.name,
        side="right" if flight.side > 0 else "left",
        entry_m=entry_m,
        floor_m=floor_m,
        draw=draw,
        seed=seed,
        verdict=verdict_of(row, entry_m, floor_m),
        reason=reasons_of(row[None, :], entry_m, floor_m)[0],
        did=None if shows is None else bool(done(measured(flight)[None, :], shows)[0]),
        height_lost_m=row[s.R_HEIGHT_LOST] if back else None,
        pull_out_m=row[s.R_PULL_OUT] if back else None,
        height_used_m=row[s.R_DROP] if back else None,
        peak_alpha_deg=degrees(row[s.R_PEAK_ALPHA]),
        peak_load_factor_g=row[s.R_PEAK_LOAD],
        turns_before_recovery=abs(row[s.R_TURNS_ENTRY]),
        turns_in_recovery=abs(row[s.R_TURNS_RECOVERY]),
        turns_while_stalled=row[s.R_STALLED_TURNS],
        carried=carried,
        events=[
            EventRow(name=e.name, time_s=e.time_s, below_start_m=e.height_lost_m) for e in events
        ],
    )
