"""The ladder of test flights in words, step by step."""

from dataclasses import dataclass
from math import ceil

from sim import tables
from sim.aero.geometry.edges import edge_mm
from sim.core import script_layout as s
from sim.describe import Aeroplane
from sim.judge import wilson
from sim.show.words.bench.placing import added_text, tray_text
from sim.show.words.bench.throws import Throw
from sim.show.words.ladder_ends import WHY_NOT, ending_text, refusal_text
from sim.show.words.phrases import height_text, limits_text, listed, lost_texts, share_text
from sim.show.words.places.limits import forward_text
from sim.show.words.places.window import fast_text
from sim.study.ladder.climbing import Step
from sim.study.ladder.ladder import Ladder
from sim.study.ladder.predictions import HIGH, LOW, Band
from sim.study.ladder.way import AFRESH, BALANCE
from sim.study.results.set_up import CaseResult
from sim.units.quantities import HEIGHT, LENGTH, SPEED


@dataclass(frozen=True)
class StepText:
    """One step: its heading, and what moves, is flown, should be seen, and stops the test."""

    heading: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class LadderText:
    """The ladder: where it leads, its steps, and why it ends where it does."""

    intro: str
    steps: tuple[StepText, ...]
    ending: str


def surface_text(deg: float) -> str:
    """Return a deflection of a pitch surface with the way its trailing edge goes."""
    size = f"{abs(deg):.1f}"
    if float(size) == 0.0:
        return f"{size}°"
    return f"{size}° {'down' if deg > 0.0 else 'up'}"


def ladder_text(ladder: Ladder, aeroplane: Aeroplane, pitch: Throw | None) -> LadderText:
    """Return a ladder in words; ``pitch`` is the throw of its pitch surface."""
    steps = []
    for i, step in enumerate(ladder.steps):
        before = ladder.steps[i - 1] if i else None
        steps.append(_step(ladder, i, step, before, aeroplane, pitch))
    return LadderText(_intro(ladder), tuple(steps), ending_text(ladder))


def _intro(ladder: Ladder) -> str:
    """Return where the ladder begins and leads, how to climb it, and what could not be had."""
    sentences = [_from(ladder)]
    if ladder.skipped is not None:
        sentences.append(
            f"What is flown today is no step: {refusal_text(ladder.skipped)}. "
            "Do not fly it as it is."
        )
    sentences += _afresh(ladder)
    if ladder.steps:
        sentences += [*_rules(ladder), *_inside(ladder)]
    for x in ladder.missing:
        sentences.append(
            f"Cannot be had on its own at {LENGTH.ahead(x.balance_aft_mm)}: {x.what} ({x.why})"
            f"{'' if ladder.reached else ', so it comes no earlier'}."
        )
    return " ".join(sentences)


def _from(ladder: Ladder) -> str:
    if ladder.today == ladder.setup and abs(ladder.start_mm - ladder.wanted_mm) < 0.5:
        return f"What is flown today is the wanted set-up, {ladder.setup}, itself."
    start = f"From what is flown today, {ladder.today} at {LENGTH(ladder.start_mm)}"
    if not ladder.named:
        start += " (the aeroplane's first set-up, as the study does not say; if it is another, "
        start += 'write today = "its name" into the study)'
    return f"{start}, to {ladder.setup} at {LENGTH.ahead(ladder.wanted_mm)}."


def _afresh(ladder: Ladder) -> list[str]:
    """Return why one step makes several changes at once, and that it is a first flight."""
    number, step = next(
        ((i + 1, step) for i, step in enumerate(ladder.steps) if step.kind == AFRESH), (0, None)
    )
    if step is None:
        return []
    forward = ladder.wanted_mm - step.balance_aft_mm
    where = f"begins {LENGTH(forward)} forward of the wanted balance"
    if forward < 1.0:
        where = "begins at the wanted balance itself, as none further forward can be had"
    first = "fly it as a first flight."
    if ladder.blocked is not None:
        why = "The single changes, in the order tried, lead through what must not be flown"
        if ladder.blocked != ladder.skipped:
            why += f" ({ladder.blocked.what}: {refusal_text(ladder.blocked)})"
    elif ladder.skipped is not None and not ladder.missing:
        return [f"With nothing flown behind it, step {number} {where}: {first}"]
    else:
        why = "No single change leads on"
    return [
        f"{why}, so step {number} makes all changes at once, on the ground, and {where}: {first}"
    ]


