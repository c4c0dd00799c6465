"""Write what a study found: results.json and flights.csv."""

from collections.abc import Sequence
from pathlib import Path

from sim.pack.assemble import Assembled
from sim.record.files import write_record
from sim.record.flights import flights_csv
from sim.record.models.agility import agility_row
from sim.record.models.beyond import departure_rows, scaled_rows
from sim.record.models.changes import changes_row, step_row
from sim.record.models.deep_stall import HeightsRow, deep_stall_row
from sim.record.models.flight_time import flight_time_row
from sim.record.models.landing import forward_keys, forward_row, window_row
from sim.record.models.measuring import LandingPromiseRow, measuring_row
from sim.record.models.more_area import more_area_row
from sim.record.models.more_throw import more_throw_row
from sim.record.models.results import (
    AftLimitRow,
    AnglesRow,
    CaseRow,
    CompromisesRow,
    FactorRow,
    LimitStepRow,
    ManoeuvreLimitRow,
    NeverMetRow,
    PackRow,
    SetUpRow,
    SpinRow,
    StudyRecord,
    TrimRow,
)
from sim.record.models.structure import structure_row
from sim.study.limits.interval import forward_mm
from sim.study.results.aft_limit import AftLimit, ManoeuvreLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult, TrimLine
from sim.study.standing.bands import aft_of, own_limit
from sim.study.standing.heights import height_to_meet
from sim.study.standing.outcomes import study_met
from sim.study.standing.packs import PackChoice, pack_choices
from sim.study.standing.trade import RISKS, best_compromises
from sim.study.standing.window import forward_of_limit
from sim.written import write_atomically


def study_record(result: StudyResult, ready: Sequence[Assembled]) -> StudyRecord:
    """Return a study's record; the same on any number of workers.

    ``ready`` are its set-ups in its order, nominal.
    """
    return StudyRecord(
        schema="aftlimit.results/1",
        version=result.version,
        study=result.study,
        aeroplane=result.aeroplane,
        seed=result.seed,
        draws=result.draws,
        entry_m=result.entry_m,
        floor_m=result.floor_m,
        ceiling_m=result.ceiling_m,
        required_share_pct=result.required_share_pct,
        met=study_met(result),
        flights=result.flights,
        setups=[_setup(setup, result) for setup in result.setups],
        packs=[_pack(x) for x in pack_choices(result)],
        best_compromises=_compromises(result),
        aft_limits=[_limit(limit) for limit in result.aft_limits],
        step_check=step_row(result.step),
        today=result.today,
        before_and_after=[changes_row(one, result) for one in result.changes],
        decided_by=[FactorRow.model_validate(factor) for factor in result.factors],
        sources=dict(result.sources),
        departure_criteria=departure_rows(result, ready),
        spins_across_sizes=scaled_rows(result, ready),
    )


def write_study(record: StudyRecord, result: StudyResult, folder: Path) -> None:
    """Write results.json and flights.csv into a study's folder."""
    write_record(record, folder / "results.json")
    write_atomically(folder / "flights.csv", flights_csv(result).encode())


def _setup(setup: SetUpResult, result: StudyResult) -> SetUpRow:
    limit = own_limit(result.aft_limits, setup)
    return SetUpRow(
        name=setup.name,
        title=setup.title,
        pack=setup.pack,
        mass_g=setup.mass_g,
        balance_aft_mm=setup.balance_aft_mm,
        balance_pct_mac=setup.balance_pct_mac,
        neutral_point_pct_mac=setup.neutral_point_pct_mac,
        static_margin_pct=setup.static_margin_pct,
        aft_of_its_limit=None if limit is None else aft_of(setup.balance_aft_mm, limit),
        stall_speed_mps=setup.stall_speed_mps,
        wing_loading_kg_m2=setup.wing_loading_kg_m2,
        pack_aft_mm=setup.pack_aft_mm,
        added_weights_g=dict(setup.added_weights),
        loose_weights=setup.weights,
        throws=setup.throws,
        nozzle=setup.nozzle,
        gyro=setup.gyro,
        trim=_trim(setup.trim),
        cases=[_case(case, result) for case in setup.cases],
        deep_stall=deep_stall_row(setup.deep_stall),
        flight_time=flight_time_row(setup.flight_time),
        agility=[agility_row(one) for one in setup.agility],
        forward_mm=None if setup.forward is None else setup.forward.aft_mm,
        forward_limit=forward_row(setup.forward),
        forward_of_it_mm=forward_of_limit(setup),
        more_throw=more_throw_row(setup.more_throw),
        more_area=more_area_row(setup.more_area),
        structure=structure_row(setup.structure),
    )


