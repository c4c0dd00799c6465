"""Which rows notice when physics is made wrong: ``python -m tests.validation --mutate``.

Every mutant (mutants.py) is put into a process of its own turn, the rows are worked out
again, and those that were within their tolerance and no longer are have noticed. A row
whose number cannot be had any more has noticed too. Two processes share the mutants.
"""

import sys
from concurrent.futures import ProcessPoolExecutor
from contextlib import nullcontext
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path
from typing import NamedTuple

from sim import __version__
from sim.show.console.console import Tables, add, bullets, heading, paragraph, table
from tests.validation.collecting import all_rows
from tests.validation.mutants import MUTANTS, Context, Mutant
from tests.validation.printing import put, put_json
from tests.validation.rows import KINDS, Kind, Row

SCHEMA = "aftlimit.mutation/1"
PROCESSES = 2
EXPLAINED = (
    "A row notices if it lies within its tolerance and no longer does once the one thing is wrong. "
    "Mutants change tables, builders and packed arrays; kernels stay as compiled."
)


class Found(NamedTuple):
    """A mutant and the rows that notice it."""

    mutant: Mutant
    rows: list[Row]

    def of(self, kind: Kind) -> list[Row]:
        """Return those of a kind."""
        return [row for row in self.rows if row.kind == kind]


def holds(row: Row) -> bool:
    """Return whether a row, worked out afresh, lies within; False if it cannot be worked out."""
    try:
        return replace(row).within
    except Exception:
        return False


def held(rows: list[Row], context: Context = nullcontext) -> list[bool]:
    """Return which rows lie within their tolerance in a context."""
    with context():
        return [holds(row) for row in rows]


def noticed(rows: list[Row], before: list[bool], after: list[bool]) -> list[Row]:
    """Return the rows that lay within and no longer do."""
    return [row for row, was, now in zip(rows, before, after, strict=True) if was and not now]


def in_process(index: int) -> list[bool]:
    """Return which rows lie within under a mutant, by its place; -1 stands for none."""
    return held(all_rows(), nullcontext if index < 0 else MUTANTS[index].context)


def find(rows: list[Row]) -> list[Found]:
    """Return all mutants with the rows that notice each."""
    with ProcessPoolExecutor(PROCESSES, mp_context=get_context("spawn")) as pool:
        before, *after = pool.map(in_process, range(-1, len(MUTANTS)))
    return [
        Found(mutant, noticed(rows, before, now))
        for mutant, now in zip(MUTANTS, after, strict=True)
    ]


def note(found: Found) -> str:
    """Return why no independent row notices a mutant, empty where one does."""
    if found.of("independent"):
        return ""
    return found.mutant.note or "not known: a check is missing"


def tables(found: list[Found], spell) -> Tables:
    """Return what is printed, every word of it passed through ``spell``."""
    out = table(
        "Rows that notice wrong physics", "what is wrong", "independent", "closed form",
        "given back", left=1,
    )  # fmt: skip
    for one in found:
        counts = [str(len(one.of(kind))) for kind in KINDS]
        add(out, spell(one.mutant.name), *counts, style="bold" if note(one) else "")
    lines: Tables = [out, paragraph(""), heading("Which")]
    for one in found:
        first = one.of("independent") or one.of("closed form") or one.of("given back")
        kind = first[0].kind if first else "none"
        names = "; ".join(row.quantity for row in first)
        lines += bullets([spell(f"{one.mutant.name} ({kind}): {names or 'no row'}")])
    alone = [one for one in found if note(one)]
    if alone:
        lines += [paragraph(""), heading("Noticed by no independent row, and why")]
        lines += bullets(spell(f"{one.mutant.name}: {note(one)}") for one in alone)
    held_by = sum(not note(one) for one in found)
    total = f"Noticed by an independent row: {held_by} of {len(found)}."
    return [*lines, paragraph(""), paragraph(EXPLAINED), paragraph(""), paragraph(total)]


def record(found: Found) -> dict:
    """Return a mutant as it is written to JSON."""
    return {
        "mutant": found.mutant.name,
        "noticed_by": {kind.replace(" ", "_"): len(found.of(kind)) for kind in KINDS},
        "rows": [
            {"source_key": row.source, "quantity": row.quantity, "kind": row.kind}
            for row in found.rows
        ],
        "note": note(found) or None,
    }


def run(rows: list[Row], path: str | None) -> int:
    """Print the table; write it too if asked. Returns 1 if a mutant has neither row nor note."""
    found = find(rows)
    put(lambda spell: tables(found, spell))
    if path is not None:
        content = {"schema": SCHEMA, "version": __version__, "rows": len(rows),
                   "mutants": [record(one) for one in found]}  # fmt: skip
        put_json(Path(path), content)
    missing = [one.mutant.name for one in found if note(one).startswith("not known")]
    if missing:
        print(f"no independent row and no reason: {', '.join(missing)}", file=sys.stderr)
    return int(bool(missing))
