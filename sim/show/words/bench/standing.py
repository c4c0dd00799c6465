"""Where a set-up's flap stands, and the aeroplane's wheels, in words."""

from sim.describe.controls import FLAP
from sim.pack.assemble import Assembled
from sim.show.shapes.outline import wheel_places
from sim.units.quantities import LENGTH


def flap_and_wheels(assembled: Assembled) -> list[str]:
    """Return a line on the flap and one on the wheels, of what the aeroplane has."""
    aeroplane, out = assembled.aeroplane, []
    if FLAP in aeroplane.channels:
        stands = f"{assembled.setup.flap_deg:g}° down" if assembled.setup.flap_deg else "neutral"
        out.append(f"flap {stands} in this set-up; drawn neutral")
    places = wheel_places(aeroplane)
    if places:
        assert aeroplane.undercarriage is not None
        third = "nose" if aeroplane.undercarriage.has_nose_wheel else "tail"
        out.append(
            f"main wheels at {LENGTH(places[0][0])}, {third} wheel at {LENGTH(places[1][0])} "
            "(triangles)"
        )
    return out
