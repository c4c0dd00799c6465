"""Where the numbers of each surface's table come from."""

from sim.aero.origins import origins
from sim.pack.assemble import Assembled, reference_speed
from sim.show.console.console import Tables, add, notes, table
from sim.units.quantities import SPEED


def origin_tables(assembled: Assembled) -> Tables:
    """Return what is measured and what is formula in the coefficients of each surface."""
    weighed = assembled.weighed
    speed = reference_speed(weighed.mass_kg, weighed.reference.area_m2)
    out = table("Where the coefficients come from", "surface", "measured or by formula", left=2)
    for surface in assembled.aeroplane.surfaces:
        for i, line in enumerate(origins(surface, speed)):
            add(out, surface.name if i == 0 else "", line)
    return [out, *notes([f"Tables are made for {SPEED(speed)}."])]
