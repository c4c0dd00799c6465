"""The one height that a manoeuvre is to be flown from, wherever it is told.

It is the entry height from which the flights flown show the share asked for by its lower 95 %
limit, floor included, rounded up: more than the height that this share of them happened to need.
"""

from sim.show.words.recovery.higher import asked
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult
from sim.study.standing.heights import height_to_meet
from sim.units.quantities import HEIGHT

NOT_SHOWN = "not shown"
SHOWN_FROM = "shown\nfrom"  # the heading of its column
RULE = (
    "Shown from: the height to fly it from, floor included, from which the draws show the share "
    "asked for by its lower 95 % limit; rounded up. It is more than 95 % of those flown needed."
)


def shown_from_m(case: CaseResult, result: StudyResult) -> float | None:
    """Return the entry height [m] to fly a case from; None where no height shows it."""
    return height_to_meet(case, result.required_share_pct, result.draws)


def shown_from_text(case: CaseResult, result: StudyResult) -> str:
    """Return "145 m"; empty where no height shows it."""
    height = shown_from_m(case, result)
    return "" if height is None else asked(height)


def shown_from_cell(case: CaseResult, result: StudyResult) -> str:
    """Return "145", without its unit, or that no height shows it."""
    return shown_from_text(case, result).removesuffix(f" {HEIGHT}") or NOT_SHOWN
