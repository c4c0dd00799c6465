"""Tables of set-ups: what each one is, and what every single change moved."""

from math import floor, isfinite

from sim.show.console.console import Tables, add, notes, table
from sim.show.words.bench.changes import differing, weight_note
from sim.show.words.findings.bought import TRADED_HEADS, traded_notes, traded_rows, traded_title
from sim.show.words.phrases import signed
from sim.show.words.places.limits import ends_cell
from sim.show.words.recovery.higher import asked
from sim.study.results.result import BeforeAfter, Change, StudyResult
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED, Quantity


def change_heads() -> tuple[str, ...]:
    """Return the headings of the numbers that a change moves."""
    return (
        f"balance\n{LENGTH}", "margin\n% MAC", "pitch\nsurface\ndeg", f"stall\n{SPEED}",
        "pitch-up\ndeg/s2", f"aft limit\n{LENGTH}", f"shown\nfrom, {HEIGHT}",
    )  # fmt: skip


CHANGES_TOLD = (
    "In brackets: by how much the change moved it, the pack staying in its place until the last "
    "line. Pitch surface in level flight. Aft limit: of that pack and combination, with its 95 % "
    "limits; none found: the search failed already at the foremost balance point it tried, the one "
    "named. Shown from: the height to fly all of it from, as in the table of heights (none: "
    "no height shows it). -: not searched, or not flown."
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
        "Weight and balance", "set-up", "pack", f"pack\nat, {LENGTH}", f"mass\n{MASS}",
        f"balance\n{LENGTH.spelled} aft",
        "balance\n% MAC", "neutral\n% MAC", "margin\n% MAC", f"stall\n{SPEED}", left=2,
    )  # fmt: skip
    for x in setups:
        behind = " !" if x.static_margin_pct < 0.0 else ""
        add(
            grid, x.name, x.pack, LENGTH.figure(x.pack_aft_mm), MASS.figure(x.mass_g),
            LENGTH.at_most(x.balance_aft_mm), f"{x.balance_pct_mac:.1f}",
            f"{x.neutral_point_pct_mac:.1f}", f"{x.static_margin_pct:.1f}{behind}",
            SPEED.figure(x.stall_speed_mps, ".1f"),
        )  # fmt: skip
    text = [f"The same in all: {'; '.join(same)}."] if same else []
    text.append(weight_note(result))
    if any(x.static_margin_pct < 0.0 for x in setups):
        text.append("!: balanced behind the stick-fixed neutral point (gyro off, level flight).")
    return [*out, grid, *notes(text)]


def change_tables(result: StudyResult) -> Tables:
    """Return what every single change moved, from the set-up flown today to each other one."""
    if not result.changes:
        return []
    grid = table(
        f"Before and after: from {result.today}, one change at a time", "to", "change",
        *change_heads(), left=2,
    )  # fmt: skip
    start = result.changes[0].lines[0]
    add(grid, result.today, start.what, *change_cells(start, None))
    for one in result.changes:
        for row in change_rows(one):
            add(grid, *row)
    return [grid, *notes([CHANGES_TOLD]), *_traded_tables(result)]


def _traded_tables(result: StudyResult) -> Tables:
    """Return what every single change bought and cost."""
    heads = TRADED_HEADS
    grid = table(traded_title(result), *heads, left=len(heads))
    for row in traded_rows(result):
        add(grid, *row)
    return [grid, *notes(traded_notes(result))]


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
        return ("-",) * len(change_heads())
    pairs = (
        ("balance_aft_mm", ".0f", LENGTH), ("static_margin_pct", ".1f", None),
        ("tail_deg", ".1f", None), ("stall_speed_mps", ".1f", SPEED),
        ("pitch_response_dps2", ".0f", None),
    )  # fmt: skip
    cells = [
        _moved(_told(line, key), None if before is None else _told(before, key), form, unit)
        for key, form, unit in pairs
    ]
    return (*cells, limit_cell(line), height_cell(line))


def _told(line: Change, key: str) -> float | None:
    """Return a number of a line; a balance point in whole mm as in names, never behind itself."""
    value: float | None = getattr(line, key)
    if value is None or key != "balance_aft_mm" or not LENGTH.is_default:
        return value
    return float(floor(round(value, 6)))


def _moved(value: float | None, before: float | None, form: str, unit: Quantity | None) -> str:
    if value is None:
        return "-"
    if unit is not None and not unit.is_default:
        text, by = unit.figure(value, form), value - (value if before is None else before)
        return text if abs(by) < 0.05 else f"{text}\n({unit.figure(by, f'+{form}')})"
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
        return f"none found:\nnot shown at {LENGTH.figure(line.limit_fails_mm)}"
    beyond = "beyond " if line.limit_at_end else ""
    ends = ends_cell(line.limit_low_mm, line.limit_high_mm)
    return f"{beyond}{LENGTH.at_most(line.limit_mm)}\n{ends}"


def height_cell(line: Change) -> str:
    """Return the entry height that its worst manoeuvre is shown from."""
    if line.height_m is None:
        return "-"
    return asked(line.height_m).removesuffix(f" {HEIGHT}") if isfinite(line.height_m) else "none"
