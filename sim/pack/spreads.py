"""The uncertainty table: names, spreads and what to measure, with an aeroplane's own values."""

from collections.abc import Sequence
from difflib import get_close_matches
from functools import lru_cache

import numpy as np

from sim import tables
from sim.aero.choice import END_OF_DRAW, TableEnds
from sim.core.draw_layout import DRAW_COLUMNS, N_DRAW, TABLE_DRAWS
from sim.describe import Aeroplane, Fault, FileFault
from sim.pack.known import known_spread, unmeasured
from sim.tables.models.uncertainty import Spread


@lru_cache(maxsize=1)
def default_spreads() -> tuple[Spread, ...]:
    """Return the spreads of the uncertainty table, in the order of the draw's columns."""
    return bound_spreads(tables.uncertainty().entries)


def bound_spreads(entries: Sequence[Spread]) -> tuple[Spread, ...]:
    """Return the spreads of entries in any order, bound by name to the draw's columns.

    Parameters
    ----------
    entries : sequence of Spread
        One for each name of `DRAW_COLUMNS`.
    """
    by_name = {entry.name: entry for entry in entries}
    return tuple(by_name[name] for name in sorted(DRAW_COLUMNS, key=DRAW_COLUMNS.__getitem__))


def drawn_spreads(aeroplane: Aeroplane) -> tuple[Spread, ...]:
    """Return the spreads that flights are drawn with: nothing for what is trimmed out before.

    An aeroplane's own value counts also for those.

    Raises
    ------
    FileFault
        See `spreads_of`.
    """
    gone = set(tables.error_model().trimmed_out) - set(aeroplane.uncertainty)
    return tuple(
        x.model_copy(update={"sd": 0.0}) if x.name in gone else x for x in spreads_of(aeroplane)
    )


def spreads_of(aeroplane: Aeroplane) -> tuple[Spread, ...]:
    """Return the spreads of an aeroplane: wider where it was not measured; its own values put in.

    What its file lists as assumed or read off a box widens the table's, see `sim.pack.known`.

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
    wider = unmeasured(aeroplane)
    return tuple(
        s.model_copy(update={"sd": aeroplane.uncertainty[s.name]})
        if s.name in aeroplane.uncertainty
        else known_spread(aeroplane, s, wider)
        for s in default_spreads()
    )


def table_ends(spreads: tuple[Spread, ...]) -> TableEnds:
    """Return the half-widths of the drawn table parameters [-, rad].

    Own: at the cut of the draws.
    """
    cut = tables.uncertainty().cut_sds
    widths = {DRAW_COLUMNS[s.name]: cut * s.sd for s in spreads}
    return TableEnds(**{END_OF_DRAW[column]: widths[column] for column in TABLE_DRAWS})


def physical(spreads: tuple[Spread, ...], normal: np.ndarray) -> np.ndarray:
    """Return draws (n, N_DRAW) in physical units from standard normal ones, cut [-].

    Own: the cut is where table ends lie, uncertainty.toml. Those of `TABLE_DRAWS` come in
    half-widths of their table ends instead; what error_model.toml bounds from below is no less
    than that.
    """
    cut, scale = tables.uncertainty().cut_sds, np.empty(N_DRAW)
    for spread in spreads:
        scale[DRAW_COLUMNS[spread.name]] = spread.sd
    scale[list(TABLE_DRAWS)] = 1.0 / cut
    out = np.clip(normal, -cut, cut) * scale
    for name, least in tables.error_model().least.items():
        out[:, DRAW_COLUMNS[name]] = np.maximum(out[:, DRAW_COLUMNS[name]], least)
    return out
