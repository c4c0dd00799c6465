"""What looks like a slip in an aeroplane file: outside wide bands, said and never refused.

A range in `sim.describe` refuses what no model can be. Here stands what is odd, though it
may be real: a span typed in centimetres, a mass in kilograms.
"""

from collections.abc import Iterator

import numpy as np

from sim import tables
from sim.aero.geometry.panels import upright
from sim.describe import Aeroplane, Body, Part, Surface
from sim.units.quantities import AREA, LOADING, MASS
from sim.weigh import Weighed, reference
from sim.weigh.by_kind import skin_area_dm2, surface_area_dm2
from sim.weigh.facts import facts_of, kinds_of
from sim.weigh.slips import find_slips, slip_words

IN_UNITS = {"g": MASS, "g/dm²": LOADING}  # of what is told in the units of the run


def doubts(aeroplane: Aeroplane, weighed: Weighed | None = None) -> list[str]:
    """Return what looks like a slip of the unit, one line each, with the keys to look at.

    Parameters
    ----------
    aeroplane : Aeroplane
    weighed : Weighed, optional
        A set-up, to look at its radii of gyration as well.
    """
    slips = [slip_words(x) for x in find_slips(facts_of(aeroplane), kinds_of(aeroplane))]
    return [*slips, *oddities(aeroplane, weighed, whole=not slips)]


def oddities(aeroplane: Aeroplane, weighed: Weighed | None = None, whole: bool = True) -> list[str]:
    """Return what is odd besides slips, one line each, as `doubts`.

    ``whole``: also of the whole aeroplane, where no slip explains it.
    """
    checks = [_fins(aeroplane), _airframe(aeroplane), _parts(aeroplane), _packs(aeroplane)]
    if whole:
        checks.append(_whole(aeroplane))
    if weighed is not None:
        checks.append(_radii(weighed))
    return [line for check in checks for line in check]


def rough_mass_g(aeroplane: Aeroplane) -> float:
    """Return the mass of airframe, parts and heaviest pack [g], or the measured one.

    By definition; a slip shows in it without weighing.
    """
    if aeroplane.measured is not None and aeroplane.measured.mass_g is not None:
        return aeroplane.measured.mass_g
    parts = sum(part.mass_g * (2 if part.mirrored else 1) for part in aeroplane.parts)
    packs = max(pack.mass_g for pack in aeroplane.packs.values())
    return sum(share.mass_g for share in aeroplane.airframe) + parts + packs


def _outside(
    key: str, value: float, band: tuple[float, float], unit: str, what: str
) -> Iterator[str]:
    """Yield a line if a value lies outside its band."""
    low, high = band
    if not low <= value <= high:
        unit = f" {unit}" if unit else ""
        told, least, most = f"{value:.3g}", f"{low:g}", f"{high:g}"
        if (quantity := IN_UNITS.get(unit.strip())) is not None:
            unit = f" {quantity}"
            told = quantity.figure(value, ".3g")
            least, most = quantity.figure(low, "g"), quantity.figure(high, "g")
        yield (
            f"{key}: {what} {told}{unit}, usual is {least} to {most}{unit}; "
            "check units and decimal points"
        )


def _whole(aeroplane: Aeroplane) -> Iterator[str]:
    """Yield lines on wing loading [g/dm²], aspect ratio and length over span; by definition."""
    usual = tables.plausible()
    ref = reference(aeroplane)
    loading = rough_mass_g(aeroplane) / (100.0 * ref.area_m2)
    wing = "panel_span_mm, root_chord_mm and tip_chord_mm of the wing"
    yield from _outside(
        f"{wing}, and the masses", loading, usual.wing_loading_g_dm2, "g/dm²",
        "give a wing loading of",
    )  # fmt: skip
    yield from _outside(wing, ref.aspect_ratio, usual.aspect_ratio, "", "give an aspect ratio of")
    slender = ref.length_m / ref.span_m
    both = "panel_span_mm of the wing, and aft_mm of bodies and surfaces"
    yield from _outside(both, slender, usual.length_over_span, "", "give a length over span of")


def _fins(aeroplane: Aeroplane) -> Iterator[str]:
    """Yield a line for each surface that lies, though its role or its rudder says it stands."""
    usual = tables.plausible()
    for surface in aeroplane.surfaces:
        key = f"surfaces.{surface.name}.dihedral_deg"
        if surface.role == "fin":
            yield from _outside(
                key, abs(surface.dihedral_deg), usual.fin_dihedral_deg, "degrees", "a fin stands at"
            )
        elif not upright(surface) and _only_rudders(aeroplane, surface):
            yield (
                f"{key}: {surface.dihedral_deg:g} degrees lies, yet the rudder stick alone moves "
                "this surface; check dihedral_deg (90 is upright) and the channel's stick"
            )


