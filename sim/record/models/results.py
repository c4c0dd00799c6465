"""What results.json of a study holds, key by key."""

from typing import Annotated, Literal

from pydantic import Field

from sim.record.fields import Kind, Many, Number, Record, said
from sim.record.models.agility import AgilityRow
from sim.record.models.beyond import DepartureRow, ScaledSpinRow
from sim.record.models.changes import BeforeAfterRow, StepRow
from sim.record.models.deep_stall import DeepStallRow, HeightsRow
from sim.record.models.flight_time import FlightTimeRow
from sim.record.models.landing import ForwardRow, WindowRow
from sim.record.models.measuring import LandingPromiseRow, MeasuringRow
from sim.record.models.more_area import MoreAreaRow
from sim.record.models.more_throw import MoreThrowRow
from sim.record.models.structure import StructureRow

ShownFrom = Annotated[
    float | None, Number("m", 1, "to fly it from, shown by the lower 95 % limit; null: none")
]
Grams = Annotated[float, Number("g", 1)]
LimitMm = Annotated[float | None, Number("mm", what="aft of the datum; null: none met it")]
LowMm = Annotated[int | None, Number("mm", what="lower 95 % limit; null: nothing bounds it")]
HighMm = Annotated[int | None, Number("mm", what="upper 95 % limit; null: nothing bounds it")]
FailureMm = Annotated[float | None, Number("mm", what="first point that failed; null: none did")]
AtEnd = Annotated[bool, said("nothing failed to the rearmost: the limit lies beyond")]
LowShare = Annotated[float, Number("1", 4, "lower 95 % limit of the share that came back")]
HighShare = Annotated[float, Number("1", 4, "upper 95 % limit of the share that came back")]

ForwardMm = Annotated[float | None, Number("mm", 1, "forward limit; null: none found")]


class AnglesRow(Record):
    """Median and 95th percentile of angles over flights."""

    median: Annotated[float | None, Number("degrees", 1, "of flights")]
    p95: Annotated[float | None, Number("degrees", 1, "95 % of flights stay below")]


class SpinRow(Record):
    """What the entry ends in before the first recovery input: medians over such flights."""

    mode: Annotated[str, said("of spin, or a mush")]
    alpha_deg: Annotated[float | None, Number("degrees", 1, "angle of attack")]
    yaw_rate_dps: Annotated[float | None, Number("degrees/s", 1, "about the body's z")]
    sink_mps: Annotated[float | None, Number("m/s", 2, "downwards")]
    rate: Annotated[float | None, Number("1", 4, "omega b/(2 V)")]
    share: Annotated[float, Number("1", 4, "of all flights that did so")]


class CaseRow(Record):
    """One manoeuvre and recovery of a set-up: how many flights ended how, and heights."""

    manoeuvre: Annotated[str, said("the manoeuvre")]
    recovery: Annotated[str, said("the recovery")]
    entry_m: Annotated[float, Number("m", what="height above the field at the start")]
    floor_m: Annotated[float, Number("m", what="to be level above")]
    flights: Annotated[int, Number("flights", what="flown")]
    held: Annotated[int, Number("flights", what="that held")]
    recovered: Annotated[int, Number("flights", what="that came back above the floor")]
    lost: Annotated[int, Number("flights", what="never, below_floor and entry_used together")]
    never: Annotated[int, Number("flights", what="that never came back")]
    below_floor: Annotated[int, Number("flights", what="that came back below the floor")]
    entry_used: Annotated[int, Number("flights", what="whose entry used up the height")]
    unresolved: Annotated[int, Number("flights", what="no_trim, guard and step; count against")]
    no_trim: Annotated[int, Number("flights", what="without level flight to start from")]
    guard: Annotated[int, Number("flights", what="that left what can be computed")]
    step: Annotated[int, Number("flights", what="whose numbers ceased to be numbers")]
    touched_high_alpha: Annotated[int, Number("flights", what="held, but beyond it for a moment")]
    hung: Annotated[int, Number("flights", what="that hung in a deep stall")]
    hung_never: Annotated[int, Number("flights", what="of never, for that reason")]
    hung_late: Annotated[int, Number("flights", what="of below_floor, for that reason")]
    sank_never: Annotated[int, Number("flights", what="of never, that had never stalled")]
    faster: Annotated[int, Number("flights", what="begun by the level flight they have")]
    back_low: LowShare
    back_high: HighShare
    height_lost_m: Annotated[HeightsRow, said("first recovery input to level")]
    pull_out_m: Annotated[HeightsRow, said("of it after rotation stopped")]
    entry_height_needed_m: Annotated[HeightsRow, said("start to level, floor included")]
    entry_height_shown_m: ShownFrom
    peak_alpha_deg: Annotated[AnglesRow, said("largest angle of attack")]
    spin: Annotated[SpinRow | None, said("null: no flight stalls and stays so")]


