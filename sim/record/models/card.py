"""What the record of a flight card holds, key by key; `sim.show.card` fills it."""

from typing import Annotated, Literal

from pydantic import Field

from sim.judge import Outcome
from sim.record.fields import Kind, Lax, Many, Number, Record, said
from sim.record.models.deep_stall import DeepStallRow
from sim.record.models.flight_time import FlightTimeRow
from sim.record.models.gyro_check import GyroCheckRow
from sim.record.models.landing import ForwardRow, WindowRow
from sim.record.models.more_throw import MoreThrowRow
from sim.record.models.results import AtEnd, Grams, HighMm, HighShare, LimitMm, LowMm, LowShare
from sim.study.ladder.fit import End

BalanceMm = Annotated[float, Number("mm", 2, "balance point aft of the datum")]
BalancePct = Annotated[float, Number("% MAC", 2, "balance point")]
PackMm = Annotated[float, Number("mm", 1, "the pack's place aft of the datum")]
AddedG = Annotated[dict[str, Grams], said("what the balance point needs besides")]
Manoeuvre = Annotated[str, said("the manoeuvre")]
Recovery = Annotated[str, said("the recovery")]


class CombinationRow(Record):
    """A set-up's combination in words."""

    loose_weights: Annotated[str, said("in words")]
    throws: Annotated[str, said("in words")]
    nozzle: Annotated[str, said("in words")]
    gyro: Annotated[str, said("in words")]


class CardLimitRow(Record):
    """The aft limit of the card's own pack and combination."""

    aft_mm: LimitMm
    aft_low_mm: LowMm
    aft_high_mm: HighMm
    at_end: AtEnd
    manoeuvres: Annotated[Many[str], said("it holds over all of them")]
    recovery: Annotated[str, said("by which it holds")]
    neutral_mm: Annotated[float | None, Number("mm", 1, "neutral point there, gyro off")]
    behind_neutral_mm: Annotated[float, Number("mm", 1, "limit behind the neutral point; 0: not")]
    gyro: Annotated[str, said("in words")]


class ThrowRow(Record):
    """How far one stick moves one channel's surface at full stick; up is left where it stands."""

    channel: Annotated[str, said("the surface's")]
    stick: Annotated[str, said("that moves it")]
    up_deg: Annotated[float, Number("degrees", 2, "trailing edge up")]
    up_mm: Annotated[float, Number("mm", 1, "trailing edge up")]
    down_deg: Annotated[float, Number("degrees", 2, "trailing edge down")]
    down_mm: Annotated[float, Number("mm", 1, "trailing edge down")]


class CardCaseRow(Record):
    """One manoeuvre and recovery: how many came back, and heights."""

    manoeuvre: Manoeuvre
    recovery: Recovery
    entry_m: Annotated[float, Number("m", what="height above the field at the start")]
    floor_m: Annotated[float, Number("m", what="to be level above")]
    flights: Annotated[int, Number("flights", what="flown")]
    back: Annotated[int, Number("flights", what="that held or came back above the floor")]
    back_low: LowShare
    back_high: HighShare
    not_back: Annotated[
        dict[str, Annotated[int, Number("flights")]], said("why others did not, commonest first")
    ]
    height_lost_p95_m: Annotated[
        float | None, Number("m", 1, "first input to level; null: too many never came back")
    ]
    entry_height_needed_p95_m: Annotated[
        float | None, Number("m", 1, "start to level, floor included; null: the same")
    ]


class DegreesBand(Record):
    """10, 50 and 90 % points of an angle over draws."""

    p10: Annotated[float | None, Number("degrees", 2, "10 % of draws are below")]
    median: Annotated[float | None, Number("degrees", 2, "of draws")]
    p90: Annotated[float | None, Number("degrees", 2, "90 % of draws are below")]


class SpeedBand(Record):
    """10, 50 and 90 % points of a speed over draws."""

    p10: Annotated[float | None, Number("m/s", 2, "10 % of draws are below")]
    median: Annotated[float | None, Number("m/s", 2, "of draws")]
    p90: Annotated[float | None, Number("m/s", 2, "90 % of draws are below")]


class HeightBand(Record):
    """10, 50 and 90 % points of a height over draws; null: that many never came back."""

    p10: Annotated[float | None, Number("m", 1, "10 % of draws are below")]
    median: Annotated[float | None, Number("m", 1, "of draws")]
    p90: Annotated[float | None, Number("m", 1, "90 % of draws are below")]


class RefusedRow(Record):
    """A set-up on the way that is not to be flown, and why."""

    why: Annotated[Lax[End], said("in a word")]
    what: Annotated[str, said("was to change")]
    balance_aft_mm: BalanceMm
    told: Annotated[str, said("why, in a sentence")]
    case: Annotated[CardCaseRow | None, said("the manoeuvre that decides; null: none does")]


class MissingRow(Record):
    """A change that could not be had where its turn was."""

    what: Annotated[str, said("was to change")]
    balance_aft_mm: BalanceMm
    why: Annotated[str, said("it cannot be had")]


class FastRow(Record):
    """How a set-up forward of its forward limit, but not of the nominal one, is landed."""

    short_mm: Annotated[float, Number("mm", 1, "forward of its forward limit")]
    checks: Annotated[Many[str], said("what is not shown there: flare, touch-down or rotation")]
    held_to_mps: Annotated[float, Number("m/s", 2, "by full aft stick, nominal")]
    held_to_p95_mps: Annotated[float, Number("m/s", 2, "the same, 95 % of draws")]


