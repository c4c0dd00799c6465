"""The limits at which a test ends, in words, as they stand on the card before take-off."""

from sim import tables
from sim.aero.geometry.edges import edge_mm
from sim.show.words.bench.throws import Throw
from sim.show.words.ladder import surface_text
from sim.study.ladder.ladder import Ladder
from sim.study.ladder.trims import trim_rule
from sim.study.results.set_up import SetUpResult
from sim.units.quantities import HEIGHT, LENGTH


def abort_rules(
    flown: SetUpResult, ladder: Ladder, pitch: Throw | None, today: Throw | None
) -> tuple[str, ...]:
    """Return the limits at which a test ends.

    ``pitch`` and ``today`` are the throws of the pitch surface as the card's set-up has them and
    as the one flown today has.
    """
    values = tables.card()
    drop = tables.judge().bank_drop_deg
    floors = sorted({c.floor_m for c in flown.cases}, reverse=True)
    called = " or ".join(HEIGHT(x) for x in floors)
    return (
        f"a wing drops more than {drop:.0f}° other than in the stall or spin you asked for",
        *(() if pitch is None else (_trim_text(ladder, pitch, today or pitch),)),
        f"any buzz is heard, a cell is under {values.least_cell_v:.1f} V, or the timer rings",
        f"the spotter calls the floor, {called}: recover, climb, land",
        "anything is not as printed: land, look, "
        + ("go one step back" if ladder.steps else "do not fly on"),
    )


def _trim_text(ladder: Ladder, pitch: Throw, today: Throw) -> str:
    """Return how much level trim ends a test, and which set-ups need as much as they stand."""
    rule = trim_rule(ladder, (today.up_deg, today.down_deg), (pitch.up_deg, pitch.down_deg))
    ends = " or ".join(
        f"{rule.share * deg:.1f}° {way} ({LENGTH(edge_mm(pitch.arm_mm, rule.share * deg))})"
        for deg, way in ((pitch.up_deg, "up"), (pitch.down_deg, "down"))
    )
    text = f"trim at cruise beyond {100.0 * rule.share:.0f} % of travel: {pitch.channel} {ends}"
    needs = dict.fromkeys(f"{name} {surface_text(deg)}" for name, deg in rule.broken)
    if needs:
        return text + (
            f". ALREADY BROKEN as set up: {' and '.join(needs)} (medians): DO NOT FLY A TEST "
            "before it trims with less: incidence, balance, travel"
        )
    if rule.step_beyond:
        text += ". A step overleaf EXPECTS MORE: there, beyond what it says"
    close = dict.fromkeys(f"{name} {surface_text(deg)}" for name, deg in rule.near)
    if close:
        return text + (
            f". EXPECTED so near to it that the eye cannot tell: {' and '.join(close)} (medians): "
            "measure what it trims with on the ground before it counts"
        )
    return text
