"""Tables of flight time: what the work takes, how long it lasts, and the timer."""

from collections.abc import Sequence

from sim.show.console.console import Tables, add, names_whole, notes, paragraph, table
from sim.show.words.bench.flight_time import (
    minutes_text,
    mix_text,
    told_text,
    untimed,
    warnings_of,
    why_shorter_text,
)
from sim.study.results.set_up import SetUpResult
from sim.units.quantities import SPEED


def time_heads() -> tuple[str, ...]:
    """Return the headings of `time_cells`, in the units of this run."""
    return (
        f"cruise\n{SPEED.plain}", "cruise\nA", "full\nA", "slow\npass\nA", "mean\nA",
        "minutes\n(80 % of draws)", "timer\nmin", "cruise\nalone\nmin",
    )  # fmt: skip


def time_cells(setup: SetUpResult) -> tuple[str, ...]:
    """Return the numbers of a set-up's flight time, as `time_heads` has them."""
    time = setup.flight_time
    if time is None:
        return (untimed(setup), *("-",) * (len(time_heads()) - 1))
    cruise, hard, _, slow = time.works
    return (
        SPEED.figure(cruise.speed_mps), f"{cruise.current_a:.0f}", f"{hard.current_a:.0f}",
        f"{slow.current_a:.0f}", f"{time.current_a:.0f}",
        minutes_text(time) + (" *" if time.charged else ""),
        f"{time.timer_min:g}" if time.timer_min > 0.0 else "none", f"{time.cruise_alone_min:.0f}",
    )  # fmt: skip


def flight_time_tables(setups: Sequence[SetUpResult]) -> Tables:
    """Return flight time and timer of each set-up, how they come about, and what is too much."""
    out = table("Flight time, from flown work", "set-up", "pack", *time_heads(), left=2)
    names_whole(out, [x.name for x in setups])
    for x in setups:
        add(out, x.name, x.pack, *time_cells(x))
    warnings = [paragraph(f"Too much: {text}", "bold") for text in warnings_of(setups)]
    return [out, *warnings, *notes(time_notes(setups))]


def time_notes(setups: Sequence[SetUpResult]) -> list[str]:
    """Return how the flight times come about, told of the first set-up that has one."""
    timed = [x for x in setups if x.flight_time is not None]
    if not timed:
        return []
    first = timed[0].flight_time
    assert first is not None
    lines = [f"{timed[0].name}: {mix_text(first)}. {why_shorter_text(timed[0])}."]
    if any(x.flight_time is not None and x.flight_time.charged for x in timed):
        lines.append("*: by what the charger put back; the currents beside it have no say.")
    return [*lines, told_text(first)]
