"""The air of the US Standard Atmosphere 1976, troposphere [ussa1976].

Heights are geometric and are turned into geopotential ones, so the numbers are those
of the standard's tables by geometric altitude Z (not H). A temperature offset warms the
whole column at unchanged pressure, as on a hot day on the field. Valid from -5 km to
11 km.
"""

import math

from sim.core import kernel

# [ussa1976] tables 1, 2 and 4 and eq. 18, 23, 33a, 51
EARTH_RADIUS = 6356766.0  # m, the standard's effective radius
GRAVITY_0 = 9.80665  # m/s^2
TEMPERATURE_0 = 288.15  # K
PRESSURE_0 = 101325.0  # Pa
LAPSE = 0.0065  # K/m of geopotential height
GAS_CONSTANT = 8314.32 / 28.9644  # J/(kg K)
PRESSURE_EXPONENT = GRAVITY_0 / (GAS_CONSTANT * LAPSE)
HEAT_RATIO = 1.4
SUTHERLAND_BETA = 1.458e-6  # kg/(s m K^0.5)
SUTHERLAND_TEMPERATURE = 110.4  # K


@kernel
def geopotential_height(altitude_m):
    """Return the geopotential height of a geometric altitude [m], [ussa1976] eq. 18."""
    return EARTH_RADIUS * altitude_m / (EARTH_RADIUS + altitude_m)


@kernel
def standard_temperature(altitude_m):
    """Return the standard temperature at a geometric altitude [K], [ussa1976] eq. 23."""
    return TEMPERATURE_0 - LAPSE * geopotential_height(altitude_m)


@kernel
def air_temperature(height_m, field_elevation_m, field_temperature_offset_k):
    """Return the temperature of the air [K].

    Parameters
    ----------
    height_m : float [m]
        Above the field.
    field_elevation_m : float [m]
        Of the field above the sea, geometric.
    field_temperature_offset_k : float [K]
        Warmer than the standard at the same height.
    """
    return standard_temperature(height_m + field_elevation_m) + field_temperature_offset_k


@kernel
def air_pressure(height_m, field_elevation_m):
    """Return the pressure of the air [Pa] at a height above the field.

    Heights in m; source: [ussa1976] eq. 33a.
    """
    ratio = standard_temperature(height_m + field_elevation_m) / TEMPERATURE_0
    return PRESSURE_0 * ratio**PRESSURE_EXPONENT


@kernel
def air_density(height_m, field_elevation_m, field_temperature_offset_k):
    """Return the density of the air [kg/m^3]; arguments as in `air_temperature`.

    Source: [ussa1976] eq. 33a for the pressure, the gas law (eq. 42, from memory) for the
    density.
    """
    standard = standard_temperature(height_m + field_elevation_m)
    pressure = PRESSURE_0 * (standard / TEMPERATURE_0) ** PRESSURE_EXPONENT
    return pressure / (GAS_CONSTANT * (standard + field_temperature_offset_k))


@kernel
def viscosity(temperature_k):
    """Return the dynamic viscosity of air [Pa s] by Sutherland's law.

    Temperature in K; source: [ussa1976] eq. 51.
    """
    return (
        SUTHERLAND_BETA
        * temperature_k
        * math.sqrt(temperature_k)
        / (temperature_k + SUTHERLAND_TEMPERATURE)
    )


@kernel
def speed_of_sound(temperature_k):
    """Return the speed of sound [m/s].

    Temperature in K; source: [ussa1976] eq. 50.
    """
    return math.sqrt(HEAT_RATIO * GAS_CONSTANT * temperature_k)


@kernel
def gravity(altitude_m):
    """Return the acceleration of gravity at a geometric altitude [m/s^2].

    Altitude in m; source: [ussa1976] eq. 17.
    """
    ratio = EARTH_RADIUS / (EARTH_RADIUS + altitude_m)
    return GRAVITY_0 * ratio * ratio
