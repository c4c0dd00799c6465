"""Low-aspect-ratio surfaces (fins, small tails) over ±180°: total force, no induced angle.

The shape past the linear range, and its strong dependence on aspect ratio, is Eiffel's:
the side edges of a squarish plate carry it to a peak far above its value at 90°.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.sections.aerofoil import section_shape, stall_centre
from sim.aero.sections.base_section import Edge
from sim.aero.sections.branches import Branch, assemble, mirrored
from sim.aero.sections.drooped import PLAIN, Drooped, Turned, from_ahead, let_go, turned
from sim.aero.sections.finite_wing import helmbold_slope
from sim.aero.sections.own_air import in_own_air
from sim.aero.sections.separated import (
    Floats,
    centre_of_pressure,
    rayleigh_normal_force,
    smooth_step,
    stall_region_scale,
    under_swept_edge,
)
from sim.aero.sections.thin_aerofoil import camber_effect
from sim.core.loads.lookup import alpha_of_coordinate, grid

RIGHT_ANGLE = 0.5 * np.pi


class PlateShape(NamedTuple):
    """A plate's normal force by aspect ratio.

    cn90 : CN across the flow; side_edge : CN per sin² of the side edges; fullness : see
    plate_model.toml; centre, width : angle and width of the logistic stall [rad].
    """

    cn90: float
    side_edge: float
    fullness: float
    centre: float
    width: float


def plate_normal_force_90(aspect_ratio: float) -> float:
    """Return CN [-] of a plate across the flow.

    The square's [hoerner1965] times a ratio by aspect ratio [eiffel1910].
    """
    columns = tables.eiffel_plates_normal()
    rows = columns.series == "equal area 225 cm2"
    ratio = np.interp(aspect_ratio, columns.aspect_ratio[rows], columns.K_over_K_square[rows])
    return float(tables.plate_model().square_cd90 * ratio)


def separated_normal_force(folded: Floats, cn90: float, fullness: float) -> Floats:
    """Return CN [-] of a fully separated finite plate, folded angle 0 to pi/2 [rad].

    CN90 r (1 + c (1 - r)), r of [rayleigh1876]; own: the fullness c, plate_model.toml.
    """
    r = rayleigh_normal_force(folded) / rayleigh_normal_force(RIGHT_ANGLE)
    return cn90 * r * (1.0 + fullness * (1.0 - r))


def separated_fullness(aspect_ratio: float) -> float:
    """Return the fullness [-] by aspect ratio; own: plate_model.toml."""
    m = tables.plate_model()
    return float(np.interp(aspect_ratio, m.separated_aspect_ratios, m.separated_fullness))


def _fit(row: int) -> tuple[float, float, float, float]:
    """Return side_edge, fullness, stall centre and width [rad] of one of [eiffel1910]'s plates.

    Own: the side-edge part is fitted (least squares) to his values well below the peak, less
    the slope of [helmbold1942]. The logistic then has the height that puts the sum of both branches
    on his peak, and the slope that makes it level there, but no less than a least width.
    """
    m, columns = tables.plate_model(), tables.eiffel_plates_inclined()
    aspect_ratio = float(columns.aspect_ratio[row])
    cn90 = plate_normal_force_90(aspect_ratio)
    slope = helmbold_slope(aspect_ratio)
    peak_deg = float(columns.at_alpha_deg[row])
    degrees = np.array([6.0, 12.0, 20.0])
    shares = columns.CN_over_CN90_at_6deg, columns.at_12deg, columns.at_20deg
    measured = cn90 * np.array([share[row] for share in shares])
    used = degrees <= m.fit_below_peak_share * peak_deg
    sin_a, cos_a = np.sin(np.radians(degrees)), np.cos(np.radians(degrees))
    rest = (measured - slope * sin_a * cos_a)[used]
    side_edge = max(0.0, float(np.sum(rest * sin_a[used] ** 2) / np.sum(sin_a[used] ** 4)))
    fullness = separated_fullness(aspect_ratio)

    def branches(a: float) -> tuple[float, float]:
        on = slope * np.sin(a) * np.cos(a) + side_edge * np.sin(a) ** 2
        return float(on), float(separated_normal_force(a, cn90, fullness))

    peak, step = np.radians(peak_deg), 1e-4
    on, off = branches(peak)
    (on_up, off_up), (on_down, off_down) = branches(peak + step), branches(peak - step)
    height = cn90 * float(columns.first_max_CN_over_CN90[row])
    share = float(np.clip((height - off) / (on - off), *m.peak_share_ends))
    rise = ((on_up - on_down) * share + (off_up - off_down) * (1.0 - share)) / (2.0 * step)
    fall = max(rise / (on - off), 1e-6)
    width = max(share * (1.0 - share) / fall, float(np.radians(m.stall_width_least_deg)))
    return side_edge, fullness, peak - width * np.log((1.0 - share) / share), width


@lru_cache
def plate_shape(aspect_ratio: float) -> PlateShape:
    """Return the shape of a plate [-, rad], linear in aspect ratio between [eiffel1910]'s."""
    columns = tables.eiffel_plates_inclined()
    rows = np.flatnonzero(np.isfinite(columns.at_alpha_deg))
    fits = np.array([_fit(int(row)) for row in rows])
    at = columns.aspect_ratio[rows]
    values = [float(np.interp(aspect_ratio, at, fits[:, i])) for i in range(fits.shape[1])]
    return PlateShape(plate_normal_force_90(aspect_ratio), *values)


