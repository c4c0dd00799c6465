"""Cut bodies into strips with their virtual mass, cross-flow drag and nose area."""

from math import pi, radians, sin

import numpy as np

from sim import tables
from sim.aero.geometry.effective import AIR_VISCOSITY
from sim.aero.geometry.panels import MM, Panel, upright
from sim.core import layout as k
from sim.describe.geometry import Body

PUSH_ROWS = (k.B_PUSH, k.B_PUSH_TOP, k.B_PUSH_FALL, k.B_PUSH_TAIL)


def outline(body: Body, aft: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return width, height and height of the centre [m] at stations ``aft`` [m].

    Geometry: straight between stations.
    """
    at = np.array([s.aft_mm for s in body.stations]) * MM
    width = np.interp(aft, at, [s.width_mm * MM for s in body.stations])
    height = np.interp(aft, at, [s.height_mm * MM for s in body.stations])
    up = np.interp(aft, at, [s.up_mm * MM for s in body.stations])
    return width, height, up


def _covered(panels: list[Panel], aft: float, strakes: bool = False) -> bool:
    """Return True where a lying surface, carried through the body, takes the air from below."""
    for panel in panels:
        if upright(panel.surface) or (panel.surface.role == "strake" and not strakes):
            continue
        front = -panel.root[0]
        if front <= aft <= front + panel.root_chord:
            return True
    return False


def cross_flow_drag(
    corner_pct: float, reynolds: float, depth_ratio: np.ndarray | float
) -> np.ndarray | float:
    """Return the cross-flow drag coefficient of an endless body, body_model.toml.

    Corners [hoerner1965], depth of a box [nakaguchi1968], critical Reynolds number [roshko1961].

    Parameters
    ----------
    corner_pct : float [% of half the smaller side]
    reynolds : float
        On the mean depth [-]; rounded bodies lose drag past the critical one.
    depth_ratio : float or array (n,)
        Depth along the cross-flow over width across it; boxes answer to it.
    """
    values = tables.body_model()
    drag = float(np.interp(corner_pct, values.corner_pct, values.cross_flow_drag))
    box = np.interp(depth_ratio, values.depth_ratio, values.depth_drag)
    shape = 1.0 + (1.0 - 0.01 * corner_pct) * (box - 1.0)
    least = values.critical_corner_pct
    round_share = min(1.0, max(0.0, (corner_pct - least) / (100.0 - least)))
    past = float(np.interp(np.log(reynolds), np.log(values.critical_reynolds), [0.0, 1.0]))
    return shape * (drag + round_share * past * (values.drag_past_critical - drag))


def side_push(corner_pct: float) -> tuple[float, float, float, float]:
    """Return slope, top, fall and tail of the driving side force [-], body_side_force.csv.

    The force is min(slope s, max(top - fall s, tail (1 - s))) at sine s. Own: straight lines
    through what [parkinson1964] measured.
    """
    columns = tables.body_side_force()
    slope, peak, gone, tail = (
        float(np.interp(corner_pct, columns.corner_pct, column))
        for column in (
            columns.slope_per_sine,
            columns.peak_at_deg,
            columns.gone_at_deg,
            columns.tail,
        )
    )
    s1, s2 = sin(radians(peak)), sin(radians(gone))
    low = tail * (1.0 - s2)
    fall = (slope * s1 - low) / (s2 - s1)
    return slope, slope * s1 + fall * s1, fall, tail


def body_arrays(
    body: Body, panels: list[Panel], wing_area: float, speed: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return the strips (N_BODY_ROWS, n) and scalars (N_BODY_PAR,) of a body.

    Apparent mass [munk1924], cross-flow [allen1951], drag of friction, base and small parts
    [hoerner1965].

    Parameters
    ----------
    body : Body
    panels : list of Panel
        All panels of the aeroplane; a lying one shades the body where it crosses it.
    wing_area : float
        Reference area [m²], for the drag of small parts.
    speed : float
        For the Reynolds number of the cross-flow [m/s].
    """
    values = tables.body_model()
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
    mean = float(np.mean(0.5 * (width + height)))
    finite = float(np.interp((last - first) / mean, values.length_ratio, values.length_share))
    across = sin(radians(values.cross_flow_at_deg))
    reynolds = speed * across * mean / AIR_VISCOSITY
    wide = np.maximum(width, 1e-6) / np.maximum(height, 1e-6)
    bare = np.array([not _covered(panels, a) for a in middle], dtype=float)
    carried = np.array([_covered(panels, a, strakes=True) for a in middle])
    # beside a surface the carried-through strip has the body's lift [pitts1957]
    rows[k.B_DA_FACE] = np.where(carried, 0.0, np.diff(0.25 * pi * width_e**2))
    rows[k.B_CD_SIDE] = finite * cross_flow_drag(body.corner_pct, reynolds, wide)
    rows[k.B_CD_FACE] = finite * bare * cross_flow_drag(body.corner_pct, reynolds, 1.0 / wide)
    for row, value in zip(PUSH_ROWS, side_push(body.corner_pct), strict=True):
        rows[row] = finite * value * bare
    _fill_nose(rows, width, height, middle, first, last)
    par = np.zeros(k.N_BODY_PAR)
    wetted = float(np.sum(2.0 * (width + height) * step)) * values.wetted_share
    base = 0.25 * pi * width_e[-1] * height_e[-1]
    par[k.BP_DRAG_AREA] = (
        values.friction_coefficient * wetted
        + values.base_drag_coefficient * base
        + values.small_parts_share * wing_area
    )
    par[k.BP_X] = -0.5 * (first + last)
    par[k.BP_Z] = -float(np.mean(up))
    par[k.BP_BOAT_TAIL] = values.boat_tail_share
    par[k.BP_PUSH_FACTOR] = 1.0
    par[k.BP_CROSS_FACTOR] = 1.0
    par[k.BP_MUNK_FACTOR] = float(
        np.interp((last - first) / max(mean, 1e-6), values.fineness, values.apparent_mass)
    )
    return rows, par


def _fill_nose(
    rows: np.ndarray, width: np.ndarray, height: np.ndarray, middle: np.ndarray, first: float,
    last: float,
) -> None:  # fmt: skip
    """Fill the area [m²] on which a lopsided vortex acts.

    Weighed by the nose's fineness [keener1974], body_model.toml.
    """
    values = tables.body_model()
    step = (last - first) / middle.size
    length = values.nose_share * (last - first)
    nose = middle < first + length
    depth = float(np.mean((0.5 * (width + height))[nose]))
    strength = float(np.interp(length / depth, values.nose_fineness, values.nose_asymmetry))
    rows[k.B_NOSE] = np.where(nose, strength * height * step, 0.0)
