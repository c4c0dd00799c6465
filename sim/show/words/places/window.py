"""The window of balance points in words: forward limit, what decides it, what lies outside."""

from collections.abc import Sequence
from math import isfinite

from sim import tables
from sim.landing.forward import FLARE, ROTATE, TOUCH_DOWN, CheckLimit, ForwardLimit
from sim.show.words.phrases import capital, listed
from sim.show.words.places.forward_rests import asks_text, nominal_text, refuted_text
from sim.show.words.places.limits import for_whom, gone_text
from sim.show.words.places.more_area import more_area_text
from sim.show.words.places.more_throw import more_throw_clause, more_throw_text
from sim.study.forward import Fast
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.window import (
    Kind,
    Window,
    aft_whole,
    ahead_mm,
    even_nominal,
    forward_of_limit,
    window_of,
)
from sim.units.quantities import LENGTH, SPEED
from sim.units.ranges import range_words

LANDS_FAST = "LANDS FAST"
# what full aft stick does not do
CANNOT = {FLARE: "flare", TOUCH_DOWN: "hold off to the touch-down speed", ROTATE: "lift the nose"}


def _at_most(mm: float | None) -> str:
    return f"{LENGTH.at_most(mm)} {LENGTH}"


def short_window(window: Window) -> str:
    """Return "balance window 160 to 175 mm", or that there is none, in a few words."""
    if window.kind is Kind.OPEN:
        beyond = "at least " if window.at_end else ""
        front = LENGTH.at_least(window.front_mm)
        return f"balance window {range_words(front, f'{beyond}{_at_most(window.aft_mm)}')}"
    if window.kind is Kind.UNKNOWN:
        return "balance window not known: no forward limit found"
    if window.kind is Kind.REFUTED:
        return refuted_text(window.forward_mm, window.front_mm)
    ahead = f"landing takes {LENGTH.at_least(window.forward_mm)} {LENGTH} or further aft"
    if window.kind is Kind.NOT_SEARCHED:
        return f"{ahead}; no aft limit was searched"
    if window.kind is Kind.NONE:
        return f"NO WINDOW: {ahead}, coming back {_at_most(window.ends_mm)} or further forward"
    return f"NO WINDOW: {ahead}, coming back from all that was asked is shown nowhere"


def card_window(window: Window, short_mm: float) -> str:
    """Return a window in a line of a card; ``short_mm`` a set-up lies forward of its limit [mm]."""
    if window.kind is Kind.UNKNOWN:
        return "not known, no forward limit found"
    if window.kind is Kind.REFUTED:
        beyond = "at least " if window.at_end else ""
        rear = "not searched" if window.ends_mm is None else f"{beyond}{_at_most(window.ends_mm)}"
        return f"aft {rear}; forward not known, flown from {LENGTH.ahead(window.front_mm)} today"
    beyond = "at least " if window.at_end else ""
    lands = f"lands from {LENGTH.at_least(window.forward_mm)}"
    text = {
        Kind.OPEN: range_words(
            LENGTH.at_least(window.front_mm), f"{beyond}{_at_most(window.aft_mm)}"
        ),
        Kind.NONE: f"NONE: {lands}, back to {_at_most(window.ends_mm)}",
        Kind.NO_AFT: f"NONE: {lands} {LENGTH}, back nowhere",
        Kind.NOT_SEARCHED: f"{lands} {LENGTH}, aft not searched",
    }[window.kind]
    return f"{text}; {LENGTH(short_mm)} FORWARD" if short_mm else text


def window_text(forward: ForwardLimit | None, limit: AftLimit | None) -> str:
    """Return the window of a pack and combination in a clause, with what bounds it.

    Where a manoeuvre is not to be flown there is none with it, and that of the rest is marked.
    """
    if limit is not None and limit.without is not None:
        rest = window_text(forward, limit.without)
        return f"NO WINDOW with {gone_text(limit)}; flown without, {rest}"
    window = window_of(forward, limit)
    text = short_window(window)
    if window.kind is not Kind.OPEN:
        return text
    flown, ahead = window.flown_from_mm, window.forward_mm
    if flown is not None and ahead is not None and flown > ahead:
        return (
            f"{text}: aft limit by recovery; full aft stick would do from {LENGTH(ahead)}, but "
            f"{LENGTH(flown)} is the foremost balance point flown"
        )
    return f"{text}: forward limit by what full aft stick does, aft limit by recovery"


