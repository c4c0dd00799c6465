"""Tables of what gain each axis of a gyro stands, and what to set."""

from math import degrees, isfinite, tau

from rich.table import Table

from sim.gyro.advice import Advice, Schedule
from sim.gyro.allowed import Allowed, At, AxisAt
from sim.gyro.motion import AXES
from sim.show.console.console import Tables, add, bullets, heading, notes, paragraph, table
from sim.show.words.bench.gyro import (
    FIXED,
    RECOVERY,
    UNIT,
    bench_end,
    bench_lines,
    dive_text,
    divergence_text,
    draw_lines,
    fixed_text,
    gyro_toml,
    hold_text,
    keeps_up,
    loop_text,
    margin_text,
    schedule_text,
    standing_lines,
)
from sim.units.quantities import SPEED


def gyro_tables(found: Allowed, advice: Advice) -> Tables:
    """Return everything that is told of a set-up's gyro gains."""
    ready = found.assembled
    out: Tables = [heading(f"{ready.aeroplane.title}, set-up {ready.setup.name}: gyro gains")]
    out += [_gains(found), *notes([margin_text(found), loop_text(found)])]
    out += notes(draw_lines(found))
    out += [paragraph(""), _loop(found), paragraph("")]
    unstable = divergence_text(found)
    out += [paragraph(unstable), paragraph("")] if unstable else []
    out += [paragraph("As it is set:"), *bullets(standing_lines(found)), paragraph("")]
    fixed = Schedule(advice.fixed, FIXED)
    out += [paragraph(fixed_text(advice)), *_block(found, fixed), paragraph("")]
    out += bullets([dive_text(found, advice)])
    out += [paragraph(schedule_text(advice)), *_block(found, advice.schedule), paragraph("")]
    winds = hold_text(found, fixed.at(0.0))
    out += [*bullets([*([winds] if winds else []), RECOVERY]), paragraph("")]
    out.append(paragraph("On the bench, with the one gain:"))
    out += bullets([*bench_lines(found, fixed.at(0.0)), bench_end(found)])
    return out


def _block(found: Allowed, schedule: Schedule) -> Tables:
    """Return the table to paste; nothing where no axis stands any gain."""
    if not any(schedule.gains):
        return []
    return [paragraph("    " + line) for line in gyro_toml(found, schedule).splitlines()]


def _gains(found: Allowed) -> Table:
    names = [f"{name}\n(nominal)" for name in AXES]
    out = table(f"Highest gain, {UNIT}", "speed", "throttle", *names, "as set: roll, pitch, yaw")
    for at in found.points:
        speed = SPEED(at.point.speed_mps, ".1f") + (", dive" if at.point.dive else "")
        gains = [_gain(one) for one in at.axes]
        add(out, speed, f"{100.0 * at.point.throttle:.0f} %", *gains, _set(at))
    return out


def _gain(one: AxisAt | None) -> str:
    return "none" if one is None else f"{one.advised:.3f} ({one.nominal.kept:.3f})"


def _set(at: At) -> str:
    gains = [a.set_gain for a in at.axes if a is not None]
    return "  ".join("-" if gain is None else f"{gain:.3f}" for gain in gains)


def _loop(found: Allowed) -> Table:
    out = table(
        "The loop at these gains, nominal", "axis and speed", "would swing\nfrom", "at, Hz",
        "phase left,\ndeg", "delay left,\nms", "servo keeps up\nto, deg",
    )  # fmt: skip
    level = [at for at in found.points if not at.point.dive]
    for j, name in enumerate(AXES):
        for at in (level[0], level[-1], found.points[-1]):
            one = at.axes[j]
            if one is not None:
                add(out, f"{name}, {SPEED(at.point.speed_mps)}", *_cells(found, at, j, one))
    return out


def _cells(found: Allowed, at: At, axis: int, one: AxisAt) -> list[str]:
    hertz = one.nominal.crossing_rps / tau
    most = keeps_up(found, at, axis)
    return [
        f"{one.nominal.swings:.3f}" if isfinite(one.nominal.swings) else "never",
        f"{hertz:.1f}" if isfinite(hertz) else "-",
        f"{degrees(one.phase_margin_rad):.0f}" if isfinite(one.phase_margin_rad) else "any",
        f"{1000.0 * one.delay_margin_s:.0f}" if isfinite(one.delay_margin_s) else "any",
        "-" if most is None else f"+-{most:.0f}",
    ]
