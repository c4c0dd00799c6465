"""The part of a body between two lying panels, in flow that has let go.

Attached, body and panels lift about as the surface carried through does (`panels.carry_over`).
Past the stall the panels are plates, with a leading edge from which the air parts. The body
between them has none: the air comes along it, and what pushes it is the flow across, by the
square of the sine, as on any long body (H. J. Allen, E. W. Perkins, NACA Report 1048
[allen1951]; with panels, L. H. Jorgensen, NASA TR R-474 [jorgensen1977]). Straight across the
flow it is the middle of one bluff plate with them, and has the plate's drag; it pushes at its
middle. Strakes are left as they are: their vortices, burst or not, lie over the body between.
"""

import numpy as np

from sim.aero.geometry.kinds import kind_of
from sim.aero.sections.own_air import met_across
from sim.aero.sections.plates import plate_fade
from sim.core.loads.lookup import CM, CN, DCM, DCN, G0, N_S, alpha_of_coordinate, grid
from sim.describe.geometry import Surface
from sim.tables import body_model


def crossed_as_body(surface: Surface) -> bool:
    """Return True for a surface whose carried-through strip is a body once the flow lets go."""
    return kind_of(surface) != "vortex"


def cross_flow_only(tables: np.ndarray, induced: tuple[float, float] = (0.0, 0.0)) -> np.ndarray:
    """Return tables (..., N_S, N_COLUMNS) whose separated normal force is that of cross-flow.

    The plate's [-] across the flow times the square of the sine [allen1951], at the middle of the
    chord. The attached branch is what it was, as far as it can be: to where plate_model.toml lets
    it run into the separated one.

    Parameters
    ----------
    tables : array (..., N_S, N_COLUMNS)
    induced : pair of floats
        Strength and lean as `own_air.in_own_air` takes them: the sine is that of the air
        before the panels turn it.
    """
    alpha, fade = alpha_of_coordinate(grid()), plate_fade()
    met = met_across(tables, *induced) * np.cos(alpha)
    law = np.sign(alpha) * met**2
    out = tables.copy()
    was = tables[..., CN] - tables[..., G0] * tables[..., DCN]
    # straight across from below and from above
    across = np.where(alpha >= 0.0, was[..., [3 * (N_S - 1) // 4]], -was[..., [(N_S - 1) // 4]])
    force = across * law
    arm = body_model().crossed_centre - 0.25
    for static, change, now in ((CN, DCN, force), (CM, DCM, -force * arm)):
        before = tables[..., static] - tables[..., G0] * tables[..., change]
        out[..., change] = tables[..., change] + fade * (before - now)
        out[..., static] = now + tables[..., G0] * out[..., change]
    return out
