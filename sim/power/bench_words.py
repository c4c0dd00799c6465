"""What a bench fit found, in words: for the notes of weighing, and as cautions."""

from collections.abc import Callable

from sim.power.bench_fit import Met, Moved, PowerFit
from sim.units.quantities import MASS, SPEED

NAMES: dict[str, tuple[str, Callable[[float], str]]] = {
    "static_thrust_g": ("static pull", MASS),
    "static_current_a": ("static current", lambda x: f"{x:.1f} A"),
    "cruise_throttle_pct": ("throttle in cruise", lambda x: f"{x:.0f} %"),
    "top_speed_mps": ("top speed", lambda x: SPEED(x, ".1f")),
}
FLATTERING = ("static_thrust_g", "top_speed_mps")  # where more than was measured flatters
TOUCHED = (
    "It touches flight time, currents, throttle in cruise, climb, top speed, lifting the nose at "
    "take-off and whatever is flown under power; stalls, spins and balance limits flown with the "
    "throttle closed have power in their pull-out alone"
)
TOLD_FROM = 0.05  # share of a spread; less is not worth a line


def quantity(met: Met, value: float) -> str:
    """Return a value of what was measured with its unit."""
    told = NAMES[met.name][1]
    return told(value)


def fit_notes(fit: PowerFit) -> tuple[str, ...]:
    """Return what measurements of the power changed, a line each; nothing without any."""
    notes = [_measured(met) for met in fit.met]
    flown = [_moved(x) for x in fit.moved if x.flown and abs(x.share) >= TOLD_FROM]
    day = [_moved(x) for x in fit.moved if not x.flown and abs(x.share) >= TOLD_FROM]
    if fit.met:
        told = "; ".join(flown) or "none by more than a twentieth of its spread"
        notes.append(f"constants that met this, in every flight: {told}")
    if day:
        notes.append(f"put on that day, not flown: {'; '.join(day)}")
    notes += not_flown_lines(fit)
    notes += strained_lines(fit)
    if fit.thrust_sd is not None:
        notes.append(f"thrust is drawn with a spread of {100.0 * fit.thrust_sd:.1f} %")
    return (*notes, *unmet_lines(fit))


def _measured(met: Met) -> str:
    name = NAMES[met.name][0]
    return (
        f"{name} {quantity(met, met.measured)} measured; {quantity(met, met.before)} by the file's "
        f"constants, {quantity(met, met.after)} by the fitted ones"
    )


def _moved(moved: Moved) -> str:
    share = f"{100.0 * moved.share:+.0f} % of its spread"
    return (
        f"{moved.text} {constant(moved, moved.before)} to {constant(moved, moved.after)} ({share})"
    )


def constant(moved: Moved, value: float) -> str:
    """Return a constant with its unit; what the day took its share of as a factor."""
    if moved.name.endswith("_mohm"):
        return f"{value:.1f} mohm"
    return f"{value:.3g}" if moved.flown else f"x {value:.3f}"


def not_flown_lines(fit: PowerFit) -> list[str]:
    """Return a caution where a measurement is met by the day's drag and voltage alone."""
    rows = [x for x in fit.met if x.met and not x.flown]
    if not rows:
        return []
    said = "; ".join(
        f"{NAMES[x.name][0]} {quantity(x, x.measured)} measured, {quantity(x, x.after)} flown"
        for x in rows
    )
    better = any((x.after > x.measured) == (x.name in FLATTERING) for x in rows)
    return [
        f"not flown as measured: {said}. What is left is put down to drag and voltage of that day, "
        "so top speed, currents and minutes of flight are the model's"
        + (", and flattering" if better else "")
    ]


def strained_lines(fit: PowerFit) -> list[str]:
    """Return which constants at the end of their spread keep a measurement from being flown."""
    short = [NAMES[x.name][0] for x in fit.met if not x.flown]
    if not short:
        return []
    moved = {x.name: x for x in fit.moved}
    asked = " and ".join(NAMES[x.name][0] for x in fit.met)
    asked = f"{asked} together want" if len(fit.met) > 1 else f"{asked} wants"
    return [
        f"what holds it back: the {moved[x.name].text} may not go past "
        f"{constant(moved[x.name], x.end)}, the end of its spread, while {asked} "
        f"{constant(moved[x.name], x.wanted)} ({100.0 * x.share:+.0f} % of its spread). Measure "
        f"again, or look at {_nozzle(fit)} and sizes"
        for x in fit.strained
    ]


def bench_volts_line(fit: PowerFit, volts: float) -> str | None:
    """Return at which voltage pull and current were measured; None where neither was.

    ``volts`` [V] is the pack's at full throttle standing still, as flown.
    """
    if not any(x.name.startswith("static_") for x in fit.met):
        return None
    bench = "the pack's default charge" if fit.bench_v is None else f"{fit.bench_v:.1f} V"
    return (
        f"Static pull and current of this table are at {bench} on the bench; standing still in the "
        f"tables below the pack gives {volts:.1f} V."
    )


def _nozzle(fit: PowerFit) -> str:
    """Return what is looked at behind the motor: a fan's nozzle, or a propeller."""
    return "nozzle" if fit.aeroplane.fans else "propeller"


def unmet_lines(fit: PowerFit) -> list[str]:
    """Return a caution for each measurement that no constants within their spreads meet.

    The last says what of the answers it touches: what manoeuvres and recoveries have throttle in.
    An aerobatic model of which 41 A could not be met, flown with 47 A and with constants forced to
    42 A: of 15 cases of stalls and spins, 128 flights each, none lost more than one flight more or
    less, and median heights moved by 1 m at most; forced to 41 A with 40 % less pull, by 3.3 m.
    """
    lines = [
        f"measured.{met.name}: {quantity(met, met.measured)} cannot be met with all constants "
        f"within their spreads, drag and voltage of that day too; the nearest is "
        f"{quantity(met, met.that_day)}, and flown is {quantity(met, met.after)}. Measure again, "
        f"or look at {_nozzle(fit)}, pack, kv_rpm_per_v and sizes"
        for met in fit.unmet
    ]
    return [*lines[:-1], f"{lines[-1]}. {TOUCHED}"] if lines else []
