"""A flight card and its ladder as a record."""

from sim.record.models.card import (
    CardCaseRow,
    CardLimitRow,
    CardRecord,
    CombinationRow,
    DegreesBand,
    FastRow,
    HeightBand,
    LadderRow,
    MissingRow,
    RefusedRow,
    SpeedBand,
    StepRow,
    ThrowRow,
)
from sim.record.models.deep_stall import deep_stall_row
from sim.record.models.flight_time import flight_time_row
from sim.record.models.gyro_check import gyro_check_row
from sim.record.models.landing import forward_row, window_row
from sim.record.models.more_throw import more_throw_row
from sim.show.card.card import Card
from sim.show.words.ladder_ends import refusal_text
from sim.study.forward import Fast
from sim.study.gyro_check import GyroCheck
from sim.study.ladder.climbing import Step
from sim.study.ladder.fit import Refused
from sim.study.ladder.ladder import Ladder
from sim.study.ladder.predictions import Band
from sim.study.limits.interval import forward_mm
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.outcomes import best_recovery, recovery_of, setup_outcome
from sim.study.standing.packs import cannot_land
from sim.study.standing.window import forward_of_limit
from sim.version import __version__


def card_record(
    card: Card,
    result: StudyResult,
    setup: SetUpResult,
    ladder: Ladder,
    check: GyroCheck | None = None,
) -> CardRecord:
    """Return the record of a card, its ladder and the check of its gyro."""
    return CardRecord(
        schema="aftlimit.card/1",
        version=__version__,
        study=result.study,
        aeroplane=result.aeroplane,
        setup=setup.name,
        outcome=setup_outcome(setup, result.required_share_pct),
        to_be_flown=ladder.reached and not cannot_land(setup),
        verdict=card.verdict,
        order=card.order,
        answer=card.answer,
        mass_g=setup.mass_g,
        balance_aft_mm=setup.balance_aft_mm,
        balance_pct_mac=setup.balance_pct_mac,
        static_margin_pct=setup.static_margin_pct,
        pack=setup.pack,
        pack_aft_mm=setup.pack_aft_mm,
        added_weights_g=dict(setup.added_weights),
        combination=CombinationRow(
            loose_weights=setup.weights, throws=setup.throws, nozzle=setup.nozzle, gyro=setup.gyro
        ),
        aft_limit=_limit(ladder.limit),
        forward_limit=forward_row(setup.forward),
        window=window_row(setup.forward, ladder.limit),
        forward_of_it_mm=forward_of_limit(setup),
        more_throw=more_throw_row(setup.more_throw),
        lands_fast=_fast(ladder.fast),
        stall_speed_mps=setup.stall_speed_mps,
        speeds=dict(card.speeds),
        throws=[ThrowRow.model_validate(throw) for throw in card.travel],
        sticks_check=card.sticks_check,
        turns_check=card.turns_check,
        gyro=card.gyro_note,
        gyro_told=card.gyro_check,
        gyro_check=gyro_check_row(check),
        recovery_name=recovery_of(result, setup),
        manoeuvres=[_case(x) for x in best_recovery(setup, result.required_share_pct)],
        recovery=card.recovery,
        flight_time=flight_time_row(setup.flight_time),
        stop_if=card.aborts,
        deep_stall=deep_stall_row(setup.deep_stall),
        ladder=_ladder(ladder),
    )


def _case(case: CaseResult) -> CardCaseRow:
    return CardCaseRow(
        manoeuvre=case.manoeuvre,
        recovery=case.recovery,
        entry_m=case.entry_m,
        floor_m=case.floor_m,
        flights=case.shares.flights,
        back=case.shares.back,
        back_low=case.shares.back_low,
        back_high=case.shares.back_high,
        not_back={reason.value: count for reason, count in case.shares.reasons.items()},
        height_lost_p95_m=case.height_lost_m.p95,
        entry_height_needed_p95_m=case.entry_height_needed_m.p95,
    )


def _fast(fast: Fast | None) -> FastRow | None:
    return None if fast is None else FastRow.model_validate(fast)


def _points(band: Band) -> dict[str, float | None]:
    return {"p10": band.low, "median": band.middle, "p90": band.high}


def _limit(limit: AftLimit | None) -> CardLimitRow | None:
    """Return the aft limit of the card's own pack and combination; None: not searched."""
    if limit is None:
        return None
    return CardLimitRow(
        aft_mm=limit.aft_mm,
        aft_low_mm=forward_mm(limit.low_mm),
        aft_high_mm=forward_mm(limit.high_mm),
        at_end=limit.at_end,
        manoeuvres=limit.manoeuvres,
        recovery=limit.recovery,
        neutral_mm=limit.neutral_mm,
        behind_neutral_mm=limit.behind_neutral_mm,
        gyro=limit.gyro,
    )


def _refused(refused: Refused | None) -> RefusedRow | None:
    if refused is None:
        return None
    return RefusedRow(
        why=refused.end,
        what=refused.what,
        balance_aft_mm=refused.balance_aft_mm,
        told=refusal_text(refused),
        case=None if refused.case is None else _case(refused.case),
    )


def _ladder(ladder: Ladder) -> LadderRow:
    return LadderRow(
        wanted_aft_mm=ladder.wanted_mm,
        today=ladder.today,
        today_named_by_the_study=ladder.named,
        today_aft_mm=ladder.start_mm,
        today_not_to_be_flown=_refused(ladder.skipped),
        ends=ladder.end,
        refused=_refused(ladder.refused),
        afresh_because_of=_refused(ladder.blocked),
        not_to_be_had=[MissingRow.model_validate(x) for x in ladder.missing],
        ceiling_m=ladder.ceiling_m,
        draws=ladder.draws,
        speed_mps=ladder.speed_mps,
        today_tail_deg=DegreesBand(**_points(ladder.today_tail)),
        own_tail_deg=DegreesBand(**_points(ladder.own_tail)),
        steps=[_step(step) for step in ladder.steps],
    )


def _step(step: Step) -> StepRow:
    seen, spin = step.seen, step.case.spin
    return StepRow(
        change=step.kind,
        what=step.what,
        pack=step.pack,
        balance_aft_mm=step.balance_aft_mm,
        balance_pct_mac=step.balance_pct_mac,
        pack_aft_mm=step.pack_aft_mm,
        not_yet_as_wanted=step.unlike,
        added_weights_g=dict(step.added_weights),
        fly=_case(step.case),
        not_to_be_flown={case.manoeuvre: why for case, why in step.left_out},
        tail_deg=DegreesBand(**_points(seen.tail_deg)),
        stall_speed_mps=SpeedBand(**_points(seen.stall_mps)),
        height_lost_m=HeightBand(**_points(seen.height_lost_m)),
        most_entry_height_needed_m=seen.most_needed_m,
        lands_fast=_fast(step.fast),
        departed=seen.departed,
        spin=None if spin is None else spin.mode,
        spin_yaw_rate_dps=None if spin is None else spin.yaw_rate_dps,
    )
