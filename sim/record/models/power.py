"""The record of power: what it gives, what level flight takes, the bench fit, nozzles."""

from typing import Annotated, Literal

from pydantic import Field

from sim.power.bench_fit import PowerFit
from sim.record.fields import Kind, Many, Number, Record, said
from sim.trim.nozzle import NozzleRow, NozzleSweep
from sim.trim.performance import Given, Performance, Taken
from sim.version import __version__

Newton = Annotated[float, Number("N", 4, "net of the drag of taking in the air")]
Ampere = Annotated[float, Number("A", 3, "out of the pack")]
Held = Annotated[float | None, Number("A", 3, "out of the pack; null: level flight not held")]
Throttle = Annotated[float | None, Number("1", 5, "of full; null: level flight not held")]
Minutes = Annotated[
    float | None, Number("minutes", 2, "of the usable pack; null: not held, or no current")
]
Speed = Annotated[float, Number("m/s", 3, "through the air")]


class GivenRow(Record):
    """Full throttle at one speed, all units together; rpm and efflux are means."""

    speed_mps: Speed
    thrust_n: Newton
    current_a: Ampere
    pack_v: Annotated[float, Number("V", 3, "of the pack under it")]
    power_w: Annotated[float, Number("W", 2, "electrical")]
    rpm: Annotated[float, Number("rpm", 1, "of the rotors")]
    efflux_mps: Annotated[float, Number("m/s", 3, "of jet or slipstream")]
    ideal_share: Annotated[
        float | None, Number("1", 5, "of the thrust that momentum theory allows; null: no power")
    ]


class TakenRow(Record):
    """Level flight at one speed."""

    speed_mps: Speed
    thrust_needed_n: Newton
    throttle: Throttle
    current_a: Held
    power_w: Annotated[float | None, Number("W", 2, "electrical; null: not held")]
    minutes: Minutes
    spare_n: Annotated[float, Number("N", 4, "of full throttle")]
    climb_mps: Annotated[float, Number("m/s", 3, "at full throttle, for small angles")]


class ThrottleRow(Record):
    """The fastest level flight at one throttle."""

    throttle: Annotated[float, Number("1", 3, "of full")]
    static_n: Newton
    static_a: Ampere
    level_mps: Annotated[float | None, Number("m/s", 3, "null: it holds no level flight")]
    current_a: Held
    minutes: Minutes


class MetRow(Record):
    """One measurement, in the unit of its key."""

    key: Annotated[str, said("of [measured]")]
    measured: Annotated[float, Number("as the key", 3, "as given")]
    by_the_file: Annotated[float, Number("as the key", 3, "by the file's constants")]
    fitted: Annotated[float, Number("as the key", 3, "by those flown")]
    that_day: Annotated[float, Number("as the key", 3, "with drag and voltage of that day")]
    off_sds: Annotated[float, Number("1", 3, "standard deviations left over")]
    met: Annotated[bool, said("within what counts as met")]
    met_flown: Annotated[bool, said("met without that day's drag and voltages too, as flown")]


class MovedRow(Record):
    """One constant that the fit moved, in the unit of its key."""

    key: Annotated[str, said("of the constant")]
    before: Annotated[float, Number("as the key", what="by the file", significant=6)]
    after: Annotated[float, Number("as the key", what="fitted", significant=6)]
    spread_share: Annotated[float, Number("1", 4, "of its spread")]
    flown: Annotated[bool, said("false: of the day of the measurement alone")]


class NozzleTried(Record):
    """One nozzle of the sweep."""

    nozzle_mm: Annotated[float, Number("mm", 2, "across")]
    ring_share: Annotated[float, Number("1", 4, "of the fan's ring")]
    static_n: Newton
    static_a: Ampere
    efflux_mps: Annotated[float, Number("m/s", 3, "standing still")]
    ideal_share: Annotated[float | None, Number("1", 5, "standing still")]
    cruise_throttle: Throttle
    cruise_a: Held
    top_mps: Annotated[float | None, Number("m/s", 3, "level; null: none held")]
    blades: Annotated[str, said("attached, may stall, or stalls, standing still")]
    limited: Annotated[bool, said("a controller holds the current back")]


class BestRow(Record):
    """The best nozzle for one thing, of those whose blades do not stall."""

    goal: Annotated[str, said("cruise, top or static")]
    nozzle_mm: Annotated[float, Number("mm", 2, "the best tried")]
    from_mm: Annotated[float, Number("mm", 2, "as good from here")]
    to_mm: Annotated[float, Number("mm", 2, "to here")]


class NozzleTable(Record):
    """The sweep of exit areas."""

    cruise_mps: Speed
    rows: Annotated[Many[NozzleTried], said("by area")]
    now: Annotated[NozzleTried, said("the set-up's own")]
    best: Annotated[Many[BestRow], said("by goal")]


