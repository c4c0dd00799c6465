"""Modes of motion from a linear model: eigenvalues and what they are called."""

from dataclasses import dataclass
from math import log, pi

import numpy as np


@dataclass(frozen=True)
class Mode:
    """One mode: eigenvalue [1/s], natural frequency [rad/s], damping ratio, and times [s].

    ``period_s`` is None for a mode that does not swing; ``half_time_s`` is the time to
    half, negative the time to double, amplitude.
    """

    name: str
    real: float
    imaginary: float
    frequency_rps: float
    damping: float
    period_s: float | None
    half_time_s: float


def mode_of(name: str, root: complex) -> Mode:
    """Return a mode from one eigenvalue [1/s] (of a pair, the upper one).

    With s = n + i w: frequency |s|, damping -n/|s|, period 2 pi/w, time to half ln 2/-n; by
    definition [etkin1996].
    """
    size = abs(root)
    return Mode(
        name=name,
        real=root.real,
        imaginary=abs(root.imag),
        frequency_rps=size,
        damping=-root.real / size if size > 0.0 else 1.0,
        period_s=2.0 * pi / abs(root.imag) if abs(root.imag) > 1e-9 else None,
        half_time_s=log(2.0) / -root.real if root.real != 0.0 else float("inf"),
    )


def _roots(matrix: np.ndarray) -> list[complex]:
    """Return eigenvalues [1/s] of a matrix, one of each pair, fastest first; by definition."""
    roots = [complex(r) for r in np.linalg.eigvals(matrix) if r.imag >= -1e-9]
    return sorted(roots, key=abs, reverse=True)


def longitudinal_modes(matrix: np.ndarray) -> list[Mode]:
    """Return short period and phugoid of a (u, w, q, theta) matrix, by speed.

    Real roots, as of an unstable aeroplane, are numbered instead.
    """
    roots = _roots(matrix)
    if len(roots) == 2:
        return [mode_of("short period", roots[0]), mode_of("phugoid", roots[1])]
    return [
        mode_of(f"longitudinal {i + 1}" if abs(r.imag) < 1e-9 else "longitudinal swing", r)
        for i, r in enumerate(roots)
    ]


def lateral_modes(matrix: np.ndarray) -> list[Mode]:
    """Return roll, Dutch roll and spiral of a (v, p, r, phi) matrix, by speed."""
    roots = _roots(matrix)
    swings = [r for r in roots if abs(r.imag) > 1e-9]
    straight = [r for r in roots if abs(r.imag) <= 1e-9]
    if len(swings) == 1 and len(straight) == 2:
        return [
            mode_of("roll", straight[0]),
            mode_of("Dutch roll", swings[0]),
            mode_of("spiral", straight[1]),
        ]
    return [mode_of(f"lateral {i + 1}", r) for i, r in enumerate(roots)]
