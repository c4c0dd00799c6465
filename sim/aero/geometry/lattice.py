"""A flat vortex lattice for the plan form of a wing, and the suction analogy on it.

Horseshoes with the bound leg on each panel's quarter chord, flow made tangent at its
three-quarter chord, wake straight aft in the wing's plane, both halves by symmetry;
induced drag in the far wake. Source: [bertin] ch. 7, [katz2001] ch. 12.
"""

from typing import NamedTuple

import numpy as np

from sim.aero.geometry.linear_system import solved


class Planform(NamedTuple):
    """A half wing by its breaks from the centreline out: three arrays (n,), n >= 2 [m].

    y : distance from the centreline, rising from 0; le : leading edge, positive aft;
    chord : local chord, 0 at a pointed tip.
    """

    y: tuple[float, ...]
    le: tuple[float, ...]
    chord: tuple[float, ...]

    @property
    def area(self) -> float:
        """Area of both halves [m²]; geometry."""
        y, c = np.array(self.y), np.array(self.chord)
        return float(np.sum(np.diff(y) * (c[1:] + c[:-1])))

    @property
    def aspect_ratio(self) -> float:
        """Span squared over area [-]; by definition."""
        return (2.0 * self.y[-1]) ** 2 / self.area


class Lattice(NamedTuple):
    """Result at small angle of attack.

    slope : CL per rad; ki : induced drag over CL²; centre : aerodynamic centre, aft of
    the origin of ``le`` [m]; y, load : strip centres [m] and local lift, chord times cl
    over mean chord times CL, each (n_span,).
    """

    slope: float
    ki: float
    centre: float
    y: np.ndarray
    load: np.ndarray


def trapezoid(semi_span: float, root_chord: float, tip_chord: float, sweep: float) -> Planform:
    """Return a straight-tapered plan form [m], geometry; sweep is the leading edge's [rad]."""
    return Planform((0.0, semi_span), (0.0, semi_span * np.tan(sweep)), (root_chord, tip_chord))


def _horseshoe(x, y, x1, y1, x2, y2):
    """Return the upwash [1/m] at (x, y) of a unit horseshoe between two points, all in z = 0.

    Biot-Savart's law of three straight legs [katz2001] ch. 12.
    """
    r1, r2 = np.hypot(x - x1, y - y1), np.hypot(x - x2, y - y2)
    cross = (x - x1) * (y - y2) - (x - x2) * (y - y1)
    along1 = (x2 - x1) * (x - x1) + (y2 - y1) * (y - y1)
    along2 = (x2 - x1) * (x - x2) + (y2 - y1) * (y - y2)
    # a point in line with the bound leg, but off it, feels nothing of it
    in_line = np.abs(cross) < 1e-12 * r1 * r2
    bound = np.where(in_line, 0.0, along1 / r1 - along2 / r2) / np.where(in_line, 1.0, cross)
    leg1 = (1.0 + (x - x1) / r1) / (y1 - y)
    leg2 = (1.0 + (x - x2) / r2) / (y2 - y)
    return (bound + leg1 - leg2) / (4.0 * np.pi)


def _far_upwash(y, y1, y2):
    """Return the far-wake upwash [1/m] at y of a unit horseshoe, legs at y1 and y2 [katz2001]."""
    return (1.0 / (y1 - y) - 1.0 / (y2 - y)) / (2.0 * np.pi)


def strip_edges(planform: Planform, n_span: int) -> np.ndarray:
    """Return strip edges (n_span + 1,) [m]: even inside each segment, one on every break.

    Geometry.
    """
    y = np.array(planform.y)
    shares = np.diff(y) / y[-1] * n_span
    counts = np.maximum(1, np.round(shares)).astype(int)
    pieces = [np.linspace(y[i], y[i + 1], n + 1)[:-1] for i, n in enumerate(counts)]
    return np.append(np.concatenate(pieces), y[-1])


class Vortices(NamedTuple):
    """Horseshoes of the right half at unit angle of attack; arrays (n_chord * n_span,)."""

    gamma: np.ndarray
    x1: np.ndarray
    x2: np.ndarray
    y1: np.ndarray
    y2: np.ndarray
    xb: np.ndarray

    def upwash(self, x: np.ndarray, y: np.ndarray, twin: float = 1.0) -> np.ndarray:
        """Return the upwash (m, n) [1/m] of each unit horseshoe at points (m,) [katz2001].

        ``twin`` is the strength of the one on the left: -1 where the load changes sides.
        """
        at = (x[:, None], y[:, None])
        right = _horseshoe(*at, self.x1, self.y1, self.x2, self.y2)
        return right + twin * _horseshoe(*at, self.x2, -self.y2, self.x1, -self.y1)


def vortices(planform: Planform, edges: np.ndarray, n_chord: int) -> Vortices:
    """Return the horseshoes [m] that make the flow tangent between strip edges [katz2001]."""
    found, x, y = horseshoes(planform, edges, n_chord)
    return found._replace(gamma=solved(found.upwash(x, y), -np.ones(y.size)))


def horseshoes(
    planform: Planform, edges: np.ndarray, n_chord: int
) -> tuple[Vortices, np.ndarray, np.ndarray]:
    """Return unit horseshoes, chordwise row by row, and the points where flow must be tangent [m].

    On the quarter and three-quarter chord of each panel [bertin] ch. 7.
    """
    middle = 0.5 * (edges[1:] + edges[:-1])

    def place(y: np.ndarray, share: np.ndarray) -> np.ndarray:
        le = np.interp(y, planform.y, planform.le)
        return (le + share[:, None] * np.interp(y, planform.y, planform.chord)).ravel()

    rows = np.arange(n_chord)
    bound_share, control_share = (rows + 0.25) / n_chord, (rows + 0.75) / n_chord
    y1, y2, yc = (np.tile(y, n_chord) for y in (edges[:-1], edges[1:], middle))
    found = Vortices(
        gamma=np.ones(yc.size),
        x1=place(edges[:-1], bound_share),
        x2=place(edges[1:], bound_share),
        y1=y1,
        y2=y2,
        xb=place(middle, bound_share),
    )
    return found, place(middle, control_share), yc


