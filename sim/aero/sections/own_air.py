"""Separated flow in the air that the surface turns itself.

All that a surface lifts leaves vortices behind it, what has let go as well as what has not
(momentum; the lift of a stalled strip falls, and does not vanish), so strips see the angle of
attack less what the whole of it induces. Separated flow is known of finite wings at the
angle that they are flown at; here it is put against the angle that is left, so that a wing
of which nothing is attached pushes as it is known to.
"""

import numpy as np

from sim.aero.sections.branches import Branch
from sim.core.loads.lookup import CN, DCN, G0, alpha_of_coordinate, coordinate_of_alpha, grid

ROUNDS = 40  # of the fixed points; each leaves a tenth to a quarter of the error


def in_own_air(separated: Branch, strength: float, lean: float) -> Branch:
    """Return a wing's separated flow against the angle of attack that its strips see.

    Own: lifting-line angle of all that the wing lifts, by fixed points.

    Parameters
    ----------
    separated : Branch
        Along the stream, on the grid, against the angle of attack of the wing.
    strength : float
        Induced angle [rad] per mean loading that the strips feel.
    lean : float
        Sweep [rad] of the line that they face across.
    """
    if strength == 0.0:
        return separated
    alpha = alpha_of_coordinate(grid())
    ahead = np.maximum(np.cos(alpha), 0.0)  # flying backwards nothing is induced
    across = np.sin(alpha)
    for _ in range(ROUNDS):
        # as `core.strips` sums it: the force's part across the air, its area and air those across
        # the line
        seen = (ahead * np.cos(lean)) ** 2 + across**2
        loading = separated.cn * ahead * np.cos(lean) ** 2 / np.maximum(seen, 1e-9)
        across = np.sin(alpha) - ahead * strength * loading
    forward = ahead > 0.0
    left = np.where(forward, np.arctan2(across, ahead), alpha)
    # the force is the same, of air that the turn has slowed
    slower = np.where(forward, ahead**2 + across**2, 1.0)
    at = coordinate_of_alpha(left)
    return Branch(*(np.interp(grid(), at, part / slower) for part in separated))


def met_across(tables: np.ndarray, strength: float, lean: float) -> np.ndarray:
    """Return the air across the chord over that along it of a wing that has let go wholly.

    Own: as above. The tangent (..., N_S) [-] of the angle that it is flown at, across its line,
    where its strips see that of the grid; infinite across the flow, and the grid's own flying
    backwards.

    Parameters
    ----------
    tables : array (..., N_S, N_COLUMNS)
        Of its strips, separated flow as `in_own_air` leaves it.
    strength, lean
        As there.
    """
    own = alpha_of_coordinate(grid())
    force = tables[..., CN] - tables[..., G0] * tables[..., DCN]
    seen = np.tan(own)
    met = np.broadcast_to(seen, force.shape)
    turn = np.where(np.cos(own) > 0.0, strength * np.cos(lean), 0.0)
    for _ in range(ROUNDS):
        along = 1.0 / np.sqrt(1.0 + (met * np.cos(lean)) ** 2)
        met = seen + turn * force * along
    return met
