"""The uncertainty table: names, spreads and what to measure, with an aeroplane's own values."""

from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache

import numpy as np

from sim.aero.choice import TableEnds
from sim.aero.tables import TableFault, read_toml
from sim.core import perturb as d
from sim.describe import Aeroplane, Fault, FileFault

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
    """Return the spreads of the uncertainty table, in the kernel's order.

    Raises
    ------
    TableFault
        The table has another number of entries than the kernel.
    """
    entries = read_toml("uncertainty.toml").values["entries"]
    if len(entries) != d.N_DRAW:
        raise TableFault(
            f"uncertainty.toml: entries: must be {d.N_DRAW}, one for each draw; got {len(entries)}"
        )
    return tuple(Spread(**entry) for entry in entries)


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
    return TableEnds(*(CUT * spreads[column].sd for column in d.TABLE_DRAWS))


def physical(spreads: tuple[Spread, ...], normal: np.ndarray) -> np.ndarray:
    """Return draws (n, N_DRAW) in physical units from standard normal ones, cut at two sd.

    The table parameters come in half-widths of their table ends instead.
    """
    out = np.clip(normal, -CUT, CUT) * np.array([s.sd for s in spreads])
    columns = list(d.TABLE_DRAWS)
    out[:, columns] = np.clip(normal[:, columns], -CUT, CUT) / CUT
    return out
