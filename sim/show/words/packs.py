"""Packs on one screen: headings, a row a pack, and how the best compromise was chosen."""

from collections.abc import Sequence

from sim.show.words.agility import figure_text, head_of
from sim.show.words.flight_time import minutes_text
from sim.show.words.limits import ends_cell
from sim.show.words.phrases import MARKS, spoken
from sim.study.results.agility import Shown
from sim.study.standing.packs import PackChoice
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED

PACKS_TITLE = "Packs on one screen"


def pack_heads(choices: Sequence[PackChoice]) -> tuple[str, ...]:
    """Return the headings of `pack_cells`, in the units of this run."""
    limit = (f"aft limit\n{LENGTH.plain}",) if _searched(choices) else ()
    shown = _shown(choices)
    agile = () if shown is None else (head_of(shown),)
    return (
        "pack", f"mass\n{MASS.plain}", f"balance\n{LENGTH.plain}", "g/dm2", f"stall\n{SPEED.plain}",
        "cruise\nthrottle", "minutes", "timer\nmin", *limit, f"height\n95 %, {HEIGHT.plain}",
        *agile, "meets\nit",
    )  # fmt: skip


def pack_rows(choices: Sequence[PackChoice]) -> list[tuple[str, ...]]:
    """Return a row a pack; > marks the best compromise. Aft limits only where any was searched."""
    searched, shown = _searched(choices), _shown(choices) is not None
    return [_cells(x, searched, shown) for x in choices]


def _shown(choices: Sequence[PackChoice]) -> Shown | None:
    """Return the manoeuvre of agility that is told; None where none was flown."""
    return next((x.telling for x in choices if x.telling is not None), None)


def _searched(choices: Sequence[PackChoice]) -> bool:
    return any(x.limit is not None for x in choices)


def _cells(x: PackChoice, searched: bool, shown: bool) -> tuple[str, ...]:
    setup, time = x.setup, x.setup.flight_time
    return (
        f">{setup.pack}" if x.best else setup.pack,
        MASS.figure(setup.mass_g), LENGTH.figure(setup.balance_aft_mm),
        f"{10.0 * setup.wing_loading_kg_m2:.0f}", SPEED.figure(setup.stall_speed_mps, ".1f"),
        "-" if time is None else f"{100.0 * time.works[0].throttle:.0f} %",
        "-" if time is None else minutes_text(time),
        "-" if time is None else f"{time.timer_min:g}", *((_limit(x),) if searched else ()),
        HEIGHT.figure(x.height_m) if x.height_m < float("inf") else "no end",
        *((_agile(x),) if shown else ()), MARKS[x.outcome],
    )  # fmt: skip


def _agile(x: PackChoice) -> str:
    return "-" if x.telling is None else figure_text(x.telling).replace(" ", "\n")


def _limit(x: PackChoice) -> str:
    limit = x.limit
    if limit is None:
        return "-"
    if limit.aft_mm is None:
        return "none found"
    beyond = "beyond " if limit.at_end else ""
    return f"{beyond}{LENGTH.at_most(limit.aft_mm)}\n{ends_cell(limit.low_mm, limit.high_mm)}"


def agile_text(shown: Shown) -> str:
    """Return which manoeuvre stands for agility."""
    head = head_of(shown).replace("\n", " ").split(",")[0].capitalize()
    return f"{head}: agility, in {spoken(shown.manoeuvre)}; in brackets 10 to 90 % of draws."


def packs_text(choices: Sequence[PackChoice]) -> str:
    """Return which pack is the best compromise and how it was chosen, or why none is."""
    best = next((x.setup.pack for x in choices if x.best), None)
    shown = _shown(choices)
    key = "" if shown is None else f"{agile_text(shown)} "
    key += "+ meets the requirement, x does not, ? cannot be told. Height: entry height needed."
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
