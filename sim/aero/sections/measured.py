"""A section with a table of its own: where that covers it rules, the program goes on from its ends.

As with the base section, static coefficients are put together from attached and separated flow.
Attached flow has the table's own lift slope, zero lift and drag; its share is what makes both
add up to the table's force. What is left over is added, so that a strip finds what the table
says. From `seam_from_deg` on, or where the table ends, that is faded out and the separated flow
of `aerofoil` holds, as for every section.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.sections.aerofoil import (
    attached_fade,
    late_share,
    separated_flow,
    stall_share,
)
from sim.aero.sections.base_section import Edge
from sim.aero.sections.branches import Branch, assemble, mirrored
from sim.aero.sections.drooped import PLAIN, Drooped
from sim.aero.sections.monotone import monotone
from sim.aero.sections.separated import smooth_step
from sim.aero.sections.thin_aerofoil import camber_effect
from sim.core.loads.lookup import CC, CM, CN, alpha_of_coordinate, grid
from sim.describe.section_table import Polar, SectionTable


class SectionAsked(NamedTuple):
    """What a section's table is asked for, as `aerofoil.section_table`, in its order."""

    thickness_pct: float
    camber_pct: float
    edge: Edge
    reynolds: float
    aspect_ratio: float
    stall_shift_deg: float = 0.0
    post_stall_factor: float = 1.0
    stall_region_factor: float = 1.0
    edge_sweep_deg: float = 0.0
    centre_shift: float = 0.0
    induced: tuple[float, float] = (0.0, 0.0)
    nose: Drooped = PLAIN


class Covered(NamedTuple):
    """A polar at the nodes of the grid that it covers, from first to last.

    ``nodes`` (n,) are their places; ``cn``, ``cc``, ``cm`` (n,), cm None where none is given.
    """

    nodes: np.ndarray
    cn: np.ndarray
    cc: np.ndarray
    cm: np.ndarray | None


class Law(NamedTuple):
    """What a table says, in two branches on the grid.

    ``zero`` is the angle of zero lift, ``peaks`` those of the least and greatest lift [rad];
    ``share`` (N_S,) the static attached share; ``rest`` (3, N_S) what CN, CC and CM have more
    than both branches together.
    """

    attached: Branch
    share: np.ndarray
    rest: np.ndarray
    zero: float
    peaks: tuple[float, float]


def measured_table(table: SectionTable, asked: SectionAsked) -> np.ndarray:
    """Return the strip table (N_S, N_COLUMNS) [-] of a section with a table of its own.

    Own: the table's numbers where it covers, `aerofoil` beyond.

    Parameters
    ----------
    table : SectionTable
    asked : SectionAsked
        Thickness, camber and edge hold beyond the table's ends. Drawn values move its stall as
        they do any section's, and its separated flow. A table is of the section with its nose
        as it is: ``nose`` is not looked at.
    """
    law = _law(table, asked.thickness_pct, asked.camber_pct, asked.edge, asked.reynolds,
               asked.aspect_ratio, asked.edge_sweep_deg, asked.induced)  # fmt: skip
    separated = separated_flow(
        law.attached, asked.edge, asked.aspect_ratio, asked.post_stall_factor,
        asked.stall_region_factor, asked.edge_sweep_deg, asked.centre_shift, asked.induced,
    )  # fmt: skip
    alpha = alpha_of_coordinate(grid())
    at = _moved(law, asked.stall_shift_deg) if asked.stall_shift_deg != 0.0 else alpha
    share = np.interp(at, alpha, law.share)
    out = assemble(law.attached, separated, share, attached_fade(), late_share(share))
    for column, rest in zip((CN, CC, CM), law.rest, strict=True):
        out[:, column] += np.interp(at, alpha, rest)
    return mirrored(out) if table.one_sided and asked.camber_pct == 0.0 else out


def _moved(law: Law, shift_deg: float) -> np.ndarray:
    """Return the angle (N_S,) of the table [rad] at each of the grid when its stall is moved."""
    alpha = alpha_of_coordinate(grid())
    from_zero = alpha - law.zero
    peak = np.where(from_zero < 0.0, law.zero - law.peaks[0], law.peaks[1] - law.zero)
    least = np.radians(tables.section_model().least_stall_deg)
    peak = np.maximum(peak, least)
    stretch = peak / np.maximum(peak + np.radians(shift_deg), least)
    return np.clip(law.zero + from_zero * stretch, -np.pi, np.pi)


