"""Sentences and short phrases that console and report share: results in a pilot's words."""

from collections.abc import Sequence
from enum import StrEnum

import numpy as np

from sim.core import script_layout as s
from sim.describe.study import ENTRY_M, LEAST_DRAWS_FOR_A_LIMIT
from sim.judge import Shares, Spin
from sim.study.standing import Outcome, best_recovery, outcome, worst, worst_case
from sim.study.result import AftLimit, CaseResult, SetUpResult, StudyResult

# The order of a check list; shown with every result.
CAUTIONS = (
    "A simulation is no proof of airworthiness: it says what is likely, from what was typed in.",
    "Test in steps, one change at a time, with height in hand, and go back at the first "
    "surprise; write down the limits at which you stop before you take off.",
    "Keep your distance from people, never fly over them, and have a spotter who calls the height.",
    "Local law and the rules of the club come first, whatever is printed here.",
)
CAUTION = (
    "A simulation is no proof of airworthiness. Test in steps, with height in hand, away from "
    "people, with a spotter; local law and club rules come first."
)
OUTCOME_WORDS = {
    Outcome.MET: "meets the requirement",
    Outcome.OPEN: "undecided: too few draws to tell",
    Outcome.NOT_MET: "does not meet the requirement",
}
MEDIAN, P95 = 0.5, 0.95
STRONG, MODERATE, WEAK = 0.5, 0.3, 0.15  # words for a rank correlation (common practice)


def limits_text(low: float, high: float) -> str:
    """Return two shares as whole percent; the lower is rounded down, so as to claim no more."""
    return f"{np.floor(100.0 * low + 1e-9):.0f}-{100.0 * high:.0f} %"


def share_text(shares: Shares) -> str:
    """Return "61 of 64 came back (95 % limits 87-98 %)", and what was not resolved."""
    resolved = shares.flights - shares.unresolved
    text = f"{shares.back} of {resolved} came back (95 % limits "
    text += limits_text(shares.back_low, shares.back_high) + ")"
    if shares.unresolved:
        text += f", {shares.unresolved} more could not be resolved"
    return text


def at_least_m(rows: np.ndarray, column: int, quantile: float) -> float | None:
    """Return a height [m] that a quantile exceeds, from rows (n, N_SUMMARY).

    Flights that never came back count with the height they had lost when the flight was
    ended, so the quantile of what is known lies below the true one. None without rows.
    """
    if len(rows) == 0:
        return None
    return float(np.quantile(rows[:, column], quantile, method="inverted_cdf"))


def height_text(
    value: float | None, case: CaseResult, column: int, quantile: float, plus_m: float = 0.0
) -> str:
    """Return a height in whole metres, "more than X" where it has no end, or "never".

    ``column`` of the case's rows, and ``plus_m`` on top of it, give the X.
    """
    if value is not None:
        return f"{value:.0f}"
    if case.shares.never >= case.shares.flights - case.shares.unresolved:
        return "never"
    known = at_least_m(case.rows, column, quantile)
    return "never" if known is None else f"more than {known + plus_m:.0f}"


def lost_texts(case: CaseResult) -> tuple[str, str]:
    """Return median and 95th percentile of the height lost after the first recovery input."""
    lost = case.height_lost_m
    return (
        height_text(lost.median, case, s.R_HEIGHT_LOST, MEDIAN),
        height_text(lost.p95, case, s.R_HEIGHT_LOST, P95),
    )


def needed_texts(case: CaseResult) -> tuple[str, str]:
    """Return median and 95th percentile of the entry height needed, floor included."""
    need = case.entry_height_needed_m
    return (
        height_text(need.median, case, s.R_DROP, MEDIAN, case.floor_m),
        height_text(need.p95, case, s.R_DROP, P95, case.floor_m),
    )


class Budget(StrEnum):
    """How the entry height that 95 % of flights need stands against the height there is.

    ``ABOVE``: the study's entry height is enough, but lies above the usual legal ceiling,
    and so does the need. ``SHORT``: the need lies below the ceiling, but above the study's
    entry height. ``NO``: it lies above both.
    """

    FITS = "fits"
    SHORT = "short"
    ABOVE = "above ceiling"
    NO = "no"


def budget(case: CaseResult) -> Budget:
    """Return how a manoeuvre stands against its entry height and the usual legal ceiling."""
    need = case.entry_height_needed_m.p95
    if need is None:
        return Budget.NO
    if need <= case.entry_m:
        return Budget.FITS if need <= ENTRY_M else Budget.ABOVE
    return Budget.SHORT if need <= ENTRY_M else Budget.NO


def budget_text(case: CaseResult) -> str:
    """Return whether a manoeuvre fits between its entry height and its floor, in words."""
    found = budget(case)
    if found is Budget.FITS:
        return f"fits into {min(case.entry_m, ENTRY_M):.0f} m"
    if found is Budget.SHORT:
        return f"needs more than the {case.entry_m:.0f} m of the study"
    told = f"cannot be tested lawfully from {ENTRY_M:.0f} m here"
    if found is Budget.ABOVE:
        return f"{told}; fits into {case.entry_m:.0f} m, where that is allowed"
    return told


def time_text(result: StudyResult) -> str:
    """Return how many flights there are, how many an earlier run had flown, and the time."""
    kept = f", {result.kept} of them kept from an earlier run" if result.kept else ""
    return f"{result.flights} flights{kept}; {result.seconds:.0f} s."


def spin_text(spin: Spin | None) -> str:
    """Return a spin in one line: mode, angle, yaw rate and sink."""
    if spin is None:
        return "no spin"
    return (
        f"{spin.mode}: alpha {spin.alpha_deg:.0f} deg, yaw {spin.yaw_rate_dps:.0f} deg/s, "
        f"sink {spin.sink_mps:.1f} m/s"
    )


