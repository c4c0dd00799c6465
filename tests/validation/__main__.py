"""Hold the program against published numbers: ``python -m tests.validation [--json FILE]``.

With ``--mutate`` it says which rows notice when physics is made wrong: see mutation.py.

Prints one table, *source, quantity, published, ours, difference, tolerance, within*, and
below it why each number that lies outside does so, what the sources are, and how many of
each kind there are.

There is one module a source, ``test_<source>.py``, with a function ``rows()``. A row is a
published number, a function that makes ours with the program's own code, the tolerance
and where the number comes from. The tests of the module run over the same rows, so the
table and the tests cannot differ. A row known to lie outside its tolerance stays, with
the reason; its test is a strict expected failure, which turns red on the day it passes.
Checks that do not hold one number against another are plain tests beside the rows.

Rows are of three kinds, counted apart: *independent*, observed by others and nothing of the
program made from it; *closed form*, an equation worked out by other means; *given back*
(marked +), what a table or constant of the program was made from.

Provenance: *published* was read in the source or in a text that quotes it; *library* is
printed by a general-purpose package; *computed* is a closed form or an independent
script; *from memory* is recalled, a lead and no more. Tolerances are those of the source
or its scatter, never chosen to make ours fit.
"""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path

from sim import __version__
from sim.show.console.console import Tables, add, bullets, heading, paragraph, table
from tests.validation import mutation, whole
from tests.validation.collecting import all_rows, within_and_total
from tests.validation.printing import put, put_json
from tests.validation.rows import Kind, Row, settle
from tests.validation.sources import own, products

SCHEMA = "aftlimit.validation/2"
TINY = 1e-12  # of rounding
MARKS: dict[Kind, str] = {"independent": "", "closed form": "=", "given back": "+"}
LEGEND = (
    "No mark: observed by others, and nothing of the program is made from it. = an equation worked "
    "out by other means: that the program computes what it means to, not that air does. + a table "
    "or constant of the program was made from this number: it is given back, and no more."
)


def text(key: str) -> str:
    """Return what a source's key stands for."""
    return {**own(), **products()}[key]


def shown(row: Row) -> tuple[str, str, str, str]:
    """Return published, ours, difference and tolerance of a row as text."""
    ends = row.published if isinstance(row.published, tuple) else (row.published,)
    kind, size = row.tolerance.kind, row.tolerance.size
    allowed = {
        "absolute": f"±{size:.2g}",
        "relative": f"±{100.0 * size:.2g} %",
        "at least": "at least" if size == 0.0 else f"-{size:.2g}",
        "band": "band" if size == 0.0 else f"band ±{size:.2g}",
    }[kind]
    numbers = "..".join(number(end) for end in ends), number(row.ours)
    return *numbers, f"{row.difference:+.2g}" if abs(row.difference) > TINY else "0", allowed


def number(value: float) -> str:
    """Return a number with five figures, without the dust of rounding."""
    return f"{value:.5g}" if abs(value) > TINY else "0"


def counts(rows: list[Row]) -> list[str]:
    """Return how many rows of each kind lie within their tolerance, one line a kind."""
    found = within_and_total(rows)
    names = {
        "independent": "Independent rows within tolerance",
        "closed form": "Closed forms and computed numbers (=)",
        "given back": "Given back, counted in neither (+)",
    }
    lines = [f"{names[kind]}: {good} of {total}." for kind, (good, total) in found.items()]
    recalled = [r.within for r in rows if (r.kind, r.provenance) == ("independent", "from memory")]
    lines[0] += f" Of these from memory: {sum(recalled)} of {len(recalled)}."
    return lines


def why(row: Row) -> str:
    """Return why a row lies outside its tolerance."""
    return row.reason or "not known: this must be mended"


def tables(rows: list[Row], spell: Callable[[str], str] = str) -> Tables:
    """Return what is printed, every word of it passed through ``spell``."""
    out = table(
        "Held against published numbers", "source", "", "quantity", "published", "ours",
        "difference", "tolerance", "within", left=3,
    )  # fmt: skip
    out.columns[0].no_wrap = True
    out.padding = (0, 0, 0, 0)  # room for the quantity
    reasons = list(dict.fromkeys(why(row) for row in rows if not row.within))
    for row in rows:
        within = "yes" if row.within else f"NO [{reasons.index(why(row)) + 1}]"
        words = (row.source, MARKS[row.kind], row.quantity, *shown(row), within)
        cells = (spell(cell) for cell in words)
        add(out, *cells, style="" if row.within else "bold")
    lines: Tables = [out]
    if reasons:
        lines += [paragraph(""), heading("Outside their tolerance, and why")]
        lines += bullets(f"[{i}] {spell(reason)}" for i, reason in enumerate(reasons, start=1))
    lines += [paragraph(""), heading("Sources")]
    lines += bullets(
        f"{key}: {spell(text(key))}" for key in dict.fromkeys(row.source for row in rows)
    )
    lines += [paragraph(""), paragraph(LEGEND), paragraph("")]
    return [*lines, *(paragraph(line) for line in counts(rows))]


def record(row: Row) -> dict:
    """Return a row as it is written to JSON."""
    return {
        "source": f"{text(row.source)}; {row.where}",
        "source_key": row.source,
        "quantity": row.quantity,
        "published": list(row.published) if isinstance(row.published, tuple) else row.published,
        "ours": row.ours,
        "difference": row.difference,
        "tolerance": row.tolerance.size,
        "tolerance_kind": row.tolerance.kind,
        "within": row.within,
        "provenance": row.provenance,
        "kind": row.kind,
        "made_from": row.made_from or None,
        "independent_because": row.apart if row.kind == "independent" and row.apart else None,
        "reason": row.reason or None,
    }


def content(rows: list[Row]) -> dict:
    """Return what is written to JSON."""
    kinds = {
        kind.replace(" ", "_"): {"within": good, "total": total}
        for kind, (good, total) in within_and_total(rows).items()
    }
    return {
        "schema": SCHEMA, "version": __version__, "counts": kinds,
        "rows": [record(row) for row in rows],
    }  # fmt: skip


def main(words: list[str] | None = None) -> int:
    """Print the table; write it too if asked. Returns 1 if a row fails without a reason."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.validation", description="Hold the program against published numbers."
    )
    parser.add_argument(
        "--mutate", action="store_true", help="which rows notice when physics is made wrong"
    )
    parser.add_argument("--json", metavar="FILE", help="write the same numbers as JSON")
    parser.add_argument(
        "--whole", nargs="*", metavar="FILE",
        help="complete aeroplanes instead: AEROPLANE.toml DATA.csv, or the development ones",
    )  # fmt: skip
    parser.add_argument("--out", metavar="FOLDER", help="draw figures of --whole there")
    args = parser.parse_args(words)
    if args.whole is not None:
        return whole.run(args.whole, args.out, args.json)
    rows = all_rows()
    if args.mutate:
        return mutation.run(rows, args.json)
    for row in rows:
        settle(row)
    put(lambda spell: tables(rows, spell))
    if args.json is not None:
        put_json(Path(args.json), content(rows))
    return int(any(row.within == bool(row.reason) for row in rows))


if __name__ == "__main__":
    sys.exit(main())
