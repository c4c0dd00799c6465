"""What not having measured something adds to draws, what measuring leaves: assumed.toml."""

from typing import Annotated, Literal, Self

from pydantic import model_validator

from sim.core.draw_layout import DRAW_COLUMNS
from sim.describe.faults import nearest, refuse
from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Table

Deviation = Annotated[float, between(0.0, 1000.0)]


class Widening(Table):
    """What not having measured keys adds to a draw; ``sd`` in the draw's own unit.

    ``keys`` are key paths of an aeroplane file, a surface by its role, ``*`` for any name.
    """

    keys: Filled[Text]
    how: Literal["assumed", "from_box"]
    draw: Text
    sd: Deviation
    text: Text
    measure: Text
    source: Text


class Narrowing(Table):
    """What a measurement leaves of a draw; ``key`` is one of ``[measured]``."""

    key: Text
    draw: Text
    sd: Deviation
    source: Text


class Assumed(Table):
    """assumed.toml: every draw it names is one of uncertainty.toml."""

    widening: Filled[Widening]
    narrowing: Filled[Narrowing]

    @model_validator(mode="after")
    def _names_are_draws(self) -> Self:
        faults = []
        for name in [x.draw for x in self.widening] + [x.draw for x in self.narrowing]:
            if name not in DRAW_COLUMNS:
                near = nearest(name, DRAW_COLUMNS)
                hint = f"did you mean {near!r}?" if near else "see uncertainty.toml"
                faults.append(("widening", f"{name!r} is not a draw; {hint}"))
        refuse(faults)
        return self