def _rules(ladder: Ladder) -> list[str]:
    fresh = any(step.kind == AFRESH for step in ladder.steps)
    one = "From there on one" if fresh and ladder.steps[0].kind == AFRESH else "One"
    one += " change a flight, never two together"
    if fresh and ladder.steps[0].kind != AFRESH:
        one += " but for that step"
    sentences = [
        f"{one}, and the next only if this one showed what is printed. "
        f"Figures are medians of {ladder.draws} draws, in brackets 10 to 90 % of them: a "
        "look, not a limit. The height is right for the share of flights that the study asks to "
        "come back, and a step says how many of its draws did not."
    ]
    if any(x.kind not in (BALANCE, AFRESH, ladder.steps[0].kind) for x in ladder.steps[1:]):
        sentences.append(
            "Each change but that of balance moves the pack so that the balance stays."
        )
    places = [x.balance_aft_mm for x in ladder.steps]
    forward = places[-1] < ladder.start_mm and not fresh
    if forward and any(x.kind == BALANCE for x in ladder.steps):
        sentences.append(_going_forward(ladder))
    return sentences


def _going_forward(ladder: Ladder) -> str:
    """Return how to go forward: at once, but where whether it lands from there is not known."""
    held = None if ladder.limit is None else ladder.limit.held
    if held is None or held.forward is None or held.forward.flown_mm is None:
        return "Going forward gives margin, so it comes first and in one step."
    flown = LENGTH.ahead(held.forward.flown_mm)
    return (
        "Going forward gives margin in stalls and spins, so it comes first; but ahead of "
        f"{flown}, where it is flown today, it is NOT KNOWN whether it lands and lifts its nose: "
        "go there a few mm a flight, and look each time that it does both."
    )


def _inside(ladder: Ladder) -> list[str]:
    """Return which steps lie inside the limits of the aft limit of their own combination."""
    by: dict[tuple[str, str], list[str]] = {}
    for i, step in enumerate(ladder.steps):
        low = None if step.inside is None else forward_text(step.inside.low_mm)
        if low is not None:
            by.setdefault((step.pack, low), []).append(f"{i + 1}")
    return [
        f"{'Steps' if len(steps) > 1 else 'Step'} {listed(steps)}: aft of {low} {LENGTH}, and so "
        f"inside the 95 % limits of the aft limit of pack {pack} as it is set up there."
        for (pack, low), steps in by.items()
    ]


def _step(
    ladder: Ladder, i: int, step: Step, before: Step | None, aeroplane: Aeroplane,
    pitch: Throw | None,
) -> StepText:  # fmt: skip
    heading = f"Step {i + 1} of {len(ladder.steps)}: {step.what}"
    if step.kind not in (BALANCE, AFRESH):
        heading += f", balance {LENGTH.ahead(step.balance_aft_mm)}"
    rows = (
        ("Set", _moves(step, before, aeroplane)),
        *((("Land", f"{fast_text(step.fast)}."),) if step.fast is not None else ()),
        ("Fly", _flown(step)),
        ("Expect", _expected(step, before, ladder.speed_mps, pitch)),
        ("Stop and re-check if", _stops(step)),
    )
    return StepText(f"{heading} ({step.balance_pct_mac:.1f} % MAC)", rows)


def _moves(step: Step, before: Step | None, aeroplane: Aeroplane) -> str:
    """Return where the pack goes, how far that is from the step before, and the weights."""
    text = f"pack {step.pack}, {tray_text(aeroplane, step.pack, step.pack_aft_mm)}"
    if before is not None:
        moved = step.pack_aft_mm - before.pack_aft_mm
        way = f"{LENGTH(abs(moved))} {'aft' if moved > 0.0 else 'forward'} of"
        text += f" ({way if abs(moved) >= 0.5 else 'where it was in'} the step before)"
    if step.added_weights:
        text += f"; for balance {added_text(step.added_weights, aeroplane)}"
    elif before is not None and before.added_weights:
        text += "; take the weights added for balance out"
    if step.unlike:
        text += f". NOT YET as on the front: {'; '.join(step.unlike)}"
    return f"{text}."


