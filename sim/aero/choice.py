"""Which coefficient table a surface gets, and its drawn ends."""

from collections.abc import Callable
from functools import lru_cache
from math import cos, log10, radians
from typing import NamedTuple

import numpy as np

from sim.aero.geometry.effective import (
    aspect_ratio_alone,
    edge_sweep,
    mean_reynolds,
    slope_aspect_ratio,
    unswept_aspect_ratio,
)
from sim.aero.geometry.felt import felt_strength
from sim.aero.geometry.kinds import facing_sweep, kind_of, section_share
from sim.aero.geometry.lattice import polhamus, solve, trapezoid
from sim.aero.geometry.panels import MM, aspect_ratio, panels_of, upright
from sim.aero.sections.aerofoil import attached_fade, section_table
from sim.aero.sections.branches import blended, mirrored
from sim.aero.sections.drooped import PLAIN, Drooped
from sim.aero.sections.measured import SectionAsked, measured_table
from sim.aero.sections.plates import plate_table
from sim.aero.sections.sweeping import across, separated_along_stream
from sim.aero.sections.vortex import burst_alpha, vortex_table
from sim.core import draw_layout as d
from sim.core.loads.lookup import CN, N_S, NODES_PER_UNIT
from sim.describe.geometry import Surface

# Reynolds numbers a decade that tables are built for, so that set-ups share them; resolution only
REYNOLDS_A_DECADE = 24.0


class TableEnds(NamedTuple):
    """Half-widths of the drawn table parameters, at the cut of the draws."""

    stall_deg: float
    post_stall: float
    burst_deg: float
    vortex: float
    stall_region: float
    centre: float = 0.0
    plate_force: float = 0.0


class Parameters(NamedTuple):
    """Values of the drawn table parameters; ``drooped``: behind a nose that is turned down."""

    stall_deg: float = 0.0
    post_stall: float = 1.0
    burst_deg: float = 0.0
    vortex: float = 1.0
    stall_region: float = 1.0
    centre: float = 0.0
    plate_force: float = 1.0
    drooped: bool = False


# which parameter, and which end, belongs to a column of the draw
END_OF_DRAW = {
    d.D_STALL_ANGLE: "stall_deg",
    d.D_POST_STALL: "post_stall",
    d.D_BURST_ANGLE: "burst_deg",
    d.D_VORTEX_LIFT: "vortex",
    d.D_STALL_REGION: "stall_region",
    d.D_CENTRE: "centre",
    d.D_PLATE_FORCE: "plate_force",
}


def surface_table(
    surface: Surface, speed: float, parameters: Parameters, sweep_deg: float = 0.0
) -> np.ndarray:
    """Return the (N_S, 8) table of a surface.

    Parameters
    ----------
    surface : Surface
    speed : float
        Reference airspeed for the Reynolds number [m/s].
    parameters : Parameters
        Drawn values; the defaults are nominal.
    sweep_deg : float
        Of the leading edge, see `edge_sweep`.
    """
    return _table(surface, _rounded_reynolds(surface, speed), parameters, sweep_deg)


def section_slope(surface: Surface, speed: float) -> float:
    """Return dCN/dalpha at zero of the part of a surface that is built from sections [1/rad]."""
    nominal = Parameters()
    return slope_at_zero(_section(surface, _rounded_reynolds(surface, speed), nominal, 0.0))


def felt_and_lean(surface: Surface, speed: float) -> tuple[float, float]:
    """Return what a surface's strips feel and its lean, as `own_air.in_own_air` takes them."""
    if section_share(surface) == 0.0:
        return 0.0, facing_sweep(surface)
    return _felt(surface, _rounded_reynolds(surface, speed))


def slope_at_zero(table: np.ndarray) -> float:
    """Return dCN/dalpha at zero of a table [1/rad].

    By definition; ds = dalpha there to first order.
    """
    middle = (N_S - 1) // 2
    return float(table[middle + 1, CN] - table[middle - 1, CN]) * NODES_PER_UNIT / 2.0


