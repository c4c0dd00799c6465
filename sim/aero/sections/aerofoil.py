"""Two-dimensional sections over ±180°, built on the measured NACA 0015."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.sections.base_section import Edge, StallCurve, base_stall_curve, separated_curves
from sim.aero.sections.branches import Branch, assemble, mirrored
from sim.aero.sections.drooped import PLAIN, Drooped, Turned, let_go, turned
from sim.aero.sections.finite_wing import TWO_PI
from sim.aero.sections.own_air import in_own_air
from sim.aero.sections.separated import (
    StallPoint,
    aspect_ratio_share,
    centre_of_pressure,
    smooth_step,
    stall_region_scale,
    under_swept_edge,
)
from sim.aero.sections.thin_aerofoil import CamberEffect, camber_effect
from sim.core.loads.lookup import alpha_of_coordinate, grid


class Shape(NamedTuple):
    """Ratios to the base section: stall angle, leading-edge suction, drag."""

    stall_share: float
    suction: float
    drag_factor: float


@lru_cache
def section_shape(thickness_pct: float, edge: Edge) -> Shape:
    """Return how a section differs from the base [-]: its table, and form factor [hoerner1965]."""
    m = tables.section_model()
    columns = tables.section_shape()
    rows = columns.edge == edge
    thickness = columns.thickness_pct[rows]
    stall = np.interp(thickness_pct, thickness, columns.stall_share[rows])
    suction = np.interp(thickness_pct, thickness, columns.suction_share[rows])

    def form(percent: float) -> float:
        t = 0.01 * percent
        return 1.0 + m.form_factor_linear * t + m.form_factor_quartic * t**4

    return Shape(float(stall), float(suction), form(thickness_pct) / form(m.base_thickness_pct))


@lru_cache
def _separated_branch(aspect_ratio: float, edge: Edge) -> Branch:
    """Return separated flow [-] for a wing of this aspect ratio [viterna1981], [lindenburg2003]."""
    m = tables.section_model()
    normal, axial = separated_curves(edge)
    alpha = alpha_of_coordinate(grid())
    size = np.abs(alpha)
    degrees = np.minimum(np.degrees(size), 180.0)
    cn = normal(degrees)
    match = np.radians(m.viterna_match_deg)
    cn_match, cc_match = float(normal(m.viterna_match_deg)), float(axial(m.viterna_match_deg))
    stall = StallPoint(
        match,
        cn_match * np.cos(match) + cc_match * np.sin(match),
        cn_match * np.sin(match) - cc_match * np.cos(match),
    )
    kept = aspect_ratio_share(size, aspect_ratio, float(normal(90.0)), stall)
    backwards = smooth_step(degrees, m.reversed_fade_from_deg, m.reversed_fade_to_deg)
    centre = centre_of_pressure(size)
    centre += backwards * (m.reversed_centre - centre)
    sign = np.sign(alpha)
    return Branch(sign * cn, axial(degrees), -sign * cn * (centre - 0.25)).scaled(kept)


def _attached_branch(
    alpha: np.ndarray, curve: StallCurve, shape: Shape, camber: CamberEffect, nose: Turned
) -> Branch:
    """Return attached flow [-]: slope 2 pi [abbott1959], quadratic drag, part of the suction.

    Of the force along the air's path that lift leaves, the edge's own suction is kept in part,
    what tilts with a drooped nose whole.
    """
    lift = TWO_PI * np.sin(alpha - camber.zero_lift - nose.zero_lift)
    met = alpha - nose.edge
    drag = shape.drag_factor * (curve.drag + curve.drag_growth * (met - camber.ideal) ** 2)
    edge = TWO_PI * np.sin(met - camber.zero_lift)
    cos_a, sin_a = np.cos(alpha), np.sin(alpha)
    return Branch(
        lift * cos_a + drag * sin_a,
        shape.suction * edge * np.sin(met) + (lift * sin_a - edge * np.sin(met)) - drag * cos_a,
        camber.moment + nose.moment,
    )


def attached_fade() -> np.ndarray:
    """Return (N_S,) [-]: 1 where attached flow can exist, 0 where it cannot; own: see the table."""
    m = tables.section_model()
    degrees = np.degrees(np.abs(alpha_of_coordinate(grid())))
    return 1.0 - smooth_step(degrees, m.attached_fade_from_deg, m.attached_fade_to_deg)


def stall_centre(alpha: np.ndarray, camber: CamberEffect) -> np.ndarray:
    """Return the angle [rad] from which the stall is counted; own: camber brings it nearer to 0."""
    m = tables.section_model()
    lifting = -np.sign(camber.zero_lift) * np.degrees(alpha)
    upright = smooth_step(lifting, -m.camber_side_deg, m.camber_side_deg)
    share, inverted = m.camber_stall_share, m.camber_stall_share_inverted
    return camber.zero_lift * (upright * (share + inverted) - inverted)


def separated_flow(
    attached: Branch,
    edge: Edge,
    aspect_ratio: float,
    post_stall_factor: float,
    stall_region_factor: float,
    edge_sweep_deg: float,
    centre_shift: float,
    induced: tuple[float, float],
    nose: Drooped = PLAIN,
) -> Branch:
    """Return the separated branch [-] beside an attached one; parameters as `section_table`.

    Own: the separated force of `plates`, fuller under a swept edge [wentz1968], in its own air.
    """
    m = tables.section_model()
    alpha = alpha_of_coordinate(grid())
    scale = post_stall_factor * stall_region_scale(alpha, stall_region_factor)
    separated = _separated_branch(aspect_ratio, edge).scaled(scale)
    separated = separated.scaled(
        under_swept_edge(separated.cn, attached.cn, alpha, m.separated_fullness, edge_sweep_deg)
    )
    return in_own_air(let_go(separated, nose).moved(centre_shift), *induced)


def stall_share(
    thickness_pct: float,
    camber_pct: float,
    edge: Edge,
    reynolds: float,
    stall_shift_deg: float,
    nose: Turned | None = None,
) -> np.ndarray:
    """Return the static attached share (N_S,) [-] of the force; parameters as `section_table`.

    Own: the base section's curve, stretched to the angle of stall of thickness and camber.
    """
    m = tables.section_model()
    alpha = alpha_of_coordinate(grid())
    curve, shape = base_stall_curve(reynolds), section_shape(thickness_pct, edge)
    camber = camber_effect(camber_pct, m.camber_crest)
    from_stall_centre = np.degrees(alpha - stall_centre(alpha, camber))
    if nose is not None:
        from_stall_centre -= np.degrees(nose.later)
    later = m.later_stall_deg + stall_shift_deg
    stretch = curve.peak / max(curve.peak * shape.stall_share + later, m.least_stall_deg)
    return np.interp(np.abs(from_stall_centre) * stretch, curve.alpha_deg, curve.share, right=0.0)


def late_share(share: np.ndarray) -> np.ndarray:
    """Return the attached share (n,) [-] of moment and drag where that of the force is ``share``.

    The first lift is lost at the rear, with the load still about c/4; then it breaks.
    """
    m = tables.section_model()
    return 1.0 - smooth_step(1.0 - share, m.moment_break_from, m.moment_break_to)


def section_table(
    thickness_pct: float,
    camber_pct: float,
    edge: Edge,
    reynolds: float,
    aspect_ratio: float,
    stall_shift_deg: float = 0.0,
    post_stall_factor: float = 1.0,
    stall_region_factor: float = 1.0,
    edge_sweep_deg: float = 0.0,
    centre_shift: float = 0.0,
    induced: tuple[float, float] = (0.0, 0.0),
    nose: Drooped = PLAIN,
) -> np.ndarray:
    """Return the strip table of a wing section.

    Attached flow is two-dimensional: the induced angle is the caller's. What is known past
    the stall is of the whole wing, and is put against the angle that its strips see.

    Parameters
    ----------
    thickness_pct, camber_pct : float [% of chord]
        Camber crest on the lifting side positive.
    edge : str
        Leading edge, "round" or "sharp".
    reynolds : float
        On the chord, see `base_stall_curve`.
    aspect_ratio : float
        Of the whole wing; infinity for the section itself.
    stall_shift_deg : float [deg]
        Moves the stall outward on both sides.
    post_stall_factor, stall_region_factor : float
        On all coefficients of separated flow; on those up to about 35 degrees.
    edge_sweep_deg : float [deg]
        Of the leading edge, for what separated flow keeps.
    centre_shift : float
        Moves the centre of pressure of separated flow aft, as a share of the chord.
    induced : pair of floats
        Strength and lean as `own_air.in_own_air` takes them; nought for the section itself.
    nose : Drooped
        The leading edge, if it is turned down.

    Returns
    -------
    array (N_S, N_COLUMNS)
        See sim.core.loads.lookup. Sources: [sheldahl1981] for the base, [viterna1981] and
        [timmer2010] for aspect ratio, [goman1994] for the two branches.
    """
    alpha = alpha_of_coordinate(grid())
    curve = base_stall_curve(reynolds)
    shape = section_shape(thickness_pct, edge)
    camber = camber_effect(camber_pct, tables.section_model().camber_crest)
    ahead = turned(nose)
    attached = _attached_branch(alpha, curve, shape, camber, ahead)
    separated = separated_flow(
        attached, edge, aspect_ratio, post_stall_factor, stall_region_factor, edge_sweep_deg,
        centre_shift, induced, nose,
    )  # fmt: skip
    share = stall_share(thickness_pct, camber_pct, edge, reynolds, stall_shift_deg, ahead)
    table = assemble(attached, separated, share, attached_fade(), late_share(share))
    return mirrored(table) if camber_pct == 0.0 and nose == PLAIN else table
