"""The air against the US Standard Atmosphere 1976 (NOAA-S/T 76-1562)."""

import numpy as np
import pytest
from ambiance import Atmosphere

from sim.core.air.atmosphere import (
    EARTH_RADIUS,
    air_density,
    air_pressure,
    air_temperature,
    gravity,
    speed_of_sound,
    viscosity,
)
from tests.validation.rows import cases, check, each, relative

SOURCE = "ussa1976"
# By geometric altitude Z, printed with seven digits: two independent packages agree on
# them to 1e-6. Z, T, p, rho, a, mu, g.
BY_GEOMETRIC_ALTITUDE = [
    (0, 288.150, 101325.0, 1.225000, 340.294, 1.78938e-5, 9.80665),
    (500, 284.900256, 95461.29, 1.167273, 338.370, 1.77366e-5, 9.805107),
    (1000, 281.651022, 89876.28, 1.111660, 336.435, 1.75785e-5, 9.803565),
    (1500, 278.402300, 84559.67, 1.058104, 334.489, 1.74196e-5, 9.802024),
    (2000, 275.154089, 79501.41, 1.006554, 332.532, 1.72598e-5, 9.800482),
    (2500, 271.906388, 74691.74, 0.956954, 330.563, 1.70992e-5, 9.798941),
    (3000, 268.659198, 70121.14, 0.909254, 328.584, 1.69376e-5, 9.797400),
]
# By geopotential altitude H: closed form p = 101325 (T/288.15)^5.25588. H, T, p, rho.
BY_GEOPOTENTIAL_ALTITUDE = [
    (1000, 281.65, 89874.571, 1.111642),
    (2000, 275.15, 79495.216, 1.006490),
    (3000, 268.65, 70108.545, 0.909121),
]
TOLERANCE = 1e-5  # the last printed digit of mu; a mix-up of Z and H is at least 1.6e-5
NAMES = ("temperature, K", "pressure, Pa", "density, kg/m³", "speed of sound, m/s",
         "viscosity, Pa s", "gravity, m/s²")  # fmt: skip


def air(z):
    """Return T, p, rho, a, mu, g at a geometric altitude [m]."""
    temperature = air_temperature(z, 0.0, 0.0)
    return (
        temperature,
        air_pressure(z, 0.0),
        air_density(z, 0.0, 0.0),
        speed_of_sound(temperature),
        viscosity(temperature),
        gravity(z),
    )


def geometric(h):
    """Return the geometric altitude of a geopotential one [m]."""
    return EARTH_RADIUS * h / (EARTH_RADIUS - h)


def rows():
    yield from each(SOURCE, "geometric altitude, printed by package ambiance", (
        (f"Z {z} m: {name}", value, lambda z=z, i=i: air(float(z))[i])
        for z, *values in BY_GEOMETRIC_ALTITUDE
        for i, (name, value) in enumerate(zip(NAMES, values, strict=True))
    ), relative(TOLERANCE), "library")  # fmt: skip
    yield from each(SOURCE, "geopotential altitude, p = 101325 (T/288.15)^5.25588", (
        (f"H {h} m: {name}", value, lambda h=h, i=i: air(geometric(float(h)))[i])
        for h, *values in BY_GEOPOTENTIAL_ALTITUDE
        for i, (name, value) in enumerate(zip(NAMES[:3], values, strict=True))
    ), relative(TOLERANCE), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_against_a_reference_library():
    heights = np.linspace(0.0, 10000.0, 41)
    reference = Atmosphere(heights)
    for i, z in enumerate(heights):
        temperature = air_temperature(z, 0.0, 0.0)
        np.testing.assert_allclose(air_density(z, 0.0, 0.0), reference.density[i], rtol=TOLERANCE)
        np.testing.assert_allclose(air_pressure(z, 0.0), reference.pressure[i], rtol=TOLERANCE)
        np.testing.assert_allclose(
            viscosity(temperature), reference.dynamic_viscosity[i], rtol=TOLERANCE
        )


def test_field_elevation_adds_to_height():
    assert air_density(120.0, 880.0, 0.0) == pytest.approx(1.111660, rel=TOLERANCE)


def test_warm_air_is_thinner_at_the_same_pressure():
    # perfect gas at unchanged pressure: densities go as the inverse of temperatures
    ratio = air_density(0.0, 0.0, 20.0) / air_density(0.0, 0.0, 0.0)
    assert ratio == pytest.approx(288.15 / 308.15, rel=1e-12)
