"""Which recovery stands for a set-up, and where another one does as well by itself."""

from collections.abc import Mapping

from sim.describe import Phase, Recovery
from sim.judge import Outcome, outcome
from sim.show.words.phrases import listed, lost_texts, spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.outcomes import best_recovery, recoveries_of, setup_outcome
from sim.units.quantities import HEIGHT


def also_do(setup: SetUpResult, required_share_pct: float) -> list[CaseResult]:
    """Return the cases of other recoveries than a set-up's best that meet what is asked."""
    best = {x.manoeuvre: x.recovery for x in best_recovery(setup, required_share_pct)}
    return [
        x
        for x in setup.cases
        if x.recovery != best.get(x.manoeuvre)
        and outcome(x.shares, required_share_pct) is Outcome.MET
    ]


BRINGS = {
    Outcome.MET: "What brings today's back",
    Outcome.OPEN: "The best tried for today's, undecided whether enough",
    Outcome.NOT_MET: "The best tried for today's, NOT enough",
}


def sticks_line(result: StudyResult) -> str:
    """Return which recovery brings today's set-up back, what else does, and the height it takes.

    Empty where no set-up is today's, or it has flown nothing.
    """
    now = next((x for x in result.setups if x.name == result.today), None)
    required = result.required_share_pct
    cases = () if now is None else best_recovery(now, required)
    if now is None or not cases:
        return ""
    names = dict.fromkeys(x.recovery for x in cases)
    titles = recoveries_of(result.setups)
    by = listed([f"{spoken(x)} ({titles[x]})" for x in names])
    after = listed([spoken(x.manoeuvre) for x in cases])
    text = f"{BRINGS[setup_outcome(now, required)]}, after {after}: {by}"
    others = [
        f"{spoken(x.recovery)} in {spoken(x.manoeuvre)} ({_counted(x)})"
        for x in also_do(now, required)
    ]
    text += f"; shown to do as well: {listed(others)}" if others else ""
    lost = listed([f"{lost_texts(x)[1]} {HEIGHT} in {spoken(x.manoeuvre)}" for x in cases])
    return f"{text}. Height lost from the first input to level, by 95 % of those flown: {lost}."


def _counted(case: CaseResult) -> str:
    return f"{case.shares.back} of {case.shares.flights}"


def centring_text(
    setup: SetUpResult, recoveries: Mapping[str, Recovery], required_share_pct: float
) -> str:
    """Return where centred sticks alone do as well as a set-up's recovery; empty where nowhere."""
    told = [
        f"{_counted(x)} in {spoken(x.manoeuvre)}"
        for x in also_do(setup, required_share_pct)
        if x.recovery in recoveries and _centres(recoveries[x.recovery])
    ]
    if not told:
        return ""
    return f"Throttle closed, all sticks centred does too: {listed(told)} back."


def _centres(recovery: Recovery) -> bool:
    """Return whether a recovery does nothing but centre the sticks, power off, and pull out."""
    return all(x.pilot == "pull_out" or _centred(x) for x in recovery.phases)


def _centred(phase: Phase) -> bool:
    still = phase.elevator == phase.aileron == phase.rudder == 0.0
    return phase.pilot == "sticks" and phase.throttle == 0.0 and still
