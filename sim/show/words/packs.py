"""Packs on one screen: headings, a row a pack, and how the best compromise was chosen."""

from collections.abc import Sequence

from sim.show.words.flight_time import minutes_text
from sim.show.words.limits import ends_cell
from sim.show.words.phrases import MARKS
from sim.study.standing.packs import PackChoice
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED

PACKS_TITLE = "Packs on one screen"


def pack_heads(choices: Sequence[PackChoice]) -> tuple[str, ...]:
    """Return the headings of `pack_cells`, in the units of this run."""
    limit = (f"aft limit\n{LENGTH.plain}",) if _searched(choices) else ()
    return (
        "pack", f"mass\n{MASS.plain}", f"balance\n{LENGTH.plain}", "g/dm2", f"stall\n{SPEED.plain}",
        "cruise\nthrottle", "minutes", "timer\nmin", *limit, f"height\n95 %, {HEIGHT.plain}",
        "meets\nit",
    )  # fmt: skip


def pack_rows(choices: Sequence[PackChoice]) -> list[tuple[str, ...]]:
    """Return a row a pack; > marks the best compromise. Aft limits only where any was searched."""
    searched = _searched(choices)
    return [_cells(x, searched) for x in choices]


def _searched(choices: Sequence[PackChoice]) -> bool:
    return any(x.limit is not None for x in choices)


def _cells(x: PackChoice, searched: bool) -> tuple[str, ...]:
    setup, time = x.setup, x.setup.flight_time
    return (
        f">{setup.pack}" if x.best else setup.pack,
        MASS.figure(setup.mass_g), LENGTH.figure(setup.balance_aft_mm),
        f"{10.0 * setup.wing_loading_kg_m2:.0f}", SPEED.figure(setup.stall_speed_mps, ".1f"),
        "-" if time is None else f"{100.0 * time.works[0].throttle:.0f} %",
        "-" if time is None else minutes_text(time),
        "-" if time is None else f"{time.timer_min:g}", *((_limit(x),) if searched else ()),
        HEIGHT.figure(x.height_m) if x.height_m < float("inf") else "no end", MARKS[x.outcome],
    )  # fmt: skip


def _limit(x: PackChoice) -> str:
    limit = x.limit
    if limit is None:
        return "-"
    if limit.aft_mm is None:
        return "none found"
    beyond = "beyond " if limit.at_end else ""
    return f"{beyond}{LENGTH.at_most(limit.aft_mm)}\n{ends_cell(limit.low_mm, limit.high_mm)}"


def packs_text(choices: Sequence[PackChoice]) -> str:
    """Return which pack is the best compromise and how it was chosen, or why none is."""
    best = next((x.setup.pack for x in choices if x.best), None)
    key = "+ meets the requirement, x does not, ? cannot be told. Height: entry height needed."
    if best is None:
        return f"No pack is marked: none is known to meet the requirement. {key}"
    left_out = [x.setup.pack for x in choices if not x.in_question]
    out = f" Left out, not known to meet it: {', '.join(left_out)}." if left_out else ""
    beaten = [f"{x.setup.pack} by {x.beaten_by}" for x in choices if x.beaten_by]
    worse = f" Beaten in everything compared: {', '.join(beaten)}." if beaten else ""
    if sum(x.in_question for x in choices) == 1:
        return f">{best} is the only one known to meet the requirement.{out} {key}"
    return (
        f">{best} is a compromise, the one that gives up least: of flight minutes, height needed "
        "and stall speed its worst loss, in per cent of the best pack's, is the least. What you "
        f"value may be another thing.{worse}{out} {key}"
    )
