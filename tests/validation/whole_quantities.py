"""What is compared of a complete aeroplane: coefficients, control power, slopes, tail loads."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from tests.validation.whole_data import PLAIN, Found, Place

# what a band of angle of attack holds: above its first number, up to its second
BANDS = ((-181.0, -0.1), (-0.1, 20.0), (20.0, 35.0), (35.0, 60.0), (60.0, 90.0), (90.0, 181.0))
INSIDE = (2.5, 97.5)  # percentiles: 95 % of draws
SLIGHT = 0.1  # of the largest measured size of a quantity: below it a sign says nothing
SLOPE_FROM_DEG = 4.0  # sideslip over which slopes are taken: the least measured that reaches it
LATERAL = ("CY", "Cl", "Cn")


@dataclass(frozen=True)
class Quantity:
    """One thing measured at n places, ours as drawn (k, n).

    ``curves`` (n,) numbers the curve each place belongs to, ``labels`` names the curves;
    ``direct`` is True where the measured values are the file's own, not differences of them.
    """

    name: str
    alphas: np.ndarray
    measured: np.ndarray
    ours: np.ndarray
    drawn: np.ndarray
    curves: np.ndarray
    labels: tuple[str, ...]
    direct: bool

    def times(self, factor: float | np.ndarray) -> "Quantity":
        """Return it times a number, or one at each place (n,)."""
        return replace(
            self, measured=self.measured * factor, ours=self.ours * factor,
            drawn=self.drawn * factor,
        )  # fmt: skip

    def plus(self, other: "Quantity") -> "Quantity":
        """Return the sum with another at the same places."""
        return replace(
            self, measured=self.measured + other.measured, ours=self.ours + other.ours,
            drawn=self.drawn + other.drawn,
        )  # fmt: skip

    def plus_measured(self, more: float) -> "Quantity":
        """Return it with a number added to what was measured."""
        return replace(self, measured=self.measured + more)

    @property
    def low(self) -> np.ndarray:
        """Lower end (n,) of the band that holds 95 % of draws."""
        return np.percentile(self.drawn, INSIDE[0], axis=0)

    @property
    def high(self) -> np.ndarray:
        """Upper end (n,) of that band."""
        return np.percentile(self.drawn, INSIDE[1], axis=0)

    @property
    def inside(self) -> np.ndarray:
        """True (n,) where the measured value lies in the band."""
        return (self.low <= self.measured) & (self.measured <= self.high)

    @property
    def wrong_sign(self) -> np.ndarray:
        """True (n,) where ours has the other sign than a measured value that is not slight."""
        tells = np.abs(self.measured) >= SLIGHT * np.abs(self.measured).max()
        return tells & (self.measured * self.ours < 0.0)


@dataclass(frozen=True)
class Line:
    """One quantity in one band of angle of attack.

    ``size`` is the root mean square of the measured values, ``factor`` ours over measured by
    least squares, ``width`` the median width of the band of draws.
    """

    name: str
    band: tuple[float, float]
    count: int
    size: float
    rms: float
    factor: float
    inside: int
    width: float
    wrong_sign: int


def lines(quantity: Quantity) -> Iterator[Line]:
    """Yield a quantity's bands that hold anything."""
    for band in BANDS:
        here = (quantity.alphas > band[0]) & (quantity.alphas <= band[1])
        if not here.any():
            continue
        measured, ours = quantity.measured[here], quantity.ours[here]
        square = float((measured**2).sum())
        yield Line(
            quantity.name,
            band,
            int(here.sum()),
            float(np.sqrt((measured**2).mean())),
            float(np.sqrt(((ours - measured) ** 2).mean())),
            float((ours * measured).sum()) / square if square else float("nan"),
            int(quantity.inside[here].sum()),
            float(np.median((quantity.high - quantity.low)[here])),
            int(quantity.wrong_sign[here].sum()),
        )


class _Gather:
    """Collects places of a quantity, curve by curve."""

    def __init__(self, found: Found) -> None:
        self.found = found
        self.rows: list[tuple[float, float, float, np.ndarray, str]] = []

    def add(self, plus: Place, label: str, minus: Place | None = None, per: float = 1.0) -> None:
        """Take a value, or a difference of two, over ``per``."""
        found = self.found
        triple = found.measured[plus], found.nominal[plus], found.drawn[plus]
        if minus is not None:
            other = found.measured[minus], found.nominal[minus], found.drawn[minus]
            triple = triple[0] - other[0], triple[1] - other[1], triple[2] - other[2]
        self.rows.append((plus.alpha_deg, *(v / per for v in triple), label))

    def quantity(self, name: str, direct: bool, more: float = 0.0) -> Iterator[Quantity]:
        """Yield the quantity if there is any of it; ``more`` is added to measured values."""
        if not self.rows:
            return
        labels = tuple(dict.fromkeys(row[4] for row in self.rows))
        yield Quantity(
            name,
            np.array([row[0] for row in self.rows]),
            np.array([row[1] for row in self.rows]) + more,
            np.array([row[2] for row in self.rows]),
            np.stack([row[3] for row in self.rows], axis=1),
            np.array([labels.index(row[4]) for row in self.rows]),
            labels,
            direct,
        )


