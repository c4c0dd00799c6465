"""The measured NACA 0015, on which sections are built: its stall, and its separated flow."""

from functools import lru_cache
from typing import Literal, NamedTuple

import numpy as np

from sim import tables
from sim.aero.sections.finite_wing import TWO_PI
from sim.aero.sections.monotone import Monotone, monotone
from sim.aero.sections.separated import smooth_step

Edge = Literal["round", "sharp"]


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


def _measured(reynolds: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return alpha [deg], CN, CC of the table [sheldahl1981] at one of its Reynolds numbers."""
    columns = tables.naca0015()
    rows = columns.Re == reynolds
    degrees = columns.alpha_deg[rows]
    lift, drag = columns.CL[rows], columns.CD[rows]
    cos_a, sin_a = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return degrees, lift * cos_a + drag * sin_a, lift * sin_a - drag * cos_a


@lru_cache
def separated_curves(edge: Edge) -> tuple[Monotone, Monotone]:
    """Return CN and CC of separated flow against |alpha| [deg], 0 to 180.

    Measured [sheldahl1981] from `measured_from_deg` on (one curve for every Reynolds number, so the
    lowest will do). Own: below, CN is a cubic from its slope at 0 to the measured value and
    slope, and CC follows from the measured drag and that CN.
    """
    m = tables.section_model()
    start = m.measured_from_deg
    degrees, cn, cc = _measured(m.reynolds_lowest)
    far = degrees >= start
    tail = monotone(degrees[far], cn[far])
    near = np.arange(0.0, start, 2.5)
    t = near / start
    span = np.radians(start)
    slope = np.degrees(float(tail.slope(start)))
    cubic = (
        t * (1.0 - t) ** 2 * span * m.separated_slope_per_rad.of(edge)
        + t**2 * (3.0 - 2.0 * t) * float(tail(start))
        - t**2 * (1.0 - t) * span * slope
    )
    normal = monotone(np.append(near, degrees[far]), np.append(cubic, cn[far]))
    knots = np.array(m.separated_axial_at_deg)
    radians = np.radians(knots)
    drag = np.interp(knots, degrees, cn) * np.sin(radians) - np.interp(knots, degrees, cc) * np.cos(
        radians
    )
    axial = -(drag - normal(knots) * np.sin(radians)) / np.cos(radians)
    axial_knots = np.concatenate(([0.0], knots, degrees[far]))
    axial_values = np.concatenate(([m.separated_axial_at_zero], axial, cc[far]))
    return normal, monotone(axial_knots, axial_values)


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
    separated = separated_curves("round")[0](degrees)
    first = max(1, int(np.argmax(degrees >= m.attached_to_share * degrees[peak])))
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
