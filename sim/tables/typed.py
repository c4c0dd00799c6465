"""From a table file to a typed model of it, or to every fault of the file at once."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Annotated, Any, ClassVar, Self, TypeVar, get_type_hints

import numpy as np
from numpy.typing import NDArray
from pydantic import AfterValidator, Field, ValidationError, model_validator
from pydantic_core import PydanticCustomError

from sim.describe.faults import Fault, nearest, refuse
from sim.describe.quantity import Described, Filled, Wanted, between
from sim.describe.reading.wording import faults_from
from sim.tables.reading import TableFault, read_csv, read_toml

Numbers = NDArray[np.float64]  # a column of numbers, NaN where the file has none
Words = NDArray[np.str_]


def _rising(ends: tuple[float, float]) -> tuple[float, float]:
    if ends[0] >= ends[1]:
        raise PydanticCustomError("rising", "must be two numbers, the lesser first")
    return ends


Ends = Annotated[
    tuple[float, float],
    Field(strict=False),
    AfterValidator(_rising),
    Wanted("two numbers, the lesser first"),
]
Pair = Annotated[tuple[float, float], Field(strict=False), Wanted("two numbers")]
Curve = Filled[float]

# ranges only catch a slip of the sign, the unit or the decimal point
Share = Annotated[float, between(0.0, 1.0)]
ShareEnds = Annotated[
    tuple[Share, Share],
    Field(strict=False),
    AfterValidator(_rising),
    Wanted("two numbers, the lesser first"),
]
Signed = Annotated[float, between(-1.0, 1.0)]
Factor = Annotated[float, between(0.0, 100.0)]
Angle = Annotated[float, between(0.0, 180.0, "degrees")]
WholeTurns = Annotated[float, between(0.0, 3600.0, "degrees")]
SignedAngle = Annotated[float, between(-180.0, 180.0, "degrees")]
Percent = Annotated[float, between(0.0, 100.0, "%")]
TurnRate = Annotated[float, between(0.0, 2000.0, "degrees per second")]
Seconds = Annotated[float, between(0.0, 1000.0, "s")]
Minutes = Annotated[float, between(0.0, 60.0, "minutes")]
MetresPerSecond = Annotated[float, between(0.0, 100.0, "m/s")]
Metres = Annotated[float, between(0.0, 10000.0, "m")]
Millimetres = Annotated[float, between(0.0, 1000.0, "mm")]
PerSecond = Annotated[float, between(0.0, 1000.0, "per second")]
Reynolds = Annotated[float, between(1e3, 1e8)]
Count = Annotated[int, between(1, 100000)]


class Table(Described):
    """A table of aero_tables, its fields named as the file's keys.

    ``CURVES`` names lists that belong together, first what the others are read against: it
    rises, and the others are as long.
    """

    CURVES: ClassVar[tuple[tuple[str, ...], ...]] = ()

    @model_validator(mode="after")
    def _curves_hold_together(self) -> Self:
        refuse(fault for names in self.CURVES for fault in self._curve_faults(*names))
        return self

    def _curve_faults(self, at: str, *others: str) -> Iterator[tuple[str, str]]:
        along = getattr(self, at)
        if not (np.diff(along) > 0.0).all():
            yield at, "must rise from each number to the next"
        for other in others:
            if (got := len(getattr(self, other))) != len(along):
                yield other, f"must be as long as {at}, {len(along)} numbers; got {got} of them"


Model = TypeVar("Model", bound=Table)
# a NamedTuple class whose fields, Numbers or Words, are the columns
Columns = TypeVar("Columns", bound=tuple[Any, ...])


def from_toml(name: str, model: type[Model]) -> Model:
    """Return a TOML table of the tables folder as its model.

    Raises
    ------
    TableFault
        If it cannot be read, or a key is missing, unknown, or its value of a wrong kind or
        out of range: a line for each.
    """
    return modelled(name, model, read_toml(name).values)


def modelled(name: str, model: type[Model], raw: Mapping[str, Any]) -> Model:
    """Return what a TOML table holds as its model; errors as `from_toml`."""
    try:
        return model.model_validate(raw)
    except ValidationError as error:
        lines = [fault.line(name) for fault in faults_from(error, model, raw)]
        raise TableFault("\n".join(lines)) from None


def from_csv(name: str, kind: type[Columns], folder: Path | None = None) -> Columns:
    """Return a CSV table of the tables folder (or of another folder) as its named columns.

    Raises
    ------
    TableFault
        If it cannot be read, or a column is missing, unknown or of a wrong kind: a line for
        each.
    """
    found, wanted = read_csv(name, folder).columns, get_type_hints(kind)
    faults = [*_misnamed(list(found), list(wanted))]
    for column in [name for name in wanted if name in found]:
        numbers = wanted[column] == Numbers
        if (found[column].dtype.kind == "f") != numbers:
            kinds = "a number in every row, or nothing" if numbers else "text"
            faults.append(Fault(column, f"must hold {kinds}"))
    if faults:
        raise TableFault("\n".join(fault.line(name) for fault in faults))
    return kind(**found)


def _misnamed(found: list[str], wanted: list[str]) -> Iterator[Fault]:
    """Yield a fault for each column that is unknown, or missing and not a misspelt one."""
    meant = set()
    for column in found:
        if column not in wanted:
            close = nearest(column, [name for name in wanted if name not in found])
            meant.add(close)
            mend = f"did you mean {close!r}?" if close else f"columns: {', '.join(wanted)}"
            yield Fault(column, f"is no column of this table; {mend}")
    for column in wanted:
        if column not in found and column not in meant:
            yield Fault(column, "is missing; give a column of that name")
