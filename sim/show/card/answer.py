"""The answer on a flight card: how the set-up stands, whether it may be flown, its aft limit.

Verdict, order, heights and ladder agree by coming from two things: the outcome of the set-up
in its study, and where its ladder ends.
"""

from sim.judge import Outcome, outcome
from sim.show.words.findings.mending import mending_lines, partly_height_text
from sim.show.words.ladder_ends import UNDECIDED, refusal_text
from sim.show.words.phrases import back_text, few_draws_text, listed, share_text, spoken
from sim.show.words.places.begin_at import inside_limits, tray_ends_behind
from sim.show.words.places.limits import (
    figure_text,
    flown_once,
    flown_text,
    gone_text,
    neutral_text,
    set_up_neutral_text,
    shown_nowhere,
)
from sim.show.words.places.more_throw import more_throw_short
from sim.show.words.places.never import never_text, not_forward_text
from sim.show.words.places.window import ahead_text, fast_short, fast_text
from sim.show.words.recovery.deep_stall import card_line
from sim.show.words.recovery.higher import height_need_text
from sim.show.words.recovery.in_vain import in_vain_line
from sim.study.ladder.fit import End
from sim.study.ladder.ladder import Ladder, may_be_flown
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import aft_of, own_limit
from sim.study.standing.outcomes import (
    best_recovery,
    failing_recoveries,
    manoeuvres_of,
    setup_outcome,
    worst_case,
)
from sim.study.standing.packs import cannot_land
from sim.study.standing.window import Kind, window_of
from sim.units.quantities import LENGTH

MET = "MEETS THE REQUIREMENT"
# of a set-up that meets it by itself, by where its ladder ends
VERDICTS = {
    End.REACHED: MET,
    End.LIMIT: "LIES AFT OF ITS AFT LIMIT",
    End.NOT_MET: f"{MET}, BUT THE WAY TO IT DOES NOT",
    End.UNDECIDED: f"{MET}, BUT THE WAY TO IT IS UNDECIDED",
    End.FAILS: f"{MET}, BUT THE WAY TO IT DOES NOT",
    End.TOO_HIGH: f"{MET}, BUT CANNOT BE TESTED HERE",
    End.NO_WAY: f"{MET}, BUT NO SINGLE CHANGES LEAD TO IT",
    End.NO_START: f"{MET}, BUT THE SEARCH FOR ITS AFT LIMIT FOUND NONE",
    End.TOO_FORWARD: f"{MET}, BUT THE WAY TO IT LIES FORWARD OF A LIMIT",
}
NEVER = "NOT TO BE FLOWN"


def most_draws(setup: SetUpResult, required_share_pct: float) -> int:
    """Return after how many draws a set-up is undecided: the most that any case flew."""
    return max(c.shares.flights for c in best_recovery(setup, required_share_pct))


def verdict_text(result: StudyResult, setup: SetUpResult, ladder: Ladder) -> str:
    """Return how the set-up stands, in capitals."""
    asked = result.required_share_pct
    stands = setup_outcome(setup, asked)
    if stands is Outcome.NOT_MET:
        verdict = "DOES NOT MEET THE REQUIREMENT"
    elif stands is Outcome.OPEN:
        few = few_draws_text(asked, result.draws).upper()
        verdict = few or f"UNDECIDED AFTER {most_draws(setup, asked)} DRAWS"
    elif cannot_land(setup):
        verdict = "LIES FORWARD OF EVEN ITS NOMINAL FORWARD LIMIT"
    elif ladder.end is End.LIMIT and not aft_of(
        setup.balance_aft_mm, own_limit(result.aft_limits, setup)
    ):
        verdict = f"{MET}, BUT THE WAY TO IT LIES AFT OF A LIMIT"
    else:
        verdict = VERDICTS[ladder.end]
    return "; ".join([f"{verdict} (at least {asked:g} % back)", *_landing(setup, ladder)])


def _landing(setup: SetUpResult, ladder: Ladder) -> list[str]:
    """Return what the headline says of the landing, and of the window."""
    none = window_of(setup.forward, ladder.limit).kind in (Kind.NONE, Kind.NO_AFT)
    fast = [] if ladder.fast is None else [fast_short(ladder.fast)]
    if not none:
        return fast
    limit = ladder.limit
    if limit is not None and window_of(setup.forward, limit.held).kind is Kind.OPEN:
        return [*fast, f"NO WINDOW WITH {gone_text(limit).upper()}"]
    return [*fast, "NO WINDOW"]


def order_text(result: StudyResult, setup: SetUpResult, ladder: Ladder) -> str:
    """Return, in a line or two, whether the set-up may be flown once its ladder has been."""
    if may_be_flown(result, setup, ladder):
        order = "Fly it only at the end of the ladder overleaf, and only what is given a height"
        fast = "" if ladder.fast is None else f" It {fast_text(ladder.fast)}."
        return f"{order} below.{fast}{more_throw_short(setup.more_throw)}"
    stands = setup_outcome(setup, result.required_share_pct)
    climb = "The ladder overleaf stops before it."
    if not ladder.steps:
        mend = " What to mend first stands overleaf." if mending_lines(setup, result) else ""
        climb = f"There is no ladder to it.{mend}"
    more = more_throw_short(setup.more_throw)
    return f"{NEVER}: {_why(result, setup, ladder, stands)}. {climb}{more}"


