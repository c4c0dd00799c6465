"""The heights on a flight card: what came back, what it costs, and where to enter, if at all."""

from sim.judge import Outcome, Reason, Shares, outcome
from sim.show.words.findings.answer import lost_95
from sim.show.words.phrases import few_draws_text, limits_text
from sim.show.words.recovery.fly_from import shown_from_cell, shown_from_text
from sim.study.ladder.ladder import Ladder, may_be_flown
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.heights import Entry, entry_of
from sim.study.standing.outcomes import best_case, manoeuvres_of
from sim.units.quantities import HEIGHT

# reasons of loss in a narrow column; all of them count against
SHORT = {
    Reason.NEVER: "never",
    Reason.SANK: "sank unstalled",
    Reason.DEEP_STALL: "hung",
    Reason.HUNG_LATE: "hung, late",
    Reason.BELOW_FLOOR: "below floor",
    Reason.ENTRY: "entry used the height",
    Reason.NO_TRIM: "unresolved, no trim",
    Reason.GUARD: "unresolved",
    Reason.STEP: "unresolved",
}


def short_reasons(shares: Shares) -> str:
    """Return "29 never, 1 below floor": why flights did not come back; maybe empty."""
    return ", ".join(f"{count} {SHORT[reason]}" for reason, count in shares.reasons.items())


def height_rows(
    result: StudyResult, setup: SetUpResult, ladder: Ladder
) -> tuple[tuple[str, ...], ...]:
    """Return for each manoeuvre what came back, what it costs, and where to enter it.

    By the set-up's one best recovery; a manoeuvre that was not flown by it says so. What is
    not met comes first, so that it stands on the first page.
    """
    out = []
    order = list(Outcome)
    may = may_be_flown(result, setup, ladder)
    for name, title in manoeuvres_of([setup]).items():
        case = best_case(setup, name, result.required_share_pct)
        if case is None:
            row = (title, "not flown by this recovery", "-", "-", "DO NOT FLY: not shown")
            out.append((order.index(Outcome.OPEN), row))
            continue
        shares = case.shares
        back = f"{shares.back} of {shares.flights} "
        back += f"({limits_text(shares.back_low, shares.back_high)})"
        why = short_reasons(shares)
        enter = enter_text(case, result, ladder.ceiling_m, may)
        told = f"{back}: {why}" if why else back
        stands = outcome(shares, result.required_share_pct)
        row = (title, told, lost_95(case), shown_from_cell(case, result), enter)
        out.append((order.index(stands), row))
    return tuple(row for _, row in sorted(out, key=lambda x: -x[0]))


def enter_text(case: CaseResult, result: StudyResult, ceiling_m: float, may_be_flown: bool) -> str:
    """Return from where to enter a manoeuvre, or why it must not be flown.

    Only where the set-up may be flown at all, the manoeuvre meets the requirement in the
    study, and still does from the height that the ceiling allows.
    """
    required = result.required_share_pct
    entry = entry_of(case, required, result.draws, ceiling_m, may_be_flown)
    if entry is Entry.BARRED:
        return "NOT TO BE FLOWN"
    if entry is Entry.MAY:
        return f"{HEIGHT(min(case.entry_m, ceiling_m))}, floor {HEIGHT(case.floor_m)}"
    met = shown_from_text(case, result)
    if entry is Entry.NOT_HERE:
        return f"cannot be tested lawfully here: shown from {met}"
    if entry is Entry.FAILS:
        return f"DO NOT FLY: {f'would meet it from {met}' if met else 'not met'}"
    few = few_draws_text(required, result.draws)
    return f"DO NOT FLY: {few or 'undecided'}{f', would be shown from {met}' if met else ''}"
