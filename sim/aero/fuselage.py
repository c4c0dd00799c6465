"""Cut bodies into strips with their virtual mass, cross-flow drag and nose area."""

from math import pi

import numpy as np

from sim.aero.panels import Panel, upright
from sim.aero.tables import read_toml
from sim.core import layout as k
from sim.describe.geometry import Body

MM = 1e-3


def outline(body: Body, aft: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return width, height and height of the centre [m] at stations ``aft`` [m]."""
    at = np.array([s.aft_mm for s in body.stations]) * MM
    width = np.interp(aft, at, [s.width_mm * MM for s in body.stations])
    height = np.interp(aft, at, [s.height_mm * MM for s in body.stations])
    up = np.interp(aft, at, [s.up_mm * MM for s in body.stations])
    return width, height, up


def _covered(panels: list[Panel], aft: float) -> bool:
    """Return True where a lying surface, carried through the body, takes the air from below."""
    for panel in panels:
        if upright(panel.surface) or panel.surface.role == "strake":
            continue
        front = -panel.root[0]
        if front <= aft <= front + panel.root_chord:
            return True
    return False


def body_arrays(body: Body, panels: list[Panel], wing_area: float) -> tuple[np.ndarray, np.ndarray]:
    """Return the strips (N_BODY_ROWS, n) and scalars (N_BODY_PAR,) of a body.

    Parameters
    ----------
    body : Body
    panels : list of Panel
        All panels of the aeroplane; a lying one shades the body where it crosses it.
    wing_area : float
        Reference area [m2], for the drag of small parts.
    """
    values = read_toml("body_model.toml").values
    first, last = body.stations[0].aft_mm * MM, body.stations[-1].aft_mm * MM
    edges = np.linspace(first, last, body.strips + 1)
    middle = 0.5 * (edges[1:] + edges[:-1])
    step = edges[1] - edges[0]
    width, height, up = outline(body, middle)
    width_e, height_e, _ = outline(body, edges)
    rows = np.zeros((k.N_BODY_ROWS, body.strips))
    rows[k.B_X] = -middle
    rows[k.B_Z] = -up
    rows[k.B_AREA_SIDE] = height * step
    rows[k.B_AREA_FACE] = width * step
    rows[k.B_DA_SIDE] = np.diff(0.25 * pi * height_e**2)
    rows[k.B_DA_FACE] = np.diff(0.25 * pi * width_e**2)
    mean = float(np.mean(0.5 * (width + height)))
    drag = float(np.interp(body.corner_pct, values["corner_pct"], values["cross_flow_drag"]))
    drag *= float(np.interp((last - first) / mean, values["length_ratio"], values["length_share"]))
    rows[k.B_CD_SIDE] = drag
    rows[k.B_CD_FACE] = [0.0 if _covered(panels, a) else drag for a in middle]
    nose = middle < first + values["nose_share"] * (last - first)
    rows[k.B_NOSE] = np.where(nose, height * step, 0.0)
    par = np.zeros(k.N_BODY_PAR)
    wetted = float(np.sum(2.0 * (width + height) * step)) * 0.9
    base = 0.25 * pi * width_e[-1] * height_e[-1]
    par[k.BP_DRAG_AREA] = (
        values["friction_coefficient"] * wetted
        + values["base_drag_coefficient"] * base
        + values["small_parts_share"] * wing_area
    )
    par[k.BP_X] = -0.5 * (first + last)
    par[k.BP_Z] = -float(np.mean(up))
    par[k.BP_BOAT_TAIL] = values["boat_tail_share"]
    par[k.BP_SIDE_FACTOR] = values["side_force_share"]
    par[k.BP_CROSS_FACTOR] = 1.0
    par[k.BP_MUNK_FACTOR] = float(
        np.interp((last - first) / max(mean, 1e-6), values["fineness"], values["apparent_mass"])
    )
    return rows, par
