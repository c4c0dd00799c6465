"""Closed triangle shells: lofts through rings of points, and what they enclose."""

from typing import NamedTuple

import numpy as np


class Solid(NamedTuple):
    """A closed shell: ``vertices`` (n, 3) and ``triangles`` (m, 3), seen from outside
    anticlockwise in right-handed axes.
    """  # fmt: skip

    vertices: np.ndarray
    triangles: np.ndarray


def volume(solid: Solid) -> float:
    """Return the enclosed volume, positive where triangles face outwards."""
    a, b, c = (solid.vertices[solid.triangles[:, i]] for i in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def loft(rings: np.ndarray) -> Solid:
    """Return the shell through rings (m, n, 3) of points, both ends closed by a fan."""
    m, n, _ = rings.shape
    ends = rings[[0, -1]].mean(axis=1)
    j = np.arange(n)
    following = (j + 1) % n
    triangles = [
        np.column_stack([m * n + 0 * j, following, j]),
        np.column_stack([m * n + 1 + 0 * j, (m - 1) * n + j, (m - 1) * n + following]),
    ]
    for i in range(m - 1):
        a, b = i * n + j, i * n + following
        triangles += [np.column_stack([a, b, a + n]), np.column_stack([b, b + n, a + n])]
    solid = Solid(np.vstack([rings.reshape(-1, 3), ends]), np.vstack(triangles))
    return outwards(solid)


def outwards(solid: Solid) -> Solid:
    """Return the shell with its triangles facing outwards."""
    if volume(solid) < 0.0:
        return solid._replace(triangles=solid.triangles[:, ::-1])
    return solid


def joined(solids: list[Solid]) -> Solid:
    """Return several shells as one."""
    starts = np.cumsum([0] + [len(x.vertices) for x in solids[:-1]])
    return Solid(
        np.vstack([x.vertices for x in solids]),
        np.vstack([x.triangles + start for x, start in zip(solids, starts, strict=True)]),
    )


def circle(centre: np.ndarray, radius: float, normal: np.ndarray, corners: int = 14) -> np.ndarray:
    """Return a ring (corners, 3) about ``centre`` (3,), square to ``normal`` (3,)."""
    normal = normal / np.linalg.norm(normal)
    across = np.cross(normal, [0.0, 0.0, 1.0])
    across /= np.linalg.norm(across)
    other = np.cross(normal, across)
    angle = np.linspace(0.0, 2.0 * np.pi, corners, endpoint=False)[:, None]
    return centre + radius * (np.cos(angle) * across + np.sin(angle) * other)
