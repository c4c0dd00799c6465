"""What every described table shares: strictness, and numbers with a unit and a range.

A range here is no physics: it is wide enough for any model aeroplane and narrow enough
to catch a slip of the unit (a span typed in metres, a mass in kilograms).
"""

import math
import re
from dataclasses import dataclass
from typing import Annotated, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field
from pydantic_core import PydanticCustomError

Item = TypeVar("Item")


class Described(BaseModel):
    """A frozen table of a file: strict types, no unknown keys, no NaN or infinity."""

    model_config = ConfigDict(
        strict=True, allow_inf_nan=False, extra="forbid", frozen=True, defer_build=True
    )


@dataclass(frozen=True)
class Between:
    """The allowed range of a number, both ends included.

    Parameters
    ----------
    low, high : float
        Least and greatest allowed value, in ``unit``.
    unit : str
        Unit as the reader writes it; empty for a plain number.
    """

    low: float
    high: float
    unit: str = ""

    def __str__(self) -> str:
        """Say the range: ``at least 20 and at most 10000 mm``."""
        return f"at least {self.low:g} and at most {self.high:g} {self.unit}".rstrip()

    def check(self, value: object) -> int | float:
        """Return the value if it is a number in range.

        Raises
        ------
        PydanticCustomError
            If it is no number (true and false are none), not finite, or out of range.
        """
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise PydanticCustomError("range", "must be a number, " + str(self))
        if not math.isfinite(value) or not self.low <= value <= self.high:
            raise PydanticCustomError("range", "must be " + str(self))
        return value


@dataclass(frozen=True)
class Wanted:
    """What a value is, in the words of a message that asks for it."""

    text: str


def between(low: float, high: float, unit: str = "") -> BeforeValidator:
    """Return the annotation that holds a number between two ends, both allowed."""
    return BeforeValidator(Between(low, high, unit).check)


def _file_safe(value: str) -> str:
    if not re.fullmatch(r"[A-Za-z0-9_\-]+", value):
        raise PydanticCustomError(
            "name", "must be made of letters, digits, _ and - only, as it also names files"
        )
    return value


@dataclass(frozen=True)
class Line:
    """A text of one line, not empty, of at most so many letters."""

    most: int

    def check(self, value: object) -> object:
        """Return the value if it is such a text, or no text at all.

        Raises
        ------
        PydanticCustomError
            If it is empty, too long, or has several lines.
        """
        if not isinstance(value, str):
            return value
        if not value.strip():
            raise PydanticCustomError("text", "must not be empty")
        if len(value) > self.most:
            text = "must be of at most {most} letters, not {got}"
            raise PydanticCustomError("text", text, {"most": self.most, "got": len(value)})
        if "\n" in value or "\t" in value:
            raise PydanticCustomError("text", "must be one line, without line ends and tabs")
        return value


def _passage(value: object) -> object:
    if isinstance(value, str) and not value.strip():
        raise PydanticCustomError("text", "must not be empty")
    return value


Passage = Annotated[str, BeforeValidator(_passage)]  # of several lines; bounds.py says how long
Text = Annotated[str, BeforeValidator(Line(200).check)]
Name = Annotated[str, BeforeValidator(Line(60).check)]
FileName = Annotated[
    str,
    BeforeValidator(lambda v: _file_safe(v) if isinstance(v, str) else v),
    BeforeValidator(Line(60).check),
]

# A TOML array arrives as a list; the model keeps a tuple, so that it stays frozen.
Listed = Annotated[tuple[Item, ...], Field(strict=False)]
Filled = Annotated[tuple[Item, ...], Field(strict=False, min_length=1)]

Place = Annotated[float, between(-5000.0, 5000.0, "mm")]
Size = Annotated[float, between(1.0, 10000.0, "mm")]
Tilt = Annotated[float, between(-20.0, 20.0, "degrees")]
Share = Annotated[float, between(0.0, 100.0, "%")]
Height = Annotated[float, between(1.0, 3000.0, "m")]
Floor = Annotated[float, between(0.0, 2000.0, "m")]
Grams = Annotated[float, between(0.1, 25000.0, "g")]
Milliohm = Annotated[float, between(0.1, 1000.0, "mΩ")]
MOST_THROW_DEG = 60.0  # that a file may state
MOST_FLAP_PCT = 80.0  # of the chord, likewise
Throw = Annotated[float, between(0.0, MOST_THROW_DEG, "degrees")]
Travel = Annotated[float, between(0.0, 1000.0, "mm")]
