"""What each change moved, and what half the step did, as parts of a study's record."""

from typing import Annotated

from sim.judge import Verdict
from sim.record.fields import Lax, Many, Number, Record, said
from sim.study.limits.interval import forward_mm
from sim.study.results.result import BeforeAfter, Change, StudyResult
from sim.study.results.stepped import StepCheck
from sim.study.standing.bought import Traded, What, traded


class ChangeRow(Record):
    """What a set-up is with this and all changes before it; null: not to be had."""

    change: Annotated[str, said("what is changed")]
    balance_aft_mm: Annotated[float | None, Number("mm", 2, "balance point aft of the datum")]
    static_margin_pct: Annotated[float | None, Number("% MAC", 2, "stick fixed, gyro off")]
    tail_deg: Annotated[float | None, Number("degrees", 2, "in level flight, edge down plus")]
    stall_speed_mps: Annotated[float | None, Number("m/s", 2, "power off")]
    pitch_response_dps2: Annotated[float | None, Number("degrees/s2", 1, "of full aft stick")]
    aft_limit_first_failure_mm: Annotated[
        float | None, Number("mm", what="where its search first failed")
    ]
    aft_limit_at_end: Annotated[bool, said("nothing failed: the limit lies beyond")]
    aft_limit_mm: Annotated[float | None, Number("mm", what="null: none, or not searched")]
    aft_limit_low_mm: Annotated[int | None, Number("mm", what="lower 95 % limit; null: unbounded")]
    aft_limit_high_mm: Annotated[int | None, Number("mm", what="upper 95 % limit; null: unbounded")]
    flown: Annotated[bool, said("whether the study flew it")]
    entry_height_shown_m: Annotated[
        float | None, Number("m", 1, "all it flew is shown from; null: not flown, or no height")
    ]
    mass_g: Annotated[float | None, Number("g", 1)]
    throttle: Annotated[float | None, Number("1", 4, "level, nominal; null: no level flight")]
    current_a: Annotated[float | None, Number("A", 2, "level, nominal; null: no level flight")]
    static_thrust_n: Annotated[float | None, Number("N", 2, "nominal")]
    thrust_to_weight: Annotated[float | None, Number("1", 4, "static, nominal")]
    top_mps: Annotated[float | None, Number("m/s", 2, "level, nominal; null: no level flight")]
    minutes: Annotated[float | None, Number("min", 2, "flight time, median; null: unknown")]
    forward_limit_mm: Annotated[float | None, Number("mm", 1, "null: none, or not looked for")]
    window_mm: Annotated[float | None, Number("mm", 1, "its width; null: an end is not known")]


class MovedRow(Record):
    """A number that moved by more than it is known to."""

    what: Annotated[Lax[What], said("what moved, its unit at the end")]
    was: Annotated[float | None, Number("as named", 4, "before; null: not to be had, or no end")]
    now: Annotated[float | None, Number("as named", 4, "after; null: not to be had, or no end")]
    manoeuvre: Annotated[str, said("the manoeuvre that tells it; empty: none")]
    shows: Annotated[str, said("kind of what is shown; empty: nothing is")]


class TradedRow(Record):
    """What a change bought and what it cost."""

    change: Annotated[str, said("what is changed")]
    bought: Annotated[Many[MovedRow], said("what is better by it")]
    cost: Annotated[Many[MovedRow], said("what is worse by it")]
    flown: Annotated[bool, said("flights stand at both ends; false: they tell nothing of it")]
    had: Annotated[bool, said("false: it cannot be had")]


class BeforeAfterRow(Record):
    """From the set-up flown today to another: a line for each thing that changes."""

    before: Annotated[str, said("the set-up flown today")]
    after: Annotated[str, said("the set-up it is changed to")]
    level_mps: Annotated[float | None, Number("m/s", 2, "of the level flight in the lines")]
    lines: Annotated[Many[ChangeRow], said("change by change")]
    traded: Annotated[Many[TradedRow], said("what each bought and cost, then all together")]


class TurnedRow(Record):
    """A flight whose verdict is another at half the step."""

    setup: Annotated[str, said("the set-up")]
    manoeuvre: Annotated[str, said("the manoeuvre")]
    recovery: Annotated[str, said("the recovery")]
    draw: Annotated[int, Number("1", what="number of the draw")]
    was: Annotated[Lax[Verdict], said("its verdict")]
    became: Annotated[Lax[Verdict], said("its verdict at half the step")]


class StepRow(Record):
    """What half the integration step did to a sample of flights."""

    flights: Annotated[int, Number("flights", what="of the sample")]
    half_step_s: Annotated[float, Number("s", what="the step they were flown at again")]
    most_lowest_m: Annotated[float | None, Number("m", 4, "most that a lowest height moved")]
    most_height_lost_m: Annotated[float | None, Number("m", 4, "most that a height lost moved")]
    median_m: Annotated[float | None, Number("m", 5, "of what flights moved")]
    beyond_1_cm: Annotated[int, Number("flights", what="that moved by more than 1 cm")]
    beyond_1_m: Annotated[int, Number("flights", what="that moved by more than 1 m")]
    turned: Annotated[Many[TurnedRow], said("flights whose verdict changed")]


def changes_row(one: BeforeAfter, result: StudyResult) -> BeforeAfterRow:
    """Return the row of a before and after of a study."""
    return BeforeAfterRow(
        before=one.before,
        after=one.after,
        level_mps=one.speed_mps,
        lines=[_change(line) for line in one.lines],
        traded=[_traded(x) for x in traded(one, result)],
    )


def _traded(x: Traded) -> TradedRow:
    return TradedRow(
        change=x.change,
        bought=[MovedRow.model_validate(one) for one in x.bought],
        cost=[MovedRow.model_validate(one) for one in x.cost],
        flown=x.flown,
        had=x.had,
    )


def _change(line: Change) -> ChangeRow:
    return ChangeRow(
        change=line.what,
        balance_aft_mm=line.balance_aft_mm,
        static_margin_pct=line.static_margin_pct,
        tail_deg=line.tail_deg,
        stall_speed_mps=line.stall_speed_mps,
        pitch_response_dps2=line.pitch_response_dps2,
        aft_limit_first_failure_mm=line.limit_fails_mm,
        aft_limit_at_end=line.limit_at_end,
        aft_limit_mm=line.limit_mm,
        aft_limit_low_mm=forward_mm(line.limit_low_mm),
        aft_limit_high_mm=forward_mm(line.limit_high_mm),
        flown=line.height_m is not None,
        entry_height_shown_m=line.height_m,
        mass_g=line.mass_g,
        throttle=line.throttle,
        current_a=line.current_a,
        static_thrust_n=line.static_thrust_n,
        thrust_to_weight=line.thrust_to_weight,
        top_mps=line.top_mps,
        minutes=line.minutes,
        forward_limit_mm=None if line.forward is None else line.forward.aft_mm,
        window_mm=line.window_mm,
    )


def step_row(step: StepCheck | None) -> StepRow | None:
    """Return the row of the check by half the step; None where there is none."""
    if step is None:
        return None
    return StepRow(
        flights=step.flights,
        half_step_s=step.step_s / 2.0,
        most_lowest_m=step.most_lowest_m,
        most_height_lost_m=step.most_lost_m,
        median_m=step.median_m,
        beyond_1_cm=step.beyond_centimetre,
        beyond_1_m=step.beyond_metre,
        turned=[TurnedRow.model_validate(one) for one in step.turned],
    )
