"""The section of a model propeller's blade at every angle, standing still and turning.

Constants: propeller_section.toml.
"""

import math
from functools import lru_cache

import numpy as np

from sim import tables
from sim.aero.sections.base_section import separated_curves
from sim.aero.sections.monotone import Monotone, monotone
from sim.aero.sections.separated import StallPoint, aspect_ratio_share, smooth_step


def zero_lift() -> float:
    """Return the angle without lift from the flat face [rad].

    Own: a thinned Clark Y keeps its flat face; camber and with it the angle go with thickness.
    """
    table = tables.propeller_section()
    return -math.radians(table.zero_lift_deg_per_pct * table.thickness_pct)


def flat_face_to_chord_line() -> float:
    """Return how far the chord line is turned against the flat face, leading edge up [rad].

    Geometry of a thinned Clark Y, as `zero_lift`. A marked pitch is of the face; blade angles
    taken from sections are of the chord line.
    """
    table = tables.propeller_section()
    return math.radians(table.chord_line_deg_per_pct * table.thickness_pct)


@lru_cache
def _separated() -> tuple[Monotone, Monotone]:
    """Return CN and CC of the separated blade against |alpha| [deg].

    The sharp-edged section of [sheldahl1981] and [eiffel1910], across the flow by aspect ratio
    [viterna1981], as for wings.
    """
    table, model = tables.propeller_section(), tables.section_model()
    normal, axial = separated_curves("sharp")
    degrees = np.linspace(0.0, 180.0, 181)
    match = math.radians(model.viterna_match_deg)
    cn, cc = float(normal(model.viterna_match_deg)), float(axial(model.viterna_match_deg))
    stall = StallPoint(
        match,
        cn * math.cos(match) + cc * math.sin(match),
        cn * math.sin(match) - cc * math.cos(match),
    )
    kept = aspect_ratio_share(np.radians(degrees), table.aspect_ratio, float(normal(90.0)), stall)
    return (
        monotone(degrees, kept * normal(degrees)),
        monotone(degrees, kept * axial(degrees)),
    )


def section_coefficients(
    alpha: np.ndarray, rotation: np.ndarray | float = 0.0
) -> tuple[np.ndarray, np.ndarray]:
    """Return lift and drag coefficients of the blade's section.

    Own: attached lift and a drag parabola, run by logistic curves at the stall angles into the
    separated section. Turning, a share of the normal force that separation took comes back:
    centrifugal pumping thins the separated layer [snel1994], [lindenburg2003], from memory.

    Parameters
    ----------
    alpha : array [rad], any angle
        Of the flat face.
    rotation : array or float
        That share, see `rotation_share`; 0 for the section at rest.
    """
    table = tables.propeller_section()
    wrapped = np.arctan2(np.sin(alpha), np.cos(alpha))
    width = math.radians(table.stall_width_deg)
    above = (wrapped - math.radians(table.stall_deg)) / width
    below = (math.radians(table.stall_negative_deg) - wrapped) / width
    attached = 1.0 / (1.0 + np.exp(np.clip(above, -60, 60)) + np.exp(np.clip(below, -60, 60)))
    lift = table.lift_slope_per_rad * (wrapped - zero_lift())
    drag = table.drag_least + table.drag_rise * (lift - table.drag_least_lift) ** 2
    sine, cosine, size = np.sin(wrapped), np.cos(wrapped), np.degrees(np.abs(wrapped))
    normal, axial = _separated()
    cn, cc = np.sign(wrapped) * normal(size), axial(size)
    cl = attached * lift + (1.0 - attached) * (cn * cosine + cc * sine)
    cd = attached * drag + (1.0 - attached) * (cn * sine - cc * cosine)
    fade = 1.0 - smooth_step(size, *table.rotation_fades_deg)
    back = rotation * fade * (lift - cl)
    return cl + back * cosine, cd + back * sine


def rotation_share(chord_over_radius: np.ndarray, turn_share: np.ndarray) -> np.ndarray:
    """Return the share [-] of lost lift that comes back by rotation: 3 (c/r)² (Omega r / W)².

    [snel1994], and [lindenburg2003] for the last factor, from memory; never more than all.

    Parameters
    ----------
    chord_over_radius : array
        c/r of the elements.
    turn_share : array
        Omega r / W.
    """
    gain = tables.propeller_section().rotation_gain
    return np.minimum(gain * (chord_over_radius * turn_share) ** 2, 1.0)
