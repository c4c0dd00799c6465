"""Comparing spins across sizes: relative density, mass loading, Froude scaling.

Spins of a model and of a full-size aeroplane are alike at equal omega b/2V, relative
density and mass loading; degrees per second alone say little.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import isnan, nan, sqrt

from sim import tables
from sim.pack.assemble import Assembled


@dataclass(frozen=True)
class Scale:
    """What sets the scale of a set-up's spins.

    ``relative_density`` is m/(rho S b) at the field; ``mass_loading`` (Ix - Iy)/(m b^2),
    below 0 with the mass along the fuselage [raymer] eq. 16.70 and text.
    """

    span_m: float
    relative_density: float
    mass_loading: float


class Where(StrEnum):
    """Where a number lies against a published range."""

    BELOW = "below"
    INSIDE = "inside"
    ABOVE = "above"
    UNKNOWN = "-"


@dataclass(frozen=True)
class Band:
    """A published range; NaN ends where nothing was published."""

    low: float
    high: float

    def where(self, value: float) -> Where:
        """Return where a number lies against it."""
        if isnan(self.low) or isnan(self.high):
            return Where.UNKNOWN
        if value < self.low:
            return Where.BELOW
        return Where.ABOVE if value > self.high else Where.INSIDE

    def times(self, factor: float) -> "Band":
        """Return the range with both ends multiplied by a factor [-]; by definition."""
        return Band(self.low * factor, self.high * factor)


@dataclass(frozen=True)
class PublishedSpin:
    """Measured spins of one kind of aeroplane; what is not known is NaN.

    ``turn`` is omega b/2V, ``rate`` the yaw rate [deg/s].
    """

    name: str
    alpha_deg: Band
    rate_dps: Band
    sink_mps: Band
    turn: Band
    span_m: float
    relative_density: float
    mass_loading: float


def scale_of(assembled: Assembled) -> Scale:
    """Return what sets the scale of a set-up's spins: span [m], m/(rho S b), (Ix - Iy)/(m b²).

    By definition; mass loading as in [raymer] eq. 16.70.
    """
    weighed, inertia = assembled.weighed, assembled.weighed.inertia_kg_m2
    ref = weighed.reference
    return Scale(
        ref.span_m,
        weighed.mass_kg / (assembled.density * ref.area_m2 * ref.span_m),
        float(inertia[0, 0] - inertia[1, 1]) / (weighed.mass_kg * ref.span_m**2),
    )


def published_spins() -> tuple[PublishedSpin, ...]:
    """Return the spins of spin_reference.csv, full size [m, deg, deg/s, m/s].

    Units only, by definition; the table has the sources.
    """
    columns = tables.spin_reference()

    return tuple(
        PublishedSpin(
            name=str(name),
            alpha_deg=Band(float(columns.alpha_low_deg[i]), float(columns.alpha_high_deg[i])),
            rate_dps=Band(float(columns.rate_low_dps[i]), float(columns.rate_high_dps[i])),
            sink_mps=Band(float(columns.sink_low_mps[i]), float(columns.sink_high_mps[i])),
            turn=Band(float(columns.turn_low[i]), float(columns.turn_high[i])),
            span_m=float(columns.span_m[i]),
            relative_density=float(columns.relative_density[i]),
            mass_loading=1e-4 * float(columns.mass_loading_1e4[i]),
        )
        for i, name in enumerate(columns.name)
    )


def froude_scaled(spin: PublishedSpin, span_m: float) -> PublishedSpin:
    """Return a spin as an equal aeroplane of another span would fly it, in the same air.

    Lengths [m] by 1/n: rates grow by the root of n, speeds fall by it; angles, omega b/2V,
    relative density and mass loading stay [wolowicz1979].
    """
    n = spin.span_m / span_m if span_m > 0.0 else nan
    return PublishedSpin(
        name=spin.name,
        alpha_deg=spin.alpha_deg,
        rate_dps=spin.rate_dps.times(sqrt(n)),
        sink_mps=spin.sink_mps.times(1.0 / sqrt(n)),
        turn=spin.turn,
        span_m=span_m,
        relative_density=spin.relative_density,
        mass_loading=spin.mass_loading,
    )
