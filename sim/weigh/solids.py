"""Mass, centre and second moments of simple solids and of triangles.

The second moment of mass J = ∫ r rᵀ dm adds up over anything; the inertia tensor follows
from it as I = tr(J) E − J, with products of inertia negative off the diagonal, so that the
angular momentum is I @ omega.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Lump:
    """A named mass in its place.

    Parameters
    ----------
    name : str
        Name of what it is.
    kind : str
        ``airframe``, ``part``, ``pack``, ``loose weight`` or ``added weight``.
    mass_kg : float
    centre_m : array, shape (3,)
        In body axes from the datum (x forward, y right, z down).
    moment_kg_m2 : array, shape (3, 3)
        Second moment J about its own centre.
    """

    name: str
    kind: str
    mass_kg: float
    centre_m: Array
    moment_kg_m2: Array

    def mirrored(self) -> "Lump":
        """Return the same lump on the other side of the plane of symmetry [kg, m]; geometry."""
        flip = np.array([1.0, -1.0, 1.0])
        moment = self.moment_kg_m2 * np.outer(flip, flip)
        return Lump(self.name, self.kind, self.mass_kg, self.centre_m * flip, moment)

    def moment_about(self, place_m: Array) -> Array:
        """Return the second moment J about a place [kg m²].

        Parallel-axis theorem, [landau1976] §32 (from memory).
        """
        arm = self.centre_m - place_m
        return self.moment_kg_m2 + self.mass_kg * np.outer(arm, arm)


def inertia(moment_kg_m2: Array) -> Array:
    """Return the inertia tensor I = tr(J) E − J of a second moment J [kg m²]; by definition."""
    return np.trace(moment_kg_m2) * np.eye(3) - moment_kg_m2


def bar_moment(mass_kg: float, length_m: float, axis: int) -> Array:
    """Return J [kg m²] of a thin bar along a body axis (0, 1, 2) about its centre.

    mL²/12: the integral by definition.
    """
    moment = np.zeros((3, 3))
    moment[axis, axis] = mass_kg * length_m**2 / 12.0
    return moment


def box_moment(mass_kg: float, sizes_m: tuple[float, float, float]) -> Array:
    """Return J [kg m²] of a solid box about its centre, with sides a [m] along (x, y, z).

    ma²/12 along each: the integral by definition.
    """
    return np.diag(mass_kg * np.square(sizes_m) / 12.0)


def tube_moment(mass_kg: float, length_m: float, diameter_m: float, axis: int) -> Array:
    """Return J [kg m²] of a thin round tube, open at both ends, about its centre.

    Along the axis mL²/12, across it mR²/2, so that the inertia about its axis is mR²: the
    integral by definition.
    """
    across = mass_kg * diameter_m**2 / 8.0
    moment = np.diag([across, across, across])
    moment[axis, axis] = mass_kg * length_m**2 / 12.0
    return moment


def skin(mass_kg: float, triangles_m: Array) -> tuple[Array, Array]:
    """Return centre and J about it of a mass spread evenly over flat triangles.

    Exact for each triangle: ∫ r rᵀ dA = A/12 (Σ v vᵀ + s sᵀ), with the corners v and their
    sum s (by definition; the three mid-sides, each with a third of the area, give the same).

    Parameters
    ----------
    mass_kg : float
        Mass of the whole skin [kg].
    triangles_m : array, shape (n, 3, 3)
        Corners: triangle, corner, coordinate [m].

    Returns
    -------
    centre_m : array, shape (3,)
    moment_kg_m2 : array, shape (3, 3)
    """
    a, b, c = triangles_m[:, 0], triangles_m[:, 1], triangles_m[:, 2]
    area = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)
    density = mass_kg / area.sum()
    total = triangles_m.sum(axis=1)
    centre = density / mass_kg * (area[:, None] * total / 3.0).sum(axis=0)
    corners = np.einsum("nci,ncj->nij", triangles_m, triangles_m)
    squares = corners + np.einsum("ni,nj->nij", total, total)
    about_origin = density / 12.0 * np.einsum("n,nij->ij", area, squares)
    return centre, about_origin - mass_kg * np.outer(centre, centre)
