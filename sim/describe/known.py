"""How a value of an aeroplane file is known: measured, read off a box, or assumed for its kind.

What a file does not list as ``assumed`` or ``from_box`` was measured, with the error of a ruler
or a scale. A listed key names a value, or a whole table with everything in it.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Literal

from sim.describe.faults import Fault, nearest
from sim.describe.plain import Table

Kind = Literal["fan_jet_strakes", "fan_jet", "delta", "propeller_sport", "aerobatic", "glider"]
LISTS = ("assumed", "from_box")
AIRFRAME = "airframe"  # may be listed though the file leaves it out: it is spread by kind
LABELS = ("name", "channel", "of")  # what items of a list go by, in a key path


def known_faults(raw: Table) -> Iterator[Fault]:
    """Yield a fault for each listed key that is not there, or is listed twice."""
    listed = {name: raw.get(name) for name in LISTS}
    seen: dict[str, str] = {}
    for name, keys in listed.items():
        for key in keys if isinstance(keys, list | tuple) else ():
            if not isinstance(key, str):
                continue
            if key in seen:
                text = f"{key!r} stands there already, in {seen[key]}; keep one"
                yield Fault(name, text)
            seen.setdefault(key, name)
            if key != AIRFRAME and not _there(raw, key.split(".")):
                near = nearest(key, [".".join(path) for path in _paths(raw)])
                mend = f"; did you mean {near!r}?" if near else ""
                text = f"names {key!r}, which the file does not have{mend}"
                yield Fault(name, f"{text} (a key measured since is struck from the list)")


def _named(item: object) -> str | None:
    if isinstance(item, Mapping):
        for label in LABELS:
            if isinstance(item.get(label), str):
                return str(item[label])
    return None


def _below(holder: Any) -> Iterator[tuple[str, Any]]:
    """Yield what a table or a list of named tables holds, by key or by name."""
    if isinstance(holder, Mapping):
        yield from ((str(key), value) for key, value in holder.items())
    elif isinstance(holder, list | tuple):
        yield from ((name, item) for item in holder if (name := _named(item)) is not None)


def _there(holder: Any, path: list[str]) -> bool:
    """Return True if a key path leads to something; names may hold dots."""
    if not path:
        return True
    whole = ".".join(path)
    return any(
        whole == key
        or (whole.startswith(f"{key}.") and _there(value, whole[len(key) + 1 :].split(".")))
        for key, value in _below(holder)
    )


def _paths(holder: Any, above: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    for key, value in _below(holder):
        path = (*above, key)
        yield path
        yield from _paths(value, path)


def by_role(key: str, roles: Mapping[str, str]) -> str:
    """Return a key path with a surface's role in place of its name: ``surfaces.wing.section``."""
    first, _, rest = key.partition(".")
    if first != "surfaces":
        return key
    for name, role in roles.items():
        if rest == name or rest.startswith(f"{name}."):
            return f"surfaces.{role}{rest[len(name) :]}"
    return key


def covers(pattern: Iterable[str], key: Iterable[str]) -> bool:
    """Return True if a key is what a pattern names, holds it, or lies in it; ``*`` is any name."""
    return all(a in ("*", b) or b == "*" for a, b in zip(pattern, key, strict=False))
