"""One fan or propeller stopped, as tables."""

from collections.abc import Sequence
from math import isfinite

from rich.table import Table

from sim.pack.assemble import Assembled
from sim.show.console.console import Tables, add, heading, notes, table
from sim.trim.one_out import LeastSpeed, OneOut
from sim.units.quantities import FORCE, MOMENT, SPEED

MEANING = (
    "Least speed: straight flight, the rest at that throttle, no more than full rudder and "
    "aileron (minimum control speed; wings level, and banked by 5 deg towards what runs). Rudder "
    "and aileron: plus is stick to the right; sideslip: plus is air from the right. All "
    "numbers nominal: neither what is not exactly known nor a pilot's delay is in them."
)
FLY = (
    "What happens before the pilot acts, and whether it comes back: aftlimit fly {name} "
    "one_unit_stops --recovery {recovery}, and --draw N for what is not exactly known."
)


def one_out_tables(ready: Assembled, found: Sequence[OneOut]) -> Tables:
    """Return what stopping does on each side, the least speeds, and what it means."""
    title = f"{ready.aeroplane.title}, set-up {ready.setup.name}: one unit stopped"
    stall = ready.stall.speed_mps
    out: Tables = [heading(title), _moments(found)]
    out += [_speeds(one, stall) for one in found]
    worst = max(found, key=_worst)
    said = [_said(worst, stall), MEANING]
    recovery = "centre_sticks_power" if _worst(worst) <= stall else "throttle_back"
    said.append(FLY.format(name=ready.aeroplane.name, recovery=recovery))
    return [*out, *notes(said)]


def _worst(one: OneOut) -> float:
    return max(_sorted_speed(row) for row in one.speeds if row.throttle == one.speeds[0].throttle)


def _sorted_speed(row: LeastSpeed) -> float:
    return row.speed_mps if isfinite(row.speed_mps) else 1e9


def _moments(found: Sequence[OneOut]) -> Table:
    speed = found[0].speed_mps
    out = table(
        f"At {SPEED(speed, '.1f')}, throttle full",
        "what",
        *(f"{one.unit} stopped" for one in found),
    )
    rows = (
        ("thrust of the rest", [FORCE(one.thrust_left_n, ".1f") for one in found]),
        (
            "drag of the stopped one, turned by the air",
            [FORCE(o.turning_drag_n, ".2f") for o in found],
        ),
        ("drag of it held still", [FORCE(one.held_drag_n, ".2f") for one in found]),
        (
            "yawing moment, sticks centred",
            [MOMENT(abs(one.yaw_nm), ".2f") for one in found],
        ),
        ("that, of what full rudder gives", [f"{_share(one):.0f} %" for one in found]),
        ("best climb on the rest, 5 deg of bank", [_climb(one) for one in found]),
    )
    for name, cells in rows:
        add(out, name, *cells)
    return out


def _share(one: OneOut) -> float:
    return 100.0 * abs(one.yaw_nm) / max(abs(one.rudder_nm), 1e-9)


def _climb(one: OneOut) -> str:
    if not isfinite(one.best_climb_mps):
        return "not held level"
    return f"{SPEED(one.best_climb_mps, '+.1f')} at {SPEED(one.best_climb_at_mps, '.1f')}"


def _speeds(one: OneOut, stall: float) -> Table:
    out = table(
        f"Least speed held straight, {one.unit} stopped",
        "throttle of the rest", "bank, deg", str(SPEED), "over stall", "what ends it",
        "rudder, %", "aileron, %", "sideslip, deg", f"climb, {SPEED}",
    )  # fmt: skip
    for row in one.speeds:
        cells = (f"{100.0 * row.throttle:.0f} %", f"{row.bank_deg:.0f}")
        if not isfinite(row.speed_mps):
            add(out, *cells, "never", "-", "not held at any speed tried", "-", "-", "-", "-")
            continue
        add(
            out, *cells, SPEED.figure(row.speed_mps, ".1f"), f"{row.speed_mps / stall:.2f}",
            row.bound, f"{100.0 * row.rudder_stick:+.0f}", f"{100.0 * row.aileron_stick:+.0f}",
            f"{row.sideslip_deg:+.1f}", SPEED.figure(row.climb_mps, "+.1f"),
        )  # fmt: skip
    return out


def _said(one: OneOut, stall: float) -> str:
    full = [row for row in one.speeds if row.throttle == one.speeds[0].throttle]
    least = max(full, key=_sorted_speed)
    if not isfinite(least.speed_mps):
        return (
            f"With the {one.unit} stopped and full throttle it is held straight at no speed tried."
        )
    if least.speed_mps <= stall:
        text = f"it is held straight down to the stall, {SPEED(stall, '.1f')} without power"
    else:
        text = f"it needs {SPEED(least.speed_mps, '.1f')} ({least.speed_mps / stall:.2f} times "
        text += "the stall)"
        text += "; slower, only less throttle keeps it straight"
    return f"Worst with the {one.unit} stopped: at full throttle {text}."
