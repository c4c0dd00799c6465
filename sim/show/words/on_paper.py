"""What is shown on paper alone: manoeuvres that need more height than the ceiling there is."""

from math import ceil

from sim.judge import Outcome, outcome
from sim.show.words.higher import ROUND_UP_M, asked_height, ceiling_text
from sim.show.words.phrases import listed, spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult
from sim.study.standing.heights import from_height, height_to_meet
from sim.study.standing.outcomes import best_recovery
from sim.units.quantities import HEIGHT


def height_that_shows(case: CaseResult, result: StudyResult) -> str:
    """Return the entry height from which a case's flights meet it; empty where none does."""
    need = height_to_meet(case, result.required_share_pct, result.draws)
    if need is None:
        return ""
    return asked_height(ceil(need / ROUND_UP_M - 1e-9) * ROUND_UP_M, need)


def on_paper_text(result: StudyResult) -> str:
    """Return which manoeuvres count on paper alone, and the height they need; maybe empty.

    Those flown from above the ceiling which do not meet the requirement from it, in any set-up by
    its best recovery; of several heights the most.
    """
    found: dict[str, dict[str, CaseResult]] = {}
    for x in result.setups:
        for case in best_recovery(x, result.required_share_pct):
            here = from_height(case, result.ceiling_m, result.required_share_pct, result.draws)
            stands = outcome(here.shares, result.required_share_pct)
            if case.entry_m > result.ceiling_m and stands is not Outcome.MET:
                found.setdefault(case.manoeuvre, {})[x.name] = case
    if not found:
        return ""
    told = listed([f"{spoken(k)} {_needs(cases, result)}" for k, cases in found.items()])
    return (
        f"ON PAPER ONLY: {told}; {ceiling_text(result)} is less, so what is said of "
        f"{'it' if len(found) == 1 else 'them'} here rests on the reckoning alone: NOT to be flown "
        "here."
    )


def _needs(cases: dict[str, CaseResult], result: StudyResult) -> str:
    flown = f"flown from {HEIGHT(max(x.entry_m for x in cases.values()))}"
    shown = {name: x for name, x in cases.items() if height_that_shows(x, result)}
    if not shown:
        return f"is shown from no height ({flown})"

    def need(name: str) -> float:
        return height_to_meet(shown[name], result.required_share_pct, result.draws) or 0.0

    most = max(shown, key=need)
    whose = f"{most}; " if len(result.setups) > 1 else ""
    return f"needs up to {height_that_shows(shown[most], result)} ({whose}{flown})"
