"""The table of a study's aft limits."""

from collections.abc import Sequence

from sim.show.console.console import Tables, add, names_whole, notes, table
from sim.show.words.phrases import spoken
from sim.show.words.places.limits import (
    combination_sentence,
    ends_cell,
    gone_text,
    several_combinations,
)
from sim.study.results.aft_limit import AftLimit, ManoeuvreLimit
from sim.units.quantities import LENGTH


def limits_tables(limits: Sequence[AftLimit]) -> Tables:
    """Return the aft limit of each pack and combination, and of each manoeuvre alone."""
    several = several_combinations(limits)
    heads = ("as in",) if several else ()
    out = table(
        "Aft limit by pack", "pack", *heads, "manoeuvre", "best recovery", f"aft limit\n{LENGTH}",
        f"95 %\nlimits, {LENGTH}", "% MAC", f"neutral\npoint, {LENGTH}",
        f"not shown\nat, {LENGTH}", "flights\nin all",
        left=3 + len(heads),
    )  # fmt: skip
    names_whole(out, [x.pack for x in limits])
    for x in limits:
        who = (x.as_in,) if several else ()
        behind = " !" if x.behind_neutral_mm > 0.0 else ""
        name = "all of them" if len(x.each) > 1 else spoken(x.manoeuvres[0])
        add(
            out, x.pack, *who, name, spoken(x.recovery), _figure(x), _ends(x),
            "-" if x.pct_mac is None else f"{x.pct_mac:.1f}",
            "-" if x.neutral_mm is None else f"{LENGTH.figure(x.neutral_mm)}{behind}",
            LENGTH.figure(x.first_failure_mm),
            f"{x.flights_used}",
        )  # fmt: skip
        for one in x.each if len(x.each) > 1 else ():
            fails = LENGTH.figure(one.first_failure_mm)
            blank = ("",) if several else ()
            add(
                out, "", *blank, spoken(one.manoeuvre), "", _figure(one), _ends(one), "", "",
                fails, "",
            )  # fmt: skip
        if x.without is not None:
            fails = LENGTH.figure(x.without.first_failure_mm)
            blank = ("",) if several else ()
            add(
                out, "", *blank, f"without {gone_text(x)}", spoken(x.without.recovery),
                _figure(x.without), _ends(x.without),
                "-" if x.without.pct_mac is None else f"{x.without.pct_mac:.1f}", "", fails,
                f"{x.without.flights_used}",
            )  # fmt: skip
    text = ["Where other draws would put the limit: 95 % limits, from all flights of the search."]
    if any(x.behind_neutral_mm > 0.0 for x in limits):
        text.append("!: the limit lies behind the stick-fixed neutral point.")
    return [out, *notes([*text, combination_sentence(limits)])]


def _figure(x: AftLimit | ManoeuvreLimit) -> str:
    if x.aft_mm is None:
        return "none found"
    return f"{'beyond ' if x.at_end else ''}{LENGTH.at_most(x.aft_mm)}"


def _ends(x: AftLimit | ManoeuvreLimit) -> str:
    if x.aft_mm is None:
        return "-"
    return ends_cell(x.low_mm, x.high_mm)
