"""The ledger: lumps added up to mass, balance point and second moment."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sim.weigh.solids import Array, Lump, inertia


@dataclass(frozen=True)
class Total:
    """Mass, balance point and inertia of some lumps together.

    Parameters
    ----------
    mass_kg : float
    centre_m : array, shape (3,)
        In body axes from the datum.
    moment_kg_m2 : array, shape (3, 3)
        Second moment J about the centre.
    """

    mass_kg: float
    centre_m: Array
    moment_kg_m2: Array

    @property
    def aft_mm(self) -> float:
        """Balance point aft of the datum [mm]; by definition."""
        return -1000.0 * float(self.centre_m[0])

    @property
    def inertia_kg_m2(self) -> Array:
        """Inertia tensor about the balance point: products negative off the diagonal."""
        return inertia(self.moment_kg_m2)


def total(lumps: Iterable[Lump]) -> Total:
    """Return the lumps' mass [kg], common centre [m], and second moment about it [kg m²].

    By definition, and the parallel-axis theorem, see `Lump.moment_about`.
    """
    found = list(lumps)
    mass = sum(lump.mass_kg for lump in found)
    centre = np.sum([lump.mass_kg * lump.centre_m for lump in found], axis=0) / mass
    moment = np.sum([lump.moment_about(centre) for lump in found], axis=0)
    return Total(mass, centre, moment)
