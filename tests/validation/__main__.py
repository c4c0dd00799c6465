"""Hold the program against published numbers: ``python -m tests.validation [--json FILE]``.

Prints one table, *source, quantity, published, ours, difference, tolerance, within*, and
below it why each number that lies outside does so, what the sources are, and how many of
each kind there are.

There is one module a source, ``test_<source>.py``, with a function ``rows()``. A row is a
published number, a function that makes ours with the program's own code, the tolerance
and where the number comes from. The tests of the module run over the same rows, so the
table and the tests cannot differ. A row known to lie outside its tolerance stays, with
the reason; its test is a strict expected failure, which turns red on the day it passes.
Checks that do not hold one number against another are plain tests beside the rows.

Provenance: *published* was read in the source or in a text that quotes it; *library* is
printed by a general-purpose package; *computed* is a closed form or an independent
script; *from memory* is recalled, a lead and no more. Tolerances are those of the source
or its scatter, never chosen to make ours fit.
"""

import argparse
import sys
from collections import Counter
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from unicodedata import normalize

from sim import __version__
from sim.show.console import (
    PLAIN,
    Tables,
    add,
    bullets,
    heading,
    paragraph,
    render,
    show,
    table,
    writes_unicode,
)
from sim.study.writing import write_json
from tests.validation import whole
from tests.validation.rows import Row
from tests.validation.sources import in_tables, own, products

BUILT_ON = (
    "+ a table of the program is made from this source: where a row compares that same curve, it "
    "shows that the program gives it back, and no more."
)
SCHEMA = "aftlimit.validation/1"
TINY = 1e-12  # of rounding
# for a stream that knows ASCII only
SPELT = {"±": "+-", "°": " deg", "²": "^2", "³": "^3", "–": "-"}


def all_rows() -> list[Row]:
    """Return the rows of all modules, by module."""
    paths = sorted(Path(__file__).parent.glob("test_*.py"))
    modules = [import_module(f"tests.validation.{path.stem}") for path in paths]
    return [row for module in modules if hasattr(module, "rows") for row in module.rows()]


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


def counts(rows: list[Row]) -> str:
    """Return how many rows of each provenance lie within their tolerance."""
    total = Counter(row.provenance for row in rows)
    good = Counter(row.provenance for row in rows if row.within)
    parts = [f"{name} {good[name]} of {total[name]}" for name in sorted(total)]
    return f"Within tolerance: {sum(good.values())} of {len(rows)} ({', '.join(parts)})."


def why(row: Row) -> str:
    """Return why a row lies outside its tolerance."""
    return row.reason or "not known: this must be mended"


def tables(rows: list[Row], spell: Callable[[str], str] = str) -> Tables:
    """Return what is printed, every word of it passed through ``spell``."""
    out = table(
        "Held against published numbers", "source", "quantity", "published", "ours", "difference",
        "tolerance", "within", left=2,
    )  # fmt: skip
    out.columns[0].no_wrap = True
    out.padding = (0, 0, 0, 0)  # room for the quantity
    reasons = list(dict.fromkeys(why(row) for row in rows if not row.within))
    for row in rows:
        within = "yes" if row.within else f"NO [{reasons.index(why(row)) + 1}]"
        cells = (spell(cell) for cell in (row.source, row.quantity, *shown(row), within))
        add(out, *cells, style="" if row.within else "bold")
    lines: Tables = [out]
    if reasons:
        lines += [paragraph(""), heading("Outside their tolerance, and why")]
        lines += bullets(f"[{i}] {spell(reason)}" for i, reason in enumerate(reasons, start=1))
    lines += [paragraph(""), heading("Sources")]
    lines += bullets(
        f"{key}{' +' if key in in_tables() else ''}: {spell(text(key))}"
        for key in dict.fromkeys(row.source for row in rows)
    )
    return [*lines, paragraph(""), paragraph(BUILT_ON), paragraph(""), paragraph(counts(rows))]


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
        "source_in_tables": row.source in in_tables(),
        "reason": row.reason or None,
    }


def ascii_only(words: str) -> str:
    """Return text with signs spelt out and letters without their accents."""
    for sign, spelling in SPELT.items():
        words = words.replace(sign, spelling)
    letters = normalize("NFKD", words.translate(PLAIN))
    return letters.encode("ascii", errors="ignore").decode("ascii")


def main(words: list[str] | None = None) -> int:
    """Print the table; write it too if asked. Returns 1 if a row fails without a reason."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.validation", description="Hold the program against published numbers."
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
    if writes_unicode(sys.stdout):
        show(tables(rows))
    else:
        sys.stdout.write(render(tables(rows, ascii_only), unicode=False))
    if args.json is not None:
        content = {"schema": SCHEMA, "version": __version__, "rows": [record(row) for row in rows]}
        write_json(Path(args.json), content)
    return int(any(row.within == bool(row.reason) for row in rows))


if __name__ == "__main__":
    sys.exit(main())
