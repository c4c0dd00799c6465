"""Tables of the power: standing still, in flight, three throttles, nozzles, and the bench fit."""

from collections.abc import Iterable
from math import isfinite

from rich.table import Table

from sim import tables
from sim.power.bench_fit import Met, PowerFit
from sim.power.bench_words import (
    NAMES,
    bench_volts_line,
    constant,
    fit_notes,
    not_flown_lines,
    quantity,
)
from sim.power.fan_stall import Blades
from sim.show.console.console import Tables, add, bullets, heading, notes, table
from sim.show.words.bench.power import (
    best_sentence,
    conditions,
    held_at,
    nozzle_notes,
    summary,
)
from sim.trim.nozzle import NozzleRow, NozzleSweep
from sim.trim.performance import Performance
from sim.units.quantities import FORCE, LENGTH, SPEED

LONG_MINUTES = 99.5  # more is not told to the minute


def number(value: float, digits: int) -> str:
    """Return a number, or a dash where there is none."""
    return f"{value:.{digits}f}" if isfinite(value) else "-"


def minutes(value: float) -> str:
    """Return minutes, a dash where there are none."""
    return "> 99" if value > LONG_MINUTES else number(value, 1)


def power_tables(found: Performance, fit: PowerFit) -> Tables:
    """Return all of the power report."""
    ready = found.ready
    title = f"{ready.aeroplane.title}, set-up {ready.setup.name}, nominal"
    out: Tables = [heading(title), *bullets(summary(found))]
    cautions = [f"{x[:1].upper()}{x[1:]}." for x in not_flown_lines(fit)]
    out += [*bullets(cautions), *_fit(fit, found.still.point.pack_voltage_v)]
    out += [_given(found), _taken(found), _throttles(found)]
    return [*out, *notes([conditions(found), _speeds_told(found)])]


def _speeds_told(found: Performance) -> str:
    stall, cruise, top = found.ready.stall, found.cruise.speed_mps, found.top_mps
    ends = " (full aft stick reached first)" if stall.out_of_tail else ""
    return (
        f"{SPEED(stall.speed_mps, '.1f')} is the stall, power off{ends}; "
        f"{SPEED.figure(cruise, '.1f')} the speed at which set-ups are compared; "
        f"{SPEED.figure(top, '.1f')} the top speed. Thrust is net: the drag of taking in the air "
        "is off. "
        "Of ideal: of the thrust that momentum theory allows for the same electrical power."
    )


def _given(found: Performance) -> Table:
    count = len(found.power.units)
    each = " each" if count > 1 else ""
    efflux = f"jet, {SPEED}" if found.ready.aeroplane.fans else f"slipstream, {SPEED}"
    out = table(
        f"Full throttle, {count} units together" if count > 1 else "Full throttle",
        f"speed, {SPEED}", f"thrust, {FORCE}", "current, A", "pack, V", "power, W", f"rpm{each}",
        efflux, "of ideal, %", left=0,
    )  # fmt: skip
    for given in found.full:
        point = given.point
        add(
            out, SPEED.figure(given.speed_mps, ".1f"),
            FORCE.figure(point.net_thrust_n, ".1f"), f"{point.current_a:.1f}",
            f"{point.pack_voltage_v:.1f}", f"{point.electrical_power_w:.0f}",
            f"{point.rpm:.0f}", SPEED.figure(point.jet_speed_mps),
            number(100.0 * given.ideal_share, 0),
        )  # fmt: skip
    return out


def _taken(found: Performance) -> Table:
    out = table(
        "Level flight", f"speed, {SPEED}", f"thrust needed, {FORCE}", "throttle, %",
        "current, A", "power, W", "minutes", f"to spare, {FORCE}", f"climb, {SPEED}", left=0,
    )  # fmt: skip
    for taken in found.level:
        add(
            out, SPEED.figure(taken.speed_mps, ".1f"), FORCE.figure(taken.thrust_n, ".1f"),
            number(100.0 * taken.throttle, 0), number(taken.current_a, 1),
            number(taken.power_w, 0), minutes(taken.minutes),
            FORCE.figure(round(taken.spare_n, 3) + 0.0, ".1f"),
            SPEED.figure(round(taken.climb_mps, 3) + 0.0, ".1f"),
        )  # fmt: skip
    return out


