"""What the power report says in sentences: what holds, why a cruise takes so little, nozzles."""

from math import isfinite

from sim import tables
from sim.power.fan_stall import Blades
from sim.power.full_load import full_load
from sim.power.pack import default_charge_pct, reserve_of, usable_mah
from sim.show.words.bench.flight_time import too_much_text
from sim.trim.nozzle import Best, NozzleRow, NozzleSweep
from sim.trim.performance import AtThrottle, Performance, Taken
from sim.units.quantities import FORCE, HEIGHT, LENGTH, MASS, SPEED, TEMPERATURE

GOALS = {
    "cruise": "least current in cruise",
    "top": "top speed",
    "static": "pull standing still",
}


def conditions(found: Performance) -> str:
    """Return what the numbers hold for."""
    field = found.ready.aeroplane.field
    pack = found.ready.aeroplane.packs[found.ready.setup.pack]
    usable = usable_mah(pack, _reserve(found))
    return (
        f"Nominal: nothing drawn, pack {found.ready.setup.pack} at {default_charge_pct():.0f} % "
        f"charge, field at {HEIGHT(field.elevation_m)} and {TEMPERATURE(field.temperature_c)}. "
        f"Minutes are of {usable:.0f} of the pack's {pack.capacity_mah:.0f} mAh, the rest "
        "left in it for its life, in straight level flight at that speed."
    )


def _reserve(found: Performance) -> float:
    return reserve_of(found.ready.setup.duty, found.ready.aeroplane.duty)


def summary(found: Performance) -> list[str]:
    """Return the answer in sentences: pull, top speed, and what a cruise takes and why."""
    still, ready = found.still.point, found.ready
    never = ready.aeroplane.structure.never_exceed_mps
    over = "" if found.top_mps <= never else f", above the {SPEED(never)} never to exceed"
    pack = ready.aeroplane.packs[ready.setup.pack]
    load = full_load(found.power, pack, ready.density, _reserve(found))
    pull, top = FORCE(still.net_thrust_n, ".1f"), SPEED(found.top_mps, ".1f")
    grams = 1000.0 * found.thrust_to_weight * ready.weighed.mass_kg
    scale = f" ({MASS(grams)} on a scale)" if str(FORCE) == "N" else ""
    return [
        f"Standing still it pulls {pull}{scale}, {found.thrust_to_weight:.2f} of its "
        f"weight, at {still.current_a:.0f} A, {still.pack_voltage_v:.1f} V and "
        f"{still.electrical_power_w:.0f} W.",
        f"Level top speed {top}{over}. The least throttle that holds it up is "
        f"{100.0 * found.least.throttle:.0f} %, at {SPEED(found.least.speed_mps, '.1f')}.",
        why_so_little(found),
        *(f"Too much: {too_much_text(x)}." for x in load.too_much),
    ]


def why_so_little(found: Performance) -> str:
    """Return why level cruise takes less than ordinary flying, with the speeds and the drag."""
    cruise, (slow, fast) = found.cruise, found.ordinary
    low, high = (100.0 * x for x in tables.performance().ordinary_speeds)
    over = cruise.speed_mps / found.ready.stall.speed_mps
    if not cruise.held:
        return f"Full throttle does not hold the cruise at {SPEED(cruise.speed_mps, '.1f')}."
    speeds = f"{SPEED.figure(slow.speed_mps)} to {SPEED(fast.speed_mps)}"
    needs = f"{FORCE.figure(slow.thrust_n, '.1f')} to {FORCE(fast.thrust_n, '.1f')}"
    return (
        f"Level cruise at {SPEED(cruise.speed_mps, '.1f')}, {over:.1f} times the stall, takes "
        f"{FORCE(cruise.thrust_n, '.1f')} and {cruise.current_a:.1f} A: straight and level, no "
        f"turn, no climb. At {speeds}, {low:.0f} to {high:.0f} % of the top speed, it takes "
        f"{needs}, {slow.current_a:.0f} to {fast.current_a:.0f} A, and the pack lasts "
        f"{slow.minutes:.0f} to {fast.minutes:.0f} minutes, still straight and level; turns, "
        f"climbs and passes at full throttle ({found.still.point.current_a:.0f} A) come on top. A "
        "timer from the level cruise runs the pack flat in the air."
    )


def held_at(row: AtThrottle, least: Taken) -> str:
    """Return what level flight a throttle holds."""
    if isfinite(row.speed_mps):
        return SPEED.figure(row.speed_mps, ".1f")
    return f"none (least {100.0 * least.throttle:.0f} %)"


def best_sentence(best: Best, sweep: NozzleSweep) -> str:
    """Return what nozzle is best for a goal, how wide that best is, and what it gains."""
    row, own = best.row, sweep.own
    steady = [x for x in sweep.rows if x.blades == Blades.ATTACHED]
    alike = ", the smallest whose blades are not in doubt" if row is steady[0] else ""
    if best.to_mm - best.from_mm > 0.05:
        alike += f"; {LENGTH.figure(best.from_mm)} to {LENGTH(best.to_mm)} are within 1 % of it"
    return (
        f"Best for {GOALS[best.goal]}: {LENGTH(row.nozzle_mm)} ({100.0 * row.ring_share:.0f} % of "
        f"the ring){alike}. {_gain(best.goal, row, own)}"
    )


def _gain(goal: str, row: NozzleRow, own: NozzleRow) -> str:
    """Return what a nozzle gives against the set-up's own."""
    now = f"against {LENGTH(own.nozzle_mm)} now"
    if goal == "cruise":
        return (
            f"{row.cruise_a:.1f} A at {100.0 * row.cruise_throttle:.0f} % throttle, {now}: "
            f"{own.cruise_a:.1f} A at {100.0 * own.cruise_throttle:.0f} %."
        )
    if goal == "top":
        return f"{SPEED(row.top_mps, '.1f')}, {now}: {SPEED(own.top_mps, '.1f')}."
    pulls, pulled = FORCE(row.static_n, ".1f"), FORCE(own.static_n, ".1f")
    return f"{pulls} at {row.static_a:.0f} A, {now}: {pulled} at {own.static_a:.0f} A."


def nozzle_notes(sweep: NozzleSweep) -> list[str]:
    """Return what to know before a nozzle is cut."""
    low, high = (100.0 * x for x in tables.performance().nozzle_usual)
    held = [row for row in sweep.rows if isfinite(row.cruise_throttle)]
    notes = [] if held else [f"At {SPEED(sweep.cruise_mps, '.1f')} no nozzle holds level flight."]
    notes += [
        "Nominal, from constants that nobody measured exactly: what a nozzle changes is better "
        f"known than what it gives. Usual is {low:.0f} to {high:.0f} % of the ring (common "
        "practice, no source).",
        "The fan's efficiency is taken as constant: a real one loses some away from the flow it is "
        "made for, so the small end is flattered.",
    ]
    if any(row.blades != Blades.ATTACHED for row in sweep.rows):
        notes.append(
            "Where blades stall or may (their load against a limit for blades, standing still) a "
            "fan gives less than told, and howls: none of these is called best."
        )
    if any(row.limited for row in sweep.rows):
        notes.append("Where the controller holds the current back it is at its limit: too much.")
    return notes