def _only_rudders(aeroplane: Aeroplane, surface: Surface) -> bool:
    """Return True if a surface has controls and all of them answer to the rudder alone."""
    sticks = [aeroplane.channels[control.channel].stick for control in surface.controls]
    return bool(sticks) and all(
        stick.rudder != 0.0 and stick.elevator == 0.0 and stick.aileron == 0.0 for stick in sticks
    )


def _radii(weighed: Weighed) -> Iterator[str]:
    """Yield lines on radii of gyration, over span and length [-]; by definition."""
    usual = tables.plausible()
    ref, radii = weighed.reference, weighed.radii_of_gyration_m
    places = "masses, and places of parts and airframe"
    told = "give a radius of gyration"
    roll, pitch = radii[0] / ref.span_m, radii[1] / ref.length_m
    yield from _outside(
        places, roll, usual.roll_radius_over_span, "", f"{told} in roll over span of"
    )
    yield from _outside(
        places, pitch, usual.pitch_radius_over_length, "", f"{told} in pitch over length of"
    )


def _airframe(aeroplane: Aeroplane) -> Iterator[str]:
    """Yield lines on the airframe's mass over area [g/dm²]; by definition."""
    usual = tables.plausible()
    things: dict[str, Surface | Body] = {x.name: x for x in aeroplane.surfaces}
    things.update({x.name: x for x in aeroplane.bodies})
    for share in aeroplane.airframe:
        thing = things[share.of]
        surface = isinstance(thing, Surface)
        area = surface_area_dm2(thing) if isinstance(thing, Surface) else skin_area_dm2(thing)
        yield from _outside(
            f"airframe.{share.of}.mass_g", share.mass_g / area,
            usual.surface_g_dm2 if surface else usual.skin_g_dm2, "g/dm²",
            f"{MASS(share.mass_g, 'g')} over {AREA(area, '.3g')} is",
        )  # fmt: skip


def _parts(aeroplane: Aeroplane) -> Iterator[str]:
    """Yield lines on each part's mass [g], its share and its density [kg/l]; by definition."""
    usual = tables.plausible()
    whole_g = rough_mass_g(aeroplane)
    for part in aeroplane.parts:
        key = f"parts.{part.name}.mass_g"
        yield from _outside(key, part.mass_g, usual.part_g, "g", "is")
        together = part.mass_g * (2 if part.mirrored else 1)
        yield from _outside(key, together / whole_g, usual.part_share, "", "as a share of all is")
        litres = _litres(part)
        if litres > 0.0:
            yield from _outside(
                f"parts.{part.name}", part.mass_g / 1000.0 / litres, usual.part_kg_l, "kg/l",
                f"{MASS(part.mass_g, 'g')} in {litres:.3g} l is",
            )  # fmt: skip


def _litres(part: Part) -> float:
    """Return the volume of a part's outline [l], geometry; 0 where it has none."""
    across = (part.width_mm or 0.0) * (part.height_mm or 0.0)
    if part.shape == "shell":
        across = np.pi / 4.0 * (part.diameter_mm or 0.0) ** 2
    return float((part.length_mm or 0.0) * across / 1e6)


def _packs(aeroplane: Aeroplane) -> Iterator[str]:
    """Yield lines on each pack's density [kg/l], energy [Wh/kg] and resistance [mΩ Ah a cell].

    By definition, with the voltage printed on a cell.
    """
    usual = tables.plausible()
    for name, pack in aeroplane.packs.items():
        litres = pack.length_mm * pack.width_mm * pack.height_mm / 1e6
        hours = pack.capacity_mah / 1000.0
        energy = usual.nominal_cell_v * pack.cells * hours / (pack.mass_g / 1000.0)
        path = f"packs.{name}"
        yield from _outside(
            f"{path}: mass_g and sizes", pack.mass_g / 1000.0 / litres,
            usual.pack_kg_l, "kg/l", "give",
        )  # fmt: skip
        yield from _outside(
            f"{path}: mass_g, cells and capacity_mah", energy, usual.pack_wh_kg, "Wh/kg", "give"
        )
        if pack.resistance_mohm is None:
            continue
        yield from _outside(
            f"{path}.resistance_mohm", pack.resistance_mohm * hours / pack.cells,
            usual.pack_mohm_ah, "mΩ·Ah a cell", "gives",
        )  # fmt: skip
