"""Where pack and added weights must go for a wanted balance point."""

from dataclasses import dataclass

from sim.describe import Fault, FileFault, Tray, WeightPlace
from sim.units.quantities import LENGTH, MASS, SYSTEMS, chosen, using_units
from sim.units.ranges import range_words

# Below this a weight is not worth adding, and rounding of the sums could ask for it.
LEAST_ADDED_KG = 1e-9


class OutOfReachError(FileFault):
    """A wanted balance point that neither pack nor added weights can give."""


@dataclass(frozen=True)
class Balance:
    """Answer of the solver.

    Parameters
    ----------
    pack_aft_mm : float
        Where the pack's centre lies.
    added_kg : tuple of (WeightPlace, float)
        Weights to add, if any.
    """

    pack_aft_mm: float
    added_kg: tuple[tuple[WeightPlace, float], ...] = ()


def solve_balance(
    *,
    mass_kg: float,
    moment_kg_mm: float,
    pack_kg: float,
    tray: Tray,
    spots: tuple[WeightPlace, ...],
    wanted_mm: float,
    who: str,
) -> Balance:
    """Return where the pack goes, and the least weight to add, for a balance point.

    The pack slides along its tray; only where that is not enough is it held at the
    tray's end and weight added, first at the place with the longest arm, which needs the
    least. Moments about the datum: the balance point by definition.

    Parameters
    ----------
    mass_kg, moment_kg_mm : float
        Everything but the pack: mass [kg], and mass times aft of the datum [kg mm].
    pack_kg : float [kg]
    tray : Tray
    spots : tuple of WeightPlace
        Where weights may be added.
    wanted_mm : float
        Wanted balance point aft of the datum [mm].
    who : str
        Name for the message: aeroplane and set-up.

    Raises
    ------
    OutOfReachError
        If it cannot be reached; the message gives what can.
    """
    whole = mass_kg + pack_kg
    pack_aft = (whole * wanted_mm - moment_kg_mm) / pack_kg
    held = min(max(pack_aft, tray.front_aft_mm), tray.rear_aft_mm)
    if held == pack_aft:
        return Balance(pack_aft)
    moment = moment_kg_mm + pack_kg * held
    # what is missing about the wanted point; a weight forward of it counts negative
    surplus = moment - whole * wanted_mm
    forward = surplus > 0.0
    added: list[tuple[WeightPlace, float]] = []
    for spot in sorted(spots, key=lambda s: s.aft_mm, reverse=not forward):
        arm = spot.aft_mm - wanted_mm
        if arm * surplus >= 0.0:
            break
        weight = min(-surplus / arm, spot.max_g / 1000.0)
        surplus += weight * arm
        if weight > LEAST_ADDED_KG:
            added.append((spot, weight))
        if abs(surplus) < LEAST_ADDED_KG:
            return Balance(held, tuple(added))
    front = _furthest(whole, moment_kg_mm + pack_kg * tray.front_aft_mm, spots, forward=True)
    rear = _furthest(whole, moment_kg_mm + pack_kg * tray.rear_aft_mm, spots, forward=False)
    raise OutOfReachError(who, [Fault("", _out_of_reach(wanted_mm, front, rear))])


def _out_of_reach(wanted_mm: float, front_mm: float, rear_mm: float) -> str:
    """Return what is asked and what can be had, in either unit, and how to get there."""
    asked, reach, first = [], [], chosen()
    for system in sorted(SYSTEMS, key=lambda x: x != first.system):
        with using_units(system, first.speeds):
            asked.append(LENGTH(wanted_mm, ".1f"))
            ends = (LENGTH.at_least(front_mm, ".1f"), LENGTH.at_most(rear_mm, ".1f"))
            reach.append(f"{range_words(*ends)} {LENGTH}")
    ahead = wanted_mm < front_mm
    end, way = ("front", "forward") if ahead else ("rear", "aft")
    return (
        f"balance_aft_{LENGTH.suffix}: {asked[0]} ({asked[1]}) aft of the datum is out of reach "
        f"with pack and weight places; within reach: {reach[0]} ({reach[1]}). Ask for one of "
        f"these, let the tray reach further {way} (tray.{end}_aft_{LENGTH.suffix}), give a weight "
        f"place further {way} or a larger max_{MASS.suffix} there (weight_places), or take "
        "another pack"
    )


def _furthest(
    mass_kg: float, moment_kg_mm: float, spots: tuple[WeightPlace, ...], *, forward: bool
) -> float:
    """Return the balance point furthest forward or aft that the weight places give [mm aft].

    By definition; each place is filled as long as it still moves the balance point.
    """
    now = moment_kg_mm / mass_kg
    for spot in sorted(spots, key=lambda s: s.aft_mm, reverse=not forward):
        if (spot.aft_mm < now) != forward:
            break
        weight = spot.max_g / 1000.0
        moment_kg_mm += weight * spot.aft_mm
        mass_kg += weight
        now = moment_kg_mm / mass_kg
    return now
