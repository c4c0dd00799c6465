"""Two-dimensional sections over ±180°, built on the measured NACA 0015."""

from functools import lru_cache
from typing import Literal, NamedTuple

import numpy as np
from scipy.interpolate import PchipInterpolator

from sim import tables
from sim.aero.sections.branches import Branch, assemble, mirrored
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

Edge = Literal["round", "sharp"]

TWO_PI = 2.0 * np.pi


class StallCurve(NamedTuple):
    """Attached flow of the base section at one Reynolds number.

    peak : angle of maximum lift [deg]; drag : CD at 0°; drag_growth : CD per rad²;
    alpha_deg, share : attached share of the force against angle, (n,) each.
    """

    peak: float
    drag: float
    drag_growth: float
    alpha_deg: np.ndarray
    share: np.ndarray


class Shape(NamedTuple):
    """Ratios to the base section: stall angle, leading-edge suction, drag."""

    stall_share: float
    suction: float
    drag_factor: float


def _measured(reynolds: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return alpha [deg], CN, CC of the table [sheldahl1981] at one of its Reynolds numbers."""
    columns = tables.naca0015()
    rows = columns.Re == reynolds
    degrees = columns.alpha_deg[rows]
    lift, drag = columns.CL[rows], columns.CD[rows]
    cos_a, sin_a = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return degrees, lift * cos_a + drag * sin_a, lift * sin_a - drag * cos_a


@lru_cache
def _separated_curves(edge: Edge) -> tuple[PchipInterpolator, PchipInterpolator]:
    """Return CN and CC of separated flow against |alpha| [deg], 0 to 180.

    Measured [sheldahl1981] from `measured_from_deg` on (one curve for every Reynolds number, so the
    lowest will do). Own: below, CN is a cubic from its slope at 0 to the measured value and
    slope, and CC follows from the measured drag and that CN.
    """
    m = tables.section_model()
    start = m.measured_from_deg
    degrees, cn, cc = _measured(m.reynolds_lowest)
    far = degrees >= start
    tail = PchipInterpolator(degrees[far], cn[far])
    near = np.arange(0.0, start, 2.5)
    t = near / start
    span = np.radians(start)
    slope = np.degrees(float(tail.derivative()(start)))
    cubic = (
        t * (1.0 - t) ** 2 * span * m.separated_slope_per_rad.of(edge)
        + t**2 * (3.0 - 2.0 * t) * float(tail(start))
        - t**2 * (1.0 - t) * span * slope
    )
    normal = PchipInterpolator(np.append(near, degrees[far]), np.append(cubic, cn[far]))
    knots = np.array(m.separated_axial_at_deg)
    radians = np.radians(knots)
    drag = np.interp(knots, degrees, cn) * np.sin(radians) - np.interp(knots, degrees, cc) * np.cos(
        radians
    )
    axial = -(drag - normal(knots) * np.sin(radians)) / np.cos(radians)
    axial_knots = np.concatenate(([0.0], knots, degrees[far]))
    axial_values = np.concatenate(([m.separated_axial_at_zero], axial, cc[far]))
    return normal, PchipInterpolator(axial_knots, axial_values)


@lru_cache
def _stall_curve(reynolds: float) -> StallCurve:
    """Return the attached part of the table [sheldahl1981] at one of its Reynolds numbers [-].

    The share is what makes attached and separated branch add up to the measured CN. It
    may not rise again with angle and is 0 where the measured CN lies below the separated
    branch: that removes the dips of the low Reynolds numbers, which the free-streamline
    bound forbids. One pass of a 1-2-1 filter takes the corners off.
    """
    m = tables.section_model()
    degrees, cn, cc = _measured(reynolds)
    near = degrees <= m.seam_to_deg
    degrees, cn, cc = degrees[near], cn[near], cc[near]
    alpha = np.radians(degrees)
    lift = cn * np.cos(alpha) + cc * np.sin(alpha)
    drag = cn * np.sin(alpha) - cc * np.cos(alpha)
    peak = int(np.argmax(lift[degrees < m.seam_from_deg]))
    rising = degrees <= degrees[peak]
    growth = np.sum((drag - drag[0])[rising] * alpha[rising] ** 2) / np.sum(alpha[rising] ** 4)
    attached = TWO_PI * np.sin(alpha) * np.cos(alpha) + (drag[0] + growth * alpha**2) * np.sin(
        alpha
    )
    separated = _separated_curves("round")[0](degrees)
    first = max(1, int(np.argmax(degrees >= 0.4 * degrees[peak])))
    share = np.ones_like(degrees)
    share[first:] = (cn - separated)[first:] / (attached - separated)[first:]
    share = np.minimum.accumulate(np.clip(share, 0.0, 1.0))
    share *= 1.0 - smooth_step(degrees, m.seam_from_deg, m.seam_to_deg)
    share[1:-1] = 0.25 * share[:-2] + 0.5 * share[1:-1] + 0.25 * share[2:]
    return StallCurve(float(degrees[peak]), float(drag[0]), float(growth), degrees, share)


def base_stall_curve(reynolds: float) -> StallCurve:
    """Return the attached part of the NACA 0015 at any Reynolds number [-]; own: between tables.

    Parameters
    ----------
    reynolds : float
        On the chord; linear in its logarithm between the measured ones, constant beyond
        the ends stated in section_model.toml.
    """
    m = tables.section_model()
    low, high = m.reynolds_lowest, m.reynolds_highest
    measured = np.unique(tables.naca0015().Re)
    measured = measured[(measured >= low) & (measured <= high)]
    reynolds = min(max(reynolds, low), high)
    k = min(int(np.searchsorted(measured, reynolds, side="right")) - 1, measured.size - 2)
    f = np.log(reynolds / measured[k]) / np.log(measured[k + 1] / measured[k])
    a, b = _stall_curve(float(measured[k])), _stall_curve(float(measured[k + 1]))
    return StallCurve(
        a.peak + f * (b.peak - a.peak),
        a.drag + f * (b.drag - a.drag),
        a.drag_growth + f * (b.drag_growth - a.drag_growth),
        a.alpha_deg,
        a.share + f * (b.share - a.share),
    )


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
    normal, axial = _separated_curves(edge)
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
    alpha: np.ndarray, curve: StallCurve, shape: Shape, camber: CamberEffect
) -> Branch:
    """Return attached flow [-]: slope 2 pi [abbott1959], quadratic drag, part of the suction."""
    lift = TWO_PI * np.sin(alpha - camber.zero_lift)
    drag = shape.drag_factor * (curve.drag + curve.drag_growth * (alpha - camber.ideal) ** 2)
    cos_a, sin_a = np.cos(alpha), np.sin(alpha)
    return Branch(
        lift * cos_a + drag * sin_a,
        shape.suction * lift * sin_a - drag * cos_a,
        np.full_like(alpha, camber.moment),
    )


def attached_fade() -> np.ndarray:
    """Return (N_S,) [-]: 1 where attached flow can exist, 0 where it cannot; own: see the table."""
    m = tables.section_model()
    degrees = np.degrees(np.abs(alpha_of_coordinate(grid())))
    return 1.0 - smooth_step(degrees, m.attached_fade_from_deg, m.attached_fade_to_deg)


def _stall_centre(alpha: np.ndarray, camber: CamberEffect) -> np.ndarray:
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
    return in_own_air(separated.moved(centre_shift), *induced)


def stall_share(
    thickness_pct: float, camber_pct: float, edge: Edge, reynolds: float, stall_shift_deg: float
) -> np.ndarray:
    """Return the static attached share (N_S,) [-] of the force; parameters as `section_table`.

    Own: the base section's curve, stretched to the angle of stall of thickness and camber.
    """
    m = tables.section_model()
    alpha = alpha_of_coordinate(grid())
    curve, shape = base_stall_curve(reynolds), section_shape(thickness_pct, edge)
    camber = camber_effect(camber_pct, m.camber_crest)
    from_stall_centre = np.degrees(alpha - _stall_centre(alpha, camber))
    later = m.later_stall_deg + stall_shift_deg
    stretch = curve.peak / max(curve.peak * shape.stall_share + later, 1.0)
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
    attached = _attached_branch(alpha, curve, shape, camber)
    separated = separated_flow(
        attached, edge, aspect_ratio, post_stall_factor, stall_region_factor, edge_sweep_deg,
        centre_shift, induced,
    )  # fmt: skip
    share = stall_share(thickness_pct, camber_pct, edge, reynolds, stall_shift_deg)
    table = assemble(attached, separated, share, attached_fade(), late_share(share))
    return mirrored(table) if camber_pct == 0.0 else table
