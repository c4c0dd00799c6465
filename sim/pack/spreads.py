"""The uncertainty table: names, spreads and what to measure, with an aeroplane's own values."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from difflib import get_close_matches
from functools import lru_cache
from math import isfinite
from typing import Any

import numpy as np

from sim.aero.choice import END_OF_DRAW, TableEnds
from sim.core.draw_layout import DRAW_COLUMNS, N_DRAW, TABLE_DRAWS
from sim.describe import Aeroplane, Fault, FileFault
from sim.describe.faults import nearest
from sim.tables.reading import TableFault, read_toml

CUT = 2.0  # draws are normal, cut at this many standard deviations


@dataclass(frozen=True)
class Spread:
    """One thing that is not exactly known.

    ``sd`` is its standard deviation in ``unit``; ``measure`` says how to shrink it.
    """

    name: str
    sd: float
    unit: str
    text: str
    measure: str
    source: str


@lru_cache(maxsize=1)
def default_spreads() -> tuple[Spread, ...]:
    """Return the spreads of the uncertainty table, in the order of the draw's columns.

    Raises
    ------
    TableFault
        See `bound_spreads`.
    """
    return bound_spreads(read_toml("uncertainty.toml").values.get("entries", ()))


def bound_spreads(entries: Sequence[Mapping[str, Any]]) -> tuple[Spread, ...]:
    """Return the spreads of entries in any order, bound by name to the draw's columns.

    Parameters
    ----------
    entries : sequence of mappings
        One for each name of `DRAW_COLUMNS`, with the keys of `Spread`.

    Raises
    ------
    TableFault
        An entry is missing, doubled, unknown or incomplete: all of them, a line each.
    """
    faults = [*_misnamed([str(entry.get("name")) for entry in entries]), *_incomplete(entries)]
    if faults:
        raise TableFault("\n".join(f"uncertainty.toml: entries: {fault}" for fault in faults))
    by_name = {entry["name"]: Spread(**entry) for entry in entries}
    return tuple(by_name[name] for name in sorted(DRAW_COLUMNS, key=DRAW_COLUMNS.__getitem__))


def _misnamed(names: list[str]) -> Iterator[str]:
    """Yield what is wrong with the names of the entries, with the nearest right ones."""
    missing = [name for name in DRAW_COLUMNS if name not in names]
    strange = [name for name in names if name not in DRAW_COLUMNS]
    for name in strange:
        near = nearest(name, missing) or nearest(name, DRAW_COLUMNS)
        hint = f"did you mean {near!r}?" if near else f"known are {', '.join(DRAW_COLUMNS)}"
        yield f"{name!r} is not a draw; {hint}"
    for name in missing:
        near = nearest(name, strange) or nearest(name, names)
        yield f"{name!r} is missing; add it" + (f" (nearest there is {near!r})" if near else "")
    for name, count in Counter(names).items():
        if count > 1 and name in DRAW_COLUMNS:
            near = nearest(name, missing)
            mend = f"name one of them {near!r}" if near else "keep one"
            yield f"{name!r} stands there {count} times; {mend}"


def _incomplete(entries: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Yield what is wrong with the keys and spreads of the entries."""
    keys = [field.name for field in fields(Spread)]
    for entry in entries:
        if set(entry) != set(keys):
            yield f"{entry.get('name')!r} must have {', '.join(keys)}; got {', '.join(entry)}"
            continue
        sd = entry["sd"]
        if (
            isinstance(sd, bool)
            or not isinstance(sd, int | float)
            or not sd >= 0.0
            or not isfinite(sd)
        ):
            yield f"{entry['name']!r}: sd must be a number of at least 0; got {sd!r}"


def flown_spreads(aeroplane: Aeroplane) -> tuple[Spread, ...]:
    """Return the spreads that flights are drawn with: nothing for what is trimmed out before.

    An aeroplane's own value counts also for those.

    Raises
    ------
    FileFault
        See `spreads_of`.
    """
    gone = set(read_toml("error_model.toml").values["trimmed_out"]) - set(aeroplane.uncertainty)
    return tuple(replace(x, sd=0.0) if x.name in gone else x for x in spreads_of(aeroplane))


def spreads_of(aeroplane: Aeroplane) -> tuple[Spread, ...]:
    """Return the spreads of an aeroplane: the table's, with its own values put in.

    Raises
    ------
    FileFault
        ``[uncertainty]`` names something that is not in the table.
    """
    names = [s.name for s in default_spreads()]
    faults = []
    for key in aeroplane.uncertainty:
        if key not in names:
            near = get_close_matches(key, names, n=1)
            hint = f'nearest is "{near[0]}"' if near else f"known are {', '.join(names)}"
            faults.append(Fault(f"uncertainty.{key}", f"is not a known spread; {hint}"))
    if faults:
        raise FileFault(f"{aeroplane.name}.toml", faults)
    return tuple(
        Spread(s.name, aeroplane.uncertainty.get(s.name, s.sd), s.unit, s.text, s.measure, s.source)
        for s in default_spreads()
    )


def table_ends(spreads: tuple[Spread, ...]) -> TableEnds:
    """Return the half-widths of the drawn table parameters, at the cut."""
    widths = {DRAW_COLUMNS[s.name]: CUT * s.sd for s in spreads}
    return TableEnds(**{END_OF_DRAW[column]: widths[column] for column in TABLE_DRAWS})


def physical(spreads: tuple[Spread, ...], normal: np.ndarray) -> np.ndarray:
    """Return draws (n, N_DRAW) in physical units from standard normal ones, cut at two sd.

    Those of `TABLE_DRAWS` come in half-widths of their table ends instead; what error_model.toml
    bounds from below is no less than that.
    """
    scale = np.empty(N_DRAW)
    for spread in spreads:
        scale[DRAW_COLUMNS[spread.name]] = spread.sd
    scale[list(TABLE_DRAWS)] = 1.0 / CUT
    out = np.clip(normal, -CUT, CUT) * scale
    for name, least in read_toml("error_model.toml").values["least"].items():
        out[:, DRAW_COLUMNS[name]] = np.maximum(out[:, DRAW_COLUMNS[name]], least)
    return out
