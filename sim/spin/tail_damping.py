"""The tail-damping power factor of an aeroplane's shape: information, never a verdict.

A. I. Neihouse, J. H. Lichtenstein, P. W. Pepoon, NACA TN 1045 [neihouse1946]; formulas as
in [raymer] eq. 16.67-16.69. Seen from the side, air meets the tail at 45 degrees and the
tailplane shields what lies between two lines, 15 degrees steeper from its leading and 15
degrees flatter from its trailing edge (from memory).
"""

from dataclasses import dataclass
from math import cos, radians, tan

import numpy as np

from sim.aero.geometry.panels import MM, Panel, half_span, panels_of, upright
from sim.describe import Aeroplane
from sim.describe.geometry import Control, Surface
from sim.pack.assemble import Assembled

FLOW_DEG, EDGE_DEG = 45.0, 15.0  # the construction's own, no estimates
STATIONS = 401


@dataclass(frozen=True)
class TailDamping:
    """Tail-damping ratio, unshielded-rudder volume and their product.

    ``side_area_m2`` is that of the body under the tailplane; ``open_above_m2`` and
    ``open_below_m2`` the rudder's outside the shield, above and below the tailplane, of
    ``rudder_m2`` in all.
    """

    damping_ratio: float
    rudder_volume: float
    side_area_m2: float
    open_above_m2: float
    open_below_m2: float
    rudder_m2: float

    @property
    def power_factor(self) -> float:
        """Tail-damping power factor [-], [raymer] eq. 16.67-16.69 and [neihouse1946]."""
        return self.damping_ratio * self.rudder_volume


def tail_damping(assembled: Assembled) -> TailDamping | None:
    """Return the factor [-] of a set-up; None without a tailplane or without a rudder.

    S_F L² / (S (b/2)²), and (S_R1 L1 + S_R2 L2) / (S b/2) [neihouse1946], [raymer] eq. 16.67-16.69.
    """
    aeroplane = assembled.aeroplane
    tails = [s for s in aeroplane.surfaces_as("tail") if not upright(s)]
    rudders = rudder_outlines(aeroplane)
    if not tails or not rudders:
        return None
    tail = max(tails, key=lambda s: s.panel_span_mm * (s.root_chord_mm + s.tip_chord_mm))
    balance, ref = float(assembled.weighed.balance_m[0]), assembled.weighed.reference
    side, side_moment = _side_under(aeroplane, tail, balance)
    above = below = whole = volume = 0.0
    for outline, right in rudders:
        parts = open_parts(outline, *edges_at(tail, right))
        whole += area_and_moment(outline, balance)[0]
        (area_1, moment_1), (area_2, moment_2) = (
            _total(part, balance) for part in (parts.above, parts.below)
        )
        above, below, volume = above + area_1, below + area_2, volume + moment_1 + moment_2
    half = 0.5 * ref.span_m
    return TailDamping(
        damping_ratio=side_moment / (ref.area_m2 * half**2),
        rudder_volume=volume / (ref.area_m2 * half),
        side_area_m2=side,
        open_above_m2=above,
        open_below_m2=below,
        rudder_m2=whole,
    )


def rudder_outlines(aeroplane: Aeroplane) -> list[tuple[np.ndarray, float]]:
    """Return each rudder's corners (4, 2) as aft and up [m], and how far out it stands [m]."""
    out = []
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            if upright(surface) and aeroplane.channels[control.channel].stick.rudder != 0.0:
                out += [_outline(panel, control) for panel in panels_of(surface)]
    return out


def _outline(panel: Panel, control: Control) -> tuple[np.ndarray, float]:
    """Return a rudder's corners (4, 2) as aft and up, and how far out it stands [m]; geometry."""
    flap = control.kind == "flap"
    inner, outer, chord = control.inner_pct, control.outer_pct, control.chord_pct
    t0, t1 = ((inner or 0.0) / 100.0, (outer or 0.0) / 100.0) if flap else (0.0, 1.0)
    hinge = 1.0 - (chord or 0.0) / 100.0 if flap else 0.0
    corners = [panel.point(*at) for at in ((t0, hinge), (t0, 1.0), (t1, 1.0), (t1, hinge))]
    points = np.array(corners)
    return -points[:, [0, 2]], float(np.mean(np.abs(points[:, 1])))


