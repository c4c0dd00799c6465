"""A deep stall in words: which flights hung, what the pilot sees, what ended it."""

from sim import tables
from sim.judge import Hang, Outcome
from sim.show.words.phrases import capital, limits_text, listed, spoken
from sim.study.results.result import StudyResult
from sim.study.results.set_up import DeepStall, SetUpResult, WayOut
from sim.study.standing.deep_stalls import (
    best_way,
    lost_by_hanging,
    never_to_hang,
    way_outcome,
)
from sim.units.quantities import HEIGHT, SPEED

STICK_ALONE = "stick_forward_alone"
NOTHING = "nothing tried ended it"
ENDS = "ends it more often than not"  # what the judge asks of a way out, and no more
AFT_THEN = " (AFT if on its back)"  # of a stick that goes forward in an erect deep stall
ON_ITS_BACK = "hung on its back: stick AFT where it says forward"
SHORT = "mostly ends it"  # the same on a card
ALL_STAND_FOR_95 = 20  # of so few the greatest height stands for 95 %, see `study.cases.heights`


def way_text(way: WayOut) -> str:
    """Return "full power stick forward (13 of 21, 43-81 %; 25 m, 95 % within 93 m)"."""
    share = f"{way.out} of {way.flights}, {limits_text(way.low, way.high)}"
    return f"{spoken(way.name)} ({share}{_heights(way)})"


def _heights(way: WayOut) -> str:
    middle, most = way.height_m.median, way.height_m.p95
    if middle is None or most is None:
        return ""
    if f"{middle:.0f}" == f"{most:.0f}":
        return f"; {HEIGHT(middle)}"
    if way.out <= ALL_STAND_FOR_95:
        return f"; {HEIGHT(middle)}, at most {HEIGHT(most)}"
    return f"; {HEIGHT(middle)}, 95 % within {HEIGHT(most)}"


def height_text(way: WayOut) -> str:
    """Return median and 95th percentile of the height [m] in a table's cell."""
    middle, most = way.height_m.median, way.height_m.p95
    return (
        "-"
        if middle is None or most is None
        else f"{HEIGHT.figure(middle)}, {HEIGHT.at_least(most)}"
    )


def swing_text(hang: Hang) -> tuple[str, str]:
    """Return how far the nose swings either way [deg], and its period [s], in table cells."""
    period = f"{hang.period_s:.1f}" if hang.period_s > 0.0 else "-"
    return f"{2.0**0.5 * hang.swing_deg:.0f}", period


def places_text(deep_stall: DeepStall) -> str:
    """Return "9 of 32 after throttle chop stall and 12 of 32 after high alpha pull up"."""
    return listed(
        [f"{x.hung} of {x.flights} after {spoken(x.manoeuvre)}" for x in deep_stall.places]
    )


def lost_text(deep_stall: DeepStall) -> str:
    """Return how many of the flights that hung were lost for that reason."""
    lost, hung = sum(x.lost for x in deep_stall.places), sum(x.hung for x in deep_stall.places)
    if lost == 0:
        return f"{'it was not' if hung == 1 else 'none was'} lost for that reason"
    if hung == 1:
        return "it was lost for that reason"
    were = "was" if lost == 1 else "were"
    return f"{'all' if lost == hung else f'{lost} of these {hung}'} {were} lost for that reason"


def seen_text(deep_stall: DeepStall) -> str:
    """Return what the pilot sees, worked out from the numbers, erect and inverted apart."""
    hangs = deep_stall.hangs
    several = len(hangs) > 1
    seen = [
        f"{way_up_text(hang, deep_stall)}: {_seen(hang)}" if several or hang.inverted
        else _seen(hang)
        for hang in hangs
    ]  # fmt: skip
    return "; ".join([*seen, *_stick(deep_stall)])


def way_up_text(hang: Hang, deep_stall: DeepStall) -> str:
    """Return "erect, 5 of 8", or "on its back, 3 of 8"."""
    way = "on its back" if hang.inverted else "erect"
    return f"{way}, {hang.flights} of {sum(x.flights for x in deep_stall.hangs)}"


def hangs_inverted(deep_stall: DeepStall) -> bool:
    """Return True where some of the flights that hung did so on their back."""
    return any(hang.inverted for hang in deep_stall.hangs)


def _seen(hang: Hang) -> str:
    values = tables.judge()
    parts = [_nose(hang.nose_deg, values.seen_level_deg), _fall(hang)]
    if hang.swing_deg >= values.seen_swing_deg:
        often = f" every {hang.period_s:.1f} s" if hang.period_s > 0.0 else ", in no steady time"
        parts.append(f"it nods by about {_size(hang.swing_deg)} either way{often}")
    if hang.wallow_deg >= values.seen_swing_deg:
        parts.append(f"the wings rock by about {_size(hang.wallow_deg)}")
    turns = hang.turn_dps >= values.seen_turn_dps
    parts.append(
        f"it turns slowly, once in {360.0 / hang.turn_dps:.0f} s" if turns else "it hardly turns"
    )
    return ", ".join(parts)


