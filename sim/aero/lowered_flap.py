"""The drag of its own that a flap has which a set-up lowers."""

from math import radians

import numpy as np

from sim.aero.build import AeroArrays
from sim.aero.geometry.panels import panels_of
from sim.aero.geometry.pieces import covered
from sim.aero.sections.flaps import flap_drag
from sim.core import layout as k
from sim.core.loads.lookup import CC, DCC, G0, alpha_of_coordinate, grid
from sim.describe.aeroplane import Aeroplane
from sim.describe.controls import FLAP


def with_flap_drag(aero: AeroArrays, aeroplane: Aeroplane, flap_deg: float) -> AeroArrays:
    """Return packed aerodynamics with a lowered flap's drag in the tables of its strips [-].

    `flap_drag` by how much of a strip the flap covers. As it is where ``flap_deg`` is nought or
    there is no flap.
    """
    more = np.zeros(aero.strips.shape[1])
    if flap_deg != 0.0:
        for j in range(len(aeroplane.surfaces)):
            _fill(more, aero, aeroplane, j, radians(flap_deg))
    table = aero.strip_index[k.SI_TABLE]
    kinds = sorted({(int(t), float(x)) for t, x in zip(table, more, strict=True) if x > 0.0})
    if not kinds:
        return aero
    index = aero.strip_index.copy()
    for row, (t, x) in enumerate(kinds, aero.tables.shape[0]):
        index[k.SI_TABLE, (table == t) & (more == x)] = row
    of, drag = [t for t, _ in kinds], np.array([x for _, x in kinds])
    return aero._replace(
        strip_index=index,
        tables=np.concatenate([aero.tables, dragged(aero.tables[of], drag)]),
        table_ends=np.concatenate([aero.table_ends, dragged(aero.table_ends[:, of], drag)], axis=1),
    )


def _fill(
    more: np.ndarray, aero: AeroArrays, aeroplane: Aeroplane, j: int, deflection: float
) -> None:
    """Fill the drag coefficient (n,) that surface ``j``'s flaps add to strips; [rad], geometry."""
    surface = aeroplane.surfaces[j]
    panels = {p.side if surface.mirrored else 0.0: p for p in panels_of(surface)}
    for control in (c for c in surface.controls if c.channel == FLAP and c.kind == "flap"):
        assert control.chord_pct is not None
        drag = flap_drag(control.chord_pct / 100.0, deflection)
        for side, panel in panels.items():
            mine = aero.strip_index[k.SI_CHANNEL] == aero.channels[FLAP, side]
            for i in np.flatnonzero(mine & (aero.strip_index[k.SI_SURFACE] == j)):
                out = (aero.strips[k.S_RX : k.S_RZ + 1, i] - panel.root) @ panel.outward
                place = round(out / panel.span * surface.strips - 0.5)
                more[i] += max(covered(control, place, surface.strips), 0.0) * drag


def dragged(tables: np.ndarray, drag: np.ndarray) -> np.ndarray:
    """Return tables (..., m, N_S, N_COLUMNS) with drag coefficients (m,) [-] more along the chord.

    Own: only as far as flow is attached; of separated flow the flap's own normal force, tilted,
    tells its drag already.
    """
    ahead = np.cos(alpha_of_coordinate(grid()))
    back = -drag[:, None] * ahead * np.abs(ahead)
    out = tables.copy()
    out[..., DCC] += back
    out[..., CC] += out[..., G0] * back
    return out