class StepRow(Record):
    """One test flight: what is changed for it, what is flown, and what should be seen."""

    change: Annotated[str, said("the kind of change")]
    what: Annotated[str, said("changes, in words")]
    pack: Annotated[str, said("its pack")]
    balance_aft_mm: BalanceMm
    balance_pct_mac: BalancePct
    pack_aft_mm: PackMm
    not_yet_as_wanted: Annotated[Many[str], said("what but pack and balance differs still")]
    added_weights_g: AddedG
    fly: Annotated[CardCaseRow, said("the manoeuvre to fly")]
    not_to_be_flown: Annotated[
        dict[str, Lax[End]], said("manoeuvres whose turn it was, and why not")
    ]
    tail_deg: Annotated[DegreesBand, said("pitch surface in level flight, edge down plus")]
    stall_speed_mps: Annotated[SpeedBand, said("slowest level flight, power off")]
    height_lost_m: Annotated[HeightBand, said("first recovery input to level")]
    most_entry_height_needed_m: Annotated[
        float | None, Number("m", 1, "of any draw; null: one never came back")
    ]
    lands_fast: Annotated[FastRow | None, said("null: not forward of its forward limit")]
    departed: Annotated[int, Number("draws", what="that departed")]
    spin: Annotated[str | None, said("its mode; null: none")]
    spin_yaw_rate_dps: Annotated[float | None, Number("degrees/s", 1, "null: no spin")]


class LadderRow(Record):
    """The test flights from the set-up flown today to the wanted one."""

    wanted_aft_mm: BalanceMm
    today: Annotated[str, said("the set-up it begins with")]
    today_named_by_the_study: Annotated[bool, said("false: the aeroplane's first")]
    today_aft_mm: BalanceMm
    today_not_to_be_flown: Annotated[RefusedRow | None, said("null: it may be flown")]
    ends: Annotated[Lax[End], said("where, in a word")]
    refused: Annotated[RefusedRow | None, said("what it stops before; null: nothing")]
    afresh_because_of: Annotated[
        RefusedRow | None, said("what single changes stop before; null: nothing")
    ]
    not_to_be_had: Annotated[Many[MissingRow], said("changes out of turn")]
    ceiling_m: Annotated[float, Number("m", what="most height there is above the field")]
    draws: Annotated[int, Number("draws", what="flown for each step")]
    speed_mps: Annotated[float, Number("m/s", 2, "of the level flight predicted")]
    today_tail_deg: Annotated[DegreesBand, said("pitch surface there today, edge down +")]
    own_tail_deg: Annotated[DegreesBand, said("the same of the wanted set-up")]
    steps: Annotated[Many[StepRow], said("test flight by test flight")]


class CardRecord(Kind):
    """What a flight card and its ladder say, in numbers where it is one."""

    kind: Literal["aftlimit.card/1"] = Field(alias="schema")
    study: Annotated[str, said("its name")]
    aeroplane: Annotated[str, said("its name")]
    setup: Annotated[str, said("the set-up of the card")]
    outcome: Annotated[Lax[Outcome], said("against the share asked for")]
    to_be_flown: Annotated[bool, said("the ladder leads up to it")]
    verdict: Annotated[str, said("as printed")]
    order: Annotated[str, said("as printed")]
    answer: Annotated[Many[str], said("as printed")]
    mass_g: Annotated[float, Number("g", 1, "ready to fly")]
    balance_aft_mm: BalanceMm
    balance_pct_mac: BalancePct
    static_margin_pct: Annotated[float, Number("% MAC", 2, "stick fixed, gyro off")]
    pack: Annotated[str, said("its pack")]
    pack_aft_mm: PackMm
    added_weights_g: AddedG
    combination: Annotated[CombinationRow, said("the rest of the set-up")]
    aft_limit: Annotated[CardLimitRow | None, said("null: not searched")]
    forward_limit: Annotated[ForwardRow | None, said("of this pack and combination")]
    window: Annotated[WindowRow, said("between the two")]
    forward_of_it_mm: Annotated[float, Number("mm", 1, "set-up forward of that limit; 0: not")]
    more_throw: Annotated[MoreThrowRow | None, said("null: not forward of it")]
    lands_fast: Annotated[FastRow | None, said("null: not between the nominal and the shown one")]
    stall_speed_mps: Annotated[float, Number("m/s", 2, "power off")]
    speeds: Annotated[dict[str, str], said("as printed")]
    throws: Annotated[Many[ThrowRow], said("surface by surface")]
    sticks_check: Annotated[str, said("which way surfaces move, as printed")]
    turns_check: Annotated[str, said("how the gyro answers a hand, as printed; empty: it is off")]
    gyro: Annotated[str, said("as printed")]
    gyro_told: Annotated[str, said("its check, as printed; empty: none fitted, or off")]
    gyro_check: Annotated[GyroCheckRow | None, said("null: not on")]
    recovery_name: Recovery
    manoeuvres: Annotated[Many[CardCaseRow], said("each by its best recovery")]
    recovery: Annotated[Many[str], said("step by step, as printed")]
    flight_time: Annotated[FlightTimeRow | None, said("null: nothing flies level")]
    stop_if: Annotated[Many[str], said("as printed")]
    deep_stall: Annotated[DeepStallRow | None, said("null: no flight hung")]
    ladder: Annotated[LadderRow, said("the test flights")]
