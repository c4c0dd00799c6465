"""A vortex lattice of several lying surfaces, written for the checks alone.

Horseshoes as three straight legs in space with Biot and Savart's law for each, bound on quarter
chords, tangent on three-quarter chords, wakes along x; both halves laid out, no symmetry used
(J. Katz, A. Plotkin, Low-Speed Aerodynamics, 2nd ed. 2001, ch. 12, from memory). It shares no
line with `sim.aero.geometry`, whose lattices are the half of one surface, in its plane.
"""

from typing import NamedTuple

import numpy as np

FAR = 1e4  # lengths of the legs, m


class Plan(NamedTuple):
    """A lying surface from the centreline out [m]: x aft, z up, sweep of the leading edge."""

    x: float
    half_span: float
    root: float
    tip: float
    sweep_deg: float = 0.0
    z: float = 0.0

    @property
    def area(self):
        """Return the area of both halves [m2]."""
        return self.half_span * (self.root + self.tip)


class Lattice(NamedTuple):
    """Legs' ends (n, 3), points of tangency (n, 3) and the plan of each horseshoe (n,)."""

    one: np.ndarray
    two: np.ndarray
    point: np.ndarray
    of: np.ndarray


def lattice(plans, n_chord=4, n_span=12):
    """Return the horseshoes of surfaces [m]; strips even between the tips of all of them.

    So a tip's trailing leg passes half way between two points of the surface behind.
    """
    one, two, point, of = [], [], [], []
    tips = sorted({plan.half_span for plan in plans})
    pieces = [
        np.linspace(start, end, max(3, round(n_span * (end - start) / tips[-1])) + 1)[1:]
        for start, end in zip([0.0, *tips[:-1]], tips, strict=True)
    ]
    right = np.concatenate([[0.0], *pieces])
    for number, plan in enumerate(plans):
        mine = right[right <= plan.half_span + 1e-9]
        edges = np.concatenate([-mine[:0:-1], mine])

        def at(y, share, plan=plan):
            out = np.abs(y)
            chord = plan.root + (plan.tip - plan.root) * out / plan.half_span
            x = plan.x + out * np.tan(np.radians(plan.sweep_deg)) + share * chord
            return np.stack([x, y, np.full_like(y, plan.z)], axis=1)

        for row in range(n_chord):
            one.append(at(edges[:-1], (row + 0.25) / n_chord))
            two.append(at(edges[1:], (row + 0.25) / n_chord))
            point.append(at(0.5 * (edges[1:] + edges[:-1]), (row + 0.75) / n_chord))
            of += [number] * (edges.size - 1)
    return Lattice(*(np.concatenate(part) for part in (one, two, point)), np.array(of))


def _leg(start, end, at):
    """Return the velocity (m, n, 3) at points (m, 3) of unit vortices between points (n, 3)."""
    r1, r2 = at[:, None] - start, at[:, None] - end
    cross = np.cross(r1, r2)
    size = np.maximum(np.sum(cross**2, axis=2), 1e-12)
    d1, d2 = (np.linalg.norm(r, axis=2) for r in (r1, r2))
    along = np.sum((end - start) * (r1 / d1[..., None] - r2 / d2[..., None]), axis=2)
    return cross * (along / size / (4.0 * np.pi))[..., None]


def upwash(of, at, bound=True):
    """Return the upwash (m, n) [1/m] of unit horseshoes at points (m, 3)."""
    far = np.array([FAR, 0.0, 0.0])
    found = _leg(of.one + far, of.one, at) + _leg(of.two, of.two + far, at)
    return (found + _leg(of.one, of.two, at) if bound else found)[..., 2]


class Flow(NamedTuple):
    """Circulation (n,) and lift (n,) [m2] over dynamic pressure, of each horseshoe."""

    gamma: np.ndarray
    lift: np.ndarray
    at: np.ndarray


def solve(grid, angles, sees=None):
    """Return the flow at angles [rad] of the plans; ``sees`` (plans, plans) says who sees whom."""
    w = upwash(grid, grid.point)
    if sees is not None:
        w = w * np.asarray(sees)[grid.of[:, None], grid.of]
    gamma = np.linalg.solve(w, -np.asarray(angles, dtype=float)[grid.of])
    width = grid.two[:, 1] - grid.one[:, 1]
    return Flow(gamma, 2.0 * gamma * width, 0.5 * (grid.one[:, 0] + grid.two[:, 0]))


def neutral_point(flow):
    """Return where the lift of all surfaces acts [m aft]; their angles must be one."""
    return float(np.sum(flow.lift * flow.at) / np.sum(flow.lift))
