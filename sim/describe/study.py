"""A study: which set-ups fly which manoeuvres and recoveries, and what is asked of them."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from sim.describe.duty import Duty
from sim.describe.faults import refuse
from sim.describe.quantity import (
    Described,
    FileName,
    Filled,
    Floor,
    Height,
    Listed,
    Name,
    Passage,
    Place,
    Text,
    between,
)
from sim.describe.setup import StudySetUp

# What a study takes unless it says otherwise: to enter at the usual legal ceiling (a test holds
# it against `card.toml`), and a floor for a stepwise test (common practice, no source).
ENTRY_M = 120.0
FLOOR_M = 40.0
# What is flown to tell what a set-up can do, unless the study names others.
AGILITY = (
    "pull_through", "backflip", "high_alpha_pass", "high_alpha_pass_inverted", "tight_loop",
    "full_roll",
)  # fmt: skip
# Share of flights to come back, and of draws with authority, where nothing else is asked.
SHARE_PCT = 95.0
# No 95 % limit is stated from fewer draws than this.
LEAST_DRAWS_FOR_A_LIMIT = 128
# What a case flies at most if the study does not say.
DRAWS = 256
MOST_DRAWS = 4096


def _power_of_two(value: object) -> object:
    if isinstance(value, int) and (value < 1 or value & (value - 1)):
        raise PydanticCustomError("power", "must be a power of two, such as 32, 64, 128 or 256")
    return value


Draws = Annotated[int, BeforeValidator(_power_of_two), between(8, MOST_DRAWS, "draws")]
LimitDraws = Annotated[
    int, BeforeValidator(_power_of_two), between(LEAST_DRAWS_FOR_A_LIMIT, MOST_DRAWS, "draws")
]


class Case(Described):
    """A manoeuvre with the recoveries compared on it, and its own heights if given."""

    manoeuvre: Name
    recoveries: Filled[Name]
    entry_m: Height | None = None
    floor_m: Floor | None = None


class AftLimit(Described):
    """The search for how far aft each pack may balance, between two balance points.

    ``packs``, ``manoeuvres`` and ``recoveries`` left out are the study's own: the packs of
    its set-ups, all its manoeuvres, and the recoveries flown after every one of them.
    ``like`` names the one set-up, of the study or the aeroplane, whose throws, nozzle,
    gyro and loose weights are searched; left out, those of each set-up of the study are.
    ``also`` names set-ups whose own combination is searched besides, each with the pack it flies.
    ``draws`` are flown at most where the limit is then known closely enough (study.toml), else
    twice as many and so on up to ``draws_most``; without it no more.
    """

    packs: Listed[Name] = ()
    manoeuvres: Listed[Name] = ()
    recoveries: Listed[Name] = ()
    from_aft_mm: Place
    to_aft_mm: Place
    draws: LimitDraws = 256
    draws_most: LimitDraws | None = None
    like: Name | None = None
    also: Listed[Name] = ()

    @model_validator(mode="after")
    def _goes_aft(self) -> "AftLimit":
        if self.from_aft_mm >= self.to_aft_mm:
            text = f"must lie forward of (below) to_aft_mm, {self.to_aft_mm:g}"
            refuse([("from_aft_mm", f"{text}; got {self.from_aft_mm:g}")])
        if self.draws_most is not None and self.draws_most < self.draws:
            text = f"must be no less than draws, {self.draws}; got {self.draws_most}"
            refuse([("draws_most", text)])
        return self

    @property
    def most(self) -> int:
        """The most draws that a search may fly."""
        return self.draws if self.draws_most is None else self.draws_most


class Study(Described):
    """Set-ups × cases, flown with the same draws, and the aft limits to look for.

    ``draws`` is the most that a case flies; it stops as soon as it is decided, or no answer
    hangs on it. ``today`` names the set-up that is flown now, of the study or the aeroplane:
    what changes are told against it, and a ladder of test flights begins with it. ``agility``
    are manoeuvres that tell what each set-up can do; [] flies none. ``ceiling_m`` is the most
    height that may be used, left out the usual legal one.
    """

    format: Literal["aftlimit.study/1"] = Field(alias="schema")
    name: FileName
    title: Text
    story: Passage
    aeroplane: Name
    draws: Draws = DRAWS
    seed: Annotated[int, between(0, 2**31 - 1)]
    entry_m: Height = ENTRY_M
    floor_m: Floor = FLOOR_M
    ceiling_m: Height | None = None
    required_share_pct: Annotated[float, between(50.0, 99.9, "%")] = SHARE_PCT
    setups: Listed[StudySetUp] = ()
    cases: Listed[Case] = ()
    aft_limit: AftLimit | None = None
    agility: Listed[Name] = AGILITY
    today: Name | None = None
    duty: Duty | None = None

    @model_validator(mode="after")
    def _asks_for_something(self) -> "Study":
        faults = []
        if bool(self.setups) != bool(self.cases):
            lacking = "cases" if self.setups else "setups"
            faults.append((lacking, "is missing; set-ups and cases are flown with each other"))
        elif not self.setups and self.aft_limit is None:
            faults.append(("", "asks for nothing; give setups and cases, or aft_limit"))
        faults += self.height_faults()
        faults += self._searches_something()
        faults += _twice([s.name for s in self.setups], "setups")
        faults += _twice([c.manoeuvre for c in self.cases], "cases")
        faults += _twice(list(self.agility), "agility")
        for case in self.cases:
            faults += _twice(list(case.recoveries), f"cases.{case.manoeuvre}.recoveries")
        if self.aft_limit is not None:
            for key in ("packs", "manoeuvres", "recoveries", "also"):
                faults += _twice(list(getattr(self.aft_limit, key)), f"aft_limit.{key}")
        refuse(faults)
        return self

    def _searches_something(self) -> list[tuple[str, str]]:
        if self.aft_limit is None:
            return []
        told = {
            "packs": ("pack", self.limit_packs or self.setups),  # a set-up may take one by like
            "manoeuvres": ("manoeuvre", self.limit_manoeuvres),
            "recoveries": ("recovery", self.limit_recoveries),
        }
        return [
            (f"aft_limit.{key}", f"is missing; name at least one {what} to search with")
            for key, (what, found) in told.items()
            if not found
        ]

    @property
    def limit_packs(self) -> tuple[str, ...]:
        """Packs of the aft-limit search that are named; none: those of the set-ups."""
        return () if self.aft_limit is None else self.aft_limit.packs

    @property
    def limit_manoeuvres(self) -> tuple[str, ...]:
        """Manoeuvres of the aft-limit search: its own, else all that the study flies."""
        own = () if self.aft_limit is None else self.aft_limit.manoeuvres
        return own or tuple(case.manoeuvre for case in self.cases)

    @property
    def limit_recoveries(self) -> tuple[str, ...]:
        """Recoveries of the aft-limit search: its own, else those flown after every manoeuvre."""
        own = () if self.aft_limit is None else self.aft_limit.recoveries
        if own or not self.cases:
            return own
        rest = [set(case.recoveries) for case in self.cases[1:]]
        return tuple(r for r in self.cases[0].recoveries if all(r in names for names in rest))

    def limit_heights(self, manoeuvre: str) -> tuple[float, float]:
        """Return the entry height and the floor [m] at which the search flies a manoeuvre."""
        case = next((c for c in self.cases if c.manoeuvre == manoeuvre), None)
        return (self.entry_m, self.floor_m) if case is None else self.heights_of(case)

    def height_faults(self) -> list[tuple[str, str]]:
        """Return the heights that cannot be together, each with its key and why."""
        faults = []
        if self.ceiling_m is not None and self.floor_m >= self.ceiling_m:
            text = f"must lie above floor_m, {self.floor_m:g}; got {self.ceiling_m:g}"
            faults.append(("ceiling_m", text))
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
