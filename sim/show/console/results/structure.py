"""Servos and structure in the terminal: a line a set-up where a limit is passed or near."""

from collections.abc import Sequence

from sim.core import script_layout as s
from sim.fly.flying import Flight
from sim.show.console.console import Tables, add, notes, paragraph, table
from sim.show.words.bench.structure import (
    METHOD,
    near_text,
    practice_text,
    servo_sentence,
    structure_sentences,
    told_text,
    within_text,
)
from sim.structure.flight_loads import FlightLoads
from sim.study.results.set_up import SetUpResult
from sim.study.standing.carried import servo_near
from sim.study.structure import servo_needs
from sim.units.quantities import AS_TYPED, SPEED, TORQUE

TITLE = "Servos and structure"


def structure_tables(setups: Sequence[SetUpResult]) -> Tables:
    """Return what set-ups passed or came near, or in one line that none did."""
    told = [(x, x.structure) for x in setups if x.structure is not None]
    if not told:
        return []
    found = [structure for _, structure in told]
    lines = [f"{x.name}: {text}." for x, one in told for text in structure_sentences(one)]
    style = "bold" if lines else ""
    shown = lines or [within_text(found)]
    small = [told_text(found), near_text(found[0].servos)]
    out: Tables = [paragraph(""), paragraph(TITLE, "bold")]
    return [*out, *[paragraph(x, style) for x in shown], *notes([x for x in small if x])]


def flight_structure_tables(flight: Flight, loads: FlightLoads, limit_nm: float) -> Tables:
    """Return what one flight asked; ``limit_nm`` is the root's bending at the limit load."""
    limits = flight.assembled.aeroplane.structure
    needs = servo_needs([("", loads)])
    out = table("Servos and structure", "what", "value", "limit", left=1)
    add(out, "load factor", f"{loads.load_g:+.1f} g", f"{limits.max_load_factor_g:g} g")
    fast = SPEED.at_most(limits.never_exceed_mps)
    add(out, "airspeed", SPEED(loads.speed_mps), f"{fast} {SPEED}")
    share = f"{100.0 * loads.bending_nm / limit_nm:.0f} %"
    add(out, "bending at the wing's root, of that at the limit load", share, "100 %")
    for need in needs:
        limit = "not stated" if need.stated_ncm is None else TORQUE(need.stated_ncm, AS_TYPED)
        add(out, f"torque of the {need.channel} servo", TORQUE(need.needed_ncm, ".1f"), limit)
    return [out, *notes([METHOD, *[x for x in [near_text(needs)] if x], practice_text()])]


def passed_lines(flight: Flight, loads: FlightLoads, limit_nm: float) -> list[str]:
    """Return what one flight passed of servos and structure, a sentence each; nothing within."""
    limits = flight.assembled.aeroplane.structure
    passed = []
    if abs(loads.load_g) > limits.max_load_factor_g:
        when = "in the recovery" if loads.stage > s.STAGE_ENTRY else "before the recovery"
        passed.append(f"It passes {limits.max_load_factor_g:g} g {when}: ease the pull.")
    if loads.speed_mps > limits.never_exceed_mps:
        fast = SPEED.at_most(limits.never_exceed_mps)
        passed.append(f"It passes {fast} {SPEED}, never to be exceeded.")
    if loads.bending_nm > limit_nm:
        passed.append("It bends the wing's root more than its limit load does.")
    needs = servo_needs([("", loads)])
    return passed + [f"The {servo_sentence(x, 1)}." for x in needs if servo_near(x)]