def solve(planform: Planform, n_chord: int = 12, n_span: int = 24) -> Lattice:
    """Return the lift, induced drag and loading of a flat wing at small angle of attack [rad].

    Kutta-Joukowski on the bound legs; drag in the far wake [katz2001] ch. 12.

    Parameters
    ----------
    planform : Planform
        Half wing.
    n_chord, n_span : int
        Panels along the chord and along the half span.
    """
    edges = strip_edges(planform, n_span)
    middle = 0.5 * (edges[1:] + edges[:-1])
    found = vortices(planform, edges, n_chord)
    push = found.gamma * (found.y2 - found.y1)
    slope = 4.0 * np.sum(push) / planform.area
    strip_gamma = found.gamma.reshape(n_chord, -1).sum(axis=0)
    inner, outer, here = edges[:-1], edges[1:], middle[:, None]
    far = _far_upwash(here, inner, outer) + _far_upwash(here, -outer, -inner)
    drag = -2.0 * np.sum(strip_gamma * (far @ strip_gamma) * np.diff(edges)) / planform.area
    mean_chord = planform.area / (2.0 * edges[-1])
    return Lattice(
        slope=float(slope),
        ki=float(drag / slope**2),
        centre=float(np.sum(push * found.xb) / np.sum(push)),
        y=middle,
        load=2.0 * strip_gamma / (mean_chord * slope),
    )


def downwash(
    planform: Planform, aft: np.ndarray, right: np.ndarray, n_chord: int = 6, n_span: int = 20
) -> np.ndarray:
    """Return the downwash in the wing's plane behind it, per unit lift coefficient (m,) [rad].

    By the lattice [katz2001] ch. 12.

    Parameters
    ----------
    planform : Planform
        Half wing.
    aft, right : array (m,)
        Points behind the wing, aft of the origin of ``le`` and off the centreline [m]; each is
        taken to the middle between two trailing legs, where a lattice means anything.
    n_chord, n_span : int
        Panels, see `solve`.
    """
    edges = strip_edges(planform, n_span)
    middle = 0.5 * (edges[1:] + edges[:-1])
    found = vortices(planform, edges, n_chord)
    slope = 4.0 * np.sum(found.gamma * (found.y2 - found.y1)) / planform.area
    between = np.append(middle, 2.0 * edges[-1] - middle[::-1])
    at = between[np.argmin(np.abs(between - np.abs(right)[:, None]), axis=1)]
    return np.asarray(-(found.upwash(np.asarray(aft), at) @ found.gamma) / slope)


def load_behind(
    wing: Planform, ahead: Planform, n_chord: int = 10, n_span: int = 24
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return what a wing's strips carry alone, and behind a flat surface in its plane.

    By the lattice [katz2001] ch. 12.

    Parameters
    ----------
    wing, ahead : Planform
        Half surfaces, edges from one origin; the one ahead ends before the wing begins, is the
        narrower, and has a strip of the lattice between any two of its breaks.
    n_chord, n_span : int
        Panels along each chord, and along the wing's half span.

    Returns
    -------
    y, alone, behind : arrays (n,)
        Middles of the wing's strips [m]; lift coefficient of each on its own chord per radian.
    """
    inner, outer = ahead.y[-1], wing.y[-1]
    rest = max(4, round(n_span * (1.0 - inner / outer)))
    edges = np.concatenate([ahead.y[:-1], np.linspace(inner, outer, rest + 1)])
    first, x1, y1 = horseshoes(wing, edges, n_chord)
    second, x2, y2 = horseshoes(ahead, np.array(ahead.y), n_chord)
    at = np.concatenate([x1, x2]), np.concatenate([y1, y2])
    upwash = np.hstack([found.upwash(*at) for found in (first, second)])
    gamma = solved(upwash, -np.ones(at[0].size))[: y1.size]
    middle = 0.5 * (edges[1:] + edges[:-1])
    chord = np.interp(middle, wing.y, wing.chord)
    alone, behind = (
        2.0 * found.reshape(n_chord, -1).sum(axis=0) / chord
        for found in (vortices(wing, edges, n_chord).gamma, gamma)
    )
    return middle, alone, behind


def polhamus(planform: Planform, n_chord: int = 12, n_span: int = 24) -> tuple[float, float]:
    """Return Kp and Kv [-] of the leading-edge suction analogy, [polhamus1966].

    CL = Kp sin a cos²a + Kv cos a sin²a with Kv = (Kp - Kp² Ki)/cos(sweep): the suction
    that a sharp leading edge cannot carry, turned into normal force. On a cranked edge
    1/cos(sweep) is its mean over the span.

    Parameters
    ----------
    planform : Planform
        Half wing with sharp leading edges.
    n_chord, n_span : int
        Panels, see `solve`.
    """
    lattice = solve(planform, n_chord, n_span)
    y, le = np.array(planform.y), np.array(planform.le)
    edge_length = float(np.sum(np.hypot(np.diff(y), np.diff(le))))
    kp = lattice.slope
    return kp, (kp - kp**2 * lattice.ki) * edge_length / float(y[-1])