class TrimRow(Record):
    """Level flight at the cruise speed of the study; null: not known."""

    speed_mps: Annotated[float | None, Number("m/s", 2, "cruise speed")]
    found: Annotated[bool, said("false: no level flight there")]
    alpha_deg: Annotated[float | None, Number("degrees", 2, "angle of attack")]
    tail_deg: Annotated[float | None, Number("degrees", 2, "trailing edge down plus")]
    throttle: Annotated[float | None, Number("1", 4, "of full")]
    current_a: Annotated[float | None, Number("A", 2, "of the pack")]
    level_cruise_minutes: Annotated[float | None, Number("min", 2, "this alone, to the reserve")]
    pitch_response_dps2: Annotated[float | None, Number("degrees/s2", 1, "of full aft stick")]
    descent_deg: Annotated[float | None, Number("degrees", 2, "of a glide; null: under power")]


class SetUpRow(Record):
    """One set-up: what it is, weighs and trims like, and what became of its flights."""

    name: Annotated[str, said("as the study has it")]
    title: Annotated[str, said("as it is shown")]
    pack: Annotated[str, said("its pack")]
    mass_g: Annotated[float | None, Number("g", 1, "ready to fly")]
    balance_aft_mm: Annotated[float | None, Number("mm", 2, "balance point aft of the datum")]
    balance_pct_mac: Annotated[float | None, Number("% MAC", 2, "balance point")]
    neutral_point_pct_mac: Annotated[float | None, Number("% MAC", 2, "stick fixed, gyro off")]
    static_margin_pct: Annotated[float | None, Number("% MAC", 2, "stick fixed, gyro off")]
    aft_of_its_limit: Annotated[bool | None, said("null: its combination was not searched")]
    stall_speed_mps: Annotated[float | None, Number("m/s", 2, "power off")]
    wing_loading_kg_m2: Annotated[float | None, Number("kg/m2", 2, "mass over wing area")]
    pack_aft_mm: Annotated[float | None, Number("mm", 1, "the pack's place aft of the datum")]
    added_weights_g: Annotated[dict[str, Grams], said("what the balance point needs besides")]
    loose_weights: Annotated[str, said("in words")]
    throws: Annotated[str, said("in words")]
    nozzle: Annotated[str, said("in words")]
    gyro: Annotated[str, said("in words")]
    trim: Annotated[TrimRow, said("level flight at the cruise speed")]
    cases: Annotated[Many[CaseRow], said("what it flew")]
    deep_stall: Annotated[DeepStallRow | None, said("null: no flight hung")]
    flight_time: Annotated[FlightTimeRow | None, said("null: nothing flies level")]
    agility: Annotated[Many[AgilityRow], said("what it can do")]
    forward_mm: ForwardMm
    forward_limit: Annotated[ForwardRow | None, said("of its pack and combination")]
    forward_of_it_mm: Annotated[float, Number("mm", 1, "set-up forward of that limit; 0: not")]
    more_throw: Annotated[MoreThrowRow | None, said("null: not forward of it")]
    more_area: Annotated[MoreAreaRow | None, said("null: not forward of it, or throw does")]
    structure: Annotated[StructureRow | None, said("servos and wing; null: no flight tells")]


