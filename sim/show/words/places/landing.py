"""What a pilot is to know of take-off, flap and landing of one set-up, in sentences."""

from math import inf

from sim.describe.controls import FLAP
from sim.landing.landing import Landing
from sim.pack.assemble import Assembled
from sim.show.words.places.more_throw import more_throw_text
from sim.study.standing.window import ahead_mm, even_nominal
from sim.units.quantities import LENGTH, SPEED


def landing_sentences(ready: Assembled, landing: Landing) -> list[str]:
    """Return what a pilot is to know of take-off, flap, and the set-up's own place."""
    out = _too_forward(landing, ready.weighed.balance_aft_mm)
    if landing.rotation_mps is not None:
        out.append(_rotation(ready, landing.rotation_mps))
    change = landing.flap
    if change is not None:
        way = "up" if change.pitch_dps2 > 0.0 else "down"
        more = "up" if change.tail_deg < 0.0 else "down"
        out.append(
            f"Flap lowered by {change.flap_deg:g}° at {SPEED(change.speed_mps, '.1f')}, nothing "
            f"else moved: it balloons with {change.load_g:+.1f} g, and the nose goes {way} "
            f"({abs(change.pitch_dps2):.0f} deg/s2 at once). Level again takes "
            f"{abs(change.tail_deg):.1f}° more {more} elevator ({100.0 * change.stick:+.0f} % of "
            f"stick) and {100.0 * change.throttle:+.0f} % of throttle. Nominal."
        )
    elif FLAP not in ready.aeroplane.channels:
        out.append(f"No flap: the aeroplane has no channel {FLAP!r}.")
    return out


def _too_forward(landing: Landing, place: float) -> list[str]:
    """Return that a set-up lies forward of its forward limit, and what would help, or nothing."""
    forward, more = landing.forward, landing.more_throw
    short = ahead_mm(forward, place)
    if not short:
        return []
    text = f"This set-up lies {LENGTH(short)} FORWARD of its forward limit"
    cure = "more elevator throw" if more is None or more.reached else "more elevator area"
    if even_nominal(forward, place):
        further = (forward.nominal_mm or 0.0) - place
        text += f", and {LENGTH(further)} forward of the nominal one: NOT TO BE FLOWN so. "
        text += cure.capitalize()
        behind = forward.room_pct is not None and forward.room_pct <= 0.0
        text += "; further aft it would not be stable" if behind else ", or balance further aft"
    else:
        text += (
            f": {cure}, or land faster. The first speed that full aft stick holds it to below is "
            "nominal, of the next 95 % of draws"
        )
    return [x for x in (f"{text}.", more_throw_text(more)) if x]


def _rotation(ready: Assembled, speed: float) -> str:
    if speed == inf:
        return "With full aft stick and full throttle the nose never comes up on the ground."
    ratio = speed / ready.stall.speed_mps
    return (
        f"Full aft stick, full throttle, lifts the nose for take-off at {SPEED(speed, '.1f')}, "
        f"{ratio:.2f} x its stall speed; nominal."
    )
