"""Separated flow past plates and sections: normal force, aspect ratio, centre of pressure."""

from typing import NamedTuple

import numpy as np

from sim import tables

Floats = float | np.ndarray


class StallPoint(NamedTuple):
    """Where a curve of separated flow takes over: angle [rad], lift and drag there."""

    alpha: float
    lift: float
    drag: float


def smooth_step(x: Floats, start: float, end: float) -> np.ndarray:
    """Return 0 below start, 1 above end, 3t² - 2t³ between [-]; by definition."""
    t = np.clip((np.asarray(x, dtype=float) - start) / (end - start), 0.0, 1.0)
    return t * t * (3.0 - 2.0 * t)


def rayleigh_normal_force(alpha: Floats) -> Floats:
    """Return CN of a two-dimensional plate with a wake at ambient pressure.

    Parameters
    ----------
    alpha : array [rad]
        0 to pi. The lower bound of any plate or section: there is no base suction.
        Source: [rayleigh1876], [lamb1932], closed form.
    """
    return 2.0 * np.pi * np.sin(alpha) / (4.0 + np.pi * np.sin(alpha))


def rayleigh_rear_share(chord_share: float, alpha: float) -> float:
    """Return the share [-] of the normal force that acts on the rear of a plate with a wake.

    Along either half of the plate, from its edge to where the flow divides, a length goes as
    e^h sinh h/(cosh h +- cos alpha)^3 dh, its load as 2 sinh^2 h/(cosh h +- cos alpha)^3 dh, minus
    to the trailing edge: free streamlines, [rayleigh1876], [lamb1932].

    Parameters
    ----------
    chord_share : float in [0, 1]
        Of the plate, from its trailing edge.
    alpha : float [rad]
        Above 0, at most pi/2.
    """
    h = np.linspace(0.0, 16.0, 8001)
    length, load = [], []
    for side, order in ((-1.0, 1), (1.0, -1)):
        cubed = (np.cosh(h) + side * np.cos(alpha)) ** 3
        length.append((np.exp(h) * np.sinh(h) / cubed)[::order])
        load.append((2.0 * np.sinh(h) ** 2 / cubed)[::order])
    at, carried = (np.cumsum(np.concatenate(x)) for x in (length, load))
    return float(np.interp(chord_share, at / at[-1], carried / carried[-1]))


def viterna_drag_at_90(aspect_ratio: float) -> float:
    """Return CD [-] across the flow of a blade, [viterna1981]: 1.11 + 0.018 AR, for AR to 50."""
    return 1.11 + 0.018 * min(aspect_ratio, 50.0)


def viterna_corrigan(alpha: Floats, drag_at_90: float, stall: StallPoint) -> tuple[Floats, Floats]:
    """Return lift and drag from the stall to 90°.

    Parameters
    ----------
    alpha : array [rad]
        From the stall's angle to pi/2.
    drag_at_90 : float
        CD across the flow, see `viterna_drag_at_90`.
    stall : StallPoint
        The curves pass through it.

    Returns
    -------
    lift, drag : arrays like alpha
        Source: [viterna1981].
    """
    sin_s, cos_s = np.sin(stall.alpha), np.cos(stall.alpha)
    a2 = (stall.lift - drag_at_90 * sin_s * cos_s) * sin_s / cos_s**2
    b2 = (stall.drag - drag_at_90 * sin_s**2) / cos_s
    sin_a, cos_a = np.sin(alpha), np.cos(alpha)
    lift = 0.5 * drag_at_90 * np.sin(2.0 * alpha) + a2 * cos_a**2 / sin_a
    drag = drag_at_90 * sin_a**2 + b2 * cos_a
    return lift, drag


def aspect_ratio_share(
    alpha: Floats, aspect_ratio: float, drag_at_90: float, stall: StallPoint
) -> np.ndarray:
    """Return the share of a section's separated force that a finite wing keeps.

    The ratio of two Viterna-Corrigan normal forces through the same stall point, one
    with the wing's drag across the flow and one with the section's. One factor on both
    components: lift over drag does not change with aspect ratio [timmer2010].

    Parameters
    ----------
    alpha : array [rad]
        0 to pi; mirrored about pi/2; 1 before the stall point.
    aspect_ratio : float
        Of the wing.
    drag_at_90 : float
        CD of the section across the flow; wings as high as that lose nothing.
    stall : StallPoint
        See above.
    """
    wing_drag = min(viterna_drag_at_90(aspect_ratio), drag_at_90)
    folded = np.maximum(np.minimum(alpha, np.pi - alpha), stall.alpha)
    wing_lift, wing_drag_curve = viterna_corrigan(folded, wing_drag, stall)
    lift, drag = viterna_corrigan(folded, drag_at_90, stall)
    cos_a, sin_a = np.cos(folded), np.sin(folded)
    return (wing_lift * cos_a + wing_drag_curve * sin_a) / (lift * cos_a + drag * sin_a)


