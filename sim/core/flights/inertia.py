"""Mass and inertia: scaled as a draw has them, and inverted."""

import numpy as np

from sim.core import kernel
from sim.core.layout import M_INERTIA, M_INVERSE, M_MASS


@kernel
def spread_inertia(mass, factor, spread, out):
    """Fill ``out`` with mass properties scaled by factors on the mass and on its spread.

    Scaling the second moments of mass along each axis, instead of one moment of inertia,
    keeps the triangle inequalities by construction.

    Parameters
    ----------
    mass, out : float array (N_MASS,)
    factor : float
        On all of the mass.
    spread : float array (3,)
        On the second moments along x, y and z.

    Mass in kg, inertia in kg m2. Own: second moments half the trace less the moments of
    inertia, scaled.
    """
    out[M_MASS] = mass[M_MASS] * factor
    k = M_INERTIA
    half = 0.5 * (mass[k] + mass[k + 4] + mass[k + 8])
    moments = np.zeros((3, 3))
    for i in range(3):
        for j in range(3):
            moments[i, j] = -mass[k + 3 * i + j]
        moments[i, i] += half
    for i in range(3):
        for j in range(3):
            moments[i, j] *= factor * np.sqrt(spread[i] * spread[j])
    trace = moments[0, 0] + moments[1, 1] + moments[2, 2]
    for i in range(3):
        for j in range(3):
            out[k + 3 * i + j] = -moments[i, j]
        out[k + 4 * i] += trace
    invert_inertia(out)


@kernel
def invert_inertia(mass):
    """Fill the inverse-inertia part of ``mass`` (N_MASS,) from its inertia part.

    Inertia in kg m2, its inverse in 1/(kg m2). By cofactors, from memory.
    """
    k = M_INERTIA
    a, b, c = mass[k], mass[k + 1], mass[k + 2]
    d, e, f = mass[k + 3], mass[k + 4], mass[k + 5]
    g, h, i = mass[k + 6], mass[k + 7], mass[k + 8]
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    m = M_INVERSE
    mass[m] = (e * i - f * h) / det
    mass[m + 1] = (c * h - b * i) / det
    mass[m + 2] = (b * f - c * e) / det
    mass[m + 3] = (f * g - d * i) / det
    mass[m + 4] = (a * i - c * g) / det
    mass[m + 5] = (c * d - a * f) / det
    mass[m + 6] = (d * h - e * g) / det
    mass[m + 7] = (b * g - a * h) / det
    mass[m + 8] = (a * e - b * d) / det
