"""Why a ladder of test flights ends where it does, and why a set-up is not to be flown."""

from sim.show.words.phrases import reasons_text, share_text, spoken
from sim.show.words.places.limits import figure_text, shown_nowhere
from sim.show.words.places.window import ahead_text
from sim.study.ladder.fit import End, Refused
from sim.study.ladder.ladder import Ladder
from sim.units.quantities import HEIGHT, LENGTH

# of a manoeuvre that is left out at a step
WHY_NOT = {
    End.NOT_MET: "which does not meet the requirement in the wanted set-up",
    End.UNDECIDED: "which is undecided in the wanted set-up",
    End.TOO_HIGH: "which needs more height than there is in too many of the draws",
}
UNDECIDED = "what has not been shown is not flown"


def refusal_text(refused: Refused) -> str:
    """Return why a set-up on the way is not to be flown, with its counts."""
    case, limit = refused.case, refused.limit
    if limit is not None:
        if limit.aft_mm is None:
            return f"the search with its pack and combination {shown_nowhere(limit)}"
        behind = refused.balance_aft_mm - limit.aft_mm
        return (
            f"it lies {LENGTH(behind)} aft of the aft limit of its pack and combination, "
            f"{figure_text(limit)}"
        )
    if refused.forward is not None:
        return ahead_text(refused.forward, refused.balance_aft_mm)
    if case is None:
        return f"{spoken(refused.manoeuvre)} was not flown by this recovery; {UNDECIDED}"
    where = f"{case.manoeuvre_title}, {share_text(case.shares)}"
    if refused.end is End.UNDECIDED:
        return f"it is undecided after {case.shares.flights} draws ({where}); {UNDECIDED}"
    if refused.end is End.TOO_HIGH:
        return (
            f"no manoeuvre can be tested lawfully here: from {HEIGHT(case.entry_m)} with the floor "
            f"at {HEIGHT(case.floor_m)}, {case.manoeuvre_title}, of {case.shares.flights} draws "
            f"{reasons_text(case.shares)}"
        )
    return f"it does not meet the requirement ({where})"


def ending_text(ladder: Ladder) -> str:
    """Return why the ladder ends where it does."""
    wanted = f"{ladder.setup} at {LENGTH.ahead(ladder.wanted_mm)}"
    never = f"{wanted} is NOT TO BE FLOWN"
    if ladder.reached:
        return f"The last step is the wanted set-up, {wanted}."
    refused = ladder.refused
    if refused is not None:
        before = f"STOP BEFORE {_what(refused)}" if ladder.steps else "THERE IS NO STEP"
        wanted_itself = refused.balance_aft_mm == ladder.wanted_mm
        on = "" if ladder.steps or wanted_itself else f"on the way, at {_what(refused)}, "
        return f"{before}: {on}{refusal_text(refused)}. {never}."
    if ladder.end is End.NO_START:
        return (
            f"THERE IS NO STEP: the search with this pack and combination "
            f"{shown_nowhere(ladder.limit)}. {never}."
        )
    if ladder.end is End.NO_WAY:
        stuck = "; ".join(
            f"{x.what} at {LENGTH.ahead(x.balance_aft_mm)}: {x.why}" for x in ladder.missing
        )
        return (
            f"STOP THERE: no single change leads on ({stuck}), and two are never made together. "
            f"{never}."
        )
    assert ladder.limit is not None
    beyond = ladder.wanted_mm - (ladder.limit.aft_mm or 0.0)
    tried = "rearmost balance point tried, " if ladder.limit.at_end else ""
    return (
        f"STOP THERE: {wanted} lies {LENGTH(beyond)} aft of the aft limit of its pack and "
        f"combination, {tried}{figure_text(ladder.limit)}. It is NOT TO BE FLOWN."
    )


def _what(refused: Refused) -> str:
    place = LENGTH.ahead(refused.balance_aft_mm)
    return refused.what if place in refused.what else f"{refused.what}, at {place}"