def _rounded_reynolds(surface: Surface, speed: float) -> float:
    """Return one of a few Reynolds numbers [-] a decade, so that set-ups share tables.

    Own: 10 % apart.
    """
    steps = round(REYNOLDS_A_DECADE * log10(mean_reynolds(surface, speed)))
    return float(10.0 ** (steps / REYNOLDS_A_DECADE))


@lru_cache(maxsize=64)
def _suction_analogy(surface: Surface) -> tuple[float, float]:
    """Return Kp and Kv [-] of a surface's panels joined at their roots, by the lattice.

    Suction analogy [polhamus1966].
    """
    shape = trapezoid(
        surface.panel_span_mm * MM,
        surface.root_chord_mm * MM,
        surface.tip_chord_mm * MM,
        radians(surface.sweep_deg),
    )
    return polhamus(shape)


@lru_cache(maxsize=64)
def _plan_form_centre(surface: Surface) -> float:
    """Return the centre of attached load of a lying plate as a share of each strip's chord [-].

    Own: strips of one load coefficient have their centre at that share of the mean aerodynamic
    chord, so it is where the lattice of the plan form, carried through to the centreline,
    has its aerodynamic centre [katz2001].
    """
    panel = panels_of(surface)[0]
    gap = surface.root_right_mm * MM
    inner = panel.chord(-gap / panel.span)
    shape = trapezoid(panel.span + gap, inner, panel.tip_chord, panel.sweep)
    found = solve(shape, 6, 20)
    y, chord = np.array(shape.y), np.array(shape.chord)
    area = 0.5 * (chord[0] + chord[1]) * y[1]
    mean = y[1] * (chord[0] ** 2 + chord[0] * chord[1] + chord[1] ** 2) / 3.0 / area
    edge = y[1] ** 2 * (chord[0] + 2.0 * chord[1]) / 6.0 / area * np.tan(panel.sweep)
    return float((found.centre - edge) / mean)


@lru_cache(maxsize=512)
def _table(
    surface: Surface, reynolds: float, parameters: Parameters, sweep_deg: float
) -> np.ndarray:
    if kind_of(surface) == "vortex":
        return _vortex(surface, parameters, sweep_deg)
    share = section_share(surface)
    if share == 0.0:
        return _plate(surface, parameters, sweep_deg)
    felt = _felt(surface, reynolds)
    section = _section(surface, reynolds, parameters, sweep_deg, felt)
    if share == 1.0:
        return section
    return blended(_plate(surface, parameters, sweep_deg, felt), section, share)


@lru_cache(maxsize=64)
def _felt(surface: Surface, reynolds: float) -> tuple[float, float]:
    """Return the induced angle [rad] per mean loading that strips feel, and their lean [rad]."""
    section = _section(surface, reynolds, Parameters(), 0.0)
    return felt_strength(surface, slope_at_zero(section)), facing_sweep(surface)


def _section(
    surface: Surface,
    reynolds: float,
    parameters: Parameters,
    sweep_deg: float,
    felt: tuple[float, float] = (0.0, 0.0),
) -> np.ndarray:
    """Return the table of a surface's sections.

    Simple sweep theory [jones1947], sweep [rad]: thickness and camber over the cosine, Reynolds
    number on speed and chord across the quarter-chord line.
    """
    section, lean = surface.section, panels_of(surface)[0].quarter_sweep
    asked = SectionAsked(
        section.thickness_pct / cos(lean),
        section.camber_pct / cos(lean),
        section.edge,
        reynolds * cos(lean) ** 2,
        aspect_ratio(surface),
        parameters.stall_deg,
        parameters.post_stall,
        parameters.stall_region,
        sweep_deg,
        parameters.centre,
        felt,
        _nose(surface, parameters),
    )
    given = section.table
    table = section_table(*asked) if given is None else measured_table(given, asked)
    swept = separated_along_stream(table, lean, attached_fade())
    return mirrored(swept) if section.symmetric and asked.nose.down == 0.0 else swept