def _flown(step: Step) -> str:
    case = step.case
    above = max(tables.card().trim_above_m, case.floor_m)
    text = f"trim hands off above {HEIGHT(above)}, then {case.manoeuvre_title}. "
    text += f"Enter at {HEIGHT(case.entry_m)}, floor {HEIGHT(case.floor_m)}, "
    text += f"recover by: {case.recovery_title}. "
    lost = case.shares.flights - case.shares.back
    if lost:
        text += f"{lost} of {case.shares.flights} draws did NOT come back above the floor. "
    text += f"The flight that needs most takes {_most(step)} {HEIGHT}, floor included{_over(step)}."
    for left_out, why in step.left_out:
        text += f" Not here: {left_out.manoeuvre_title}, {WHY_NOT[why]}."
    return text


def _over(step: Step) -> str:
    """Return that the hardest flight needs more than the entry height, and so is lost."""
    most = step.seen.most_needed_m
    if most is None or most <= step.case.entry_m:
        return ""
    return ": more than you enter with, it is among those that did not come back above it"


def _most(step: Step) -> str:
    """Return the entry height that all flights of a step stay within, rounded up."""
    most = step.seen.most_needed_m
    return (
        "no known"
        if most is None
        else HEIGHT.at_least(ceil(most - 1e-9) if HEIGHT.is_default else most)
    )


def _expected(step: Step, before: Step | None, speed_mps: float, pitch: Throw | None) -> str:
    """Return what should be seen: trim, stall, departure and height, with 10-90 % limits."""
    case, stall, lost = step.case, step.seen.stall_mps, step.seen.height_lost_m
    parts = [
        f"{_trim(step.seen.tail_deg, pitch)} in level flight at {SPEED(speed_mps)}"
        f"{_trim_change(step, before)}",
        f"stall at {SPEED(stall.middle, '.1f')} ({SPEED.figure(stall.low, '.1f')} to "
        f"{SPEED.figure(stall.high, '.1f')})",
        _departures(step),
        f"height lost {lost_texts(case)[0]} {HEIGHT} ({_height(case, lost.low, LOW)} to "
        f"{_height(case, lost.high, HIGH)})",
        share_text(case.shares),
    ]
    return f"{'; '.join(parts)}."


def _height(case: CaseResult, value: float | None, quantile: float) -> str:
    return height_text(value, case, s.R_HEIGHT_LOST, quantile)


def _trim(tail: Band, pitch: Throw | None) -> str:
    """Return the trim to be expected, in degrees and at the trailing edge as a travel."""
    if tail.middle is None or tail.low is None or tail.high is None or pitch is None:
        return "no trim was found"
    text = f"{pitch.channel} {surface_text(tail.middle)} ({surface_text(tail.low)} to "
    text += f"{surface_text(tail.high)})"
    travel = edge_mm(pitch.arm_mm, tail.middle)
    return f"{text}, {LENGTH(abs(travel), '.1f')} at the trailing edge,"


def _trim_change(step: Step, before: Step | None) -> str:
    """Return how far the median trim moves from the step before: the sharpest sign of all."""
    if before is None:
        return ""
    now, then = step.seen.tail_deg.middle, before.seen.tail_deg.middle
    if now is None or then is None:
        return ""
    moved = f"{abs(now - then):.1f}"
    if float(moved) == 0.0:
        return ", as in the step before"
    return f", {moved}° further {'down' if now > then else 'up'} than the step before"


def _departures(step: Step) -> str:
    """Return how many let go in the manoeuvre, and what they do then."""
    seen, spin = step.seen, step.case.spin
    low, high = wilson(seen.departed, seen.draws)
    if seen.departed == 0:
        return f"it does not depart (0 of {seen.draws}, {limits_text(low, high)})"
    text = f"it departs in {seen.departed} of {seen.draws} ({limits_text(low, high)})"
    if spin is None:
        return f"{text}, no spin to speak of"
    return f"{text}, typically {spin.mode}, turning {spin.yaw_rate_dps:.0f} °/s"


def _stops(step: Step) -> str:
    """Return the thresholds of this step at which the test ends."""
    seen, parts = step.seen, []
    low, high = seen.tail_deg.low, seen.tail_deg.high
    if low is not None and high is not None:
        parts.append(f"trim is not {surface_text(low)} to {surface_text(high)}")
    parts.append(f"it stalls faster than {SPEED(seen.stall_mps.high, '.1f')}")
    parts.append(f"it loses more than {lost_texts(step.case)[1]} {HEIGHT}")
    if seen.departed == 0:
        parts.append("it departs at all")
    return f"{', '.join(parts)}, or any abort rule."
