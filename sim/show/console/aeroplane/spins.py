"""Tables of spin equilibria: with controls held, and along a map."""

from collections.abc import Sequence
from math import isfinite

from rich.table import Table

from sim.pack.assemble import Assembled
from sim.pack.stalling import Stall
from sim.show.console.console import Tables, add, bullets, heading, notes, paragraph, table
from sim.show.words.bench.placing import at_text, unit_text
from sim.spin.births import Birth, name_of
from sim.spin.equilibrium import Held
from sim.spin.mapped import Mapped
from sim.spin.roots import SpinRoot
from sim.units.quantities import HEIGHT, LENGTH, SPEED

NOMINAL = (
    "The nominal aeroplane, without its spreads. An equilibrium is where the motion can stay, "
    "not where a flight must go, nor a verdict: those come from a study's draws."
)
SIGNS = (
    "Turn and yaw are plus to the right, the side of the rudder held for the spin; minus is "
    "against it. By itself: after a small disturbance, the controls held. omega b/2V is the "
    "turn over twice the airspeed, in spans. NASA's names by angle of attack."
)
FAR_M = 999.0


def holds(root: SpinRoot) -> str:
    """Return whether an equilibrium holds itself, and else how it is left."""
    if root.stable:
        return "holds"
    return "left swinging" if root.swings else "left one way"


def _seconds(value: float | None) -> str:
    return "-" if value is None or not isfinite(value) or abs(value) > FAR_M else f"{value:.1f}"


def sticks_text(sticks: Sequence[float]) -> str:
    """Return where sticks (elevator, aileron, rudder, throttle) stand."""
    elevator, aileron, rudder, throttle = (float(v) for v in sticks)
    power = "idle" if throttle == 0.0 else f"{100.0 * throttle:.0f} %"
    return (
        f"elevator {_side(elevator, 'aft', 'forward')}, "
        f"aileron {_side(aileron, 'right', 'left')}, rudder {_side(rudder, 'right', 'left')}, "
        f"throttle {power}"
    )


def _side(stick: float, plus: str, minus: str) -> str:
    if stick == 0.0:
        return "centred"
    return f"{100.0 * abs(stick):.0f} % {plus if stick > 0.0 else minus}"


def spin_tables(assembled: Assembled, held: Held, roots: Sequence[SpinRoot]) -> Tables:
    """Return every equilibrium of an aeroplane with its controls held."""
    weighed = assembled.weighed
    out: Tables = [heading(f"{assembled.aeroplane.title}, set-up {assembled.setup.name}")]
    place = f"{LENGTH(weighed.balance_aft_mm, '.1f')} = {weighed.balance_pct_mac:.1f} % MAC"
    out.append(paragraph(f"Balance point {place}."))
    out.append(
        paragraph(f"Sticks held: {sticks_text(held.sticks.tolist())}; trim of level flight added.")
    )
    if not roots:
        return [*out, paragraph("No steady spin, spiral or glide was found."), *notes([NOMINAL])]
    stall = assembled.stall
    out += [_spins(roots, stall), _motion(roots)]
    return [*out, *notes([SIGNS, NOMINAL])]


def _spins(roots: Sequence[SpinRoot], stall: Stall) -> Table:
    out = table(
        "Steady spins, spirals and glides",
        "", "what", "alpha\ndeg", "beta\ndeg", "turn\ndeg/s", "omega\nb/2V", f"sink\n{SPEED}",
        f"radius\n{HEIGHT}", "by itself", "half or\ndouble, s", "period\ns", left=2,
    )  # fmt: skip
    for i, root in enumerate(roots, start=1):
        far = "straight" if root.radius_m > FAR_M else HEIGHT.figure(root.radius_m, ".2f")
        add(
            out, f"{i}", name_of(root, stall), f"{root.alpha_deg:.1f}", f"{root.beta_deg:+.1f}",
            f"{root.turn_dps:+.0f}", f"{root.rate:+.3f}", SPEED.figure(root.sink_mps, ".1f"), far,
            holds(root), _seconds(abs(root.half_time_s)), _seconds(root.period_s),
        )  # fmt: skip
    return out


