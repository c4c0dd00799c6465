"""What one lifting surface does to the load of another, at any height over or under it.

The lattice of `lattice` for both, in two parallel planes: horseshoes with wakes straight aft,
[katz2001] ch. 12. The strips of both have their edges in common, so that no trailing leg of the
one passes a point of the other but midway.
"""

import numpy as np

from sim.aero.geometry.lattice import Planform, Vortices, horseshoes
from sim.aero.geometry.linear_system import solved

CORE = 0.1  # of the source's bound vortices, over the length of a panel of its: plan forms overlap


def _common_edges(first: Planform, second: Planform, n_span: int) -> np.ndarray:
    """Return strip edges (n,) [m] for both: even between any two breaks of either; geometry."""
    breaks = np.unique(np.round([*first.y, *second.y], 6))
    shares = np.diff(breaks) / breaks[-1] * n_span
    counts = np.maximum(2, np.round(shares)).astype(int)
    pieces = [np.linspace(breaks[i], breaks[i + 1], n + 1)[:-1] for i, n in enumerate(counts)]
    return np.append(np.concatenate(pieces), breaks[-1])


def _leg(dx: np.ndarray, dy: np.ndarray, dz2: float) -> np.ndarray:
    """Return 4 pi times the upwash [1/m] beside a unit vortex that goes aft from a point.

    Biot and Savart [katz2001] ch. 12.
    """
    away = dy * dy + dz2
    return (1.0 + dx / np.sqrt(dx * dx + away)) * dy / away


def _half(
    x: np.ndarray, y: np.ndarray, dz2: float, x1: np.ndarray, y1: np.ndarray, x2: np.ndarray,
    y2: np.ndarray, core2: float,
) -> np.ndarray:  # fmt: skip
    """Return the upwash (m, n) [1/m] at points of unit horseshoes, the height squared [m2] apart.

    Biot and Savart [katz2001] ch. 12; ``core2`` [m2] keeps the bound leg finite near itself.
    """
    ax, ay, bx, by = x - x1, y - y1, x - x2, y - y2
    across = ax * by - bx * ay
    length2 = (x2 - x1) ** 2 + (y2 - y1) ** 2
    # of |r1 x r2| squared the height's part is its square times that of the leg's length
    far = across**2 + (dz2 + core2) * length2
    r1, r2 = (np.sqrt(a * a + b * b + dz2) for a, b in ((ax, ay), (bx, by)))
    along = ((x2 - x1) * ax + (y2 - y1) * ay) / r1 - ((x2 - x1) * bx + (y2 - y1) * by) / r2
    return (across * along / far - _leg(ax, ay, dz2) + _leg(bx, by, dz2)) / (4.0 * np.pi)


def _upwash(of: Vortices, x: np.ndarray, y: np.ndarray, height: float, core: float) -> np.ndarray:
    """Return the upwash (m, n) [1/m] of unit horseshoes and their twins on the left, [katz2001]."""
    at = (x[:, None], y[:, None], height**2)
    right = _half(*at, of.x1, of.y1, of.x2, of.y2, core**2)
    return right + _half(*at, of.x2, -of.y2, of.x1, -of.y1, core**2)


def _overlap(first: Planform, second: Planform) -> bool:
    """Return True where one plan form [m] lies over the other, seen from above; geometry."""
    y = np.unique([*first.y, *second.y])
    y = y[y <= min(first.y[-1], second.y[-1])]
    (le1, te1), (le2, te2) = (
        (np.interp(y, s.y, s.le), np.interp(y, s.y, np.add(s.le, s.chord))) for s in (first, second)
    )
    return bool(np.any((le1 < te2) & (le2 < te1)))


def load_lost(
    source: Planform, receiver: Planform, heights: np.ndarray, n_chord: int = 5, n_span: int = 16
) -> tuple[np.ndarray, np.ndarray]:
    """Return what each strip of a surface loses in the flow of another.

    By the lattice [katz2001] ch. 12. The other's load lies across its span as when both meet the
    air at one angle: beside a near one it is another than alone.

    Parameters
    ----------
    source, receiver : Planform
        Half surfaces, edges from one origin.
    heights : float array (m,)
        Of the plane of the source over or under that of the receiver [m]; where one lies over the
        other, at least the length of a panel, as a lattice knows nothing nearer.
    n_chord, n_span : int
        Panels along each chord, and along the wider half span.

    Returns
    -------
    y : array (n,)
        Middles of the receiver's strips [m].
    lost : array (m, n)
        Lift coefficient of each on its own chord, per lift coefficient of the source; negative
        where it gains.
    """
    edges = _common_edges(source, receiver, n_span)
    if _overlap(source, receiver):
        heights = np.maximum(np.abs(heights), receiver.area / (2.0 * receiver.y[-1] * n_chord))
    own, theirs = (edges[edges <= shape.y[-1] + 1e-6] for shape in (receiver, source))
    felt, xs, ys = horseshoes(source, theirs, n_chord)
    bound, x, y = horseshoes(receiver, own, n_chord)
    cores = [CORE * s.area / (2.0 * s.y[-1] * n_chord) for s in (source, receiver)]
    alone, itself = felt.upwash(xs, ys), bound.upwash(x, y)
    met = []
    for height in heights:
        on, back = _upwash(felt, x, y, height, cores[0]), _upwash(bound, xs, ys, height, cores[1])
        both = np.block([[alone, back], [on, itself]])
        gamma = solved(both, -np.ones(len(both)))[: ys.size]
        lift = 4.0 * np.sum(gamma * (felt.y2 - felt.y1)) / source.area
        met.append(on @ gamma / lift)
    gamma = solved(itself, np.stack(met, axis=1))
    middle = 0.5 * (own[1:] + own[:-1])
    chord = np.interp(middle, receiver.y, receiver.chord)
    return middle, 2.0 * gamma.T.reshape(len(heights), n_chord, -1).sum(axis=1) / chord