class PowerRecord(Kind):
    """Thrust, current, speeds and endurance of a set-up, nominal; the bench fit; nozzles."""

    kind: Literal["aftlimit.power/1"] = Field(alias="schema")
    setup: Annotated[str, said("the set-up")]
    pack: Annotated[str, said("its pack")]
    static_thrust_n: Newton
    thrust_to_weight: Annotated[float, Number("1", 4, "static, nominal")]
    stall_speed_mps: Annotated[float, Number("m/s", 3, "power off")]
    top_speed_mps: Annotated[float, Number("m/s", 3, "level, nominal")]
    never_exceed_mps: Annotated[float, Number("m/s", 3, "of the airframe")]
    cruise: Annotated[TakenRow, said("at the speed where set-ups are compared")]
    ordinary: Annotated[Many[TakenRow], said("slow and fast end of ordinary flying, level")]
    full: Annotated[Many[GivenRow], said("full throttle by speed")]
    level: Annotated[Many[TakenRow], said("level flight by speed")]
    throttles: Annotated[Many[ThrottleRow], said("endurance by throttle")]
    measured: Annotated[Many[MetRow], said("what was measured of the power")]
    moved: Annotated[Many[MovedRow], said("constants that met it")]
    nozzles: Annotated[NozzleTable | None, said("null: not asked for")]


def power_record(found: Performance, fit: PowerFit, sweep: NozzleSweep | None) -> PowerRecord:
    """Return the record of a set-up's power."""
    ready = found.ready
    return PowerRecord(
        schema="aftlimit.power/1",
        version=__version__,
        setup=ready.setup.name,
        pack=ready.setup.pack,
        static_thrust_n=found.still.point.net_thrust_n,
        thrust_to_weight=found.thrust_to_weight,
        stall_speed_mps=ready.stall.speed_mps,
        top_speed_mps=found.top_mps,
        never_exceed_mps=ready.aeroplane.structure.never_exceed_mps,
        cruise=_taken(found.cruise),
        ordinary=[_taken(x) for x in found.ordinary],
        full=[_given(x) for x in found.full],
        level=[_taken(x) for x in found.level],
        throttles=[
            ThrottleRow(
                throttle=x.throttle, static_n=x.static_n, static_a=x.static_a,
                level_mps=x.speed_mps, current_a=x.current_a, minutes=x.minutes,
            )
            for x in found.throttles
        ],
        measured=[
            MetRow(
                key=x.name, measured=x.measured, by_the_file=x.before, fitted=x.after,
                that_day=x.that_day, off_sds=x.off_sds, met=x.met,
                met_flown=x.flown,
            )
            for x in fit.met
        ],
        moved=[
            MovedRow(
                key=x.name, before=x.before, after=x.after, spread_share=x.share, flown=x.flown
            )
            for x in fit.moved
        ],
        nozzles=None if sweep is None else _nozzles(sweep),
    )  # fmt: skip


def _given(given: Given) -> GivenRow:
    point = given.point
    return GivenRow(
        speed_mps=given.speed_mps,
        thrust_n=point.net_thrust_n,
        current_a=point.current_a,
        pack_v=point.pack_voltage_v,
        power_w=point.electrical_power_w,
        rpm=point.rpm,
        efflux_mps=point.jet_speed_mps,
        ideal_share=given.ideal_share,
    )


def _taken(taken: Taken) -> TakenRow:
    return TakenRow(
        speed_mps=taken.speed_mps,
        thrust_needed_n=taken.thrust_n,
        throttle=taken.throttle,
        current_a=taken.current_a,
        power_w=taken.power_w,
        minutes=taken.minutes,
        spare_n=taken.spare_n,
        climb_mps=taken.climb_mps,
    )


def _nozzles(sweep: NozzleSweep) -> NozzleTable:
    return NozzleTable(
        cruise_mps=sweep.cruise_mps,
        rows=[_nozzle(row) for row in sweep.rows],
        now=_nozzle(sweep.own),
        best=[
            BestRow(goal=x.goal, nozzle_mm=x.row.nozzle_mm, from_mm=x.from_mm, to_mm=x.to_mm)
            for x in sweep.best
        ],
    )


def _nozzle(row: NozzleRow) -> NozzleTried:
    return NozzleTried(
        nozzle_mm=row.nozzle_mm,
        ring_share=row.ring_share,
        static_n=row.static_n,
        static_a=row.static_a,
        efflux_mps=row.jet_mps,
        ideal_share=row.ideal_share,
        cruise_throttle=row.cruise_throttle,
        cruise_a=row.cruise_a,
        top_mps=row.top_mps,
        blades=row.blades.value,
        limited=row.limited,
    )