def check_text(check: CheckLimit) -> str:
    """Return what was asked of full aft stick, in words."""
    flap = f", flap {check.flap_deg:g}°" if check.flap_deg else ""
    if check.name == FLARE:
        return f"the flare ({check.load_g:g} g at {SPEED(check.speed_mps, '.1f')}{flap})"
    if check.name == ROTATE:
        return f"lifting the nose for a full-throttle take-off by {SPEED(check.speed_mps, '.1f')}"
    return f"holding it off down to {SPEED(check.speed_mps, '.1f')} at touch-down{flap}"


def forward_text(forward: ForwardLimit) -> str:
    """Return the forward limit with its interval, what decides it, and what was left out."""
    decided = forward.decided_by
    left_out = f"; {'; '.join(forward.left_out)}" if forward.left_out else ""
    if forward.reckoned_mm is not None and decided is not None:
        reckoned = refuted_text(aft_whole(forward.reckoned_mm), forward.flown_mm)
        return f"{reckoned} (reckoned by {check_text(decided)}){left_out}"
    if decided is None or forward.aft_mm is None:
        return f"forward limit: none found{left_out}"
    ends = (forward.low_mm or 0.0, forward.high_mm or 0.0)
    low, high = (LENGTH.at_least(aft_whole(x)) for x in ends)
    text = (
        f"forward limit {LENGTH.at_least(aft_whole(forward.aft_mm))} {LENGTH} "
        f"(95 % limits {range_words(low, high)}), "
        f"{forward.pct_mac:.1f} % MAC, by {check_text(decided)}"
    )
    return f"{text}{left_out}{reach_text(forward)}{stable_text(forward)}"


def stable_text(forward: ForwardLimit) -> str:
    """Return that the forward limit lies near the neutral point, or behind it; else empty."""
    room, neutral = forward.room_pct, forward.neutral_mm
    if room is None or neutral is None or room >= tables.landing().near_neutral_pct:
        return ""
    if room <= 0.0:
        return (
            f"; that is BEHIND the neutral point, {LENGTH(neutral)} (level, stick fixed, nominal): "
            "no stable balance point lands so"
        )
    return (
        f"; that is only {room:.1f} % MAC ahead of the neutral point, {LENGTH(neutral)} (level, "
        "stick fixed, nominal): little room for a stable balance point"
    )


def reach_text(forward: ForwardLimit) -> str:
    """Return that the forward limit lies ahead of what the pack can reach; else empty."""
    if forward.aft_mm is None or forward.aft_mm >= forward.reach_mm:
        return ""
    return (
        f"; the pack at the front of its tray, nothing added, balances it at "
        f"{LENGTH(forward.reach_mm)}, behind that"
    )


def window_sentences(limits: Sequence[AftLimit], setups: Sequence[SetUpResult]) -> list[str]:
    """Return the window of every pack and combination: those searched, then other set-ups'."""
    whose: dict[str, list[str]] = {}
    for x in limits:
        if x.forward is not None:
            text = forward_text(x.forward)
            if window_of(x.forward, x).kind is not Kind.REFUTED:  # that says all there is
                text = f"{window_text(x.forward, x)}; {text}"
            told_of = whose.setdefault(f"{text}.{opening_text(x.forward, x)}", [])
            told_of.append(for_whom(x, limits))
    out = [f"{capital(listed(who))}: {text}" for text, who in whose.items()]
    searched = {id(x.forward) for x in limits}
    told: dict[int, list[SetUpResult]] = {}
    for setup in setups:
        if setup.forward is not None and id(setup.forward) not in searched:
            told.setdefault(id(setup.forward), []).append(setup)
    for group in told.values():
        forward = group[0].forward
        assert forward is not None
        names = ", ".join(x.name for x in group)
        out.append(
            f"Pack {group[0].pack} ({names}): {forward_text(forward)}; no aft limit searched."
        )
    return out


def opening_text(forward: ForwardLimit, limit: AftLimit) -> str:
    """Return what may open a window where there is none, as a sentence; else empty."""
    window = window_of(forward, limit)
    if window.kind is not Kind.NONE:
        return ""
    told: tuple[str, ...] = (
        measure_text(forward, limit),
        more_throw_text(limit.more_throw),
        more_area_text(limit.more_area, other=False),
    )
    if limit.more_throw is None and limit.more_area is None:
        told = (*told, "Try more elevator, and search both limits again.")
    return "".join(f" {x}" for x in told if x)


def measure_text(forward: ForwardLimit, limit: AftLimit) -> str:
    """Return that measuring may open a window, and what each job would do; maybe empty."""
    nominal = forward.nominal_mm
    if nominal is None or limit.aft_mm is None or nominal > limit.aft_mm:
        return ""
    text = f"By the file's own values alone it lands from {_least(nominal)}, so measuring may help"
    if not limit.landing:
        return f"{text}: none was found that moves it by a millimetre alone."
    jobs = "; ".join(f"{x.text} ({x.measure}): {_least(x.aft_mm)}" for x in limit.landing)
    return f"{text}. It lands from, if it comes out as it stands in the file (reckoned): {jobs}."