def _throttles(found: Performance) -> Table:
    out = table(
        "By throttle", "throttle, %", f"standing still, {FORCE}", "A", f"level speed, {SPEED}",
        "A in flight", "minutes", left=0,
    )  # fmt: skip
    for row in found.throttles:
        add(
            out, f"{100.0 * row.throttle:.0f}", FORCE.figure(row.static_n, ".1f"),
            f"{row.static_a:.1f}",
            held_at(row, found.least), number(row.current_a, 1), minutes(row.minutes),
        )  # fmt: skip
    return out


def _fit(fit: PowerFit, volts: float) -> Tables:
    """Return measured against the file's constants and the fitted ones; nothing without any.

    ``volts`` [V] is the pack's at full throttle standing still.
    """
    if not fit.met:
        return []
    out = table(
        "Measured, and met by moving what nobody measures", "what", "measured", "by the file",
        "fitted: that day", "flown", "is met",
    )  # fmt: skip
    for met in fit.met:
        add(
            out, NAMES[met.name][0], quantity(met, met.measured), quantity(met, met.before),
            quantity(met, met.that_day), quantity(met, met.after), _met(met),
        )  # fmt: skip
    told = table("Moved", "constant", "from", "to", "of its spread, %", "flown")
    for moved in fit.moved:
        add(
            told, moved.text, constant(moved, moved.before), constant(moved, moved.after),
            f"{100.0 * moved.share:+.0f}", "yes" if moved.flown else "no: that day's",
        )  # fmt: skip
    said = fit_notes(fit)
    rest = [
        x for x in said if "measured;" not in x and "in every" not in x and "not flown" not in x
    ]
    bench = bench_volts_line(fit, volts)
    return [out, *notes([bench] if bench else []), told, *notes(rest)]


def _met(met: Met) -> str:
    if not met.met:
        return "NO"
    return "yes" if met.flown else "that day, not flown"


def nozzle_tables(found: Performance, sweep: NozzleSweep) -> Tables:
    """Return the sweep of exit areas with the best marked."""
    ready = found.ready
    title = f"{ready.aeroplane.title}, set-up {ready.setup.name}: nozzles, nominal"
    best = [best_sentence(x, sweep) for x in sweep.best]
    out = table(
        f"Nozzle, and cruise at {SPEED(sweep.cruise_mps, '.1f')}",
        "", f"nozzle, {LENGTH}", "of\nring, %", f"static, {FORCE}", "A", f"jet, {SPEED}",
        "of\nideal, %", "cruise,\n% throttle", "A", f"top,\n{SPEED}",
    )  # fmt: skip
    for row in sorted([*sweep.rows, sweep.own], key=lambda x: x.nozzle_mm):
        add(out, _marks(row, sweep), *_nozzle_cells(row))
    return [heading(title), *bullets(best), out, *notes(nozzle_notes(sweep))]


def _nozzle_cells(row: NozzleRow) -> Iterable[str]:
    return (
        LENGTH.figure(row.nozzle_mm, ".1f"), f"{100.0 * row.ring_share:.0f}",
        FORCE.figure(row.static_n, ".1f"),
        f"{row.static_a:.1f}", SPEED.figure(row.jet_mps), number(100.0 * row.ideal_share, 0),
        number(100.0 * row.cruise_throttle, 0), number(row.cruise_a, 1),
        number(SPEED.value(row.top_mps), 1),
    )  # fmt: skip


def _marks(row: NozzleRow, sweep: NozzleSweep) -> str:
    """Return what to say of a nozzle, after its numbers."""
    low, high = tables.performance().nozzle_usual
    marks = ["now"] if row is sweep.own else []
    marks += [f"best {best.goal}" for best in sweep.best if best.row is row]
    if row.blades != Blades.ATTACHED:
        marks.append(row.blades.value)
    if row.limited:
        marks.append("at the limit")
    if row is sweep.own and not low <= row.ring_share <= high:
        marks.append("unusual")
    return ", ".join(marks)
