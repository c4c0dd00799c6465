"""What each change bought and cost, in words that console and report share."""

from collections.abc import Iterable, Sequence
from math import isfinite

from sim.show.words.findings.agility import DIGITS, UNITS, does_text
from sim.show.words.phrases import spoken
from sim.show.words.recovery.higher import asked
from sim.study.results.result import BeforeAfter, StudyResult
from sim.study.standing.bought import NOMINAL, Moved, What, traded
from sim.study.standing.window import aft_whole
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED, Quantity
from sim.units.ranges import range_words

TRADED_HEADS = ("to", "change", "bought", "cost", "flown")
# what it is called, the digits told, and its unit: a quantity of the run's units, or a symbol
PLAIN: dict[What, tuple[str, int, Quantity | str]] = {
    What.MASS: ("mass", 0, MASS),
    What.STALL: ("stall", 1, SPEED),
    What.MARGIN: ("margin", 1, "% MAC"),
    What.PITCH_UP: ("pitch-up", 0, "deg/s2"),
    What.THROTTLE: ("throttle", 0, "%"),
    What.CURRENT: ("current", 1, "A"),
    What.MINUTES: ("flight time", 1, "min"),
    What.THRUST: ("static thrust to weight", 2, ""),
    What.TOP: ("top speed", 1, SPEED),
    What.FORWARD: ("forward limit", 0, LENGTH),
    What.AFT: ("aft limit", 0, LENGTH),
    What.WINDOW: ("window", 0, LENGTH),
    What.FORWARD_OF: ("FORWARD of its forward limit", 0, LENGTH),
    What.AFT_OF: ("AFT of its aft limit", 0, LENGTH),
    What.BACK: ("back", 0, "%"),
    What.HEIGHT: ("shown from", 0, HEIGHT),
    What.OUT: ("came out", 0, "%"),
}
# what a manoeuvre of agility shows: what it is called, and its unit where UNITS has none
SHOWS = {
    "angle": ("peak angle", "deg"),
    "pass": ("slowest held", ""),
    "somersault": ("nose off path", "deg"),
    "loop": ("radius", ""),
    "roll": ("roll rate", "deg/s"),
}
SHARES = (What.THROTTLE, What.BACK, What.OUT)  # told in per cent


def moved_text(x: Moved) -> str:
    """Return "stall 10.5 to 10.2 m/s"."""
    if x.what is What.DONE:
        was, now = (does_text(x.shows, bool(done)) for done in (x.was, x.now))
        then = f"before: {was}" if x.was != x.now else "nor did before"
        return f"{spoken(x.manoeuvre)} {now} ({then})"
    if x.what is What.SHOWN:
        name, plain = SHOWS[x.shows]
        digits, unit = DIGITS.get(x.shows, 0), UNITS.get(x.shows, plain)
    else:
        name, digits, unit = PLAIN[x.what]
    factor = 100.0 if x.what in SHARES else 1.0
    was, now = (_figure(factor * value, digits, unit, x.what) for value in (x.was, x.now))
    where = f"{spoken(x.manoeuvre)}: " if x.manoeuvre else ""
    ends = range_words(was, f"{now} {unit}") if isfinite(x.now) else f"{was} {unit} to {now}"
    text = f"{where}{name} {ends.strip()}"
    return f"{text} wide" if x.what is What.WINDOW else text


def _figure(value: float, digits: int, unit: Quantity | str, what: What) -> str:
    if not isfinite(value):
        return "no height" if what is What.HEIGHT else "none"
    if what is What.HEIGHT:
        return asked(value).removesuffix(f" {HEIGHT}")
    if isinstance(unit, str):
        return f"{value:.{digits}f}"
    spec = f".{digits}f"
    if what is What.AFT:
        return unit.at_most(value, spec)
    if what is What.FORWARD:
        return unit.at_least(aft_whole(value), spec)
    return unit.figure(value, spec)


def _cell(moved: Iterable[Moved]) -> str:
    """Return what moved: nominal numbers first, and said to be so."""
    told = list(moved)
    nominal = [moved_text(x) for x in told if x.what in NOMINAL]
    others = [moved_text(x) for x in told if x.what not in NOMINAL]
    parts = ([f"nominal {', '.join(nominal)}"] if nominal else []) + others
    return "; ".join(parts) or "-"


def traded_rows(result: StudyResult, name_all: bool = False) -> list[tuple[str, ...]]:
    """Return a row for each change on the way to each set-up, named in its first, or in all."""
    out: list[tuple[str, ...]] = []
    for one in result.changes:
        for i, x in enumerate(traded(one, result)):
            name = one.after if i == 0 or name_all else ""
            flown = "yes" if x.flown else "no"
            out.append((name, x.change, _cell(x.bought), _cell(x.cost), flown if x.had else "-"))
    return out


def traded_title(result: StudyResult) -> str:
    """Return the title of the table."""
    return f"What each change bought and cost: from {result.today}"


def traded_notes(result: StudyResult) -> list[str]:
    """Return how the table is to be read, and what is missing in it."""
    every = [x for one in result.changes for x in traded(one, result)]
    text = (
        "Before to after; left out is what moved by less than it is known to. Pitch-up: of full "
        "aft stick; it, throttle and "
        f"current: level at {_speeds(result.changes)}. Flight time and what a manoeuvre shows: "
        "medians, only where half of the draws or more did it. Limits and shares: only where "
        "their 95 % limits lie apart."
    )
    if any(not x.flown and x.had for x in every):
        text += (
            " Flown no: what came back, height and agility are known only of the set-ups that "
            "the study flies, so of a step between none is told, better or worse."
        )
    return [text]


def _speeds(changes: Sequence[BeforeAfter]) -> str:
    return SPEED(changes[0].speed_mps) if changes else "-"
