"""What is not exactly known, and by how much: uncertainty.toml."""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Annotated, Self

from pydantic import model_validator

from sim.core.draw_layout import DRAW_COLUMNS
from sim.describe.faults import nearest, refuse
from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Share, Table


class Spread(Table):
    """One thing that is not exactly known; ``sd`` in ``unit``, ``measure`` shrinks it."""

    name: Text
    sd: Annotated[float, between(0.0, 1000.0)]
    unit: Text
    text: Text
    measure: Text
    source: Text


class Uncertainty(Table):
    """uncertainty.toml: an entry for each name of `DRAW_COLUMNS`, in any order."""

    cut_sds: Annotated[float, between(0.5, 5.0)]
    wind_head_share: Share
    wind_cross_share: Share
    entries: Filled[Spread]

    @model_validator(mode="after")
    def _names_are_the_draws(self) -> Self:
        names = [entry.name for entry in self.entries]
        refuse(("entries", text) for text in _misnamed(names))
        return self


def _misnamed(names: Sequence[str]) -> Iterator[str]:
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
