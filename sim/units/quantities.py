"""How a number with a unit is told: one formatter a kind, in the units chosen for the run.

A command chooses once (`using_units`); every number of tables, sentences, pages and figures goes
through the formatters below, given in the unit that the program tells it in by default:

    LENGTH(187.3)            "187 mm"      or "7.35 in"
    LENGTH(187.3, ".1f")     "187.3 mm"    or "7.37 in"
    HEIGHT.figure(52.0)      "52"          or "171"      a cell of a table
    f"balance, {LENGTH}"     "balance, mm" or "balance, in"

In the default units the result is that of Python's own format. In others the step is one that a
pilot can measure and about as fine: 1 mm becomes 0.05 in, 1 g 0.05 oz, 1 m 1 ft.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from math import ceil, floor, isfinite, log10

from sim.units.factors import UNITS, Unit

SYSTEMS = ("g-mm", "oz-in")
SPEEDS = {"m/s": "mps", "km/h": "kmh", "mph": "mph"}
SPELLED = {"in": "inches", "ft": "feet"}
COARSER = 1.5  # at most so much coarser than the default is what is told in another unit
AS_TYPED = ".4g"  # of what a file says: 0.5 in, which it keeps as 12.7 mm, is 0.5 again


@dataclass(frozen=True)
class Chosen:
    """The units of a run: the system, and speeds apart if asked.

    Parameters
    ----------
    system : str
        ``g-mm`` or ``oz-in``.
    speeds : str, optional
        ``m/s``, ``km/h`` or ``mph``; left out, what goes with the system.
    """

    system: str = SYSTEMS[0]
    speeds: str | None = None

    def __post_init__(self) -> None:
        """Refuse what is no system and no speed."""
        if self.system not in SYSTEMS:
            raise ValueError(f"units: must be {' or '.join(SYSTEMS)}; got {self.system}")
        if self.speeds is not None and self.speeds not in SPEEDS:
            raise ValueError(f"speeds: must be {' or '.join(SPEEDS)}; got {self.speeds}")


_CHOSEN: ContextVar[Chosen] = ContextVar("units")
_DEFAULT = Chosen()


def chosen() -> Chosen:
    """Return the units of this run; grams, millimetres and m/s where none were chosen."""
    return _CHOSEN.get(_DEFAULT)


@contextmanager
def using_units(system: str = SYSTEMS[0], speeds: str | None = None) -> Iterator[None]:
    """Tell all numbers within in these units, see `Chosen`; then as before.

    Raises
    ------
    ValueError
        If there is no such system or speed.
    """
    token = _CHOSEN.set(Chosen(system, speeds))
    try:
        yield
    finally:
        _CHOSEN.reset(token)


@dataclass(frozen=True)
class Quantity:
    """A kind of number: the suffixes of its default unit and of that of ``oz-in``, see `UNITS`."""

    default: str
    other: str

    @property
    def unit(self) -> Unit:
        """The unit of this run."""
        return UNITS[self.suffix]

    @property
    def suffix(self) -> str:
        """The suffix of this run's unit, as keys and options have it."""
        now = chosen()
        if self.default == "mps" and now.speeds is not None:
            return SPEEDS[now.speeds]
        return self.default if now.system == SYSTEMS[0] else self.other

    @property
    def is_default(self) -> bool:
        """Whether this run tells it in the default unit."""
        return self.unit == UNITS[self.default]

    def __str__(self) -> str:
        """Return the symbol of the run's unit, for headings and axes."""
        return self.unit.symbol

    def value(self, value: float) -> float:
        """Return a value, given in the default unit, in that of this run."""
        return UNITS[self.default].to(self.unit, value)

    @property
    def spelled(self) -> str:
        """The unit where its symbol could be read as a word: inches aft, but 7 in."""
        return SPELLED.get(self.unit.symbol, self.unit.symbol)

    @property
    def plain(self) -> str:
        """The symbol in letters and figures that any terminal has."""
        return self.unit.symbol.replace("²", "2")

    def __call__(self, value: float | None, spec: str = ".0f") -> str:
        """Return a value with its unit: "187 mm"; ``spec`` is Python's, for the default unit.

        What is not known is "-", here and below.
        """
        return "-" if value is None else f"{self.figure(value, spec)} {self.unit.symbol}"

    def figure(self, value: float | None, spec: str = ".0f") -> str:
        """Return a value without its unit, to the nearest step."""
        return self._figure(value, spec, round)

    def at_most(self, value: float | None, spec: str = ".0f") -> str:
        """Return a value without its unit, never above it.

        For what must not be passed: an aft limit, a balance to begin at, a speed never to exceed.
        """
        return self._figure(value, spec, floor)

    def ahead(self, value: float | None, spec: str = ".0f") -> str:
        """Return a place aft of the datum with its unit, never behind itself: 69.5 is "69 mm"."""
        return "-" if value is None else f"{self.at_most(value, spec)} {self.unit.symbol}"

    def at_least(self, value: float | None, spec: str = ".0f") -> str:
        """Return a value without its unit, never below it.

        For what must be there: a height that is needed.
        """
        return self._figure(value, spec, ceil)

    def _figure(self, value: float | None, spec: str, whole: Callable[[float], int]) -> str:
        if value is None:
            return "-"
        if self.is_default or not isfinite(value):
            if isfinite(value) and spec.endswith("f"):
                step = 10.0 ** -int(spec[spec.index(".") + 1 : -1])
                value = whole(round(value / step, 6)) * step
            text = f"{value:{spec}}"
            return f"{0.0:{spec}}" if "-" in text and float(text) == 0.0 else text  # never "-0"
        told = self.value(value)
        if not spec.endswith("f"):
            return f"{told:{spec if '.' in spec else AS_TYPED}}"
        step, decimals = self._step(int(spec[spec.index(".") + 1 : -1]))
        # what conversion leaves in the last bits must not move a value on a step to the next one
        rounded = whole(round(told / step, 6)) * step + 0.0
        return f"{rounded:{spec[: spec.index('.')]}.{decimals}f}"

    def _step(self, decimals: int) -> tuple[float, int]:
        """Return the step, and its decimals, that tells as much as so many of the default unit.

        The largest of 1 or 5 x 10^n that is at most 1, and `COARSER` times the default's step.
        """
        most = COARSER * abs(self.value(10.0**-decimals) - self.value(0.0))
        places = max(0, -floor(log10(most)))
        if 5.0 * 10.0**-places <= min(most, 1.0):
            return 5.0 * 10.0**-places, places
        return min(1.0, 10.0**-places), places


LENGTH = Quantity("mm", "in")
MASS = Quantity("g", "oz")
HEIGHT = Quantity("m", "ft")
SPEED = Quantity("mps", "mph")
AREA = Quantity("dm2", "in2")
CONTROL_AREA = Quantity("cm2", "in2")
LOADING = Quantity("gdm2", "ozft2")
FORCE = Quantity("n", "ozf")
TORQUE = Quantity("ncm", "ozin")  # of a servo
MOMENT = Quantity("nm", "ozin")  # of the air
INERTIA = Quantity("kgm2", "ozin2")
TEMPERATURE = Quantity("c", "f")
