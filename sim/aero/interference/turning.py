"""What lying surfaces do to each other's strips: foreplane and wing, or two wings.

A foreplane's sheet turns the air of the wing behind it down within its own span and up outside,
and the wing's bound vortices turn that of the foreplane up: by the lattice of both plan forms,
without constants [katz2001]. Each is driven by all that the other lifts. What comes from ahead
does so by the lag state of downwash, after the way between them; what comes from behind by the
induced angle of the wing, which knows no way.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.geometry.effective import elliptic_induced
from sim.aero.geometry.felt import own_slope
from sim.aero.geometry.kinds import facing_sweep
from sim.aero.geometry.lattice import Planform
from sim.aero.geometry.lattice_pair import load_lost
from sim.aero.geometry.panels import Panel, aspect_ratio, half_span, upright
from sim.aero.interference.forewash import carried_through, felt_angles
from sim.core import layout as k
from sim.core.loads.turned_air import heights_of_turns
from sim.describe.geometry import Surface

HALF = 0.5  # of the narrower span: two wings that share less are the panels of one


class Meeting(NamedTuple):
    """Which surface, ``receiver``, stands in the flow of which other, both by their place."""

    receiver: int
    source: int


def meetings(surfaces: tuple[Surface, ...]) -> Iterator[Meeting]:
    """Yield who stands in whose flow, beside the tail in the wing's, which `induced` sees to.

    A wing in the first foreplane's, a foreplane in the wing's; without one, of two wings each in
    the other's; a tail in the foreplane's as well. Of several the first named counts, by
    definition.
    """
    lying = [j for j, s in enumerate(surfaces) if not upright(s) and s.mirrored]
    wings = [j for j in lying if surfaces[j].role == "wing"]
    foreplanes = [j for j in lying if surfaces[j].role == "canard"]
    for j in wings:
        others = foreplanes or [o for o in wings if o != j and _abreast(surfaces[o], surfaces[j])]
        if others:
            yield Meeting(j, others[0])
    if not foreplanes or not wings:
        return
    yield from (Meeting(j, wings[0]) for j in foreplanes)
    yield from (Meeting(j, foreplanes[0]) for j in lying if surfaces[j].role == "tail")


def _abreast(first: Surface, second: Surface) -> bool:
    """Return True for wings that share their span, not inner and outer panel of one.

    Geometry [m].
    """
    inner = 0.001 * max(first.root_right_mm, second.root_right_mm)
    outer = min(half_span(first), half_span(second))
    narrow = min(half_span(s) - 0.001 * s.root_right_mm for s in (first, second))
    return outer - inner > HALF * narrow


def behind_m(panel: Panel, other: Panel) -> float:
    """Return how far aft of another surface one lies, by quarter chords of mean chords [m].

    By definition.
    """
    mean = tables.strip_model().mean_chord_at_share
    return float(other.point(mean, 0.25)[0] - panel.point(mean, 0.25)[0])


@lru_cache(maxsize=64)  # the same for all set-ups of an aeroplane
def _lost(
    source: Planform, receiver: Planform, heights: tuple[float, ...]
) -> tuple[np.ndarray, np.ndarray]:
    """Return what `load_lost` does, by the lattice [katz2001]; lengths in m."""
    return load_lost(source, receiver, np.array(heights))


def _rounded(shape: Planform) -> Planform:
    """Return a plan form in whole hundredths of a mm, so that it is found again; geometry."""
    return Planform(*(tuple(float(x) for x in np.round(part, 5)) for part in shape))


class Sheet(NamedTuple):
    """Where the sheet of another surface passes: heights to reckon it at (h,) [m].

    ``over`` and ``behind``: how high it lies over the surface that meets it at no angle of
    attack, and how far aft of it that one lies, in half spans of the surface that leaves it.
    """

    heights: np.ndarray
    over: float
    behind: float


def sheet_at(panel: Panel, other: Panel) -> Sheet:
    """Return where another surface's sheet passes a surface [m]; what lies ahead meets no sheet.

    Geometry, half way out to the nearer tip, from trailing edge to quarter chord.
    """
    half = half_span(other.surface)
    out = HALF * min(half, half_span(panel.surface))
    there, here = _at(other, out, 1.0), _at(panel, out, 0.25)
    over = float(here[2] - there[2])
    if behind_m(panel, other) <= 0.0:
        return Sheet(np.array([over]), 0.0, 0.0)
    aft = max(0.0, float(there[0] - here[0]))
    return Sheet(half * heights_of_turns(), over / half, aft / half)


def _at(panel: Panel, out: float, chordwise: float) -> np.ndarray:
    """Return the point (3,) [m] of a panel at a distance from the centreline; geometry."""
    gap = abs(float(panel.root[1]))
    share = (out - gap) / (half_span(panel.surface) - gap)
    return panel.point(min(1.0, max(0.0, share)), chordwise)


def fill_turned(
    surfaces: tuple[Surface, ...], panels: list[Panel], strips: np.ndarray, owner: np.ndarray,
    rows: np.ndarray, slopes: np.ndarray,
) -> None:  # fmt: skip
    """Fill S_TURN of strips, F_TURNED of surfaces, and the downwash columns of what lies ahead.

    Own: how turns [rad] reach the states that drive them. Comes after `add_downwash`.

    Parameters
    ----------
    panels : list of Panel
        All of the aeroplane.
    strips : float array (N_STRIP_ROWS, n)
        S_INDUCED filled.
    owner : int array (n,)
        Surface of each strip.
    rows : float array (m, N_SURFACE_COLS)
    slopes : float array (m,)
        Normal-force slope of each surface's section [1/rad].
    """
    right = [next(p for p in panels if p.surface is s) for s in surfaces]
    for_tail = rows[:, k.F_WASH_GAIN] != 0.0  # by `add_downwash`
    for receiver, source in meetings(surfaces):
        panel, other, row = right[receiver], right[source], rows[receiver]
        sheet, away = sheet_at(panel, other), behind_m(panel, other)
        state, size, summed = 2 * source, max(1e-9, float(rows[source, k.F_K0])), 0.0
        if away > 0.0 and not for_tail[source]:
            state = 2 * len(surfaces) + source
            size = 2.0 * elliptic_induced(aspect_ratio(surfaces[source]))
            if rows[source, k.F_WASH_GAIN] == 0.0:
                rows[source, [k.F_WASH_GAIN, k.F_WASH_STALLED, k.F_WASH_ARM]] = (
                    size, tables.strip_model().stalled_downwash_share, away,
                )  # fmt: skip
            summed = row[k.F_WASHED]  # what a tail has of it already
        row[[k.F_TURNED, k.F_TURNED_OVER, k.F_TURNED_BEHIND]] = 1.0 + state, *sheet[1:]
        mine = owner == receiver
        slope = own_slope(surfaces[receiver], slopes[receiver])
        shapes = (_rounded(carried_through(p)) for p in (other, panel))
        at, lost = _lost(*shapes, tuple(float(h) for h in np.round(sheet.heights, 4)))
        turns = np.zeros((k.N_TURNS, int(mine.sum())))
        for height, less in enumerate(lost):
            turns[height] = felt_angles(panel, strips[:, mine], row, slope, at, less)
        # a strip that faces across a swept line meets the turn of the air steeper
        strips[k.S_TURN :, mine] = (turns / size - summed) / np.cos(
            facing_sweep(surfaces[receiver])
        )
