"""What a pilot can measure before a flight, and what is left unknown then: measuring.toml."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from sim.core.draw_layout import DRAW_COLUMNS
from sim.describe.faults import nearest, refuse
from sim.describe.quantity import Filled, Listed, Text, between
from sim.tables.typed import Table

Deviation = Annotated[float, between(0.0, 1000.0)]


class Measurable(Table):
    """One job at the bench: which keys it makes known, and what it leaves of draws.

    ``keys`` as in assumed.toml, ``swing`` one of ``[measured]`` that assumed.toml narrows by,
    ``leaves`` one standard deviation in the draw's own unit. ``made`` are keys of ``[measured]``
    that, all given, say that the job was done.
    """

    name: Text
    text: Text
    measure: Text
    keys: Listed[Text] = ()
    swing: Text | None = None
    made: Listed[Text] = ()
    leaves: dict[str, Deviation] = Field(default_factory=dict)
    source: Text


class Measuring(Table):
    """measuring.toml: every draw it names is one of uncertainty.toml."""

    of_the_day: Filled[Text]
    entries: Filled[Measurable]

    @model_validator(mode="after")
    def _names_are_draws(self) -> Self:
        named = [*self.of_the_day, *(draw for x in self.entries for draw in x.leaves)]
        faults = []
        for name in named:
            if name not in DRAW_COLUMNS:
                near = nearest(name, DRAW_COLUMNS)
                hint = f"did you mean {near!r}?" if near else "see uncertainty.toml"
                faults.append(("entries", f"{name!r} is not a draw; {hint}"))
        refuse(faults)
        return self