def plate_table(
    slope_aspect_ratio: float,
    plate_aspect_ratio: float,
    stall_shift_deg: float = 0.0,
    post_stall_factor: float = 1.0,
    thickness_pct: float = 6.0,
    edge: Edge = "round",
    stall_region_factor: float = 1.0,
    edge_sweep_deg: float = 0.0,
    potential_centre: float | None = None,
    centre_shift: float = 0.0,
    side_edge_factor: float = 1.0,
    induced: tuple[float, float] = (0.0, 0.0),
    nose: Drooped = PLAIN,
    camber_pct: float = 0.0,
) -> np.ndarray:
    """Return the strip table of a low-aspect-ratio surface.

    Parameters
    ----------
    slope_aspect_ratio : float
        Sets the lift slope (Helmbold): with end-plate effect if there is any.
    plate_aspect_ratio : float
        With end-plate effect too, without sweep; sets the shape past the linear range: a half
        wing on a wall stalls as the whole one does [whicker1958]. Below 1 as at 1.
    stall_shift_deg : float [deg]
        Moves the stall outward on both sides.
    post_stall_factor : float
        On all coefficients of separated flow.
    thickness_pct : float [% of chord]
        For drag and suction.
    edge : str
        Leading edge, "round" or "sharp".
    stall_region_factor : float
        On separated flow up to about 35 degrees.
    edge_sweep_deg : float [deg]
        Of the leading edge, for what separated flow keeps.
    potential_centre : float, optional
        Chordwise centre of the linear load, as a share of the strip's chord; a rectangle's
        by aspect ratio if not given, potential_centre.csv.
    centre_shift : float
        Moves the centre of pressure of separated flow aft, as a share of the chord.
    side_edge_factor : float
        On what the side edges give, and on separated flow up to 35 degrees or so: on the peak.
    induced : pair of floats
        Strength and lean as `own_air.in_own_air` takes them, where strips feel what they induce.
    nose : Drooped
        The leading edge, if it is turned down; its ``lean`` is the camber's too.
    camber_pct : float [% of chord]
        Crest on the lifting side positive.

    Returns
    -------
    array (N_S, N_COLUMNS)
        See sim.core.loads.lookup. Sources: [helmbold1942], [eiffel1910], [hoerner1965].
    """
    m, shape = tables.plate_model(), plate_shape(plate_aspect_ratio)
    shape = shape._replace(side_edge=side_edge_factor * shape.side_edge)
    stall_region_factor *= side_edge_factor
    alpha = alpha_of_coordinate(grid())
    ahead = _with_camber(turned(nose), camber_pct, nose.lean)
    size = np.abs(alpha - ahead.later)
    folded = np.minimum(size, np.pi - size)  # from the middle of what is attached
    scale = post_stall_factor * stall_region_scale(alpha, stall_region_factor)
    separated = separated_branch(shape.cn90, shape.fullness).scaled(scale)
    if potential_centre is None:
        columns = tables.potential_centre()
        potential_centre = float(
            np.interp(slope_aspect_ratio, columns.aspect_ratio, columns.rectangle)
        )
    suction = section_shape(thickness_pct, edge).suction
    attached = _attached_branch(slope_aspect_ratio, shape, suction, potential_centre, ahead)
    separated = separated.scaled(
        under_swept_edge(separated.cn, attached.cn, alpha, shape.fullness, edge_sweep_deg)
    )
    separated = let_go(separated, nose).moved(centre_shift)
    drag = friction_drag(m.friction_one_side, thickness_pct)
    attached = attached._replace(cc=attached.cc - drag * np.cos(alpha))
    separated = separated._replace(cc=separated.cc - drag * np.cos(alpha))
    separated = in_own_air(separated, *induced)
    centre = shape.centre + np.radians(stall_shift_deg)
    logistic = 1.0 / (1.0 + np.exp((folded - centre) / shape.width))
    share = np.minimum(1.0, logistic * (1.0 + np.exp(-centre / shape.width)))
    table = assemble(attached, separated, share, _fade())
    plain = nose.down == 0.0 and camber_pct == 0.0
    return mirrored(table) if plain else table