def _motion(roots: Sequence[SpinRoot]) -> Table:
    out = table(
        "Their attitude and motion",
        "", "pitch\ndeg", "bank\ndeg", "roll rate\ndeg/s", "pitch rate\ndeg/s",
        "yaw rate\ndeg/s", f"airspeed\n{SPEED}", "load\ng",
    )  # fmt: skip
    for i, root in enumerate(roots, start=1):
        add(
            out, f"{i}", f"{root.pitch_deg:+.0f}", f"{root.bank_deg:+.0f}",
            *(f"{rate:+.0f}" for rate in root.rates_dps), SPEED.figure(root.speed_mps, ".1f"),
            f"{root.load_g:+.2f}",
        )  # fmt: skip
    return out


def birth_text(birth: Birth, unit: str) -> str:
    """Return one line on where a flat mode begins, on a map in mm or per cent."""
    at, last, within = (
        "" if value is None else at_text(value, unit)
        for value in (birth.at, birth.last, birth.within)
    )
    unit = unit_text(unit)
    turning = f", turning {birth.side}" if birth.side else ""
    state = "holds itself there" if birth.stable else "does not hold itself there"
    name = birth.mode.removeprefix("no spin: ")
    name = f"{name[0].upper()}{name[1:]}{turning}"
    until = "" if birth.last is None else f"; last met at {last}"
    if birth.within is None:
        return f"{name}: there at {at} {unit}, where the map begins{until}; {state}."
    return f"{name}: from {at} {unit}, not {within} before{until}; {state}."


def map_tables(mapped: Mapped) -> Tables:
    """Return the equilibria along a map and where its flat modes begin."""
    out: Tables = [heading(mapped.title)]
    out.append(paragraph(f"Sticks held: {sticks_text(mapped.sticks)}; trim added."))
    if mapped.goal is not None:
        out.append(paragraph(f"Moved towards: {sticks_text(mapped.goal)}."))
    out.append(heading("Where flat modes and deep stalls begin, in the order of the map"))
    lines = [birth_text(birth, mapped.unit) for birth in mapped.births]
    out += [*bullets(lines or ["Nowhere on this map."]), paragraph("")]
    rows = table(
        "Equilibria along the map",
        unit_text(mapped.unit), "what", "alpha\ndeg", "turn\ndeg/s", "omega\nb/2V",
        f"sink\n{SPEED}", "by itself", left=2,
    )  # fmt: skip
    for stop in mapped.found.stops:
        for j, root in enumerate(stop.roots):
            add(
                rows, at_text(stop.at, mapped.unit) if j == 0 else "", name_of(root, stop.stall),
                f"{root.alpha_deg:.1f}", f"{root.turn_dps:+.0f}", f"{root.rate:+.3f}",
                SPEED.figure(root.sink_mps, ".1f"), holds(root),
            )  # fmt: skip
        if not stop.roots:
            add(rows, at_text(stop.at, mapped.unit), "none found", "", "", "", "", "")
    return [*out, rows, *_flown(mapped), *notes([SIGNS, NOMINAL])]


def _flown(mapped: Mapped) -> Tables:
    """Return what entries flown with the controls held on end in, if any."""
    if not mapped.flown:
        return []
    out = table(
        "Where an entry ends whose controls are held on (servos without dead band)",
        unit_text(mapped.unit), "alpha\ndeg", "swing +-\ndeg", "turn\ndeg/s", f"sink\n{SPEED}",
    )  # fmt: skip
    for flight in mapped.flown:
        end = flight.end
        add(
            out, at_text(flight.at, mapped.unit), f"{end.alpha_deg:.1f}", f"{end.swing_deg:.1f}",
            f"{end.turn_dps:+.0f}", SPEED.figure(end.sink_mps, ".1f"),
        )  # fmt: skip
    return [out]
