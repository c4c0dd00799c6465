"""Strips under a leading-edge vortex (strakes, sharp deltas) over ±180°, no induced angle."""

import numpy as np

from sim import tables
from sim.aero.sections.branches import Branch, assemble, mirrored
from sim.aero.sections.plates import friction_drag, plate_shape, separated_branch
from sim.aero.sections.separated import smooth_step, stall_region_scale, under_swept_edge
from sim.core.loads.lookup import alpha_of_coordinate, grid


def burst_alpha(sweep_deg: float) -> float:
    """Return the angle of attack at which the vortex bursts at the trailing edge [deg] [wentz1971].

    Parameters
    ----------
    sweep_deg : float [deg]
        Of the leading edge, less the sideslip on the windward side; vortex_burst.csv,
        ± 4°, its end values beyond its ends.
    """
    columns = tables.vortex_burst()
    return float(np.interp(sweep_deg, columns.sweep_deg, columns.burst_alpha_deg))


def vortex_table(
    kp: float,
    kv: float,
    burst_alpha_deg: float,
    plate_aspect_ratio: float,
    burst_shift_deg: float = 0.0,
    vortex_factor: float = 1.0,
    post_stall_factor: float = 1.0,
    stall_region_factor: float = 1.0,
    potential_centre: float | None = None,
    edge_sweep_deg: float = 0.0,
    centre_shift: float = 0.0,
) -> np.ndarray:
    """Return the strip table of a sharp, highly swept surface.

    Before burst CN = kp sin a cos a + vortex_factor kv sin² a, the suction analogy
    [polhamus1966]; after it a plate's. No suction: only friction acts along the chord.

    Parameters
    ----------
    kp, kv : float
        See sim.aero.geometry.lattice.polhamus.
    burst_alpha_deg : float [deg]
        See `burst_alpha`; vortex lift fades about it, vortex_model.toml.
    plate_aspect_ratio : float
        Of the plan form, for separated flow and the default potential centre.
    burst_shift_deg : float [deg]
        Moves burst outward on both sides.
    vortex_factor, post_stall_factor, stall_region_factor : float
        On the vortex part; on all coefficients of separated flow; on those up to about 35°.
    potential_centre : float, optional
        Chordwise centre of the attached load of each strip, as a share of its chord;
        a pointed delta's by aspect ratio if not given, potential_centre.csv.
    edge_sweep_deg : float [deg]
        Of the leading edge, for what flow keeps after burst.
    centre_shift : float
        Moves the centre of pressure of separated flow aft, as a share of the chord.
    """
    m = tables.vortex_model()
    alpha = alpha_of_coordinate(grid())
    sin_a, cos_a = np.sin(alpha), np.cos(alpha)
    if potential_centre is None:
        columns = tables.potential_centre()
        potential_centre = float(np.interp(plate_aspect_ratio, columns.aspect_ratio, columns.delta))
    linear = kp * sin_a * np.maximum(cos_a, 0.0)
    vortex = vortex_factor * kv * sin_a * np.abs(sin_a)
    shape = plate_shape(plate_aspect_ratio)
    separated = separated_branch(shape.cn90, shape.fullness).scaled(
        post_stall_factor * stall_region_scale(alpha, stall_region_factor)
    )
    friction = -friction_drag(m.friction_one_side, 0.0) * cos_a
    attached = Branch(
        linear + vortex,
        friction,
        -linear * (potential_centre - 0.25) - vortex * (m.vortex_centre - 0.25),
    )
    separated = separated.scaled(
        under_swept_edge(separated.cn, attached.cn, alpha, shape.fullness, edge_sweep_deg)
    )
    separated = separated.moved(centre_shift)
    degrees = np.degrees(np.abs(alpha))
    start = burst_alpha_deg + burst_shift_deg
    share = 1.0 - smooth_step(
        degrees, max(start - m.burst_lead_deg, 0.0), start + m.burst_width_deg
    )
    fade = 1.0 - smooth_step(degrees, m.attached_fade_from_deg, m.attached_fade_to_deg)
    return mirrored(assemble(attached, separated._replace(cc=friction), share, fade))