def swept_fullness(sweep_deg: float) -> float:
    """Return how full separated flow is [-] under a swept leading edge [deg], vortex_model.toml.

    The fullness is c of `plates.separated_normal_force`. Sharp deltas keep 1.4 to 1.7 of normal
    force at 35 to 50 degrees, long after burst has come forward over the wing
    [wentz1968]; an unswept plate about 1.05.
    """
    values = tables.vortex_model()
    return float(np.interp(sweep_deg, values.swept_from_to_deg, values.swept_fullness))


def kept_by_sweep(alpha: np.ndarray, fullness: float, swept: float) -> np.ndarray:
    """Return the factor on separated flow when its fullness rises to that of a swept edge.

    Own: two of `plates.separated_normal_force`, one over the other.

    Parameters
    ----------
    alpha : array [rad]
        -pi to pi; flying backwards the edge is a trailing one, and nothing changes.
    fullness, swept : float
        Of the flow as it is, and what `swept_fullness` says; the greater holds.
    """
    size = np.abs(alpha)
    rest = 1.0 - rayleigh_normal_force(size) / rayleigh_normal_force(0.5 * np.pi)
    gain = (1.0 + max(fullness, swept) * rest) / (1.0 + fullness * rest)
    return np.where(size < 0.5 * np.pi, gain, 1.0)


def under_swept_edge(
    separated: np.ndarray,
    attached: np.ndarray,
    alpha: np.ndarray,
    fullness: float,
    sweep_deg: float,
) -> np.ndarray:
    """Return the factor (n,) on separated flow that a swept leading edge gives it.

    Own: flow that has let go pushes no harder than a share of what attached flow would: the
    two meet softly, by a root of sums of powers, vortex_model.toml.

    Parameters
    ----------
    separated, attached : array (n,)
        CN of both branches.
    alpha, fullness
        See `kept_by_sweep`.
    sweep_deg : float [deg]
        Of the leading edge.
    """
    values = tables.vortex_model()
    gain = kept_by_sweep(alpha, fullness, swept_fullness(sweep_deg))
    most = values.separated_most_share * np.abs(attached)
    raised = np.abs(separated) * gain
    power = values.separated_bound_power
    soft = raised * most / np.maximum((raised**power + most**power) ** (1.0 / power), 1e-12)
    # never less than it was, and where no flow can be attached the bound means nothing
    free = smooth_step(np.degrees(np.abs(alpha)), *values.separated_bound_fades_deg)
    return np.maximum(1.0, (soft + free * (raised - soft)) / np.maximum(np.abs(separated), 1e-12))


def centre_of_pressure(alpha: Floats) -> Floats:
    """Return the centre of pressure in separated flow, as a share of the chord from its front.

    The mean of the free-streamline plate's, 0.5 - 0.75 cos a/(4 + pi sin a)
    [rayleigh1876], and Lindenburg's rule for sections, 0.368 + a/600° [lindenburg2003];
    they differ by 0.035 at 30° and 0.02 at 90°.

    Parameters
    ----------
    alpha : array [rad]
        0 to pi.
    """
    plate = 0.5 - 0.75 * np.cos(alpha) / (4.0 + np.pi * np.sin(alpha))
    section = 0.368 + np.degrees(alpha) / 600.0
    return 0.5 * (plate + section)


def stall_region_scale(alpha: np.ndarray, factor: float) -> np.ndarray:
    """Return a drawn factor where strip theory is uncertain, 1 elsewhere.

    Uncertain "between maximum lift and 35 degrees" [knight1927]: whole up to the first
    angle of strip_model.toml, gone at the second; forwards and backwards alike.

    Parameters
    ----------
    alpha : array [rad]
        -pi to pi.
    factor : float
        On the forces of separated flow there.
    """
    degrees = np.degrees(np.minimum(np.abs(alpha), np.pi - np.abs(alpha)))
    whole, gone = tables.strip_model().stall_region_deg
    return 1.0 + (factor - 1.0) * (1.0 - smooth_step(degrees, whole, gone))
