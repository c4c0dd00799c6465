"""Where things go, in words: places along the body, the pack on its tray, weights."""

import re
from collections.abc import Iterable

from sim.describe import Aeroplane, LooseWeight
from sim.units.quantities import LENGTH, MASS


def place_text(aft_mm: float) -> str:
    """Return a place along the body in words, from the datum."""
    size = LENGTH(abs(aft_mm))
    if size == LENGTH(0.0):
        return "at the datum"
    return f"{size} {'aft' if aft_mm > 0.0 else 'ahead'} of the datum"


def tray_text(aeroplane: Aeroplane, pack: str, aft_mm: float) -> str:
    """Return the tray mark of a pack: its front edge and its centre, for a ruler.

    Where nobody measured its length the edge is not a mark, and is told so.
    """
    length = aeroplane.packs[pack].length_mm
    edge, centre = place_text(aft_mm - length / 2.0), place_text(aft_mm)
    back = back_text(aeroplane, pack, aft_mm)
    if f"packs.{pack}.length_mm" in aeroplane.assumed:
        return (
            f"centre {centre}, {back}; its length is NOT MEASURED: of {LENGTH(length)} by its "
            f"weight, its front edge would lie {edge}: mark its centre"
        )
    return f"front edge {edge}, centre {centre} (it is {LENGTH(length)} long); {back}"


def back_text(aeroplane: Aeroplane, pack: str, aft_mm: float) -> str:
    """Return how far back a pack lies from the foremost place on the tray."""
    back = aft_mm - aeroplane.tray_of(pack).front_aft_mm
    if LENGTH(back) == LENGTH(0.0):
        return "as far forward as it goes"
    return f"{LENGTH(back)} back from as far forward as it goes"


def added_text(weights: Iterable[tuple[str, float]], aeroplane: Aeroplane) -> str:
    """Return added weights in words: grams, and the place they go to."""
    places = {spot.name: spot.aft_mm for spot in aeroplane.weight_places}
    return ", ".join(
        f"{MASS(grams)} at the {name}, {place_text(places[name])}" for name, grams in weights
    )


def loose_text(weight: LooseWeight) -> str:
    """Return a loose weight in words."""
    return f"{weight.name} {MASS(weight.mass_g)}, {place_text(weight.aft_mm)}"


def at_text(at: float, unit: str, spec: str = ".1f") -> str:
    """Return a place on a map, without its unit."""
    return LENGTH.figure(at, spec) if unit == "mm" else f"{at:{spec}}"


def unit_text(text: str) -> str:
    """Return the unit of a map, or what it goes along, in the units of the run."""
    return text if LENGTH.is_default else re.sub(r"\bmm\b", LENGTH.spelled, text)
