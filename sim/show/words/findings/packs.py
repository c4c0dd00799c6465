"""Packs on one screen: headings, a row a pack, and how the best compromise was chosen."""

from collections.abc import Sequence
from math import isfinite

from sim.judge import Outcome
from sim.show.words.bench.flight_time import minutes_text
from sim.show.words.findings.agility import figure_text, head_of
from sim.show.words.phrases import MARKS, spoken
from sim.show.words.places.limits import ends_cell, gone_text
from sim.show.words.recovery.fly_from import NOT_SHOWN, RULE, SHOWN_FROM
from sim.show.words.recovery.higher import asked
from sim.study.results.aft_limit import AftLimit
from sim.study.results.agility import Shown
from sim.study.standing.packs import PackChoice, cannot_land
from sim.study.standing.window import forward_of_limit
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED

PACKS_TITLE = "Packs on one screen"


def pack_heads(choices: Sequence[PackChoice]) -> tuple[str, ...]:
    """Return the headings of `pack_cells`, in the units of this run."""
    limit = (f"aft limit\n{LENGTH.plain}",) if _searched(choices) else ()
    shown = _shown(choices)
    agile = () if shown is None else (head_of(shown).replace(", ", ",\n"),)
    return (
        "pack", f"mass\n{MASS.plain}", f"balance\n{LENGTH.plain}", "g/dm2", f"stall\n{SPEED.plain}",
        "cruise\nthrottle", "minutes", "timer\nmin", *limit, f"{SHOWN_FROM},\n{HEIGHT.plain}",
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
        MASS.figure(setup.mass_g), LENGTH.at_most(setup.balance_aft_mm),
        f"{10.0 * setup.wing_loading_kg_m2:.0f}", SPEED.figure(setup.stall_speed_mps, ".1f"),
        "-" if time is None else f"{100.0 * time.works[0].throttle:.0f} %",
        "-" if time is None else minutes_text(time).replace(" ", "\n"),
        "-" if time is None else f"{time.timer_min:g}", *((_limit(x),) if searched else ()),
        asked(x.height_m).removesuffix(f" {HEIGHT}") if isfinite(x.height_m) else NOT_SHOWN,
        *((_agile(x),) if shown else ()), MARKS[x.outcome],
    )  # fmt: skip


def _agile(x: PackChoice) -> str:
    return "-" if x.telling is None else figure_text(x.telling).replace(" ", "\n")


def _limit(x: PackChoice) -> str:
    limit = x.limit
    if limit is None:
        return "-"
    if limit.held.aft_mm is None:
        return "none found"
    if limit.without is not None:
        return f"{_figure(limit.without)}\nwithout {gone_text(limit)}"
    return _figure(limit)


def _figure(limit: AftLimit) -> str:
    beyond = "beyond " if limit.at_end else ""
    return f"{beyond}{LENGTH.at_most(limit.aft_mm)}\n{ends_cell(limit.low_mm, limit.high_mm)}"


def agile_text(shown: Shown) -> str:
    """Return which manoeuvre stands for agility."""
    head = head_of(shown).replace("\n", " ").split(",")[0].capitalize()
    return f"{head}: agility, in {spoken(shown.manoeuvre)}; in brackets 10 to 90 % of draws."


def packs_text(choices: Sequence[PackChoice]) -> str:
    """Return which pack is the best compromise and how it was chosen, or why none is."""
    best = next((x for x in choices if x.best), None)
    out, key = _left_out(choices), _key(choices)
    if best is None:
        return f"No pack is marked: none is left.{out} {key}"
    out += _forward(best)
    beaten = [f"{x.setup.pack} by {x.beaten_by}" for x in choices if x.beaten_by]
    worse = f" Beaten in everything compared: {', '.join(beaten)}." if beaten else ""
    if sum(x.in_question for x in choices) == 1:
        return f">{best.setup.pack} is the only one not left out.{out} {key}"
    return (
        f">{best.setup.pack} is a compromise, the one that gives up least: of flight minutes, "
        "height needed and stall speed its worst loss, in per cent of the best pack's, is the "
        f"least. What you value may be another thing.{worse}{out} {key}"
    )


def _left_out(choices: Sequence[PackChoice]) -> str:
    """Return which packs are not in question, and why."""
    short = [x.setup.pack for x in choices if x.outcome is Outcome.MET and cannot_land(x.setup)]
    rest = [x.setup.pack for x in choices if not x.in_question and x.setup.pack not in short]
    out = f" Left out, not known to meet the requirement: {', '.join(rest)}." if rest else ""
    if short:
        out += f" Left out, balanced too far forward to land or take off: {', '.join(short)}."
    return out


def _forward(best: PackChoice) -> str:
    """Return a warning where the marked pack lies forward of its forward limit."""
    short = forward_of_limit(best.setup)
    if not short:
        return ""
    return (
        f" {best.setup.pack} lies {LENGTH(short)} FORWARD of its forward limit: landing and "
        "take-off are not shown from there."
    )


def _key(choices: Sequence[PackChoice]) -> str:
    """Return how the table is to be read."""
    shown = _shown(choices)
    agile = "" if shown is None else f" {agile_text(shown)}"
    speeds = [x.setup.flight_time.works[0].speed_mps for x in choices if x.setup.flight_time]
    ends = [SPEED.figure(end(speeds)) for end in (min, max)] if speeds else []
    cruise = f"Cruise throttle: nominal, at the {'-'.join(dict.fromkeys(ends))} {SPEED} flown. "
    return (
        f"{cruise if speeds else ''}+ meets the requirement, x does not, ? cannot be told. {RULE} "
        f"In its worst manoeuvre.{agile}"
    )
