"""Tables of set-ups: what each one is, and what every single change moved."""

from math import isfinite

from sim.show.console.console import Tables, add, notes, table
from sim.show.words.changes import differing
from sim.show.words.limits import ends_cell
from sim.show.words.phrases import signed
from sim.study.results.result import BeforeAfter, Change, StudyResult

CHANGE_HEADS = (
    "balance\nmm", "margin\n% MAC", "pitch\nsurface\ndeg", "stall\nm/s", "pitch-up\ndeg/s2",
    "aft limit\nmm", "height\n95 %, m",
)  # fmt: skip

CHANGES_TOLD = (
    "In brackets: by how much the change moved it, the pack staying in its place until the last "
    "line. Pitch surface in level flight. Aft limit: of that pack and combination, with its 95 % "
    "limits; none found: the search failed already at the foremost balance point it tried, the one "
    "named. Height: entry height that 95 % of flights need, in the worst manoeuvre (no end: too "
    "many never came back). -: not searched, or not flown."
)


def set_up_tables(result: StudyResult) -> Tables:
    """Return what each set-up is: all that differs, then its weight and balance."""
    setups = result.setups
    same, apart = differing(setups)
    out: Tables = []
    if apart:
        grid = table("What each set-up is", "set-up", "pack", *apart, left=2 + len(apart))
        for i, x in enumerate(setups):
            add(grid, x.name, x.pack, *(told[i] for told in apart.values()))
        out.append(grid)
    grid = table(
        "Weight and balance", "set-up", "pack", "pack\nat, mm", "mass\ng", "balance\nmm aft",
        "balance\n% MAC", "neutral\n% MAC", "margin\n% MAC", "stall\nm/s", left=2,
    )  # fmt: skip
    for x in setups:
        behind = " !" if x.static_margin_pct < 0.0 else ""
        add(
            grid, x.name, x.pack, f"{x.pack_aft_mm:.0f}", f"{x.mass_g:.0f}",
            f"{x.balance_aft_mm:.0f}", f"{x.balance_pct_mac:.1f}",
            f"{x.neutral_point_pct_mac:.1f}", f"{x.static_margin_pct:.1f}{behind}",
            f"{x.stall_speed_mps:.1f}",
        )  # fmt: skip
    text = [f"The same in all: {'; '.join(same)}."] if same else []
    if any(x.static_margin_pct < 0.0 for x in setups):
        text.append("!: balanced behind the stick-fixed neutral point (gyro off, level flight).")
    return [*out, grid, *notes(text)]


def change_tables(result: StudyResult) -> Tables:
    """Return what every single change moved, from the set-up flown today to each other one."""
    if not result.changes:
        return []
    grid = table(
        f"Before and after: from {result.today}, one change at a time", "to", "change",
        *CHANGE_HEADS, left=2,
    )  # fmt: skip
    start = result.changes[0].lines[0]
    add(grid, result.today, start.what, *change_cells(start, None))
    for one in result.changes:
        for row in change_rows(one):
            add(grid, *row)
    return [grid, *notes([CHANGES_TOLD])]


def change_rows(one: BeforeAfter, name_all: bool = False) -> list[tuple[str, ...]]:
    """Return a row for each change on the way to a set-up, named in its first, or in all."""
    out = []
    before = one.lines[0]
    for i, line in enumerate(one.lines[1:]):
        out.append(
            (one.after if i == 0 or name_all else "", line.what, *change_cells(line, before))
        )
        if line.balance_aft_mm is not None:
            before = line
    return out


def change_cells(line: Change, before: Change | None) -> tuple[str, ...]:
    """Return the numbers of a line, each with its change since the line before."""
    if line.balance_aft_mm is None:
        return ("-",) * len(CHANGE_HEADS)
    pairs = (
        ("balance_aft_mm", ".0f"), ("static_margin_pct", ".1f"), ("tail_deg", ".1f"),
        ("stall_speed_mps", ".1f"), ("pitch_response_dps2", ".0f"),
    )  # fmt: skip
    cells = [
        _moved(getattr(line, key), None if before is None else getattr(before, key), form)
        for key, form in pairs
    ]
    return (*cells, limit_cell(line), height_cell(line))


def _moved(value: float | None, before: float | None, form: str) -> str:
    if value is None:
        return "-"
    text = f"{value:{form}}" if form == ".0f" else signed(value) if value < 0 else f"{value:{form}}"
    if before is None:
        return text
    by = value - before
    return text if abs(by) < 0.05 else f"{text}\n({by:+{form}})"


def limit_cell(line: Change) -> str:
    """Return the aft limit of a line's own pack and combination, with its limits."""
    if line.limit_mm is None:
        if line.limit_fails_mm is None:
            return "-"
        return f"none found:\nnot shown at {line.limit_fails_mm:.0f}"
    beyond = "beyond " if line.limit_at_end else ""
    return f"{beyond}{line.limit_mm:.0f}\n{ends_cell(line.limit_low_mm, line.limit_high_mm)}"


def height_cell(line: Change) -> str:
    """Return the entry height that 95 % of flights need."""
    if line.height_m is None:
        return "-"
    return f"{line.height_m:.0f}" if isfinite(line.height_m) else "no end"