def _least(mm: float) -> str:
    return f"{LENGTH.at_least(aft_whole(mm))} {LENGTH}"


def windows_in_short(limits: Sequence[AftLimit]) -> str:
    """Return the windows of all limits in one sentence; empty where none was searched."""
    parts = [
        f"with {for_whom(x, limits)} {window_text(x.forward, x)}"
        for x in limits
        if x.forward is not None
    ]
    text = "; ".join(parts)
    return f"{text[0].upper()}{text[1:]}." if text else ""


def forward_of_text(setup: SetUpResult, more: bool = True, why: bool = True) -> str:
    """Return that a set-up lies forward of its forward limit, and what ``more`` throw does.

    And ``why``, which stands beside the limit of its pack where that is told.
    """
    short, forward = forward_of_limit(setup), setup.forward
    decided = None if forward is None else forward.decided_by
    if not short or forward is None or decided is None:
        return ""
    place = aft_whole(forward.aft_mm or 0.0)
    inside = forward.low_mm is not None and setup.balance_aft_mm >= forward.low_mm
    near = ", inside its 95 % limits" if inside else ""
    who = nominal = ""
    if even_nominal(forward, setup.balance_aft_mm):
        who, nominal = "nominally, and ", f" ({nominal_text(forward)})"
    throw = more_throw_clause(setup.more_throw) if more else ""
    where = f"it lies {LENGTH(short)} FORWARD of its forward limit, {LENGTH(place)}{near}"
    if not why:
        return f"{where}, nominally too" if who else where
    asks = asks_text(forward, setup.stall_speed_mps)
    return (
        f"{where}{nominal}: {who}in too many draws, full aft stick does not do "
        f"for {check_text(decided)}{asks and ', '}{asks}{throw and '; '}{throw}"
    )


def known_to_land_text(setup: SetUpResult) -> str:
    """Return what landings already made tell of a forward limit, as a sentence; maybe empty.

    Only where the file's own values land it there: against even those it is no evidence to lean on.
    """
    if not forward_of_limit(setup) or even_nominal(setup.forward, setup.balance_aft_mm):
        return ""
    return (
        "If it does land so, balanced there with these throws, that is evidence which this study "
        "does not have: the forward limit allows for what is not known, and by the file's own "
        "values it lands."
    )


def ahead_text(forward: ForwardLimit, balance_mm: float) -> str:
    """Return that a set-up lies forward of even the nominal forward limit, and what it cannot."""
    cannot = [x for x in forward.checks if x.nominal_mm > balance_mm]
    names = list(dict.fromkeys(CANNOT[x.name] for x in cannot))
    place = aft_whole(forward.aft_mm or 0.0)
    return (
        f"it lies {LENGTH(ahead_mm(forward, balance_mm))} forward of its forward limit, "
        f"{LENGTH(place)} ({nominal_text(forward)}): even nominally full aft stick does not "
        f"{_either(names)} there"
    )


def _either(names: Sequence[str]) -> str:
    """Return "one, two or three"; "land" of none."""
    *most, last = names or ["land"]
    return f"{', '.join(most)} or {last}" if most else last


def fast_short(fast: Fast) -> str:
    """Return in capitals how a set-up forward of its forward limit is landed, or takes off."""
    return LANDS_FAST if {FLARE, TOUCH_DOWN} & {*fast.checks} else "LIFTS ITS NOSE LATE"


def fast_text(fast: Fast) -> str:
    """Return the same, with what is not shown, and the speed to touch down at."""
    names = list(dict.fromkeys(CANNOT[x] for x in fast.checks))
    text = (
        f"{fast_short(fast)}: {LENGTH(fast.short_mm)} forward of its forward limit, not shown to "
        f"{_either(names)}"
    )
    return text if fast_short(fast) != LANDS_FAST else f"{text}; {touch_text(fast)}"


def touch_text(fast: Fast) -> str:
    """Return the speed to touch down no slower than."""
    if not isfinite(fast.held_to_p95_mps):
        return "no speed is known that full aft stick holds it to"
    return (
        f"full aft stick holds it to {SPEED(fast.held_to_p95_mps, '.1f')} in 95 % of draws "
        f"(nominal {SPEED.figure(fast.held_to_mps, '.1f')}): touch down no slower"
    )