@lru_cache(maxsize=64)
def _law(
    table: SectionTable,
    thickness_pct: float,
    camber_pct: float,
    edge: Edge,
    reynolds: float,
    aspect_ratio: float,
    edge_sweep_deg: float,
    induced: tuple[float, float],
) -> Law:
    """Return what a table says [-] at a Reynolds number; parameters as `aerofoil.section_table`.

    Own: lift and drag by definition of the axes, and what is attached of them as `Law` says.
    """
    m = tables.section_model()
    found = _covered(table, reynolds)
    alpha = alpha_of_coordinate(grid())
    inside = alpha[found.nodes]
    lift = found.cn * np.cos(inside) + found.cc * np.sin(inside)
    drag = found.cn * np.sin(inside) - found.cc * np.cos(inside)
    zero, slope = _zero_and_slope(
        inside, lift, m.camber_side_deg, m.separated_slope_per_rad.of(edge)
    )
    peaks = (
        float(inside[np.argmin(np.where(inside < zero, lift, np.inf))]),
        float(inside[np.argmax(np.where(inside > zero, lift, -np.inf))]),
    )
    moment = camber_effect(camber_pct, m.camber_crest).moment
    if found.cm is not None:
        moment = found.cm[np.abs(np.degrees(inside - zero)) <= m.camber_side_deg].mean()
    attached = _attached(alpha, inside, drag, zero, slope, peaks)
    attached = attached._replace(cm=np.full_like(alpha, moment))
    past = np.degrees(np.maximum(inside[0] - alpha, alpha - inside[-1]))
    beyond = smooth_step(past, 0.0, m.seam_to_deg - m.seam_from_deg)
    alone = separated_flow(attached, edge, np.inf, 1.0, 1.0, 0.0, 0.0, (0.0, 0.0))
    own = stall_share(thickness_pct, camber_pct, edge, reynolds, 0.0)
    share = _share(found, attached, alone, own, beyond, zero, peaks)
    separated = separated_flow(attached, edge, aspect_ratio, 1.0, 1.0, edge_sweep_deg, 0.0, induced)
    plain = assemble(attached, separated, share, attached_fade(), late_share(share))
    rest = [found.cn - plain[found.nodes, CN], found.cc - plain[found.nodes, CC]]
    none = np.zeros_like(inside)
    rest.append(none if found.cm is None else found.cm - plain[found.nodes, CM])
    return Law(
        attached,
        share,
        (1.0 - beyond) * np.stack([np.interp(alpha, inside, r) for r in rest]),
        zero,
        peaks,
    )


def _covered(table: SectionTable, reynolds: float) -> Covered:
    """Return a table's coefficients [-] at a Reynolds number where it covers, to the seam at most.

    Own: linear in the logarithm of the Reynolds number, the nearest end beyond; between angles a
    curve through all of them without overshoot.
    """
    known = [polar.reynolds or reynolds for polar in table.polars]
    upper = min(int(np.searchsorted(known, reynolds)), len(known) - 1)
    lower = upper if known[upper] <= reynolds else max(upper - 1, 0)
    both = [_both_sides(table.polars[i], table.one_sided) for i in (lower, upper)]
    f = 0.0
    if lower != upper:
        f = float(np.log(reynolds / known[lower]) / np.log(known[upper] / known[lower]))
    seam = tables.section_model().seam_from_deg
    degrees = np.degrees(alpha_of_coordinate(grid()))
    low = max(-seam, *(rows[0][0] for rows in both))
    high = min(seam, *(rows[0][-1] for rows in both))
    nodes = np.flatnonzero((degrees >= low - 1e-9) & (degrees <= high + 1e-9))
    first, second = (
        [monotone(rows[0], values)(degrees[nodes]) for values in rows[1:]] for rows in both
    )
    cn, cc, *cm = (a + f * (b - a) for a, b in zip(first, second, strict=True))
    return Covered(nodes, cn, cc, cm[0] if cm else None)