class ManoeuvreLimitRow(Record):
    """The aft limit of one manoeuvre alone."""

    manoeuvre: Annotated[str, said("the manoeuvre")]
    aft_mm: LimitMm
    aft_low_mm: LowMm
    aft_high_mm: HighMm
    at_end: AtEnd
    first_failure_mm: FailureMm


class LimitStepRow(Record):
    """One balance point tried in the search with one recovery."""

    recovery: Annotated[str, said("the recovery")]
    balance_aft_mm: Annotated[float, Number("mm", what="balance point aft of the datum")]
    manoeuvre: Annotated[str, said("the one that lost most there, which the shares are of")]
    not_flown: Annotated[Many[str], said("manoeuvres of the search not flown there at all")]
    draws: Annotated[int, Number("draws", what="to be flown")]
    back: Annotated[int, Number("draws", what="came back; not complete: at most")]
    complete: Annotated[bool, said("false: not every manoeuvre was flown there in full")]
    low: LowShare
    high: HighShare


class NeverMetRow(Record):
    """A manoeuvre that is met at no balance point tried, by no recovery tried."""

    manoeuvre: Annotated[str, said("the manoeuvre")]
    recovery: Annotated[str, said("that loses least at the foremost balance point")]
    balance_aft_mm: Annotated[float, Number("mm", 1, "the foremost, where it was flown out")]
    places: Annotated[int, Number("1", what="balance points flown, met at none")]
    flights: Annotated[int, Number("flights", what="at the foremost")]
    lost: Annotated[int, Number("flights", what="not back above the floor")]
    never: Annotated[int, Number("flights", what="of those, back from no height")]
    lost_low: Annotated[float, Number("1", 4, "lower 95 % limit of the share lost")]
    lost_high: Annotated[float, Number("1", 4, "upper 95 % limit of the share lost")]
    entry_m: Annotated[float, Number("m", 1, "entry height")]
    floor_m: Annotated[float, Number("m", 1, "to be level above")]
    need_m: Annotated[float | None, Number("m", 1, "entry height that 95 % need; null: no end")]
    unresolved: Annotated[int, Number("flights", what="of those lost, without an answer")]
    shown: Annotated[bool, said("false: too many are lost only with the unresolved ones counted")]


class AftLimitRow(Record):
    """How far aft a pack still meets the requirement, for one combination of the rest."""

    pack: Annotated[str, said("the pack")]
    combination: Annotated[str, said("throws, nozzle, gyro and loose weights in words")]
    like: Annotated[str, said("the set-up it was searched as")]
    setups: Annotated[Many[str], said("the study's that have it")]
    gyro: Annotated[str, said("in words")]
    manoeuvres: Annotated[Many[str], said("it holds over all of them")]
    recovery: Annotated[str, said("by which it holds")]
    aft_mm: LimitMm
    aft_low_mm: LowMm
    aft_high_mm: HighMm
    pct_mac: Annotated[float | None, Number("% MAC", 2, "the limit")]
    neutral_mm: Annotated[float | None, Number("mm", 1, "neutral point there, gyro off")]
    neutral_pct_mac: Annotated[float | None, Number("% MAC", 2, "the same")]
    static_margin_pct: Annotated[float | None, Number("% MAC", 2, "at the limit")]
    behind_neutral_mm: Annotated[float, Number("mm", 1, "limit behind the neutral point; 0: not")]
    each: Annotated[Many[ManoeuvreLimitRow], said("manoeuvre by manoeuvre")]
    share_low: LowShare
    share_high: HighShare
    draws_used: Annotated[int, Number("draws", what="at the limit itself")]
    flights_used: Annotated[int, Number("flights", what="of the whole search")]
    at_end: AtEnd
    first_failure_mm: FailureMm
    steps: Annotated[Many[LimitStepRow], said("the search")]
    forward_mm: ForwardMm
    forward_low_mm: Annotated[float | None, Number("mm", 1, "its lower 95 % limit, forward")]
    forward_high_mm: Annotated[float | None, Number("mm", 1, "its upper 95 % limit, aft")]
    forward_nominal_mm: Annotated[float | None, Number("mm", 1, "of the nominal aeroplane")]
    forward_limit: Annotated[ForwardRow | None, said("of the same pack and combination")]
    window: Annotated[WindowRow, said("between the two")]
    more_throw: Annotated[MoreThrowRow | None, said("null: there is a window, or no limit")]
    more_area: Annotated[MoreAreaRow | None, said("null: a window, no limit, or throw does")]
    measuring: Annotated[MeasuringRow | None, said("what measuring would change; null: not told")]
    landing: Annotated[
        Many[LandingPromiseRow],
        said("what measuring does to the forward limit where there is no window; best first"),
    ]
    never: Annotated[Many[NeverMetRow], said("manoeuvres met nowhere, where there is no limit")]
    from_mm: Annotated[
        float | None, Number("mm", 1, "holds from here on, not ahead; null: from the foremost on")
    ]
    ahead: Annotated[Many[NeverMetRow], said("manoeuvres that fail at the foremost, then")]
    without: Annotated["AftLimitRow | None", said("the limit over the others, then; else null")]


