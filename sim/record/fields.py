"""The fields of records: numbers with unit and digits, lists of them, and what a record is.

Here alone a number is rounded, and here alone one that is not finite becomes null.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from math import inf, isfinite
from typing import Annotated, Any, ClassVar, TypeVar, get_args

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

Item = TypeVar("Item")
Lax = Annotated[Item, Field(strict=False)]  # an enum by its value
Json = dict[str, Any]  # what the standard library's json reads and writes


class _AsTuple:
    """Any list is taken, and kept as a tuple."""

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        (item,) = get_args(source)
        return core_schema.tuple_variable_schema(handler.generate_schema(item), strict=False)


Many = Annotated[Sequence[Item], _AsTuple()]


def said(text: str) -> Any:
    """Return the description of a field that is no number."""
    return Field(description=text)


@dataclass(frozen=True)
class Number:
    """A number of a record.

    A field that may be null is null where the number is not finite. One that may not be
    keeps it, and the record is then refused when it is written.

    Parameters
    ----------
    unit : str
        As the schema names it: "m", "degrees", "flights"; "1" for a share or a plain number.
    digits : int, optional
        After the point; None keeps the number as it is.
    what : str
        One line for the schema.
    below : float
        From this size on, in ``unit``, the number is null: no size that tells anything.
    significant : int, optional
        Digits of the whole number, where it goes over many powers of ten.
    """

    unit: str
    digits: int | None = None
    what: str = ""
    below: float = inf
    significant: int | None = None

    def rounded(self, value: Any, nullable: bool) -> Any:
        """Return a number as it is written; what is no floating-point number as it is."""
        if not isinstance(value, float):
            return value
        if not isfinite(value) or abs(value) >= self.below:
            return None if nullable else value
        if self.significant is not None:
            return float(f"{value:.{self.significant - 1}e}")
        return float(value) if self.digits is None else round(float(value), self.digits)

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Round before the check of the type; whole numbers are left alone."""
        kinds = get_args(source) or (source,)
        if float not in kinds:
            return handler(source)
        rounding = partial(self.rounded, nullable=type(None) in kinds)
        return core_schema.no_info_before_validator_function(rounding, handler(source))

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Add unit, digits and description to the schema of the number."""
        return handler(core) | _told(self.unit, self.digits, self.what)


@dataclass(frozen=True)
class Numbers:
    """A list of numbers, each as short as JSON allows: whole ones without a point.

    For long ones: rounded all at once, without a negative zero. See `Number`.
    """

    unit: str
    digits: int
    what: str = ""

    def rounded(self, values: list[float]) -> list[float]:
        """Return the numbers as they are written."""
        return [float(v) for v in np.round(np.array(values), self.digits) + 0.0]

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Round after the check of the type, shorten when written."""
        shorten = core_schema.plain_serializer_function_ser_schema(_shortest)
        return core_schema.no_info_after_validator_function(
            self.rounded, handler(source), serialization=shorten
        )

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Add unit, digits and description to the schema of the list."""
        return handler(core) | _told(self.unit, self.digits, self.what)


def _told(unit: str, digits: int | None, what: str) -> JsonSchemaValue:
    told: JsonSchemaValue = {"unit": unit}
    if digits is not None:
        told["digits"] = digits
    return told | ({"description": what} if what else {})


def _shortest(values: list[float]) -> list[float]:
    return [int(v) if v.is_integer() else v for v in values]


class Record(BaseModel):
    """A frozen table of a record: strict types, its keys and no others, in their order.

    It may be filled from an object whose attributes have its names.
    """

    model_config = ConfigDict(
        strict=True, extra="forbid", frozen=True, from_attributes=True, defer_build=True
    )

    def content(self) -> Json:
        """Return what is written, as JSON has it: keys in order, keys not given left out."""
        return self.model_dump(mode="json", by_alias=True, exclude_unset=True)


class Kind(Record):
    """A whole record, which its ``schema`` names.

    A subclass narrows ``kind`` to its name; ``brief``: written without blanks.
    """

    brief: ClassVar[bool] = False
    kind: str = Field(alias="schema")
    version: Annotated[str, said("of the program that wrote it")]


def kind_name(kind: type[Kind]) -> str:
    """Return what the ``schema`` of a kind of record says."""
    return str(get_args(kind.model_fields["kind"].annotation)[0])
