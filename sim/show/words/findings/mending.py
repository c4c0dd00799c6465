"""What to mend first on a set-up that no ladder leads to, in words."""

from sim import tables
from sim.describe.study import MOST_DRAWS
from sim.judge import Outcome
from sim.show.words.phrases import capital, few_draws_text, listed, spoken
from sim.show.words.places.begin_at import begin_mm, lands_behind
from sim.show.words.places.limits import aft_text, gone_text, held_text
from sim.show.words.places.more_area import more_area_text, size_text
from sim.show.words.places.more_throw import more_throw_short, place_text
from sim.show.words.places.window import forward_of_text, measure_text
from sim.show.words.recovery.higher import again_command, more_draws_command, short_text
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import own_limit
from sim.study.standing.higher import higher_to_fly, never_back, short_cases
from sim.study.standing.mending import Lack, failed_from_mm, lacks
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.window import aft_whole
from sim.units.quantities import HEIGHT, LENGTH

UNTIL = "Until the study shows it, nothing is flown with this set-up, not even to try it."


def mending_lines(setup: SetUpResult, result: StudyResult) -> tuple[str, ...]:
    """Return what a set-up lacks, a line each in the order to mend it; maybe none.

    The card's list and the first lines' next step are both made of these.
    """
    found = lacks(setup, result.required_share_pct, result.draws, result.aft_limits)
    return tuple(_line(x, setup, result) for x in found)


def undecided_too(setup: SetUpResult, result: StudyResult) -> str:
    """Return that more draws may decide an undecided set-up, where that is not all; maybe empty.

    With the command, as a sentence beside what is to be mended first.
    """
    required = result.required_share_pct
    told = lacks(setup, required, result.draws, result.aft_limits)[:1]
    more = result.draws < MOST_DRAWS
    if setup_outcome(setup, required) is not Outcome.OPEN or Lack.SHOWN in told or not more:
        return ""
    return (
        f"It is UNDECIDED after {result.draws} draws besides: more may decide it, either way: "
        f"{more_draws_command(result)}"
    )


def window_line(limit: AftLimit) -> str:
    """Return what to do where no balance point of a pack both lands and comes back."""
    more = limit.held.more_throw
    without = f", even flown without {gone_text(limit)}" if limit.without is not None else ""
    tried = "tried " if limit.held.at_end else ""  # the aft limit may lie beyond the last one
    text = f"Window: no balance point {tried}both lands and comes back{without}"
    if more is not None and more.reached and more.best is not None:
        return (
            f"{text}. Write {place_text(more)}, and fly the study again: with more throw it lands "
            "from its aft limit, though that may move forward with more throw: search it again."
            f"{_job(limit.held)}"
        )
    area, forward = limit.held.more_area, limit.held.forward
    if area is not None and area.reached:
        return f"{text}. {more_area_text(area)}"
    measure = "" if forward is None else measure_text(forward, limit.held)
    if measure:
        return f"{text}. {measure} {_tried(limit.held)}"
    return (
        f"{text}. With this aeroplane nothing that was reckoned opens one, the file's own values "
        f"neither. {_tried(limit.held)}"
    )


def _job(limit: AftLimit) -> str:
    """Return the measurement that alone may open a window, as a sentence; maybe empty."""
    best = next(iter(limit.landing), None)
    if best is None or limit.aft_mm is None or aft_whole(best.aft_mm) > limit.aft_mm:
        return ""
    return f" Or measure {best.text} first: as it stands in the file it lands from " + (
        f"{_front(best.aft_mm)} then."
    )


def _tried(limit: AftLimit) -> str:
    """Return how near throw and area each bring the forward limit, which opens no window."""
    more, area = limit.more_throw, limit.more_area
    tried = []
    if more is not None and more.best is not None and more.best.aft_mm is not None:
        tried.append(f"{more.best.deg:.3g}° of throw lands from {_front(more.best.aft_mm)}")
    elif more is not None:
        tried.append(f"{more.now.deg:.3g}° of throw is as much as is looked at")
    if area is not None and area.aft_mm is not None:
        tried.append(f"{size_text(area)} from {_front(area.aft_mm)}")
    if not tried:
        return "Neither throw nor area was reckoned: change something else."
    return (
        f"Tried, each alone and too little: {listed(tried)}. Next to try, not reckoned: both "
        "together, or a larger tail; 'aftlimit trim --landing' tells at once. Either can cost aft "
        "limit: search it again."
    )


