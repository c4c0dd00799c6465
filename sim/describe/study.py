"""A study: which set-ups fly which manoeuvres and recoveries, and what is asked of them."""

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from sim.describe.quantity import Described, FileName, Filled, Listed, Name, Place, Text, between
from sim.describe.refusal import refuse
from sim.describe.setup import StudySetUp

# The usual legal ceiling, and a floor for a stepwise test (common practice, no source).
ENTRY_M = 120.0
FLOOR_M = 40.0
# No 95 % limit is stated from fewer draws than this.
LEAST_DRAWS_FOR_A_LIMIT = 128


def _power_of_two(value: Any) -> Any:
    if isinstance(value, int) and (value < 1 or value & (value - 1)):
        raise PydanticCustomError("power", "must be a power of two, such as 32, 64, 128 or 256")
    return value


Draws = Annotated[int, BeforeValidator(_power_of_two), between(8, 4096, "draws")]
LimitDraws = Annotated[
    int, BeforeValidator(_power_of_two), between(LEAST_DRAWS_FOR_A_LIMIT, 4096, "draws")
]
Height = Annotated[float, between(1.0, 3000.0, "m")]
Floor = Annotated[float, between(0.0, 2000.0, "m")]


class Case(Described):
    """A manoeuvre with the recoveries compared on it, and its own heights if given."""

    manoeuvre: Name
    recoveries: Filled[Name]
    entry_m: Height | None = None
    floor_m: Floor | None = None


class AftLimit(Described):
    """The search for how far aft each pack may balance, between two balance points."""

    packs: Filled[Name]
    manoeuvres: Filled[Name]
    recoveries: Filled[Name]
    from_aft_mm: Place
    to_aft_mm: Place
    draws: LimitDraws = 256
    like: Name | None = None

    @model_validator(mode="after")
    def _goes_aft(self) -> "AftLimit":
        if self.from_aft_mm >= self.to_aft_mm:
            text = f"must lie forward of (below) to_aft_mm, {self.to_aft_mm:g}"
            refuse([("from_aft_mm", f"{text}; got {self.from_aft_mm:g}")])
        return self


class Study(Described):
    """Set-ups × cases, flown with the same draws, and the aft limits to look for."""

    format: Literal["aftlimit.study/1"] = Field(alias="schema")
    name: FileName
    title: Text
    story: Text
    aeroplane: Name
    draws: Draws
    seed: Annotated[int, between(0, 2**31 - 1)]
    entry_m: Height = ENTRY_M
    floor_m: Floor = FLOOR_M
    required_share_pct: Annotated[float, between(50.0, 99.9, "%")] = 95.0
    setups: Listed[StudySetUp] = ()
    cases: Listed[Case] = ()
    aft_limit: AftLimit | None = None

    @model_validator(mode="after")
    def _asks_for_something(self) -> "Study":
        faults = []
        if bool(self.setups) != bool(self.cases):
            lacking = "cases" if self.setups else "setups"
            faults.append((lacking, "is missing; set-ups and cases are flown with each other"))
        elif not self.setups and self.aft_limit is None:
            faults.append(("", "asks for nothing; give setups and cases, or aft_limit"))
        faults += self._floors()
        faults += _twice([s.name for s in self.setups], "setups")
        faults += _twice([c.manoeuvre for c in self.cases], "cases")
        refuse(faults)
        return self

    def _floors(self) -> list[tuple[str, str]]:
        faults = []
        if self.floor_m >= self.entry_m:
            text = f"must be below entry_m, {self.entry_m:g}; got {self.floor_m:g}"
            faults.append(("floor_m", text))
        for case in self.cases:
            entry, floor = self.heights_of(case)
            if (case.entry_m is not None or case.floor_m is not None) and floor >= entry:
                text = f"floor of {floor:g} m must be below the entry height of {entry:g} m"
                faults.append((f"cases.{case.manoeuvre}", text))
        return faults

    def heights_of(self, case: Case) -> tuple[float, float]:
        """Return the entry height and the floor of a case [m], its own or the study's."""
        entry = self.entry_m if case.entry_m is None else case.entry_m
        floor = self.floor_m if case.floor_m is None else case.floor_m
        return entry, floor


def _twice(names: list[str], path: str) -> list[tuple[str, str]]:
    again = {n for n in names if names.count(n) > 1}
    return [(f"{path}.{n}", "is there twice; keep one, or name them apart") for n in sorted(again)]
