"""Recoveries side by side: what came back by each, all manoeuvres together."""

from collections.abc import Sequence

from sim.judge import outcome, worst
from sim.show.console.console import Tables, add, notes, table
from sim.show.words.phrases import MARKS, spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.outcomes import recoveries_of

MOST_COLUMNS = 5  # manoeuvres or recoveries side by side that 100 characters hold
RECOVERIES_TOLD = (
    "Flights of all manoeuvres that a recovery was flown after, added up: + each of them meets "
    "the requirement, x one or more is shown not to, ? cannot be told. A case stops once it is "
    "decided, or once another recovery is shown to do in every manoeuvre, or may while this one "
    "fails; so a recovery that fails has the fewest flights, and these shares have no 95 % limits "
    "of their own; each case's stand in the report."
)


def recovery_tables(result: StudyResult) -> Tables:
    """Return how many came back by each recovery, whatever the manoeuvre."""
    out: Tables = []
    setups = result.setups
    for names in groups(list(recoveries_of(setups))):
        grid = table(
            "Came back, by recovery, all manoeuvres together",
            "set-up", *(stacked(name) for name in names),
        )  # fmt: skip
        for setup in setups:
            add(
                grid,
                setup.name,
                *(_together(setup, name, result.required_share_pct) for name in names),
            )
        out.append(grid)
    return [*out, *notes([RECOVERIES_TOLD])]


def _together(setup: SetUpResult, recovery: str, required: float) -> str:
    cases = [c for c in setup.cases if c.recovery == recovery]
    total = sum(c.shares.flights for c in cases)
    back = sum(c.shares.back for c in cases)
    if not total:
        return "-"
    mark = MARKS[worst(outcome(c.shares, required) for c in cases)]
    return f"{mark} {back}/{total} {100.0 * back / total:3.0f} %"


def stacked(name: str) -> str:
    """Return a file's name as words below each other, two short ones to a line."""
    lines = [""]
    for word in spoken(name).split(" "):
        if lines[-1] and len(lines[-1]) + len(word) < 12:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return "\n".join(lines[1:])


def groups(names: Sequence[str]) -> list[Sequence[str]]:
    """Return names in as many groups as tables are needed to hold them side by side."""
    return [names[i : i + MOST_COLUMNS] for i in range(0, len(names), MOST_COLUMNS)]
