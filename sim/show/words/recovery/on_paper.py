"""What is shown on paper alone: manoeuvres that need more height than the ceiling there is."""

from sim.judge import Outcome, outcome
from sim.show.words.phrases import listed, spoken
from sim.show.words.recovery.fly_from import shown_from_m, shown_from_text
from sim.show.words.recovery.higher import ceiling_text
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult
from sim.study.standing.bands import behind_limit
from sim.study.standing.heights import from_height
from sim.study.standing.outcomes import best_recovery
from sim.units.quantities import HEIGHT


def on_paper_text(result: StudyResult) -> str:
    """Return which manoeuvres count on paper alone, and the height they need; maybe empty.

    Those flown from above the ceiling which do not meet the requirement from it, in any set-up by
    its best recovery: today's, and of the others that are not behind their aft limit the most.
    """
    found: dict[str, dict[str, CaseResult]] = {}
    for x in result.setups:
        for case in best_recovery(x, result.required_share_pct):
            if on_paper(case, result):
                found.setdefault(case.manoeuvre, {})[x.name] = case
    if not found:
        return ""
    told = listed([f"{spoken(k)} {_needs(cases, result)}" for k, cases in found.items()])
    return (
        f"ON PAPER ONLY: {told}; {ceiling_text(result)} is less, so what is said of "
        f"{'it' if len(found) == 1 else 'them'} here rests on the reckoning alone: NOT to be flown "
        "here."
    )


def on_paper(case: CaseResult, result: StudyResult) -> bool:
    """Return whether a case counts on paper alone: flown from above, not met from the ceiling."""
    here = from_height(case, result.ceiling_m, result.required_share_pct, result.draws)
    stands = outcome(here.shares, result.required_share_pct)
    return case.entry_m > result.ceiling_m and stands is not Outcome.MET


def _needs(cases: dict[str, CaseResult], result: StudyResult) -> str:
    flown = f"flown from {HEIGHT(max(x.entry_m for x in cases.values()))}"
    behind = {x.name for x in result.setups if behind_limit(x, result) is not None}
    ahead = {name: x for name, x in cases.items() if name not in behind} or cases
    shown = {name: x for name, x in ahead.items() if shown_from_text(x, result)}
    if not shown:
        return f"is shown from no height ({flown})"

    def need(name: str) -> float:
        return shown_from_m(shown[name], result) or 0.0

    most = max(shown, key=need)
    now, others = shown.get(result.today or ""), len(result.setups) > 1
    if now is None or need(most) == shown_from_m(now, result):
        least, whose = ("up to ", f"{most}; ") if others else ("", "")
        return f"needs {least}{shown_from_text(shown[most], result)} ({whose}{flown})"
    return (
        f"needs {shown_from_text(now, result)} today and up to "
        f"{shown_from_text(shown[most], result)} ({most}; {flown})"
    )
