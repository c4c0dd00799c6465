"""Units that files and outputs know, by the suffix of a key, with their exact factors.

The inch is 25.4 mm and the pound 0.45359237 kg by the international yard and pound agreement of
1959, a foot 12 inches, a mile 5280 feet, an ounce a sixteenth of a pound; a knot is 1852 m an
hour, a kilogram-force 9.80665 N [thompson2008] appendix B.8; `scipy.constants` has the same.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

INCH = 0.0254
FOOT = 12.0 * INCH
MILE = 5280.0 * FOOT
POUND = 0.45359237
OUNCE = POUND / 16.0
KNOT = 1852.0 / 3600.0
GRAVITY = 9.80665
FAHRENHEIT = 5.0 / 9.0
HOUR = 3600.0


@dataclass(frozen=True)
class Unit:
    """A unit of measure.

    Parameters
    ----------
    kind : str
        What it measures; only units of a kind turn into one another.
    symbol : str
        As a reader sees it.
    si : float
        How much of the SI unit one of it is.
    zero : float
        What it reads at the SI unit's nought; other than 0 of temperatures only.
    """

    kind: str
    symbol: str
    si: float
    zero: float = 0.0

    def to(self, other: "Unit", value: float) -> float:
        """Return a value in this unit as one in another of its kind; by definition."""
        if other == self:
            return value
        return (value - self.zero) * self.si / other.si + other.zero


# by the suffix of a key in a file
UNITS: dict[str, Unit] = {
    "mm": Unit("length", "mm", 1e-3),
    "cm": Unit("length", "cm", 1e-2),
    "m": Unit("length", "m", 1.0),
    "in": Unit("length", "in", INCH),
    "ft": Unit("length", "ft", FOOT),
    "g": Unit("mass", "g", 1e-3),
    "kg": Unit("mass", "kg", 1.0),
    "oz": Unit("mass", "oz", OUNCE),
    "lb": Unit("mass", "lb", POUND),
    "mps": Unit("speed", "m/s", 1.0),
    "kmh": Unit("speed", "km/h", 1e3 / HOUR),
    "mph": Unit("speed", "mph", MILE / HOUR),
    "fts": Unit("speed", "ft/s", FOOT),
    "kt": Unit("speed", "kt", KNOT),
    "mm2": Unit("area", "mm²", 1e-6),
    "cm2": Unit("area", "cm²", 1e-4),
    "dm2": Unit("area", "dm²", 1e-2),
    "m2": Unit("area", "m²", 1.0),
    "in2": Unit("area", "in²", INCH**2),
    "ft2": Unit("area", "ft²", FOOT**2),
    "gdm2": Unit("loading", "g/dm²", 0.1),
    "ozft2": Unit("loading", "oz/ft²", OUNCE / FOOT**2),
    "n": Unit("force", "N", 1.0),
    "ozf": Unit("force", "oz", OUNCE * GRAVITY),
    "lbf": Unit("force", "lb", POUND * GRAVITY),
    "nm": Unit("torque", "N m", 1.0),
    "ncm": Unit("torque", "N cm", 1e-2),
    "kgcm": Unit("torque", "kg cm", 1e-2 * GRAVITY),
    "ozin": Unit("torque", "oz in", OUNCE * GRAVITY * INCH),
    "kgm2": Unit("inertia", "kg m²", 1.0),
    "gcm2": Unit("inertia", "g cm²", 1e-7),
    "ozin2": Unit("inertia", "oz in²", OUNCE * INCH**2),
    "c": Unit("temperature", "°C", 1.0),
    "f": Unit("temperature", "°F", FAHRENHEIT, 32.0),
}


def split(key: str) -> tuple[str, Unit] | None:
    """Return what a key says before its unit, and the unit; None of a key without one."""
    base, _, suffix = key.rpartition("_")
    unit = UNITS.get(suffix)
    return (base, unit) if base and unit is not None else None


def suffixes(kind: str) -> list[str]:
    """Return the suffixes of all units of a kind."""
    return [suffix for suffix, unit in UNITS.items() if unit.kind == kind]


def alike(key: str, known: Iterable[str]) -> Iterator[str]:
    """Yield the known keys that measure what a key does, as they read in its unit."""
    parts = split(key)
    for name in known if parts is not None else ():
        other = split(name)
        if parts is not None and other is not None and other[1].kind == parts[1].kind:
            yield f"{other[0]}_{key.rpartition('_')[2]}"
