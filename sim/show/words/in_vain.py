"""What a set-up's recovery does not end, and what did: for who asks what to do then."""

from sim.show.words.phrases import spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.in_vain import InVain, in_vain


def in_vain_texts(setup: SetUpResult, result: StudyResult) -> tuple[str, ...]:
    """Return a sentence for each manoeuvre whose departure the recovery does not end; maybe none.

    Counts of few draws, told as such: they promise nothing.
    """
    return tuple(_told(x) for x in in_vain(setup, result.required_share_pct))


def _told(x: InVain) -> str:
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
        return f"{text}; NOTHING TRIED ENDS IT ({told}): do not enter it."
    return f"{text}; {told}, flown in its place, not after it: no promise."


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