def _front(mm: float) -> str:
    return f"{LENGTH.at_least(aft_whole(mm))} {LENGTH}"


def further_forward(limit: AftLimit | None) -> str:
    """Return how far aft it may balance at most, in a clause: where to begin, as told first."""
    if limit is None or limit.held.aft_mm is None:
        return "Balance it further forward"
    without = f", flown without {gone_text(limit)}" if limit.without is not None else ""
    most = begin_mm(limit.held)
    if most is None or lands_behind(limit.held):
        return f"Balance it further forward; no one place is known well enough to be named{without}"
    place = f"{LENGTH.at_most(most)} {LENGTH}"
    return f"Balance it at or ahead of {place} (balance_aft_mm in a set-up){without}"


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
    own = own_limit(result.aft_limits, setup)
    if lack is Lack.WINDOW and own is not None:
        return window_line(own)
    if lack is Lack.FORWARD:
        return _forward(setup)
    if lack is Lack.AFT:
        mend = "something else than balance must change first"
        if own is not None and own.held.aft_mm is not None:
            mend = further_forward(own)
        return f"Balance: {aft_text(setup, result)}. {capital(mend)}, and fly the study again."
    if lack is Lack.NEVER:
        return _never(setup, result, own)
    if lack is Lack.HEIGHT:
        higher = higher_to_fly(result)
        text = "; ".join(
            short_text(x, required) for x in short_cases(setup, required, result.draws)
        )
        again = "" if higher is None else f" Fly again: {again_command(result, higher.entry_m)}"
        return f"Height: {text}.{again}"
    few = few_draws_text(required, result.draws)
    return (
        f"Draws: it {few or f'is undecided after {result.draws} draws'}. Fly it by more: "
        f"{more_draws_command(result)}"
    )


def _forward(setup: SetUpResult) -> str:
    """Return what to do where full aft stick is too little: throw, else area."""
    more, area = setup.more_throw, setup.more_area
    told = f"{forward_of_text(setup)}."
    if area is not None and (more is None or not more.reached):
        return f"Elevator: {told} {more_area_text(area)}"
    return (
        f"Throw: {told}{more_throw_short(more)} Give the pitch surface more travel, look with "
        "'aftlimit trim --landing', and fly the study again: travel changes all that it says."
    )


def _never(setup: SetUpResult, result: StudyResult, own: AftLimit | None) -> str:
    """Return what to do where too many never come back."""
    names = listed([spoken(x.manoeuvre) for x in never_back(setup, result.required_share_pct)])
    foremost = failed_from_mm(setup, result.aft_limits)
    if foremost is not None:
        rest = "something else must change first"
        held = "" if own is None else held_text(own)
        return (
            f"Not balance: in {names} too many never come back, or from no height of use, and "
            f"the search found no balance point from {LENGTH(foremost)} on where enough do. "
            f"Do not fly that with it, wherever it balances; {held or rest}."
        )
    forward = "once the throw lets it land from there"
    if not forward_of_text(setup):
        forward = _still_lands(setup)
    return (
        f"Balance: in {names} too many never come back, or from no height of use. "
        f"{further_forward(own)}, {forward}, and fly the study again."
    )


def _still_lands(setup: SetUpResult) -> str:
    """Return how far forward a set-up may balance and still land, and how little that may be."""
    limit = None if setup.forward is None else setup.forward.aft_mm
    if limit is None:
        return "as far as it still lands"
    place = aft_whole(limit)
    room = max(0.0, setup.balance_aft_mm - place)
    told = f"it still lands from {LENGTH(place)}, {LENGTH(room)} ahead of where it balances"
    if room < tables.study().search_tolerance_mm:
        return f"once more elevator lets it land from there ({told})"
    return f"as far as it still lands ({told})"