def _pack(choice: PackChoice) -> PackRow:
    return PackRow(
        pack=choice.setup.pack,
        setup=choice.setup.name,
        height_m=choice.height_m,
        in_question=choice.in_question,
        beaten_by=choice.beaten_by,
        best_compromise=choice.best,
        agility_manoeuvre=None if choice.telling is None else choice.telling.manoeuvre,
    )


def _compromises(result: StudyResult) -> list[CompromisesRow]:
    gains = [one.manoeuvre for one in result.setups[0].agility] if result.setups else []
    return [
        CompromisesRow(
            gain=gain,
            risk=risk,
            setups=best_compromises(result.setups, gain, risk, result.required_share_pct),
        )
        for gain in gains
        for risk in RISKS
    ]


def _trim(trim: TrimLine) -> TrimRow:
    return TrimRow(
        speed_mps=trim.speed_mps,
        found=trim.found,
        alpha_deg=trim.alpha_deg,
        tail_deg=trim.tail_deg,
        throttle=trim.throttle,
        current_a=trim.current_a,
        level_cruise_minutes=trim.minutes,
        pitch_response_dps2=trim.pitch_response_dps2,
        descent_deg=trim.descent_deg,
    )


def _case(case: CaseResult, result: StudyResult) -> CaseRow:
    shares = case.shares
    return CaseRow(
        manoeuvre=case.manoeuvre,
        recovery=case.recovery,
        entry_m=case.entry_m,
        floor_m=case.floor_m,
        flights=shares.flights,
        held=shares.held,
        recovered=shares.recovered,
        lost=shares.lost,
        never=shares.never,
        below_floor=shares.below_floor,
        entry_used=shares.entry_used,
        unresolved=shares.unresolved,
        no_trim=shares.no_trim,
        guard=shares.guard,
        step=shares.step,
        touched_high_alpha=shares.touched,
        hung=shares.hung,
        hung_never=shares.hung_never,
        hung_late=shares.hung_late,
        sank_never=shares.sank_never,
        faster=shares.faster,
        back_low=shares.back_low,
        back_high=shares.back_high,
        height_lost_m=HeightsRow.model_validate(case.height_lost_m),
        pull_out_m=HeightsRow.model_validate(case.pull_out_m),
        entry_height_needed_m=HeightsRow.model_validate(case.entry_height_needed_m),
        entry_height_shown_m=height_to_meet(case, result.required_share_pct, result.draws),
        peak_alpha_deg=AnglesRow.model_validate(case.peak_alpha_deg),
        spin=None if case.spin is None else SpinRow.model_validate(case.spin),
    )


def _limit(limit: AftLimit) -> AftLimitRow:
    return AftLimitRow(
        pack=limit.pack,
        combination=limit.combination,
        like=limit.like,
        setups=limit.setups,
        gyro=limit.gyro,
        manoeuvres=limit.manoeuvres,
        recovery=limit.recovery,
        aft_mm=limit.aft_mm,
        aft_low_mm=forward_mm(limit.low_mm),
        aft_high_mm=forward_mm(limit.high_mm),
        pct_mac=limit.pct_mac,
        neutral_mm=limit.neutral_mm,
        neutral_pct_mac=limit.neutral_pct_mac,
        static_margin_pct=limit.margin_pct,
        behind_neutral_mm=limit.behind_neutral_mm,
        each=[_manoeuvre_limit(one) for one in limit.each],
        share_low=limit.share_low,
        share_high=limit.share_high,
        draws_used=limit.draws_used,
        flights_used=limit.flights_used,
        at_end=limit.at_end,
        first_failure_mm=limit.first_failure_mm,
        steps=[LimitStepRow.model_validate(step) for step in limit.steps],
        **forward_keys(limit.forward),
        forward_limit=forward_row(limit.forward),
        window=window_row(limit.forward, limit),
        more_throw=more_throw_row(limit.more_throw),
        more_area=more_area_row(limit.more_area),
        measuring=measuring_row(limit.measuring),
        landing=[LandingPromiseRow.model_validate(one) for one in limit.landing],
        never=[NeverMetRow.model_validate(one) for one in limit.never],
        from_mm=limit.from_mm,
        ahead=[NeverMetRow.model_validate(one) for one in limit.ahead],
        without=None if limit.without is None else _limit(limit.without),
    )


def _manoeuvre_limit(one: ManoeuvreLimit) -> ManoeuvreLimitRow:
    return ManoeuvreLimitRow(
        manoeuvre=one.manoeuvre,
        aft_mm=one.aft_mm,
        aft_low_mm=forward_mm(one.low_mm),
        aft_high_mm=forward_mm(one.high_mm),
        at_end=one.at_end,
        first_failure_mm=one.first_failure_mm,
    )
