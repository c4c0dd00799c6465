"""What other throws, or another loose weight, do to the limits of a pack, where both were flown."""

from collections.abc import Callable, Iterator

from sim.judge import Outcome
from sim.show.words.phrases import listed
from sim.show.words.places.limits import figure_text
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import own_limit
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.window import aft_whole
from sim.units.quantities import LENGTH, MASS

TELLS = {
    Outcome.MET: "meets what is asked",
    Outcome.OPEN: "is undecided",
    Outcome.NOT_MET: "does not meet what is asked",
}
Of = Callable[[SetUpResult], str]
# what may be the one thing apart, and what each set-up has of it, in words
KINDS: dict[str, Of] = {"Throws": lambda x: x.throws, "Loose weights": lambda x: x.weights}


def apart_lines(result: StudyResult) -> list[str]:
    """Return what other throws or loose weights do to both limits of a pack, a line each pair.

    Set-ups of one pack that differ in that and in nothing else of their combination, each against
    the one that has it as today's has, or the first; maybe none.
    """
    out = []
    for pack in dict.fromkeys(x.pack for x in result.setups):
        alike = [x for x in result.setups if x.pack == pack]
        for what, of in KINDS.items():
            out += [_line(what, of, one, two, result) for one, two in _pairs(alike, of, result)]
    return out


def _pairs(
    alike: list[SetUpResult], of: Of, result: StudyResult
) -> Iterator[tuple[SetUpResult, SetUpResult]]:
    """Yield of set-ups of one pack those that differ in one thing, once for each it may be."""
    now = next((x for x in result.setups if x.name == result.today), alike[0])
    first = next((x for x in (now, *alike) if x in alike and of(x) == of(now)), alike[0])
    told = {of(first)}
    for x in alike:
        if _rest(x, of) == _rest(first, of) and of(x) not in told:
            told.add(of(x))
            yield first, x


def _rest(x: SetUpResult, but: Of) -> tuple[str, ...]:
    """Return all that makes a combination but for one thing."""
    return x.nozzle, x.gyro, *(of(x) for of in KINDS.values() if of is not but)


def _line(what: str, of: Of, one: SetUpResult, two: SetUpResult, result: StudyResult) -> str:
    old, new = (_apart(of(x), of(y)) for x, y in ((one, two), (two, one)))
    text = f"{what}, pack {one.pack}: {new} ({two.name}) instead of {old} ({one.name}): "
    text += f"aft limit {_aft_change(one, two, result)}{_forward_change(one, two)}"
    masses = [MASS.figure(x.mass_g) for x in (two, one)]
    if masses[0] != masses[1]:
        places = LENGTH.ahead(two.balance_aft_mm), LENGTH.ahead(one.balance_aft_mm)
        text += f"; {masses[0]} instead of {masses[1]} {MASS}, balanced at {places[0]} instead of "
        text += places[1]
    return f"{text}."


def _apart(mine: str, other: str) -> str:
    """Return of throws in words those that another set-up has otherwise."""
    parts, others = mine.split(", "), other.split(", ")
    return ", ".join(x for x in parts if x not in others) or mine


def _aft_change(one: SetUpResult, two: SetUpResult, result: StudyResult) -> str:
    limits = [own_limit(result.aft_limits, x) for x in (one, two)]
    if all(x is None for x in limits):
        return f"not searched with either{_stands(one, two, result)}"
    ends = ["not searched" if x is None else figure_text(x.held) for x in limits]
    if limits[0] is None or limits[1] is None:
        return f"{ends[1]} instead of {ends[0]}{_stands(one, two, result)}"
    same = ", which these draws do not tell apart" if _overlap(limits[0], limits[1]) else ""
    return f"{ends[1]} instead of {ends[0]}{same}"


def _overlap(one: AftLimit, two: AftLimit) -> bool:
    """Return whether the 95 % limits of two aft limits that were found have places in common."""
    if one.held.aft_mm is None or two.held.aft_mm is None:
        return False
    (low, high), (other_low, other_high) = (
        (
            float("-inf") if x.held.low_mm is None else x.held.low_mm,
            float("inf") if x.held.high_mm is None else x.held.high_mm,
        )
        for x in (one, two)
    )
    return low <= other_high and other_low <= high


def _stands(one: SetUpResult, two: SetUpResult, result: StudyResult) -> str:
    """Return how both stand where they balance, as no limit of both tells."""
    required = result.required_share_pct
    told = [
        f"{x.name} at {LENGTH.ahead(x.balance_aft_mm)} {TELLS[setup_outcome(x, required)]}"
        for x in (one, two)
    ]
    return f" ({listed(told)})"


def _forward_change(one: SetUpResult, two: SetUpResult) -> str:
    places = [None if x.forward is None else x.forward.aft_mm for x in (one, two)]
    if places[0] is None or places[1] is None:
        return ""
    old, new = (f"{LENGTH.at_least(aft_whole(x))} {LENGTH}" for x in places if x is not None)
    if old == new:
        return f"; forward limit {new} as before"
    return f"; forward limit {new} instead of {old}"
