"""The plain mapping that a file parses into, read without complaint, and faults of its names.

A missing or mistyped key is no fault here: it has its own, from the models.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sim.describe.faults import Fault, hint

Table = Mapping[str, Any]


def table(raw: object, *keys: str) -> Table:
    """Return the sub-table at a key path, or an empty one if it is not there."""
    for key in keys:
        raw = raw.get(key) if isinstance(raw, Mapping) else None
    return raw if isinstance(raw, Mapping) else {}


def rows(raw: Table, key: str) -> list[Table]:
    """Return the tables of a list, leaving out what is no table."""
    items = raw.get(key)
    if not isinstance(items, list | tuple):
        return []
    return [row for row in items if isinstance(row, Mapping)]


def number(raw: Table, key: str) -> float | None:
    """Return a number of a table, or None if there is none."""
    value = raw.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value)


def names(items: Iterable[Table], key: str = "name") -> list[str]:
    """Return the names of the tables of a list."""
    return [item[key] for item in items if isinstance(item.get(key), str)]


def unknown(raw: Table, key: str, path: str, known: Iterable[str], what: str) -> Iterator[Fault]:
    """Yield a fault if the key holds a name that is not among the known ones."""
    value = raw.get(key)
    listed = list(known)
    if isinstance(value, str) and value not in listed:
        where = f"{path}.{key}" if path else key
        yield Fault(where, f"names {value!r}, which is not there; {hint(value, listed, what)}")


def repeated(items: Iterable[Table], path: str, key: str = "name") -> Iterator[Fault]:
    """Yield a fault for each name that a list holds more than once."""
    seen: set[str] = set()
    for name in names(items, key):
        if name in seen:
            yield Fault(f"{path}.{name}", f"{key} is used twice; give each its own")
        seen.add(name)