def _with_camber(nose: Turned, camber_pct: float, lean: float) -> Turned:
    """Return what nose and camber take off the angle of attack [rad] and their moment [-].

    Thin-aerofoil theory as of a section [abbott1959], the moment across the swept line
    [jones1947] as in `drooped.turned`; the stall about the same centre as a section's.
    """
    if camber_pct == 0.0:
        return nose
    camber = camber_effect(camber_pct, tables.section_model().camber_crest)
    alpha, ahead = alpha_of_coordinate(grid()), from_ahead()
    return Turned(
        nose.zero_lift + camber.zero_lift * ahead,
        nose.edge + camber.ideal * ahead,
        nose.later + stall_centre(alpha, camber) * ahead,
        nose.moment + camber.moment * np.cos(lean) ** 3 * ahead,
    )


def _fade() -> np.ndarray:
    """Return (N_S,) [-]: 1 where attached flow can exist, forwards or backwards; own."""
    m = tables.plate_model()
    size = np.abs(alpha_of_coordinate(grid()))
    degrees = np.degrees(np.minimum(size, np.pi - size))
    return 1.0 - smooth_step(degrees, m.attached_fade_from_deg, m.attached_fade_to_deg)


def plate_fade() -> np.ndarray:
    """Return (N_S,) [-]: 1 where a plate's attached flow can exist, 0 where it cannot.

    Own: plate_model.toml.
    """
    m = tables.plate_model()
    degrees = np.degrees(np.abs(alpha_of_coordinate(grid())))
    return 1.0 - smooth_step(degrees, m.attached_fade_from_deg, m.attached_fade_to_deg)


def friction_drag(one_side: float, thickness_pct: float) -> float:
    """Return CD [-] of both sides: friction times the form factor of [hoerner1965]."""
    m = tables.section_model()
    t = 0.01 * thickness_pct
    return 2.0 * one_side * (1.0 + m.form_factor_linear * t + m.form_factor_quartic * t**4)


@lru_cache
def separated_branch(cn90: float, fullness: float) -> Branch:
    """Return separated flow [-] of a plate on the grid, without friction [rayleigh1876]."""
    alpha = alpha_of_coordinate(grid())
    size = np.abs(alpha)
    folded = np.minimum(size, np.pi - size)
    cn = np.sign(alpha) * separated_normal_force(folded, cn90, fullness)
    return Branch(cn, np.zeros_like(cn), -cn * (centre_of_pressure(size) - 0.25))


def _attached_branch(
    aspect_ratio: float, shape: PlateShape, suction: float, centre: float, nose: Turned
) -> Branch:
    """Return attached flow [-]: linear part, side edges, and leading-edge suction while it lasts.

    Suction of a wing with elliptic loading is (a - a²/(pi AR)) sin², the leading-edge
    thrust that its induced drag leaves [polhamus1966]; flying backwards there is none. The edge
    keeps a part of its own, and all that tilts with a drooped nose.
    """
    m = tables.plate_model()
    alpha = alpha_of_coordinate(grid())
    sin_a, cos_a = np.sin(alpha), np.cos(alpha)
    slope = helmbold_slope(aspect_ratio)
    lifting, met = np.sin(alpha - nose.zero_lift), alpha - nose.edge
    linear = slope * lifting * np.abs(cos_a)
    edges = shape.side_edge * lifting * np.abs(lifting)
    forward = cos_a > 0.0
    place = np.where(forward, centre, 1.0 - centre)
    edge_place = np.where(forward, m.side_edge_centre, 1.0 - m.side_edge_centre)
    kept = suction / (1.0 + np.abs(met / np.radians(m.suction_half_deg)) ** m.suction_power)
    whole = slope - slope**2 / (np.pi * aspect_ratio)
    edge = np.sin(met) ** 2
    thrust = kept * whole * edge + whole * (lifting * sin_a - edge)
    return Branch(
        linear + edges,
        np.where(forward, thrust, 0.0),
        -linear * (place - 0.25) - edges * (edge_place - 0.25) + nose.moment,
    )