def _why(result: StudyResult, setup: SetUpResult, ladder: Ladder, stands: Outcome) -> str:
    """Return why the set-up is not to be flown."""
    asked = result.required_share_pct
    cases = best_recovery(setup, asked)
    need = height_need_text(setup, result)
    if stands is Outcome.NOT_MET:
        failing = [c for c in cases if outcome(c.shares, asked) is Outcome.NOT_MET]
        names = listed([spoken(c.manoeuvre) for c in failing])
        text = f"it does not meet the requirement in {names}"
        if need:
            text = f"what is missing is height: {text}, where it comes back too low; it {need}"
        return text
    if stands is Outcome.OPEN:
        few = few_draws_text(asked, result.draws)
        text = f"it {few}" if few else f"undecided after {most_draws(setup, asked)} draws"
        text += f"; {UNDECIDED}"
        return f"{text}; it {need}" if need else text
    if cannot_land(setup) and setup.forward is not None:
        return ahead_text(setup.forward, setup.balance_aft_mm)
    if ladder.refused is not None:
        on = ladder.refused.what
        return f"on the way to it, at {on}, {refusal_text(ladder.refused)}"
    if ladder.end is End.NO_WAY:
        return "no single change leads on to it, and two are never made together"
    if ladder.end is End.NO_START:
        return f"the search with its pack and combination {shown_nowhere(ladder.limit)}"
    return "it lies aft of its aft limit"


def answer_lines(result: StudyResult, setup: SetUpResult, ladder: Ladder) -> tuple[str, ...]:
    """Return what the study found: the worst manoeuvre, the neutral point, the aft limit."""
    asked = result.required_share_pct
    cases = best_recovery(setup, asked)
    case = worst_case(cases, asked)
    assert case is not None
    partly = partly_height_text(setup, result)
    lines = [f"{partly}."] if partly else []
    if setup.deep_stall is None:
        lines.append(f"Worst: {case.manoeuvre_title}; {share_text(case.shares)}.")
    elif setup_outcome(setup, asked) is not Outcome.NOT_MET:
        # what is not met stands first among the heights anyway, with its reasons
        lines.append(f"Worst: {case.manoeuvre_title}; {back_text(case.shares)}.")
    flown = {c.manoeuvre for c in cases}
    missing = [title for name, title in manoeuvres_of([setup]).items() if name not in flown]
    if missing:
        lines.append(f"NOT FLOWN by the recovery of this card: {listed(missing)}.")
    if setup.deep_stall is not None:
        lines.append(card_line(setup.deep_stall))
    lines += [x for x in (in_vain_line(setup, result),) if x]
    behind = set_up_neutral_text(setup)
    if behind:
        lines.append(f"{behind[0].upper()}{behind[1:]}.")
    lines += [
        f"NOT by {spoken(c.recovery)}: {spoken(c.manoeuvre)}, {back_text(c.shares)}."
        for c in failing_recoveries(setup, asked)
    ]
    return (*lines, _limit_line(result, setup, ladder.limit, case.recovery))


def _limit_line(
    result: StudyResult, setup: SetUpResult, limit: AftLimit | None, recovery: str
) -> str:
    """Return the aft limit of the set-up's own pack and combination, or that there is none."""
    if limit is None:
        text = (
            "No aft limit was looked for with this set-up's pack, throws, nozzle, gyro and weights"
        )
        others = "; those of other set-ups do not hold for it" if result.aft_limits else ""
        return f"{text}{others}."
    if limit.never:
        return f"{never_text(limit)}"
    if limit.aft_mm is None:
        neutral = neutral_text(limit)
        return (
            "Aft limit of this pack and combination: none found, already at the foremost balance "
            f"point tried it is not shown, {flown_text(limit)}{'; ' + neutral if neutral else ''}."
        )
    by = flown_text(limit)
    if limit.recovery == recovery:
        by = flown_once([limit])
    else:
        by += " (NOT the recovery of this card)"
    parts = [f"Aft limit of this pack and combination {figure_text(limit)}, {by}"]
    behind = round(setup.balance_aft_mm - limit.aft_mm)
    if behind:
        way = "AFT" if behind > 0 else "forward"
        parts.append(
            f"this set-up lies {LENGTH(abs(setup.balance_aft_mm - limit.aft_mm))} {way} of it"
        )
    if inside_limits(setup.balance_aft_mm, limit):
        parts[-1] += ", INSIDE its 95 % limits"
    if not_forward_text(limit) and not tray_ends_behind(limit):
        parts.append(not_forward_text(limit))
    missing = [spoken(m) for m in manoeuvres_of([setup]) if m not in limit.manoeuvres]
    if missing:
        parts.append(f"not searched: {listed(missing)}")
    if neutral_text(limit):
        parts.append(neutral_text(limit))
    return f"{'; '.join(parts)}."