class PackRow(Record):
    """How a pack stands against the others, where set-ups differ by their packs alone."""

    pack: Annotated[str, said("the pack")]
    setup: Annotated[str, said("the set-up that stands for it")]
    height_m: Annotated[
        float | None, Number("m", 1, "to fly its worst manoeuvre from; null: not shown")
    ]
    in_question: Annotated[bool, said("meets it, before its aft limit, lands nominally")]
    beaten_by: Annotated[str | None, said("a pack better in all that is compared; null: none")]
    agility_manoeuvre: Annotated[str | None, said("that stands for its agility; null: none")]
    best_compromise: Annotated[bool, said("gives up least of minutes, height and stall speed")]


class FactorRow(Record):
    """How strongly one uncertainty goes with coming back."""

    name: Annotated[str, said("of the uncertainty")]
    correlation: Annotated[float | None, Number("1", 3, "Spearman's rank correlation")]
    measure: Annotated[str, said("with what it goes")]


class CompromisesRow(Record):
    """The set-ups that no other one beats, for a gain and a risk, by middle values."""

    gain: Annotated[str, said("the manoeuvre, by its figure as counted")]
    risk: Annotated[str, said("lost: share lost; height: entry height that 95 % of flights need")]
    setups: Annotated[Many[str], said("the best compromises")]


class StudyRecord(Kind):
    """What a study found: results.json."""

    kind: Literal["aftlimit.results/1"] = Field(alias="schema")
    study: Annotated[str, said("its name")]
    aeroplane: Annotated[str, said("its name")]
    seed: Annotated[int, Number("1", what="of the draws")]
    draws: Annotated[int, Number("draws", what="the most that a case flies")]
    entry_m: Annotated[float, Number("m", what="height above the field at the start")]
    floor_m: Annotated[float, Number("m", what="to be level above")]
    ceiling_m: Annotated[float, Number("m", what="the most height that may be used")]
    required_share_pct: Annotated[float, Number("%", what="of flights to come back")]
    met: Annotated[bool | None, said("null: the draws cannot tell")]
    flights: Annotated[int, Number("flights", what="flown in all")]
    setups: Annotated[Many[SetUpRow], said("in the study's order")]
    packs: Annotated[Many[PackRow], said("empty unless set-ups differ by their packs alone")]
    best_compromises: Annotated[Many[CompromisesRow], said("of gain and risk")]
    aft_limits: Annotated[Many[AftLimitRow], said("that were searched")]
    step_check: Annotated[StepRow | None, said("null: not made")]
    today: Annotated[str, said("the set-up flown today")]
    before_and_after: Annotated[Many[BeforeAfterRow], said("from today's to each other set-up")]
    decided_by: Annotated[Many[FactorRow], said("which uncertainties decided")]
    sources: Annotated[dict[str, str], said("hash of the program, of each file, of each table")]
    departure_criteria: Annotated[Many[DepartureRow], said("against the flights")]
    spins_across_sizes: Annotated[Many[ScaledSpinRow], said("typical spins")]
