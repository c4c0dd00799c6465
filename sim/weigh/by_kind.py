"""The weight that nobody listed, spread as is usual for a kind: total and balance point come out.

What the scales say, less pack, loose weights and listed parts, is skin and fittings. Skin is
spread over surfaces and bodies by relative weights an area; fittings (legs, controller, receiver,
wires, pipes, frames) are a box in the longest body, which lies where the measured balance point
asks for it. Shares of kinds.toml; how far that may be off is drawn, assumed.toml.
"""

from dataclasses import dataclass

import numpy as np

from sim import tables
from sim.describe import Aeroplane, Body, Fault, FileFault, Surface
from sim.describe.masses import Measured
from sim.tables.models.kinds import Masses
from sim.units.quantities import LENGTH, MASS
from sim.weigh.facts import facts_of, kinds_of
from sim.weigh.ledger import total
from sim.weigh.parts import body_lump, body_skin, place, surface_lumps
from sim.weigh.reference import reference
from sim.weigh.slips import find_slips
from sim.weigh.solids import Array, Lump, box_moment

FITTINGS = "fittings in the body"


@dataclass(frozen=True)
class ByKind:
    """The lumps of what is not listed, what to know of them, and what to doubt."""

    lumps: list[Lump]
    notes: tuple[str, ...]
    doubts: tuple[str, ...] = ()


def spread_by_kind(aeroplane: Aeroplane, listed: list[Lump], carried: list[Lump]) -> ByKind:
    """Return what is not listed as lumps [kg, m]; own: totals as measured less what is known.

    Parameters
    ----------
    aeroplane : Aeroplane
        With a kind, and mass and balance point measured.
    listed, carried : list of Lump
        Parts; pack and loose weights of the set-up that was measured.

    Raises
    ------
    FileFault
        The scales say less than what is listed weighs.
    """
    measured, kind = aeroplane.measured, aeroplane.kind
    assert measured is not None
    assert kind is not None
    assert measured.mass_g is not None
    assert measured.balance_aft_mm is not None
    masses = tables.kinds().kinds[kind].masses
    known = total([*listed, *carried])
    rest_kg = measured.mass_g / 1000.0 - known.mass_kg
    if rest_kg <= 0.0:
        text = f"must exceed the {1000.0 * known.mass_kg:.0f} g of pack, weights and parts; got "
        slips = find_slips(facts_of(aeroplane), kinds_of(aeroplane), ["mass_g"])
        meant = [x.meant for x in slips if x.name == "mass_g" and x.meant is not None]
        likely = f"; likely meant {meant[0]:g}" if meant else ""
        fault = Fault("measured.mass_g", f"{text}{measured.mass_g:g}{likely}")
        raise FileFault(f"{aeroplane.name}.toml", [fault])
    fittings_kg = _fittings_kg(aeroplane, masses, rest_kg)
    lumps = _skins(aeroplane, masses, rest_kg - fittings_kg)
    moment = measured.mass_g / 1000.0 * measured.balance_aft_mm
    have = total([*listed, *carried, *lumps])
    wanted_mm = (moment - have.mass_kg * have.aft_mm) / fittings_kg
    box, sizes_m, ends_mm = _room(aeroplane, masses)
    held_mm = float(np.clip(wanted_mm, *ends_mm))
    centre = place(held_mm, 0.0, 0.0) + np.array([0.0, box[1], box[2]])
    lumps.append(Lump(FITTINGS, "airframe", fittings_kg, centre, box_moment(fittings_kg, sizes_m)))
    beyond = wanted_mm - held_mm
    shift = fittings_kg * beyond / rest_kg
    moved = [
        Lump(x.name, x.kind, x.mass_kg, x.centre_m + place(shift, 0.0, 0.0), x.moment_kg_m2)
        for x in lumps
    ]
    note = (
        f"{MASS(1000.0 * rest_kg)} that are not listed are spread as usual for its kind "
        f"({tables.kinds().kinds[kind].title}), so that it weighs {MASS(measured.mass_g)} and "
        f"balances at {LENGTH(measured.balance_aft_mm, '.1f')} as measured"
    )
    if not beyond:
        return ByKind(moved, (note,))
    doubt, off_mm = _off_balance(aeroplane, measured, rest_kg, shift)
    chord_mm = 1000.0 * reference(aeroplane).mean_chord_m
    if 100.0 * off_mm / chord_mm <= tables.plausible().unbalanced_pct_mac:
        return ByKind(moved, (note, doubt))
    return ByKind(moved, (note,), (doubt,))


