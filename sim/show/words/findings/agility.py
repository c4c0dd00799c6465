"""What set-ups can do, in words and cells that console, report and figures share."""

from collections.abc import Sequence
from math import isfinite

from sim import tables
from sim.judge.agility import Floats, done, figures, times
from sim.show.words.phrases import limits_text, spoken
from sim.study.results.agility import Shown, Spread
from sim.study.results.set_up import SetUpResult
from sim.study.standing.trade import achieved
from sim.units.quantities import HEIGHT, SPEED, Quantity
from sim.units.ranges import range_cell

# kind of manoeuvre -> heading of its column, what was asked, and the digits of its number
HEADS = {
    "angle": "peak\nangle, deg",
    "pass": "slowest\nheld, {unit}",
    "somersault": "nose off\npath, deg",
    "loop": "radius,\n{unit}",
    "roll": "rate,\ndeg/s",
}
GAINS = {
    "angle": "peak angle, °",
    "pass": "slowest held, {unit}",
    "somersault": "nose off path, °",
    "loop": "radius, {unit}",
    "roll": "roll rate, °/s",
}
DIGITS = {"pass": 1}
UNITS = {"pass": SPEED, "loop": HEIGHT}  # of what is not an angle
SHORT = {
    "angle": "does not reach {angle:.0f}°",
    "somersault": "does not turn over",
    "pass": "is not held",
    "loop": "does not go round",
    "roll": "does not go round",
}
DOES = {
    "angle": "reaches {angle:.0f}°",
    "somersault": "turns over",
    "pass": "is held",
    "loop": "goes round",
    "roll": "goes round",
}
HOW = {  # said after DOES of one flight
    "angle": " between nose and flight path, {best}° at most,",
    "somersault": ", the nose {best}° round the flight path at most,",
    "pass": " level for a second, {best} at the slowest",
    "loop": ", radius {best},",
    "roll": ", {best}°/s at most,",
}
BEST = {
    "angle": "highest {best:.0f}°",
    "somersault": "nose at most {best:.0f}° off the path",
    "roll": "at most {best:.0f}°/s",
}
TOLD = (
    "Median of the draws (10 to 90 % of them), and how many came out pointing forwards, with "
    "95 % limits: soon unstalled along the flight path, not swung aside or over, level again above "
    "the floor. Peak angle: between nose and flight path. Slowest held: level for a second, wings "
    "level, nose steady, stick not at its stop against the nose. Radius: half the height of the "
    "loop. Roll rate: its highest mean over 0.3 s. none: not to be had."
)


def manoeuvres_shown(setups: Sequence[SetUpResult]) -> list[Shown]:
    """Return the manoeuvres of agility, as the first set-up shows them."""
    return list(setups[0].agility) if setups else []


def figure_text(one: Shown) -> str:
    """Return the number of a manoeuvre with its spread, such as ``62 (55-71)``."""
    return spread_text(one.figure, DIGITS.get(one.shows, 0), UNITS.get(one.shows))


def head_of(one: Shown) -> str:
    """Return what a manoeuvre is flown for, with its unit, in two lines."""
    return HEADS[one.shows].format(unit=UNITS.get(one.shows))


def gain_text(kind: str) -> str:
    """Return what a kind of manoeuvre is flown for, with its unit, for an axis."""
    return GAINS[kind].format(unit=UNITS.get(kind))


def spread_text(spread: Spread, digits: int = 0, unit: Quantity | None = None) -> str:
    """Return a median with what 10 and 90 % stay below; none where it is not to be had."""
    if not isfinite(spread.median):
        return "none"
    middle, low, high = (
        "none" if not isfinite(x) else f"{x:.{digits}f}" if unit is None
        else unit.figure(x, f".{digits}f")
        for x in (spread.median, spread.low, spread.high)
    )  # fmt: skip
    return f"{middle} ({range_cell(low, high)})"


def out_text(one: Shown) -> str:
    """Return how many came out, with the limits of their share."""
    return f"{one.out}/{one.flights} out\n{limits_text(one.out_low, one.out_high)}"


def time_text(one: Shown) -> str:
    """Return the median time to having done it [s]; a dash where half never did."""
    return f"{one.time_s.median:.1f}" if isfinite(one.time_s.median) else "-"


def does_text(kind: str, done: bool) -> str:
    """Return what a manoeuvre of a kind does, or does not: "reaches 90°", "does not turn over"."""
    return (DOES if done else SHORT)[kind].format(angle=tables.agility().angle_deg)


def flight_line(rows: Floats, shows: str) -> str:
    """Return whether one flight (1, N_MEASURED) did what its manoeuvre is flown for."""
    best = float(figures(rows, shows)[0])
    if not done(rows, shows)[0]:
        near = BEST.get(shows, "").format(best=best)
        return f"It {does_text(shows, False)}{f': {near}' if near else ''}."
    time = float(times(rows, shows)[0])
    took = f" in {time:.1f} s" if isfinite(time) else ""
    unit = UNITS.get(shows)
    value = f"{best:.0f}" if unit is None else unit(best, f".{DIGITS.get(shows, 0)}f")
    return f"It {does_text(shows, True)}{HOW[shows].format(best=value)}{took}."


def shortfalls(setups: Sequence[SetUpResult]) -> list[str]:
    """Return, manoeuvre by manoeuvre, which set-ups cannot do it in half of their draws."""
    lines = []
    for one in manoeuvres_shown(setups):
        pairs = [(s, x) for s in setups for x in s.agility if x.manoeuvre == one.manoeuvre]
        short = [(s, x) for s, x in pairs if not achieved(x)]
        if not short:
            continue
        what = f"{spoken(one.manoeuvre).capitalize()} {does_text(one.shows, False)}"
        if len(short) == len(setups) > 2:
            setup, best = max(short, key=lambda pair: (pair[1].done, pair[1].best))
            near = f"nearest: {setup.name}, {_best(best)}"
            lines.append(f"{what} in any of the {len(setups)} set-ups ({near}).")
            continue
        lines.append(f"{what}: {', '.join(f'{s.name} ({_best(x)})' for s, x in short)}.")
    return lines


def _best(one: Shown) -> str:
    """Return how near a set-up comes to what it cannot do."""
    done = f"{one.done} of {one.flights} draws do"
    best = BEST.get(one.shows, "").format(best=one.best)
    return done if one.done or not best else best