def strength_word(correlation: float) -> str:
    """Return a word for the strength of a rank correlation."""
    size = abs(correlation)
    for bound, word in ((STRONG, "strong"), (MODERATE, "moderate"), (WEAK, "weak")):
        if size >= bound:
            return word
    return "hardly any"


def setup_outcome(setup: SetUpResult, required_share_pct: float) -> Outcome:
    """Return how a set-up stands, by its best single recovery in every manoeuvre."""
    return worst(outcome(c.shares, required_share_pct) for c in best_recovery(setup))


def setup_sentence(setup: SetUpResult, required_share_pct: float) -> str:
    """Return what became of a set-up, in one sentence with its uncertainty."""
    cases = best_recovery(setup)
    case = worst_case(cases)
    if case is None:
        return f"{setup.name}: nothing was flown."
    result = setup_outcome(setup, required_share_pct)
    told = OUTCOME_WORDS[result]
    if result is Outcome.OPEN and case.shares.lost == 0:
        told = "lost nothing, but flew too few draws to show that it meets the requirement"
    place = f"{setup.balance_aft_mm:.0f} mm, {setup.balance_pct_mac:.0f} % MAC, {setup.pack}"
    where = "Worst of its manoeuvres" if len(cases) > 1 else "Flown"
    return (
        f"{setup.name} ({place}) {told}. {where}: {case.manoeuvre_title}; "
        f"{share_text(case.shares)}, recovering by: {case.recovery_title}."
    )


def limit_sentence(limit: AftLimit, required_share_pct: float) -> str:
    """Return the aft limit of a pack, in one or two sentences with its uncertainty."""
    asked = f"at least {required_share_pct:g} % of flights back"
    tried = [step.balance_aft_mm for step in limit.steps]
    if limit.aft_mm is None:
        front = f"{min(tried):.0f} mm, the foremost balance point tried" if tried else "any place"
        return (
            f"Pack {limit.pack}: no balance point found that meets the requirement ({asked}); "
            f"it already fails at {front}."
        )
    flown = " and ".join(name.replace("_", " ") for name in limit.manoeuvres)
    place = f"{limit.aft_mm:.0f} mm"
    place += f" ({limit.pct_mac:.1f} % MAC)" if limit.pct_mac is not None else ""
    there = f"At the limit {_counted(limit)}"
    if limit.at_end:
        return (
            f"Pack {limit.pack}: the requirement ({asked}) was met all the way back to {place}, "
            f"the rearmost balance point tried; the limit lies further aft. {there}."
        )
    fails = ""
    if limit.first_failure_mm:
        fails = f"; it can no longer be shown at {limit.first_failure_mm:.0f} mm"
    return (
        f"Pack {limit.pack}: aft limit {place} for {flown}, by: "
        f"{limit.recovery.replace('_', ' ')}; other manoeuvres were not searched. Going aft, "
        f"the requirement ({asked}) is met up to there{fails}. {there}."
    )


def _counted(limit: AftLimit) -> str:
    """Return how many came back at the limit itself, with limits on the share."""
    told = limits_text(limit.share_low, limit.share_high)
    for step in limit.steps:
        if (step.balance_aft_mm, step.recovery) == (limit.aft_mm, limit.recovery):
            return f"{step.back} of {step.draws} came back (95 % limits {told})"
    return f"95 % limits of the share that came back are {told}, from {limit.draws_used} draws"


def answer_sentences(result: StudyResult) -> list[str]:
    """Return the answer of a study: aft limits first, then each set-up."""
    out = [limit_sentence(limit, result.required_share_pct) for limit in result.aft_limits]
    out += [setup_sentence(setup, result.required_share_pct) for setup in result.setups]
    return out


def headline(result: StudyResult) -> str:
    """Return the first sentences of all: what was asked, the aft limits, and the set-ups."""
    asked = result.required_share_pct
    told = [
        f"Asked: at least {asked:g} % of flights back above the floor of {result.floor_m:.0f} m "
        f"(lower 95 % limit), by one single recovery."
    ]
    if result.aft_limits:
        told.append(_limits_in_short(result.aft_limits))
    if result.setups:
        told.append(_setups_in_short(result))
    return " ".join(told)


def _limits_in_short(limits: Sequence[AftLimit]) -> str:
    """Return all aft limits in one sentence."""
    parts = []
    for limit in limits:
        if limit.aft_mm is None:
            parts.append(f"none found for {limit.pack}")
        else:
            beyond = "at least " if limit.at_end else ""
            parts.append(f"{beyond}{limit.aft_mm:.0f} mm with {limit.pack}")
    flown = " and ".join(name.replace("_", " ") for name in limits[0].manoeuvres)
    return f"Aft limit in {flown}: {', '.join(parts)}."


def _setups_in_short(result: StudyResult) -> str:
    """Return how many set-ups meet, cannot be told, and do not, in one sentence."""
    outcomes = [setup_outcome(setup, result.required_share_pct) for setup in result.setups]
    few = result.draws < LEAST_DRAWS_FOR_A_LIMIT
    parts = [
        (outcomes.count(Outcome.MET), "met it in every manoeuvre"),
        (outcomes.count(Outcome.OPEN), "may meet it"),
        (outcomes.count(Outcome.NOT_MET), "did not"),
    ]
    counted = ", ".join(f"{count} {words}" for count, words in parts if count)
    look = f" ({result.draws} draws a case: a first look)" if few else ""
    return f"Of {len(outcomes)} set-ups{look}, {counted}."