def _off_balance(
    aeroplane: Aeroplane, measured: Measured, rest_kg: float, shift_mm: float
) -> tuple[str, float]:
    """Return what is told where the rest was moved, and by how much that moved the balance [mm].

    Moments by definition, also as a weight at the end of the body that would do as much.
    """
    assert measured.mass_g is not None
    assert measured.balance_aft_mm is not None
    (nose, tail), moment = _ends(aeroplane), 1000.0 * rest_kg * abs(shift_mm)
    end, end_mm = ("tail", tail) if shift_mm > 0.0 else ("nose", nose)
    like_g = moment / max(abs(end_mm - measured.balance_aft_mm), abs(shift_mm))
    text = (
        f"fittings inside the body do not make it balance at "
        f"{LENGTH(measured.balance_aft_mm, '.1f')}: all that is not listed was moved by "
        f"{LENGTH(abs(shift_mm))} towards the {end}, which does as much as {MASS(like_g)} more at "
        f"the very {end}. Either its weight lies otherwise than is usual for its kind, or look at "
        "where the balance was measured from, at the pack's place, and at what is heavy near the "
        f"{end} and not listed"
    )
    return text, moment / measured.mass_g


def _fittings_kg(aeroplane: Aeroplane, masses: Masses, rest_kg: float) -> float:
    """Return what of the rest is fittings [kg]: the kind's share of all, less those listed.

    Own: by the shares [-] of kinds.toml, and never less of the rest than wires and frames.
    """
    grams = sum(x.mass_g * (2 if x.mirrored else 1) for x in aeroplane.parts if x.fitting)
    listed_kg = grams / 1000.0
    left = masses.fittings_share * (rest_kg + listed_kg) - listed_kg
    return max(left, tables.kinds().body.fittings_least * rest_kg)


def _skins(aeroplane: Aeroplane, masses: Masses, mass_kg: float) -> list[Lump]:
    """Return surfaces and bodies sharing a mass [kg] by relative weights an area [g/dm²]."""
    by_role = {
        "wing": masses.wing_g_dm2, "strake": masses.strake_g_dm2, "tail": masses.tail_g_dm2,
        "canard": masses.tail_g_dm2, "fin": masses.fin_g_dm2,
    }  # fmt: skip
    things = [(x, by_role[x.role] * surface_area_dm2(x)) for x in aeroplane.surfaces]
    bodies = [(x, masses.skin_g_dm2 * skin_area_dm2(x)) for x in aeroplane.bodies]
    grams = 1000.0 * mass_kg / (sum(w for _, w in things) + sum(w for _, w in bodies))
    lumps = [lump for x, weight in things for lump in surface_lumps(x, grams * weight)]
    return [*lumps, *(body_lump(x, grams * weight) for x, weight in bodies)]


def _longest(aeroplane: Aeroplane) -> Body:
    return max(aeroplane.bodies, key=lambda x: x.stations[-1].aft_mm - x.stations[0].aft_mm)


def _ends(aeroplane: Aeroplane) -> tuple[float, float]:
    """Return nose and end of the longest body [mm aft of the datum]."""
    stations = _longest(aeroplane).stations
    return stations[0].aft_mm, stations[-1].aft_mm


def _room(
    aeroplane: Aeroplane, masses: Masses
) -> tuple[Array, tuple[float, float, float], tuple[float, float]]:
    """Return where fittings lie: a place of the body [m], the box [m], ends of its centre [mm].

    Geometry: the longest body, its widest station.
    """
    body, (nose, end) = _longest(aeroplane), _ends(aeroplane)
    widest = max(body.stations, key=lambda x: x.width_mm * x.height_mm)
    length = masses.fittings_over_body * (end - nose)
    sizes = (length / 1000.0, widest.width_mm / 1000.0, widest.height_mm / 1000.0)
    return (
        place(0.0, widest.right_mm, widest.up_mm), sizes,
        (nose + 0.5 * length, end - 0.5 * length),
    )  # fmt: skip


def surface_area_dm2(surface: Surface) -> float:
    """Return the area of a surface seen square on [dm²], both panels; geometry."""
    mean = (surface.root_chord_mm + surface.tip_chord_mm) / 2.0
    return (2 if surface.mirrored else 1) * surface.panel_span_mm * mean / 1e4


def skin_area_dm2(body: Body) -> float:
    """Return the area of a body's skin [dm²]; geometry."""
    a, b, c = np.moveaxis(body_skin(body), 1, 0)
    # the skin comes twice over
    return 100.0 * 0.5 * float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()) / 2.0
