"""Servos and structure in words: what was passed or is near, and how it was reckoned."""

from collections.abc import Sequence

from sim import tables
from sim.show.words.phrases import listed, spoken
from sim.study.results.structure import ManoeuvreLoad, ServoNeed, Structure
from sim.study.standing.carried import servo_near
from sim.units.quantities import AS_TYPED, SPEED, TORQUE

HEADS = (
    "most load, times gravity", "limit", "flights that passed it", "fastest",
    "wing root, of its limit",
)  # fmt: skip


def torque_text(servo: ServoNeed) -> str:
    """Return "12 of 30 N cm (40 %)", or that no torque is stated."""
    if servo.stated_ncm is None or servo.share is None:
        return f"{TORQUE(servo.needed_ncm, '.1f')}; torque not stated, not judged"
    figure = TORQUE.figure(servo.needed_ncm, ".1f")
    return f"{figure} of {TORQUE(servo.stated_ncm, AS_TYPED)} ({100.0 * servo.share:.0f} %)"


def where_text(servo: ServoNeed) -> str:
    """Return where a servo needed its most."""
    flow = ", its own flow let go" if servo.stalled else ""
    place = f"{spoken(servo.manoeuvre)}, " if servo.manoeuvre else ""
    return (
        f"{place}{SPEED(servo.speed_mps)}, angle of attack {servo.alpha_deg:.0f}°, surface "
        f"{servo.deflection_deg:+.0f}°{flow}"
    )


def servo_sentence(servo: ServoNeed, flights: int) -> str:
    """Return what a servo that is near or beyond its torque needs, of so many flights."""
    text = f"{servo.channel} servo needs {torque_text(servo)} in {where_text(servo)}"
    of = f"of {flights} flights" if flights > 1 else "of this flight"
    if flights > 1 and servo.p95_ncm is not None:
        text += f", 95 % of flights at most {TORQUE(servo.p95_ncm, '.1f')}"
    if servo.flights and flights > 1:
        text += f"; more than it has in {servo.flights} {of}"
    if servo.held_flights:
        where = f" in {servo.held_flights} {of}" if flights > 1 else ""
        stop = ", as far as an end stop" if servo.at_stop else ""
        text += (
            f"; flown so: the air held it off where it was asked to be{where}, by up to "
            f"{servo.short_deg:.0f}°{stop}"
        )
    share = servo.share or 0.0
    if share > 1.0 or servo.held_flights:
        return f"{text}: a stronger servo, or less throw at that speed"
    return f"{text}: little margin"


def most_loaded(found: Structure) -> ManoeuvreLoad:
    """Return the manoeuvre with the highest load factor."""
    return max(found.loads, key=lambda x: x.most_g)


def structure_sentences(found: Structure) -> list[str]:
    """Return what of a set-up passed a limit, or is a servo near its own; empty where nothing."""
    out = []
    if found.over_g:
        worst = most_loaded(found)
        out.append(
            f"passes {found.limit_g:g} g in {found.over_g} of {found.flights} flights, up to "
            f"{found.most_g:.1f} g in {spoken(worst.manoeuvre)}: ease the pull"
        )
    if found.over_mps:
        out.append(
            f"passes {SPEED.at_most(found.never_exceed_mps)} {SPEED}, never to be exceeded, in "
            f"{found.over_mps} of {found.speeds_of} flights, up to {SPEED(found.most_mps)}: pull "
            "out sooner, throttle back"
        )
    if found.bending_over:
        out.append(
            f"bends the wing's root {found.bending_share:.2f} times as far as its limit load does "
            f"in {spoken(found.bending_in)}, over it in {found.bending_over} of the {found.again} "
            "hardest flights: ease the pull, and never pull while it rolls"
        )
    out += [servo_sentence(x, found.flights) for x in found.servos if servo_near(x)]
    return out


def card_lines(found: Structure | None) -> list[str]:
    """Return what passed a limit, or which servo is beyond its torque, short; empty where none."""
    if found is None:
        return []
    out = []
    if found.over_g:
        out.append(
            f"passes {found.limit_g:g} g in {found.over_g} of {found.flights} flights, most in "
            f"{spoken(most_loaded(found).manoeuvre)}: ease the pull"
        )
    if found.bending_over:
        out.append(
            f"WING ROOT {found.bending_share:.2f} x its limit in {spoken(found.bending_in)}: ease "
            "the pull, roll level first"
        )
    if found.over_mps:
        out.append(
            f"too fast in {found.over_mps} of {found.speeds_of} flights, up to "
            f"{SPEED(found.most_mps)}: pull out sooner"
        )
    weak = [x.channel for x in found.servos if (x.share or 0.0) > 1.0 or x.held_flights]
    if weak:
        out.append(f"servo too weak: {listed(weak)}")
    return out


def row_of(found: Structure) -> tuple[str, ...]:
    """Return a set-up's load, speed and bending as `HEADS` has them."""
    return (
        f"{found.most_g:.1f}",
        f"{found.limit_g:g}",
        f"{found.over_g} of {found.flights}",
        f"{SPEED.figure(found.most_mps)} of {SPEED(found.never_exceed_mps)}",
        f"{100.0 * found.bending_share:.0f} %",
    )


def within_text(found: Sequence[Structure]) -> str:
    """Return that no set-up passed a limit, with the most of any."""
    shares = [y.share for x in found for y in x.servos if y.share is not None]
    servos = f"servos at most {100.0 * max(shares):.0f} % of their torque; " if shares else ""
    return (
        f"Within limits: most {max(x.most_g for x in found):.1f} g of {found[0].limit_g:g}, "
        f"{SPEED(max(x.most_mps for x in found))} of {SPEED(found[0].never_exceed_mps)}; {servos}"
        f"wing root at most {100.0 * max(x.bending_share for x in found):.0f} % of its limit."
    )


def told_text(found: Sequence[Structure]) -> str:
    """Return how the numbers of set-ups came about."""
    unresolved = sum(x.unresolved for x in found)
    left = f"; {unresolved} that could not be calculated left out" if unresolved else ""
    each = " of each set-up" if len(found) > 1 else ""
    return (
        f"Load factor, speed and servos: all flights{left}. Wing: the "
        f"{max(x.again for x in found)} flights{each} with the most load, speed, angle of "
        f"attack and servo torque, flown again, so no share of all flights. {METHOD}"
    )


METHOD = (
    "Servos: what holds each surface where sticks and gyro ask for it, against the air about "
    "its hinge or pivot, attached and stalled, as flown, by a straight line where the air holds "
    "it off; a servo a panel, its arm as long as the surface's. Beyond its torque a surface "
    "gives way in flight, to where the torque holds it; one whose pivot lies behind the air's "
    "force runs to its end stop. Nominal, known to about 40 %. Wing root: bending of the lift, "
    "no relief by the wing's own mass, against level flight's, any flap up, times the stated "
    "load factor, at the weight flown today."
)


def near_text(found: Sequence[ServoNeed]) -> str:
    """Return which servos have no stated torque; empty where all have."""
    missing = [x.channel for x in found if x.stated_ncm is None]
    if not missing:
        return ""
    return (
        f"No torque_ncm is stated for {listed(missing)}: never overpowered in flight, not judged, "
        "looked at in the flights flown again alone."
    )


def practice_text() -> str:
    """Return from which share of its torque on a servo is named."""
    return f"A servo above {100.0 * tables.servo_loads().near_share:.0f} % of its torque is named."
