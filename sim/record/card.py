"""The numbers of a flight card and its ladder, ready for JSON."""

from typing import Any

from sim.record.deep_stall import deep_stall_json
from sim.show.card.card import Card
from sim.show.words.ladder_ends import refusal_text
from sim.show.words.throws import Throw
from sim.study.ladder.fit import Refused
from sim.study.ladder.ladder import Ladder, Step
from sim.study.ladder.predictions import Band
from sim.study.limits.interval import forward_mm
from sim.study.result import AftLimit, CaseResult, SetUpResult, StudyResult
from sim.study.standing.outcomes import best_recovery, recovery_of, setup_outcome
from sim.version import __version__


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
        "outcome": setup_outcome(found, result.required_share_pct).value,
        "to_be_flown": ladder.reached,
        "verdict": card.verdict,
        "order": card.order,
        "answer": list(card.answer),
        "mass_g": round(found.mass_g, 1),
        "balance_aft_mm": round(found.balance_aft_mm, 2),
        "balance_pct_mac": round(found.balance_pct_mac, 2),
        "static_margin_pct": round(found.static_margin_pct, 2),
        "pack": found.pack,
        "pack_aft_mm": round(found.pack_aft_mm, 1),
        "added_weights_g": {name: round(grams, 1) for name, grams in found.added_weights},
        "combination": {
            "loose_weights": found.weights,
            "throws": found.throws,
            "nozzle": found.nozzle,
            "gyro": found.gyro,
        },
        "aft_limit": _limit(ladder.limit),
        "stall_speed_mps": round(found.stall_speed_mps, 2),
        "speeds": dict(card.speeds),
        "throws": [_throw(x) for x in card.travel],
        "recovery_name": recovery_of(result, found),
        "manoeuvres": [_case(x) for x in best_recovery(found, result.required_share_pct)],
        "recovery": list(card.recovery),
        "stop_if": list(card.aborts),
        "deep_stall": deep_stall_json(found.deep_stall),
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
        "not_back": {reason.value: count for reason, count in case.shares.reasons.items()},
        "height_lost_p95_m": None if lost is None else round(lost, 1),
        "entry_height_needed_p95_m": None if need is None else round(need, 1),
    }


def _band(band: Band, digits: int) -> dict[str, float | None]:
    return {
        name: _rounded(value, digits)
        for name, value in (("p10", band.low), ("median", band.middle), ("p90", band.high))
    }


def _limit(limit: AftLimit | None) -> dict[str, Any] | None:
    """Return the aft limit of the card's own pack and combination; None: not searched."""
    if limit is None:
        return None
    return {
        "aft_mm": limit.aft_mm,
        "aft_low_mm": forward_mm(limit.low_mm),
        "aft_high_mm": forward_mm(limit.high_mm),
        "at_end": limit.at_end,
        "manoeuvres": list(limit.manoeuvres),
        "recovery": limit.recovery,
        "neutral_mm": _rounded(limit.neutral_mm, 1),
        "behind_neutral_mm": round(limit.behind_neutral_mm, 1),
        "gyro": limit.gyro,
    }


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)


def _refused(refused: Refused | None, ladder: Ladder) -> dict[str, Any] | None:
    if refused is None:
        return None
    return {
        "why": refused.end.value,
        "what": refused.what,
        "balance_aft_mm": round(refused.balance_aft_mm, 2),
        "told": refusal_text(refused, ladder),
        "case": None if refused.case is None else _case(refused.case),
    }


def _ladder(ladder: Ladder) -> dict[str, Any]:
    return {
        "wanted_aft_mm": round(ladder.wanted_mm, 2),
        "today": ladder.today,
        "today_named_by_the_study": ladder.named,
        "today_aft_mm": round(ladder.start_mm, 2),
        "today_not_to_be_flown": _refused(ladder.skipped, ladder),
        "ends": ladder.end.value,
        "refused": _refused(ladder.refused, ladder),
        "afresh_because_of": _refused(ladder.blocked, ladder),
        "not_to_be_had": [
            {"what": x.what, "balance_aft_mm": round(x.balance_aft_mm, 2), "why": x.why}
            for x in ladder.missing
        ],
        "ceiling_m": ladder.ceiling_m,
        "draws": ladder.draws,
        "speed_mps": round(ladder.speed_mps, 2),
        "steps": [_step(step) for step in ladder.steps],
    }


def _step(step: Step) -> dict[str, Any]:
    spin = step.case.spin
    return {
        "change": step.kind,
        "what": step.what,
        "pack": step.pack,
        "balance_aft_mm": round(step.balance_aft_mm, 2),
        "balance_pct_mac": round(step.balance_pct_mac, 2),
        "pack_aft_mm": round(step.pack_aft_mm, 1),
        "not_yet_as_wanted": list(step.unlike),
        "added_weights_g": {name: round(grams, 1) for name, grams in step.added_weights},
        "fly": _case(step.case),
        "not_to_be_flown": {case.manoeuvre: why.value for case, why in step.left_out},
        "tail_deg": _band(step.seen.tail_deg, 2),
        "stall_speed_mps": _band(step.seen.stall_mps, 2),
        "height_lost_m": _band(step.seen.height_lost_m, 1),
        "most_entry_height_needed_m": _rounded(step.seen.most_needed_m, 1),
        "departed": step.seen.departed,
        "spin": None if spin is None else spin.mode,
        "spin_yaw_rate_dps": None if spin is None else round(spin.yaw_rate_dps, 1),
    }
