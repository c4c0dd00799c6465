"""The numbers of a flight card and its ladder, ready for JSON."""

from typing import Any

from sim import __version__
from sim.show.card import Card
from sim.show.throws import Throw
from sim.study.ladder import Ladder, Step
from sim.study.predictions import Band
from sim.study.result import CaseResult, SetUpResult, StudyResult


def card_json(
    card: Card, result: StudyResult, found: SetUpResult, ladder: Ladder
) -> dict[str, Any]:
    """Return what a card and its ladder say, in numbers where it is one."""
    return {
        "schema": "aftlimit.card/1",
        "version": __version__,
        "study": result.study,
        "aeroplane": result.aeroplane,
        "setup": found.name,
        "verdict": card.verdict,
        "mass_g": round(found.mass_g, 1),
        "balance_aft_mm": round(found.balance_aft_mm, 2),
        "balance_pct_mac": round(found.balance_pct_mac, 2),
        "pack": found.pack,
        "pack_aft_mm": round(found.pack_aft_mm, 1),
        "added_weights_g": {name: round(grams, 1) for name, grams in found.added_weights},
        "stall_speed_mps": round(found.stall_speed_mps, 2),
        "speeds": dict(card.speeds),
        "throws": [_throw(x) for x in card.travel],
        "manoeuvres": [_case(x) for x in found.cases],
        "recovery": list(card.recovery),
        "stop_if": list(card.aborts),
        "ladder": _ladder(ladder),
    }


def _throw(throw: Throw) -> dict[str, Any]:
    return {
        "channel": throw.channel,
        "stick": throw.stick,
        "up_deg": round(throw.up_deg, 2),
        "up_mm": round(throw.up_mm, 1),
        "down_deg": round(throw.down_deg, 2),
        "down_mm": round(throw.down_mm, 1),
    }


def _case(case: CaseResult) -> dict[str, Any]:
    need, lost = case.entry_height_needed_m.p95, case.height_lost_m.p95
    return {
        "manoeuvre": case.manoeuvre,
        "recovery": case.recovery,
        "entry_m": case.entry_m,
        "floor_m": case.floor_m,
        "flights": case.shares.flights,
        "back": case.shares.back,
        "back_low": round(case.shares.back_low, 4),
        "back_high": round(case.shares.back_high, 4),
        "height_lost_p95_m": None if lost is None else round(lost, 1),
        "entry_height_needed_p95_m": None if need is None else round(need, 1),
    }


def _band(band: Band, digits: int) -> dict[str, float | None]:
    return {
        name: None if value is None else round(value, digits)
        for name, value in (("p10", band.low), ("median", band.middle), ("p90", band.high))
    }


def _ladder(ladder: Ladder) -> dict[str, Any]:
    return {
        "wanted_aft_mm": round(ladder.wanted_mm, 2),
        "starts_from": ladder.origin.value,
        "ends": ladder.end.value,
        "refused_aft_mm": ladder.refused_mm,
        "out_of_reach_aft_mm": list(ladder.out_of_reach_mm),
        "ceiling_m": ladder.ceiling_m,
        "draws": ladder.draws,
        "speed_mps": round(ladder.speed_mps, 2),
        "steps": [_step(step) for step in ladder.steps],
    }


def _step(step: Step) -> dict[str, Any]:
    spin = step.case.spin
    return {
        "balance_aft_mm": round(step.balance_aft_mm, 2),
        "balance_pct_mac": round(step.balance_pct_mac, 2),
        "pack_aft_mm": round(step.pack_aft_mm, 1),
        "added_weights_g": {name: round(grams, 1) for name, grams in step.added_weights},
        "fly": _case(step.case),
        "not_to_be_flown": [case.manoeuvre for case, _ in step.left_out],
        "tail_deg": _band(step.seen.tail_deg, 2),
        "stall_speed_mps": _band(step.seen.stall_mps, 2),
        "height_lost_m": _band(step.seen.height_lost_m, 1),
        "departed": step.seen.departed,
        "spin": None if spin is None else spin.mode,
        "spin_yaw_rate_dps": None if spin is None else round(spin.yaw_rate_dps, 1),
    }
