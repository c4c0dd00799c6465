"""What a fin does to the body it stands on: in sideslip the body under it pushes too.

Slender-body theory (W. C. Pitts, J. N. Nielsen, G. E. Kaattari, NACA Report 1307
[pitts1957]): a panel on a round body of radius r, its tip at s from the axis, gives the body
about (r/s)(1 + r/s) of what it has itself. In flow that has let go nothing of it is left:
there the body's own cross-flow drag is the whole.
"""

import numpy as np

from sim.aero.geometry.fuselage import outline
from sim.aero.geometry.panels import MM, Panel, carry_over, upright
from sim.aero.sections.plates import plate_fade
from sim.core import layout as k
from sim.core.loads.lookup import CC, CM, CN, DCC, DCM, DCN, G0
from sim.describe.geometry import Body
from sim.tables import body_model


def _body_under(panel: Panel, bodies: tuple[Body, ...]) -> tuple[float, float] | None:
    """Return height of the body's axis and of the fin's foot over it [m], if it stands on one.

    Geometry; own: it stands on it where its foot lies between two shares of the half height,
    body_model.toml. Of a fin that hangs below, its foot does too.
    """
    aft = np.array([-panel.point(0.0, 0.5)[0]])
    foot = -float(panel.root[2])
    low, high = body_model().fin_foot_half_heights
    for body in bodies:
        first, last = body.stations[0].aft_mm * MM, body.stations[-1].aft_mm * MM
        _, height, up = outline(body, aft)
        half = 0.5 * float(height[0])
        over = foot - float(up[0])
        away = -over if panel.outward[2] > 0.0 else over
        if first <= aft[0] <= last and low * half < away < high * half:
            return float(up[0]), over
    return None


def fin_strip(panel: Panel, bodies: tuple[Body, ...]) -> np.ndarray | None:
    """Return the strip (N_STRIP_ROWS, 1) [m, m²] of the body under a single upright fin, or None.

    Area by slender-body theory [pitts1957]. Twin fins stand beside the axis, and what they give
    to the body is not known; none.
    """
    if panel.surface.mirrored or not upright(panel.surface):
        return None
    found = _body_under(panel, bodies)
    if found is None:
        return None
    axis, over = found
    radius = abs(over)
    share = radius / (radius + panel.span)
    rows = carry_over(panel, 0.0)
    down = -axis - body_model().fin_body_at_share * over
    rows[k.S_RX : k.S_RZ + 1, 0] = [panel.point(0.0, 0.25)[0], 0.0, down]
    rows[k.S_AREA, 0] = panel.area * share * (1.0 + share)
    rows[k.S_ETA, 0] = 0.0
    return rows


def attached_only(tables: np.ndarray) -> np.ndarray:
    """Return tables (..., N_S, N_COLUMNS) whose separated branch is nothing.

    Own: the attached branch [-] is what it was, as far as it can be: to where plate_model.toml lets
    it run into the separated one.
    """
    kept, out = plate_fade(), tables.copy()
    for static, change in ((CN, DCN), (CC, DCC), (CM, DCM)):
        separated = tables[..., static] - tables[..., G0] * tables[..., change]
        out[..., change] = tables[..., change] + kept * separated
        out[..., static] = tables[..., G0] * out[..., change]
    return out