def _size(spread_deg: float) -> str:
    """Return how far a swing goes with this standard deviation, as for a sine."""
    return f"{2.0**0.5 * spread_deg:.0f} degrees"


def _stick(deep_stall: DeepStall) -> list[str]:
    """Return what the stick at its forward stop does, where that was tried."""
    alone = next((way for way in deep_stall.ways if way.name == STICK_ALONE), None)
    if alone is None:
        return []
    stick = f"full forward stick{AFT_THEN if hangs_inverted(deep_stall) else ''}"
    if alone.out == 0:
        return [f"{stick} does nothing (0 of {alone.flights})"]
    return [f"{stick} brings {alone.out} of {alone.flights} out"]


def _nose(nose_deg: float, level_deg: float) -> str:
    if abs(nose_deg) < level_deg:
        return "the nose stays near the horizon"
    side = "above" if nose_deg > 0.0 else "below"
    return f"the nose stays {abs(nose_deg):.0f} degrees {side} the horizon"


def _fall(hang: Hang) -> str:
    flat = f"it sinks at {SPEED(hang.sink_mps)} at {abs(hang.alpha_deg):.0f} degrees"
    return f"{flat} of angle of attack"


def ends_text(deep_stall: DeepStall) -> str:
    """Return what ends it, or that nothing does or is shown to, with the counts."""
    best = best_way(deep_stall)
    if best is None:
        ways = deep_stall.ways
        return f"{NOTHING}: none of {ways[0].flights} came out by any of {len(ways)} ways"
    ends = way_outcome(best)
    if ends is Outcome.MET:
        return f"{way_text(best)} {ENDS}"
    if ends is Outcome.OPEN:
        return f"nothing is shown to end it; {way_text(best)} is the best of what was tried"
    return f"nothing tried ends it; {way_text(best)} is the best of it"


def reason_text(result: StudyResult) -> str:
    """Return which set-ups do not meet it for deep stalls above all; empty where none."""
    names = lost_by_hanging(result)
    if not names:
        return ""
    return f"DEEP STALL is the commonest reason why flights of {listed(names)} are lost."


def verdict_text(setup: SetUpResult, deep_stall: DeepStall) -> str:
    """Return the verdict on a set-up's deep stall in two sentences."""
    return (
        f"{setup.name} can hang in a deep stall: {places_text(deep_stall)}, recovering by "
        f"{spoken(deep_stall.recovery)}; {lost_text(deep_stall)}. {capital(ends_text(deep_stall))}"
        f"{f'; {ON_ITS_BACK}' if hangs_inverted(deep_stall) else ''}."
    )


def short_text(deep_stall: DeepStall) -> str:
    """Return that a set-up can hang, and what ends it, in one clause."""
    return f"it can hang in a deep stall ({places_text(deep_stall)}): {ends_text(deep_stall)}"


def in_short(deep_stall: DeepStall) -> str:
    """Return "full power ends it more often than not (18 of 20, 35 m)", or that none does."""
    best = best_way(deep_stall)
    if best is None:
        return f"{NOTHING} (0 of {deep_stall.ways[0].flights})"
    share = f"{spoken(best.name)} {best.out} of {best.flights}"
    share += "" if best.height_m.p95 is None else f", {HEIGHT(best.height_m.p95)}"
    ends = way_outcome(best)
    if ends is Outcome.MET:
        return f"{spoken(best.name)} {ENDS} ({share.removeprefix(spoken(best.name) + ' ')})"
    text = "no sure way out" if ends is Outcome.OPEN else "nothing tried ends it"
    return f"{text} (best: {share})"


def headed(setup: SetUpResult, deep_stall: DeepStall) -> str:
    """Return the heading of a set-up's deep stall."""
    return f"{setup.name}: {in_short(deep_stall)}"


def card_line(deep_stall: DeepStall) -> str:
    """Return the warning on a flight card, in one line; heights within which 95 % came out."""
    order = ": do not fly it" if never_to_hang(deep_stall) else ""
    ends = in_short(deep_stall).replace(ENDS, SHORT)
    back = f" {capital(ON_ITS_BACK)}." if hangs_inverted(deep_stall) else ""
    places = deep_stall.places
    count = f"{sum(x.hung for x in places)} of {sum(x.flights for x in places)}"
    return f"DEEP STALL, {count} hung: {ends}{order}.{back}"


def note(mark: str) -> str:
    """Return how ways out are flown, and what numbers are; ``mark`` is of what ends it."""
    values = tables.judge()
    return (
        "Ways out are flown by the draws that hang, from where they hang: the recovery is given up "
        f"once it has hung for {values.deep_stall_for_s:g} s. Height: from the first input of "
        "the way out to level, of those that came out; what was sunk before comes on top. "
        f"{mark}: the lower 95 % limit is at least {100.0 * values.deep_stall_ends_share:.0f} %."
    )
