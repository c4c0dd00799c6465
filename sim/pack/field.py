"""The air at the field that an aeroplane is flown from."""

from sim.core.air.atmosphere import air_density
from sim.describe import Aeroplane

STANDARD_WARMTH_C = 15.0


def warmth(aeroplane: Aeroplane) -> float:
    """Return by how much the field is warmer than the standard atmosphere's sea level [°C]."""
    return aeroplane.field.temperature_c - STANDARD_WARMTH_C


def field_density(aeroplane: Aeroplane, height: float = 0.0) -> float:
    """Return the air density [kg/m3] at a height above the field [m], [ussa1976]."""
    return float(air_density(height, aeroplane.field.elevation_m, warmth(aeroplane)))
