"""The rows of all modules, and how many of each kind there are."""

from collections.abc import Iterable
from importlib import import_module
from pathlib import Path

from tests.validation.rows import KINDS, Row


def all_rows() -> list[Row]:
    """Return the rows of all modules, by module."""
    paths = sorted(Path(__file__).parent.glob("test_*.py"))
    modules = [import_module(f"tests.validation.{path.stem}") for path in paths]
    return [row for module in modules if hasattr(module, "rows") for row in module.rows()]


def within_and_total(rows: Iterable[Row]) -> dict[str, tuple[int, int]]:
    """Return for each kind how many rows lie within their tolerance, and of how many."""
    of = {kind: [row.within for row in rows if row.kind == kind] for kind in KINDS}
    return {kind: (sum(good), len(good)) for kind, good in of.items()}
