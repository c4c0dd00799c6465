"""Sentences and short phrases that console and report share: results in a pilot's words."""

from collections.abc import Sequence

import numpy as np

from sim import tables
from sim.core import script_layout as s
from sim.judge import Outcome, Reason, Shares, can_show, least_draws
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult
from sim.study.standing.heights import at_least_m
from sim.units.quantities import HEIGHT

# where % MAC first stands, on console and page
MAC_SAID = (
    "(% MAC: share of the wing's mean aerodynamic chord, counted back from its leading edge.)"
)
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
    Outcome.OPEN: "is undecided",
    Outcome.NOT_MET: "does not meet the requirement",
}
NONE_STANDS_OUT = "Nothing stands out."
FEW_DRAWS = "cannot be shown with"
MARKS = {Outcome.MET: "+", Outcome.OPEN: "?", Outcome.NOT_MET: "x"}  # in plain tables
UNRESOLVED = (Reason.NO_TRIM, Reason.GUARD, Reason.STEP)
MEDIAN, P95 = 0.5, 0.95
LINKS = ("strong", "moderate", "weak")


def limits_text(low: float, high: float) -> str:
    """Return two shares as whole percent; the lower is rounded down, so as to claim no more."""
    return f"{np.floor(100.0 * low + 1e-9):.0f}-{100.0 * high:.0f} %"


def few_draws_text(required_share_pct: float, draws: int) -> str:
    """Return "cannot be shown with 64 draws, which takes 73 or more"; empty where it can."""
    required = required_share_pct / 100.0
    if can_show(required, draws):
        return ""
    return f"{FEW_DRAWS} {draws} draws, which takes {least_draws(required)} or more"


def few_draws_warning(required_share_pct: float, draws: int) -> str:
    """Return what a study that flies so few draws cannot tell, and the mend; maybe empty."""
    required = required_share_pct / 100.0
    if can_show(required, draws):
        return ""
    least = least_draws(required)
    mend = 1 << (least - 1).bit_length()
    return (
        f"draws = {draws} can never show that {required_share_pct:g} % of flights come back, even "
        f"if all do: that takes {least} or more: write draws = {mend}, or fly it with "
        f"--draws {mend}. A set-up that fails can still be told"
    )


def spoken(name: str) -> str:
    """Return a file's name as words, without its folder and its ending."""
    return name.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".toml").replace("_", " ")


def capital(text: str) -> str:
    """Return a text with its first letter a capital one."""
    return f"{text[0].upper()}{text[1:]}"


def listed(items: Sequence[str]) -> str:
    """Return "a", "a and b" or "a, b and c"."""
    return " and ".join([", ".join(items[:-1]), items[-1]] if len(items) > 1 else items)


def share_text(shares: Shares) -> str:
    """Return "61 of 64 came back (95 % limits 87-98 %)", and why the others did not.

    All flights count: what could not be resolved did not come back.
    """
    text, why = back_text(shares), reasons_text(shares)
    return f"{text}: {why}" if why else text


def back_text(shares: Shares) -> str:
    """Return "61 of 64 came back (95 % limits 87-98 %)"."""
    limits = limits_text(shares.back_low, shares.back_high)
    return f"{shares.back} of {shares.flights} came back (95 % limits {limits})"


def reasons_text(shares: Shares) -> str:
    """Return "3 never came back, 1 came back below the floor"; empty where all came back.

    Unresolved flights are named as such, with what stopped them.
    """
    reasons = [
        f"{count} {'unresolved, ' if reason in UNRESOLVED else ''}{reason.value}"
        for reason, count in shares.reasons.items()
    ]
    return ", ".join(reasons)


def touched_text(shares: Shares) -> str:
    """Return how many of the flights that held went to high angles for a moment; maybe empty."""
    if not shares.touched:
        return ""
    values = tables.judge()
    return (
        f"of the {shares.held} that held, {shares.touched} went beyond {values.alpha_deg:.0f} "
        f"deg for less than {values.alpha_for_s:g} s"
    )


def faster_text(shares: Shares) -> str:
    """Return how many draws began faster, as they hold no level flight so slow; maybe empty."""
    if not shares.faster:
        return ""
    holds, own = ("holds", "its") if shares.faster == 1 else ("hold", "their")
    return (
        f"{shares.faster} of {shares.flights} {holds} no level flight at the speed of the entry "
        f"(too little elevator or power there), and began at that multiple of {own} own slowest, "
        "or as near to it as level flight goes"
    )


def also_texts(shares: Shares) -> list[str]:
    """Return what is to be known of flights beside what became of them; maybe nothing."""
    return [x for x in (touched_text(shares), faster_text(shares)) if x]


def height_text(
    value: float | None, case: CaseResult, column: int, quantile: float, plus_m: float = 0.0
) -> str:
    """Return a height, without its unit, "more than X" where it has no end, or "never".

    ``column`` of the case's rows, and ``plus_m`` on top of it, give the X.
    """
    if value is not None:
        return HEIGHT.at_least(value)
    if case.shares.never + case.shares.unresolved >= case.shares.flights:
        return "never"
    known = at_least_m(case.rows, column, quantile)
    return "never" if known is None else f"more than {HEIGHT.at_most(known + plus_m)}"


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


def time_text(result: StudyResult) -> str:
    """Return how many flights there are, how many an earlier run had flown, and the time."""
    kept = f", {result.kept} of them kept from an earlier run" if result.kept else ""
    return f"{result.flights} flights{kept}; {result.seconds:.0f} s."


def luck_text(level: float, draws: int) -> str:
    """Return which links with coming back cannot be told from luck, for a pilot."""
    return (
        f"What is not listed may matter too: {draws} draws cannot tell a link weaker than "
        f"{level:.2f} from luck (0 is no link, 1 decides alone); more draws tell weaker ones."
    )


def strength_word(correlation: float) -> str:
    """Return a word for the strength of a rank correlation."""
    size = abs(correlation)
    for bound, word in zip(tables.study().links_called, LINKS, strict=True):
        if size >= bound:
            return word
    return "hardly any"


def signed(value: float) -> str:
    """Return a number with its sign and one decimal, never a minus before nought."""
    return f"{round(value, 1) + 0.0:+.1f}"
