"""What to mend first on a set-up that no ladder leads to, in words."""

from sim.show.words.higher import again_command, short_text
from sim.show.words.more_throw import more_throw_short
from sim.show.words.phrases import few_draws_text, listed, spoken
from sim.show.words.window import forward_of_text
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.higher import higher_to_fly, never_back, short_cases
from sim.study.standing.mending import Lack, failed_from_mm, lacks
from sim.units.quantities import HEIGHT, LENGTH

UNTIL = "Until the study shows it, nothing is flown with this set-up, not even to try it."


def mending_lines(setup: SetUpResult, result: StudyResult) -> tuple[str, ...]:
    """Return what a set-up lacks, a line each in the order to mend it; maybe none."""
    required = result.required_share_pct
    return tuple(_line(x, setup, result) for x in lacks(setup, required, result.draws))


def partly_height_text(setup: SetUpResult, result: StudyResult) -> str:
    """Return in which manoeuvres height is missing where it is not all that is; else empty."""
    required = result.required_share_pct
    shorts = short_cases(setup, required, result.draws)
    if not shorts or not never_back(setup, required):
        return ""
    told = "; ".join(
        f"{short_text(x, required)}, entered at {HEIGHT(x.case.entry_m)}" for x in shorts
    )
    return f"Missing in part is HEIGHT: {told}"


def _line(lack: Lack, setup: SetUpResult, result: StudyResult) -> str:
    required = result.required_share_pct
    if lack is Lack.FORWARD:
        return (
            f"Throw: {forward_of_text(setup)}.{more_throw_short(setup.more_throw)} Give the pitch "
            "surface more travel, look with 'aftlimit trim --landing', and fly the study again: "
            "travel changes all that it says."
        )
    if lack is Lack.NEVER:
        names = listed([spoken(x.manoeuvre) for x in never_back(setup, required)])
        foremost = failed_from_mm(setup, result.aft_limits)
        if foremost is not None:
            return (
                f"Not balance: in {names} too many never come back, or from no height of use, and "
                f"the search found no balance point from {LENGTH(foremost)} on where enough do. "
                "Do not fly that with it, wherever it balances; something else must change first."
            )
        forward = "as far as it still lands"
        if forward_of_text(setup):
            forward = "once the throw lets it land from there"
        return (
            f"Balance: in {names} too many never come back, or from no height of use. "
            f"Balance it further forward, {forward}, and fly the study again."
        )
    if lack is Lack.HEIGHT:
        higher = higher_to_fly(result)
        text = "; ".join(
            short_text(x, required) for x in short_cases(setup, required, result.draws)
        )
        again = "" if higher is None else f" Fly again: {again_command(result, higher.entry_m)}"
        return f"Height: {text}.{again}"
    few = few_draws_text(required, result.draws)
    return f"Draws: it {few or f'is undecided after {result.draws} draws'}; write more draws."