def _both_sides(polar: Polar, one_sided: bool) -> list[np.ndarray]:
    """Return alpha [deg], CN, CC and CM if given, (n,) each; of one side with its mirror."""
    rows = [np.array(x) for x in (polar.alpha_deg, polar.cn, polar.cc, polar.cm) if x is not None]
    if not one_sided:
        return rows
    odd = (True, True, False, True)
    for values, sign in zip(rows, odd, strict=False):
        if sign:
            values[0] = 0.0
    return [
        np.concatenate([-v[:0:-1] if sign else v[:0:-1], v])
        for v, sign in zip(rows, odd, strict=False)
    ]


def _zero_and_slope(
    alpha: np.ndarray, lift: np.ndarray, within_deg: float, least: float
) -> tuple[float, float]:
    """Return the angle of zero lift [rad] nearest to 0 and the lift slope about it [1/rad].

    Attached flow lifts no less than separated flow, whose slope is ``least``.
    """
    crossings = np.flatnonzero((lift[:-1] <= 0.0) & (lift[1:] > 0.0))
    middle = alpha[crossings[np.argmin(np.abs(alpha[crossings]))]]
    near = np.abs(np.degrees(alpha - middle)) <= within_deg
    slope = max(float(np.polyfit(alpha[near], lift[near], 1)[0]), least)
    return float(alpha[near].mean() - lift[near].mean() / slope), slope


def _attached(
    alpha: np.ndarray,
    inside: np.ndarray,
    drag: np.ndarray,
    zero: float,
    slope: float,
    peaks: tuple[float, float],
) -> Branch:
    """Return attached flow [-]: the table's lift slope, its drag as a parabola up to its stalls.

    Own: a fit by least squares; angles [rad].
    """
    rising = (inside >= peaks[0]) & (inside <= peaks[1])
    least = np.argmin(np.where(rising, drag, np.inf))
    square = (inside - inside[least])[rising] ** 2
    growth = max(float(np.sum((drag[rising] - drag[least]) * square) / np.sum(square**2)), 0.0)
    lift = slope * np.sin(alpha - zero)
    full = drag[least] + growth * (alpha - inside[least]) ** 2
    cos_a, sin_a = np.cos(alpha), np.sin(alpha)
    return Branch(lift * cos_a + full * sin_a, lift * sin_a - full * cos_a, np.zeros_like(alpha))


def _share(
    found: Covered,
    attached: Branch,
    separated: Branch,
    own: np.ndarray,
    beyond: np.ndarray,
    zero: float,
    peaks: tuple[float, float],
) -> np.ndarray:
    """Return the attached share (N_S,) [-]: the table's as far as it goes, then as every section's.

    Own. It may not rise again with angle. Where the table ends before its stall, or in it, the
    program's own stall goes on from there; ``beyond`` as in `_go_on`.
    """
    alpha = alpha_of_coordinate(grid())
    inside, at = alpha[found.nodes], found.nodes
    between = attached.cn[at] - separated.cn[at]
    apart = np.where(np.abs(between) > 1e-6, between, 1.0)
    told = np.clip((found.cn - separated.cn[at]) / apart, 0.0, 1.0)
    to = tables.section_model().attached_to_share
    whole = (inside - zero > to * (peaks[0] - zero)) & (inside - zero < to * (peaks[1] - zero))
    share = own.copy()
    share[at] = np.where(whole, 1.0, told)
    middle = int(np.argmin(np.abs(alpha - zero)))
    up, down = slice(middle, None), slice(middle, None, -1)
    for side, last in ((up, at[-1] - middle), (down, middle - at[0])):
        outward = share[side].copy()
        _go_on(outward, own[side], beyond[side], int(last))
        share[side] = np.minimum.accumulate(outward)
    return share


def _go_on(share: np.ndarray, own: np.ndarray, beyond: np.ndarray, last: int) -> None:
    """Fill a share (n,) [-] outward of its place ``last`` with the program's own, joined there.

    Own. ``beyond`` (n,) goes from 0 there to 1 where nothing of the table is left.
    """
    end = share[: last + 1].min()
    if own[last] >= end and own[last] > 0.0:
        share[last + 1 :] = own[last + 1 :] * end / own[last]
    else:  # the program's section has let go of more there
        share[last + 1 :] = (own + (end - own[last]) * (1.0 - beyond))[last + 1 :]
