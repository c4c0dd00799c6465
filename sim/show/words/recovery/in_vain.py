"""What a set-up's recovery does not end, and what did: for who asks what to do then."""

from sim.judge import Outcome
from sim.show.words.phrases import spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.in_vain import InVain, in_vain
from sim.study.standing.outcomes import setup_outcome


def in_vain_texts(setup: SetUpResult, result: StudyResult) -> tuple[str, ...]:
    """Return a sentence for each manoeuvre whose departure the recovery does not end; maybe none.

    Counts of few draws, told as such: they promise nothing.
    """
    required = result.required_share_pct
    met = setup_outcome(setup, required) is Outcome.MET
    return tuple(_told(x, met) for x in in_vain(setup, required))


def _told(x: InVain, met: bool) -> str:
    """Return it in words; ``met``: they lie within the share that a set-up may lose."""
    over = ""
    if x.tumbled:
        over = "" if x.tumbled == x.lost else f"{x.tumbled} of these "
        over = f", {over}TUMBLING nose over tail"
    text = (
        f"Not ended by {spoken(x.recovery)} from any height: {x.lost} of {x.flights} in "
        f"{spoken(x.manoeuvre)}{over}"
    )
    same = "that one" if x.lost == 1 else "those"
    if not x.others:
        return f"{text}; no other recovery was flown by {same}: what would end it is NOT KNOWN."
    told = "; ".join(
        f"{spoken(o.recovery)} brought back {o.back} of the {o.flown} of {same} that flew it"
        for o in x.others
    )
    if not any(o.back for o in x.others):
        rest = "that share is lost from any height" if met else "do not enter it"
        return f"{text}; NOTHING TRIED ENDS IT ({told}): {rest}."
    return f"{text}; {told}, flown in its place, not after it: no promise."


IN_VAIN_NOTE = (
    "Not ended: from no height flown. TUMBLING: nose over tail. What another recovery brought back "
    "it flew by the same draws in place of the first, not after it: no promise; where none is "
    "named, what would end it is NOT KNOWN."
)


def in_vain_short(setup: SetUpResult, result: StudyResult) -> str:
    """Return the sentences in one, of counts alone, for a list with `IN_VAIN_NOTE`; maybe empty."""
    found = in_vain(setup, result.required_share_pct)
    if not found:
        return ""
    told = "; ".join(_counts(x) for x in found)
    return f"Not ended by {spoken(found[0].recovery)}: {told}"


def _counts(x: InVain) -> str:
    more = []
    if x.tumbled:
        more.append("TUMBLING" if x.tumbled == x.lost else f"{x.tumbled} TUMBLING")
    more += [f"{spoken(o.recovery)} {o.back} of {o.flown} back" for o in x.others]
    if x.others and not any(o.back for o in x.others):
        more.append("NOTHING TRIED ENDS IT")
    rest = f" ({', '.join(more)})" if more else ""
    return f"{x.lost} of {x.flights} in {spoken(x.manoeuvre)}{rest}"


def in_vain_line(setup: SetUpResult, result: StudyResult) -> str:
    """Return the same of the manoeuvre that lost most so, short, for a card; maybe empty."""
    found = in_vain(setup, result.required_share_pct)
    if not found:
        return ""
    x = max(found, key=lambda x: x.lost)
    over = f", {x.tumbled} TUMBLING" if x.tumbled else ""
    text = f"Not ended by {spoken(x.recovery)} in {spoken(x.manoeuvre)}: {x.lost}{over}"
    best = next((o for o in x.others if o.back), None)
    if best is None:
        return f"{text}; nothing tried ends it."
    return f"{text}; {spoken(best.recovery)} in its place: {best.back} of {best.flown} back."
