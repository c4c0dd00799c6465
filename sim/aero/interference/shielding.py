"""Wake sources and which strips they can reach."""

from math import radians, sin, tan

import numpy as np

from sim import tables
from sim.aero.geometry.effective import edge_sweep
from sim.aero.geometry.fuselage import outline
from sim.aero.geometry.panels import MM, Panel, half_span, upright
from sim.core import layout as k
from sim.describe.geometry import Body, Surface
from sim.tables.models.wake_model import WakeModel


def surface_source(surface: Surface, panel: Panel, index: int, sweep_deg: float) -> np.ndarray:
    """Return the source row (N_SOURCE_COLS,) of a lying surface's plan form [m].

    Lines of [neihouse1946]; own: what stays under a swept edge by the sine squared [jones1947].
    """
    values = tables.wake_model()
    row = np.zeros(k.N_SOURCE_COLS)
    tip = half_span(surface)
    root_le, root_te = panel.point(0.0, 0.0), panel.point(0.0, 1.0)
    tip_le, tip_te = panel.point(1.0, 0.0), panel.point(1.0, 1.0)
    gap = abs(root_le[1]) / tip
    row[k.W_Z] = 0.5 * (root_le[2] + tip_le[2])
    # edges are given at the centreline: carry the panel's lines through to it
    for root, end, at0, at1 in (
        (root_le, tip_le, k.W_X_LE0, k.W_X_LE1),
        (root_te, tip_te, k.W_X_TE0, k.W_X_TE1),
    ):
        row[at1] = end[0]
        row[at0] = root[0] - (end[0] - root[0]) * gap / (1.0 - gap)
    row[k.W_Y1] = tip
    row[k.W_SURFACE] = index
    row[k.W_DEPTH] = values.depth_surface
    row[k.W_SWEPT] = sin(radians(sweep_deg)) ** 2
    _edges(row, values)
    return row


def body_source(body: Body) -> np.ndarray:
    """Return the source row of a body seen from above, as a strip of its mean width [m].

    Own: as of a surface, from its rear, wake_model.toml.
    """
    values = tables.wake_model()
    row = np.zeros(k.N_SOURCE_COLS)
    first, last = body.stations[0].aft_mm * MM, body.stations[-1].aft_mm * MM
    aft = np.linspace(first + values.body_rear_from_share * (last - first), last, 20)
    width, _, up = outline(body, aft)
    row[k.W_Z] = -float(np.mean(up))
    row[k.W_X_LE0] = row[k.W_X_LE1] = -first
    row[k.W_X_TE0] = row[k.W_X_TE1] = -last
    row[k.W_Y1] = 0.5 * float(np.mean(width))
    row[k.W_SURFACE] = -1.0
    row[k.W_DEPTH] = values.depth_body
    row[k.W_SWEPT] = 1.0
    row[k.W_SIN0] = sin(radians(values.body_from_deg))
    row[k.W_SIN1] = sin(radians(values.body_whole_deg))
    _edges(row, values)
    return row


def _edges(row: np.ndarray, values: WakeModel) -> None:
    """Fill how the edges spread [neihouse1946] and how soft they are [-]."""
    row[k.W_TAN] = tan(radians(values.edge_angle_deg))
    row[k.W_SOFT] = values.edge_softness


def sources_and_pairs(
    surfaces: tuple[Surface, ...],
    panels: list[Panel],
    bodies: tuple[Body, ...],
    strips: np.ndarray,
    strip_surface: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:
    """Return sources (s, N_SOURCE_COLS) and pairs (j, 2) of strip and source.

    Lying surfaces and bodies make wakes; upright surfaces, and tails in those of other
    surfaces, can lie in them.
    """
    rows: list[np.ndarray] = []
    pairs: list[tuple[int, int]] = []
    for j, surface in enumerate(surfaces):
        if upright(surface) or surface.role == "strake":
            continue
        panel = next(p for p in panels if p.surface is surface)
        row = surface_source(surface, panel, j, edge_sweep(surface, surfaces))
        for i in range(strips.shape[1]):
            other = surfaces[strip_surface[i]]
            if other is not surface and (upright(other) or other.role == "tail"):
                pairs.append((i, len(rows)))
        rows.append(row)
    for body in bodies:
        row = body_source(body)
        for i in range(strips.shape[1]):
            if upright(surfaces[strip_surface[i]]):
                pairs.append((i, len(rows)))
        rows.append(row)
    sources = np.array(rows).reshape(-1, k.N_SOURCE_COLS)
    return sources, np.array(pairs, dtype=np.int64).reshape(-1, 2)