def quantities(found: Found, pitch_added: tuple[float, float] | None = None) -> list[Quantity]:
    """Return everything that can be compared.

    Parameters
    ----------
    found : Found
    pitch_added : pair of floats, optional
        What the report adds to the Cm of its tables, from and to: Cm is then shown twice, as
        in the tables and with the middle of it.
    """
    out: list[Quantity] = []
    names = dict.fromkeys(p.coefficient for p in found.measured)
    for name in names:
        out += _some(found, name, lambda p: p.state == PLAIN, name)
        if name == "Cm" and pitch_added:
            low, high = pitch_added
            more = 0.5 * (low + high)
            title = f"Cm, {low:+.2f} to {high:+.2f} added"
            out += _some(found, name, lambda p: p.state == PLAIN, title, more)
    for name in names:
        out += _some(found, name, lambda p: not p.state.tail, f"{name} without tail")
        out += _tail(found, name)
    for name in names:
        out += _controls(found, name)
    for name in names:
        out += _some(found, name, _slips, f"{name} in sideslip")
        out += _slope(found, name)
    return out


def direct_plain(found: Found) -> list[Quantity]:
    """Return the coefficients of the whole aeroplane at no deflection and no sideslip."""
    out: list[Quantity] = []
    for name in dict.fromkeys(p.coefficient for p in found.measured):
        out += _some(found, name, lambda p: p.state == PLAIN, name)
    return out


def direct_values(found: Found) -> list[Quantity]:
    """Return every measured value once, by coefficient; what symmetry makes nought left out."""
    out: list[Quantity] = []
    for name in dict.fromkeys(p.coefficient for p in found.measured):
        out += _some(found, name, lambda p: True, name)
    return out


def _slips(place: Place) -> bool:
    return place.state.beta_deg != 0.0 and place.state.control == "none"


def _some(
    found: Found, name: str, wanted: Callable[[Place], bool], title: str, more: float = 0.0
) -> Iterator[Quantity]:
    """Yield the values of a coefficient at the places wanted."""
    gather = _Gather(found)
    for place in found.measured:
        nought = name in LATERAL and place.state == PLAIN
        if place.coefficient == name and wanted(place) and not nought:
            gather.add(place, _label(place))
    yield from gather.quantity(title, True, more)


def _label(place: Place) -> str:
    state = place.state
    words = [f"{state.control} {state.deflection_deg:g}°"] if state.control != "none" else []
    words += [f"β {state.beta_deg:g}°"] if state.beta_deg else []
    words += [] if state.tail else ["tail off"]
    return ", ".join(words)


def _tail(found: Found, name: str) -> Iterator[Quantity]:
    """Yield what the tailplane adds."""
    gather = _Gather(found)
    for place in found.measured:
        off = place._replace(state=PLAIN._replace(tail=False))
        if place.coefficient == name and place.state == PLAIN and off in found.measured:
            gather.add(place, "", off)
    yield from gather.quantity(f"{name} of the tail", False)


def _controls(found: Found, name: str) -> Iterator[Quantity]:
    """Yield what each control adds."""
    for control in dict.fromkeys(p.state.control for p in found.measured):
        gather = _Gather(found)
        for place in found.measured:
            base = place._replace(state=place.state._replace(control="none", deflection_deg=0.0))
            here = place.coefficient == name and place.state.control == control != "none"
            # without sideslip symmetry makes the lateral ones nought, measured or not
            nought = name in LATERAL and place.state.beta_deg == 0.0
            if here and (nought or base in found.measured):
                minus = base if base in found.measured else None
                gather.add(place, f"{place.state.deflection_deg:g}°", minus)
        yield from gather.quantity(f"{name} by {control}", False)


def _slope(found: Found, name: str) -> Iterator[Quantity]:
    """Yield the slope with sideslip [1/deg], over the least pair that is wide enough."""
    slips = sorted(
        {p.state.beta_deg for p in found.measured if _slips(p) and p.coefficient == name}
    )
    pairs = [b for b in slips if b >= SLOPE_FROM_DEG and -b in slips]
    if not pairs or name not in LATERAL:
        return
    gather = _Gather(found)
    right, left = (PLAIN._replace(beta_deg=side * pairs[0]) for side in (1.0, -1.0))
    for place in found.measured:
        other = place._replace(state=left)
        if place.coefficient == name and place.state == right and other in found.measured:
            gather.add(place, "", other, 2.0 * pairs[0])
    yield from gather.quantity(f"{name} per degree of sideslip", False)
