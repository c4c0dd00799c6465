"""The ladder of test flights in words, step by step."""

from dataclasses import dataclass

from sim.aero.tables import read_toml
from sim.core import script_layout as s
from sim.describe import Aeroplane
from sim.judge import wilson
from sim.show.phrases import height_text, limits_text, lost_texts, needed_texts, share_text
from sim.show.placing import added_text, place_text
from sim.show.throws import Throw, edge_mm
from sim.study.ladder import Ladder, Origin, Step
from sim.study.predictions import HIGH, LOW, Band, End
from sim.study.result import CaseResult

ORIGINS = {
    Origin.FLOWN: "where the aeroplane's first set-up balances, as flown so far",
    Origin.SHOWN: "the foremost balance point that met the requirement with this pack",
    Origin.USUAL: "where first flights are usually balanced",
    Origin.FORWARD: "already forward of all that is known to be good",
}
WHY_NOT = {
    End.FAILS: "does not meet the requirement",
    End.TOO_HIGH: "cannot be tested lawfully at this height here",
}


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
    return LadderText(_intro(ladder), tuple(steps), _ending(ladder))


def _intro(ladder: Ladder) -> str:
    if not ladder.steps:
        return f"There are no steps to the wanted balance of {ladder.wanted_mm:.0f} mm."
    first = ladder.steps[0].balance_aft_mm
    text = f"From {first:.0f} mm ({ORIGINS[ladder.origin]}) towards the wanted "
    text += f"{ladder.wanted_mm:.0f} mm: one step a flight, nothing else changed with it, and the "
    text += f"next only if this one showed what is printed. Figures are medians of {ladder.draws} "
    text += "draws, in brackets 10 to 90 % of them: a look, not a limit."
    if ladder.out_of_reach_mm:
        told = ", ".join(f"{mm:.0f}" for mm in ladder.out_of_reach_mm)
        text += f" Out of reach with this pack and its weight places: {told} mm."
    return text


def _ending(ladder: Ladder) -> str:
    """Return why the ladder ends where it does."""
    wanted = f"the wanted {ladder.wanted_mm:.0f} mm"
    if ladder.end is End.REACHED:
        return f"The last step is {wanted}."
    if ladder.end is End.NO_START:
        if ladder.limit is not None and ladder.limit.aft_mm is None:
            return "No balance point met the requirement with this pack: do not fly this set-up."
        return "No balance point of the ladder can be had with this pack and its weight places."
    if ladder.end is End.LIMIT and ladder.limit is not None and ladder.limit.aft_mm is not None:
        shown = f"{ladder.limit.aft_mm:.0f} mm"
        if ladder.limit.at_end:
            told = f"the rearmost balance point tried with this pack, {shown}"
        else:
            told = f"the aft limit shown for this pack, {shown}"
        return f"STOP THERE. {wanted.capitalize()} lies aft of {told}: it is not to be flown."
    assert ladder.refused_mm is not None
    assert ladder.refused is not None
    case = ladder.refused
    if ladder.end is End.FAILS:
        why = f"{case.manoeuvre_title} no longer meets the requirement there, "
        why += share_text(case.shares)
    else:
        need = needed_texts(case)[1]
        why = f"{case.manoeuvre_title} needs {need} m there for 95 % of flights, above the ceiling "
        why += f"of {ladder.ceiling_m:.0f} m: it cannot be tested lawfully at this height here"
    return (
        f"STOP BEFORE {ladder.refused_mm:.0f} mm: {why}. {wanted.capitalize()} is not to be flown."
    )


def _step(
    ladder: Ladder, i: int, step: Step, before: Step | None, aeroplane: Aeroplane,
    pitch: Throw | None,
) -> StepText:  # fmt: skip
    heading = f"Step {i + 1} of {len(ladder.steps)}: balance {step.balance_aft_mm:.0f} mm "
    heading += f"({step.balance_pct_mac:.1f} % MAC)"
    rows = (
        ("Set", _moves(step, before, aeroplane)),
        ("Fly", _flown(step)),
        ("Expect", _expected(step, before, ladder.speed_mps, pitch)),
        ("Stop and re-check if", _stops(step)),
    )
    return StepText(heading, rows)


def _moves(step: Step, before: Step | None, aeroplane: Aeroplane) -> str:
    """Return where the pack goes, how far that is from the step before, and the weights."""
    front = aeroplane.tray.front_aft_mm
    text = (
        f"pack's centre {place_text(step.pack_aft_mm)}, {step.pack_aft_mm - front:.0f} mm behind "
    )
    text += "the tray's front end"
    if before is not None:
        moved = step.pack_aft_mm - before.pack_aft_mm
        way = "aft" if moved > 0.0 else "forward"
        text += f" ({abs(moved):.0f} mm {way} of the step before)"
    if step.added_weights:
        text += f"; add {added_text(step.added_weights, aeroplane)}"
    elif before is not None and before.added_weights:
        text += "; take the added weights out"
    return f"{text}."


def _flown(step: Step) -> str:
    case = step.case
    above = read_toml("card.toml").values["trim_above_m"]
    text = f"trim hands off above {above:.0f} m, then {case.manoeuvre_title}. "
    text += f"Enter at {case.entry_m:.0f} m, floor {case.floor_m:.0f} m, "
    text += f"recover by: {case.recovery_title}."
    for left_out, why in step.left_out:
        text += f" Not here: {left_out.manoeuvre_title}, which {WHY_NOT[why]}."
    return text


def _expected(step: Step, before: Step | None, speed_mps: float, pitch: Throw | None) -> str:
    """Return what should be seen: trim, stall, departure and height, with 10-90 % limits."""
    case, stall, lost = step.case, step.seen.stall_mps, step.seen.height_lost_m
    parts = [
        f"{_trim(step.seen.tail_deg, pitch)} in level flight at {speed_mps:.0f} m/s"
        f"{_trim_change(step, before)}",
        f"stall at {stall.middle:.1f} m/s ({stall.low:.1f} to {stall.high:.1f})",
        _departures(step),
        f"height lost {lost_texts(case)[0]} m ({_height(case, lost.low, LOW)} to "
        f"{_height(case, lost.high, HIGH)})",
        share_text(case.shares),
    ]
    return f"{'; '.join(parts)}."


def _height(case: CaseResult, value: float | None, quantile: float) -> str:
    return height_text(value, case, s.R_HEIGHT_LOST, quantile)


def _trim(tail: Band, pitch: Throw | None) -> str:
    """Return the trim to be expected, in degrees and at the trailing edge in mm."""
    if tail.middle is None or tail.low is None or tail.high is None or pitch is None:
        return "no trim was found"
    text = f"{pitch.channel} {surface_text(tail.middle)} ({surface_text(tail.low)} to "
    text += f"{surface_text(tail.high)})"
    travel = edge_mm(pitch.arm_mm, tail.middle)
    return f"{text}, {abs(travel):.1f} mm at the trailing edge,"


def _trim_change(step: Step, before: Step | None) -> str:
    """Return how far the median trim moves from the step before: the sharpest sign of all."""
    if before is None:
        return ""
    now, then = step.seen.tail_deg.middle, before.seen.tail_deg.middle
    if now is None or then is None:
        return ""
    way = "down" if now > then else "up"
    return f", {abs(now - then):.1f}° further {way} than the step before"


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
    parts.append(f"it stalls faster than {seen.stall_mps.high:.1f} m/s")
    parts.append(f"it loses more than {lost_texts(step.case)[1]} m")
    if seen.departed == 0:
        parts.append("it departs at all")
    return f"{', '.join(parts)}, or any abort rule."
