"""Keys in the pilot's own units: ``mass_oz`` for ``mass_g``, ``aft_in`` for ``aft_mm``.

A key that a table does not have is taken for one that it has if it differs in its unit alone and
the units are of a kind. Names of keys come from the models, so that a new key needs nothing here.
Faults are told back in the key and unit that the file has.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from math import ceil, floor, log10
from typing import Any

from pydantic import BaseModel

from sim.describe.faults import Fault
from sim.describe.reading.wording import Location, annotation_at, key_path, keys_of, known_unit
from sim.units.factors import Unit, split, suffixes

NUMBER = r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?"
DIGITS = 12  # so that 22.637795 in becomes 575 mm, not 574.999993; what a reader types has fewer


@dataclass(frozen=True)
class OwnKey:
    """A key as the file has it: its name, the table's name for it, both units, what was typed."""

    name: str
    known: str
    unit: Unit
    known_unit: Unit
    typed: object


@dataclass
class OwnUnits:
    """The tables of a file in the units of the models, and what was turned into them.

    Parameters
    ----------
    tables : mapping
        As parsed, with the models' own keys.
    keys : dict of str to OwnKey
        By the key path that the models know.
    faults : list of Fault
        Of keys given twice.
    """

    tables: Mapping[str, Any]
    keys: dict[str, OwnKey] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def told(self, fault: Fault) -> Fault:
        """Return a fault in the keys and units that the file has."""
        if not self.keys:
            return fault
        if fault.text.startswith("is missing"):
            return self._missing(fault)
        own = self.keys.get(fault.path)
        table = fault.path if own is None else _holder(fault.path, own.known)
        near = {path: key for path, key in self.keys.items() if _holder(path, key.known) == table}
        text = fault.text
        for other in near.values():
            text = _renamed(text, other)
        if own is not None:
            text = re.sub(rf"\bgot {NUMBER}(?=$|[ ,;)])", f"got {own.typed}", text)
        said = {key.known_unit.kind: key for key in ([own] if own else near.values())}
        for key in said.values():
            text = _measured(text, key)
        path = fault.path if own is None else ".".join(p for p in (table, own.name) if p)
        return replace(fault, path=path, text=text)

    def _missing(self, fault: Fault) -> Fault:
        """Return the fault of a missing key in the unit that its table's other keys have."""
        holder, _, last = fault.path.rpartition(".")
        parts = split(last)
        for path, key in self.keys.items() if parts is not None else ():
            if parts is not None and (_holder(path, key.known), key.known_unit) == (
                holder,
                parts[1],
            ):
                name = f"{parts[0]}_{key.name.rpartition('_')[2]}"
                path = f"{holder}.{name}" if holder else name
                return replace(fault, path=path, text=_measured(fault.text, key))
        return fault


def in_known_units(raw: Mapping[str, Any], model: type[BaseModel]) -> OwnUnits:
    """Return the tables of a file with every key in the unit that its model has.

    Parameters
    ----------
    raw : mapping
        As parsed.
    model : type of BaseModel
        What the file should hold.
    """
    found = OwnUnits(raw)
    found.tables = _turned(raw, (), model, found)
    return found


def _turned(value: Any, location: Location, model: type[BaseModel], found: OwnUnits) -> Any:
    if isinstance(value, list):
        return [_turned(x, (*location, i), model, found) for i, x in enumerate(value)]
    if not isinstance(value, Mapping):
        return value
    known = keys_of(model, location)
    out: dict[str, Any] = {}
    for key, item in value.items():
        own = None if key in known else _own_key(key, item, location, model, known)
        if own is None:
            out[key] = _turned(item, (*location, key), model, found)
            continue
        path = key_path((*location, own.known), found.tables)
        if own.known in value or own.known in out:
            first = found.keys[path].name if path in found.keys else own.known
            text = f"says the same as {first}, which is given too; keep one of them"
            found.faults.append(Fault(f"{path.removesuffix(own.known)}{key}", text))
        else:
            out[own.known] = _in_unit(item, own)
            found.keys[path] = own
    return out


def _own_key(
    key: str, typed: object, location: Location, model: type[BaseModel], known: list[str]
) -> OwnKey | None:
    """Return what a key means that is not among the known ones; None if nothing fits."""
    parts = split(key)
    if parts is None:
        return None
    base, unit = parts
    for suffix in suffixes(unit.kind):
        name = f"{base}_{suffix}"
        if name in known and (met := known_unit(name, annotation_at(model, (*location, name)))):
            return OwnKey(key, name, unit, met, typed)
    return None


def _in_unit(value: object, own: OwnKey) -> object:
    """Return numbers in the unit that the model has; what is no number as it is."""
    if isinstance(value, list):
        return [_in_unit(item, own) for item in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return float(f"{own.unit.to(own.known_unit, float(value)):.{DIGITS}g}")


def _holder(path: str, key: str) -> str:
    return path.removesuffix(key).rstrip(".")


def _in_own(number: str, own: OwnKey, whole: Callable[[float], int] = round) -> str:
    """Return a number of the model's unit in the file's, to four digits rounded as ``whole``."""
    value = own.known_unit.to(own.unit, float(number))
    if value == 0.0:
        return "0"
    step = 10.0 ** (floor(log10(abs(value))) - 3)
    return f"{whole(round(value / step, 6)) * step:.6g}"


def _renamed(text: str, own: OwnKey) -> str:
    """Return a text with a key by its name in the file, and its value after a comma in its unit."""
    text = re.sub(
        rf"\b{own.known}, ({NUMBER})", lambda m: f"{own.name}, {_in_own(m[1], own)}", text
    )
    return re.sub(rf"\b{own.known}\b", own.name, text)


def _measured(text: str, own: OwnKey) -> str:
    """Return a text whose numbers with the model's unit, alone or two of a range, are in own."""
    joined = r"( to | and at most | and )"
    pattern = rf"({NUMBER})(?:{joined}({NUMBER}))? {re.escape(own.known_unit.symbol)}(?!\w)"

    def said(match: re.Match[str]) -> str:
        if match[3] is None:
            return f"{_in_own(match[1], own)} {own.unit.symbol}"
        # what is told as allowed must be
        low, high = _in_own(match[1], own, ceil), _in_own(match[3], own, floor)
        return f"{low}{match[2]}{high} {own.unit.symbol}"

    return re.sub(pattern, said, text)
