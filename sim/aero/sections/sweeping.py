"""A table for air along the stream, turned into one for air across a swept line."""

from math import cos

import numpy as np

from sim.core.loads.lookup import (
    CC,
    CM,
    CN,
    DCC,
    DCM,
    DCN,
    G0,
    X0,
    alpha_of_coordinate,
    attached_share,
    coordinate_of_alpha,
    grid,
)


def across(table: np.ndarray, sweep: float) -> np.ndarray:
    """Return the table for strips that face across a line swept by ``sweep`` [rad].

    Without sideslip the forces are those of ``table``: with V the airspeed, the strip sees
    V cos(alpha) cos(sweep) along its chord and V sin(alpha) across it, so each coefficient is
    divided by the share of the dynamic pressure that it sees, and those along the chord and
    about the swept line by the cosines that their axes have with the aeroplane's. In sideslip
    the panels then see more and less air, by simple sweep theory [jones1947].

    Parameters
    ----------
    table : array (N_S, N_COLUMNS)
    sweep : float [rad]
    """
    if sweep == 0.0:
        return table
    lean = cos(sweep)
    own = alpha_of_coordinate(grid())
    stream = np.arctan2(np.sin(own) * lean, np.cos(own))
    seen = (np.cos(stream) * lean) ** 2 + np.sin(stream) ** 2
    at = coordinate_of_alpha(stream)
    out = np.stack([np.interp(at, grid(), column) for column in table.T], axis=1)
    for column, axis in ((CN, 1.0), (CC, lean), (CM, lean**2)):
        change = {CN: DCN, CC: DCC, CM: DCM}[column]
        for c in (column, change):
            out[:, c] /= seen * axis
    out[:, G0] = attached_share(out[:, X0])
    return np.ascontiguousarray(out)


def separated_along_stream(table: np.ndarray, sweep: float, fade: np.ndarray) -> np.ndarray:
    """Return a swept section's table with its separated flow as of the unswept wing.

    Simple sweep theory holds for attached flow. A wake is not divided by the sweep: the air
    behind a stalled wing is at one pressure, which goes with the speed of the stream, and
    swept wings keep at least what straight ones do (Hoerner, Fluid-Dynamic Lift, ch. XV,
    from memory), where the theory takes 15 % away at 30 degrees of both. So attached flow
    stays and separated flow is put `across`.

    Parameters
    ----------
    table : array (N_S, N_COLUMNS)
        For air across the swept line.
    sweep : float [rad]
    fade : array (N_S,)
        1 where attached flow can exist, 0 where both branches are one.
    """
    if sweep == 0.0:
        return table
    stream = across(table, sweep)
    out = table.copy()
    for static, change in ((CN, DCN), (CC, DCC), (CM, DCM)):
        was = table[:, static] - table[:, G0] * table[:, change]
        now = stream[:, static] - stream[:, G0] * stream[:, change]
        out[:, change] = table[:, change] - fade * (now - was)
        out[:, static] = table[:, static] + (1.0 - table[:, G0] * fade) * (now - was)
    return out