def _nose(surface: Surface, parameters: Parameters, lean: float = 0.0) -> Drooped:
    """Return the nose [rad, -] of the part that is asked for; geometry, ``lean`` [rad]."""
    droop = surface.droop
    if droop is None or not parameters.drooped:
        return PLAIN._replace(lean=lean)
    return Drooped(radians(droop.down_deg), 0.01 * droop.chord_pct, lean)


def _plate(
    surface: Surface,
    parameters: Parameters,
    sweep_deg: float,
    felt: tuple[float, float] = (0.0, 0.0),
) -> np.ndarray:
    table = plate_table(
        unswept_aspect_ratio(surface),
        slope_aspect_ratio(surface) if upright(surface) else aspect_ratio(surface),
        parameters.stall_deg,
        parameters.post_stall,
        surface.section.thickness_pct,
        surface.section.edge,
        parameters.stall_region,
        sweep_deg,
        None if upright(surface) else _plan_form_centre(surface),
        parameters.centre,
        parameters.plate_force,
        felt,
        _nose(surface, parameters, facing_sweep(surface)),
        0.0 if upright(surface) else surface.section.camber_pct,
    )
    return across(table, facing_sweep(surface))


def _vortex(surface: Surface, parameters: Parameters, sweep_deg: float) -> np.ndarray:
    kp, kv = _suction_analogy(surface)
    table = vortex_table(
        kp,
        kv,
        burst_alpha(surface.sweep_deg),
        aspect_ratio_alone(surface),
        parameters.burst_deg,
        parameters.vortex,
        parameters.post_stall,
        parameters.stall_region,
        edge_sweep_deg=sweep_deg,
        centre_shift=parameters.centre,
    )
    return across(table, facing_sweep(surface))


def tables_with_ends(
    surfaces: tuple[Surface, ...], speed: float, ends: TableEnds
) -> tuple[np.ndarray, np.ndarray]:
    """Return tables (n, N_S, 8) and their ends (14, n, N_S, 8), lower and upper by parameter.

    Own: nominal values plus and minus ``ends`` [deg, -]; flights are drawn between. One table a
    surface, after them one for each drooped leading edge, in the order of `with_droop`.
    """
    nominal = Parameters()
    corners = [
        nominal._replace(**{end: getattr(nominal, end) + side * getattr(ends, end)})
        for end in (END_OF_DRAW[column] for column in d.TABLE_DRAWS)
        for side in (-1.0, 1.0)
    ]
    asked = [(s, edge_sweep(s, surfaces), False) for s in surfaces]
    asked += [(s, edge_sweep(s, surfaces), True) for s in with_droop(surfaces)]

    def made(of: Callable[..., np.ndarray], p: Parameters) -> np.ndarray:
        return np.stack([of(s, speed, p._replace(drooped=nose), w) for s, w, nose in asked])

    return made(surface_table, nominal), np.stack([made(_corner, corner) for corner in corners])


def with_droop(surfaces: tuple[Surface, ...]) -> tuple[Surface, ...]:
    """Return the surfaces whose leading edge is turned down somewhere; as described."""
    return tuple(s for s in surfaces if s.droop is not None)


def _corner(surface: Surface, speed: float, parameters: Parameters, sweep_deg: float) -> np.ndarray:
    """Return a table at one end, without building what the parameter does not touch."""
    kind = kind_of(surface)
    if kind == "vortex":
        parameters = parameters._replace(stall_deg=0.0)
    else:
        parameters = parameters._replace(burst_deg=0.0, vortex=1.0)
    if kind != "plate":
        parameters = parameters._replace(plate_force=1.0)
    return surface_table(surface, speed, parameters, sweep_deg)