def edges_at(tail: Surface, right_m: float) -> tuple[float, float, float]:
    """Return leading edge and trailing edge aft and height up [m] of a tailplane.

    Geometry, at a place across its span, not inside its root; beyond its tip both edges are
    one, so that nothing is shielded.
    """
    panel = panels_of(tail)[0]
    run = panel.span * cos(radians(tail.dihedral_deg))
    t = min(1.0, max(0.0, (right_m - tail.root_right_mm * MM) / run))
    front, rear = panel.point(t, 0.0), panel.point(t, 1.0)
    if right_m > half_span(tail) + MM:
        rear = front
    return -float(front[0]), -float(rear[0]), -float(front[2])


@dataclass(frozen=True)
class OpenParts:
    """Outlines of a rudder outside the shield; to be counted with their sign.

    Above: all of it less what is shielded.
    """

    above: tuple[tuple[float, np.ndarray], ...]
    below: tuple[tuple[float, np.ndarray], ...]


def open_parts(outline: np.ndarray, front: float, rear: float, up: float) -> OpenParts:
    """Return what the tailplane leaves open of a convex outline (n, 2), aft and up [m].

    ``front`` and ``rear`` are its edges aft, ``up`` its height. Lines of [neihouse1946], from
    memory.
    """
    above = cut(outline, np.array([0.0, up]), np.array([0.0, 1.0]))
    below = cut(outline, np.array([0.0, up]), np.array([0.0, -1.0]))
    shielded = above
    if rear > front:
        steep, flat = tan(radians(FLOW_DEG + EDGE_DEG)), tan(radians(FLOW_DEG - EDGE_DEG))
        shielded = cut(shielded, np.array([front, up]), np.array([steep, -1.0]))
        shielded = cut(shielded, np.array([rear, up]), np.array([-flat, 1.0]))
    else:
        shielded = above[:0]
    return OpenParts(((1.0, above), (-1.0, shielded)), ((1.0, below),))


def cut(outline: np.ndarray, point: np.ndarray, inwards: np.ndarray) -> np.ndarray:
    """Return the part (m, 2) of a convex outline (n, 2) [m] on one side of a line; geometry."""
    out = []
    depths = (outline - point) @ inwards
    for i in range(len(outline)):
        j = (i + 1) % len(outline)
        if depths[i] >= 0.0:
            out.append(outline[i])
        if depths[i] * depths[j] < 0.0:
            share = depths[i] / (depths[i] - depths[j])
            out.append(outline[i] + share * (outline[j] - outline[i]))
    return np.array(out).reshape(-1, 2)


def area_and_moment(outline: np.ndarray, balance_x: float) -> tuple[float, float]:
    """Return the area [m2] of an outline and its moment about the balance point [m3].

    ``balance_x`` is forward of the datum [m]; Gauss's area formula, geometry.
    """
    if len(outline) < 3:
        return 0.0, 0.0
    x, y = outline[:, 0] + balance_x, outline[:, 1]
    x2, y2 = np.roll(x, -1), np.roll(y, -1)
    cross = x * y2 - x2 * y
    sign = 1.0 if cross.sum() >= 0.0 else -1.0
    return sign * float(cross.sum()) / 2.0, sign * float(((x + x2) * cross).sum()) / 6.0


def _total(parts: tuple[tuple[float, np.ndarray], ...], balance_x: float) -> tuple[float, float]:
    """Return area [m²] and moment [m³] of outlines counted with their sign; geometry."""
    found = [(sign, *area_and_moment(outline, balance_x)) for sign, outline in parts]
    return sum(s * a for s, a, _ in found), sum(s * m for s, _, m in found)


def _side_under(aeroplane: Aeroplane, tail: Surface, balance_x: float) -> tuple[float, float]:
    """Return side area S_F [m²] of bodies straight under the tailplane's root, and S_F L² [m⁴].

    [neihouse1946], from memory: L runs from the balance point to the middle of that area.
    """
    front, rear, up = edges_at(tail, 0.0)
    aft = np.linspace(front, rear, STATIONS)
    depth = np.zeros(STATIONS)
    for body in aeroplane.bodies:
        at = np.array([s.aft_mm for s in body.stations]) * MM
        middle = np.interp(aft, at, [s.up_mm * MM for s in body.stations])
        half = 0.5 * np.interp(aft, at, [s.height_mm * MM for s in body.stations])
        there = (aft >= at[0]) & (aft <= at[-1])
        depth += there * np.clip(np.minimum(up, middle + half) - (middle - half), 0.0, None)
    area = float(np.trapezoid(depth, aft))
    if area <= 0.0:
        return 0.0, 0.0
    arm = float(np.trapezoid(depth * aft, aft)) / area + balance_x
    return area, area * arm**2
