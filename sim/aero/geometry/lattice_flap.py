"""What a flap does on a finite wing, by the flat lattice: to its lift, and at its leading edge."""

import numpy as np

from sim.aero.geometry.lattice import Planform, horseshoes, strip_edges
from sim.aero.geometry.linear_system import solved


def flap_turn(
    planform: Planform, chord_share: float, span: tuple[float, float], rolling: bool,
    n_chord: int = 8, n_span: int = 24,
) -> float:  # fmt: skip
    """Return what a radian of flap is worth in [rad] of its part of the wing, over a section's.

    Own, by the lattice [katz2001]: in lift or, ``rolling``, in rolling moment with the other
    side's flap the other way. The section's is that of a lattice of as many panels along the
    chord, so that what so few panels miss is left out.

    Parameters
    ----------
    planform : Planform
        Half wing.
    chord_share : float in (0, 1)
        Flap chord over chord.
    span : two floats
        Where the flap begins and ends, shares of the half span.
    n_chord, n_span : int
        Panels, see `solve`.
    """
    edges = strip_edges(planform, n_span)
    found, x, y = horseshoes(planform, edges, n_chord)
    turned, covered = _flapped(edges, chord_share, span, n_chord)
    everywhere = np.tile(covered, n_chord)
    angles = np.stack([everywhere * np.repeat(turned, covered.size), everywhere], axis=1)
    gamma = solved(found.upwash(x, y, -1.0 if rolling else 1.0), -angles)
    flap, all_of_it = ((found.y2 - found.y1) * (y if rolling else 1.0)) @ gamma
    bent, whole = _section_rows(turned).sum(axis=0)
    return float(flap / all_of_it * whole / bent)


def _flapped(
    edges: np.ndarray, chord_share: float, span: tuple[float, float], n_chord: int
) -> tuple[np.ndarray, np.ndarray]:
    """Return what of each row along the chord a flap turns, and of each strip [-]; geometry."""
    turned = np.clip(np.arange(1, n_chord + 1) - n_chord * (1.0 - chord_share), 0.0, 1.0)
    low, high = (np.clip(share * edges[-1], edges[:-1], edges[1:]) for share in span)
    return turned, (high - low) / np.diff(edges)


def _section_rows(turned: np.ndarray) -> np.ndarray:
    """Return the vortices (n_chord, 2) of a section with a flap, and of it turned whole [katz2001].

    Per radian and speed [m]; a chord has the length of its number of rows.
    """
    rows = np.arange(turned.size)
    of_section = np.stack([turned, np.ones(turned.size)], axis=1)
    return solved(1.0 / (rows[:, None] + 0.5 - rows), of_section)


def flap_at_edge(
    planform: Planform, chord_share: float, span: tuple[float, float], rolling: bool,
    n_chord: int = 8, n_span: int = 24,
) -> float:  # fmt: skip
    """Return what a flap loads the leading edge of its part of a wing, over a section's flap [-].

    Own, by the lattice [katz2001]: load of the foremost row of panels over what it is by incidence
    of the whole wing; the section's by a lattice of as many panels along the chord. 1 on a wing
    without end, 0 on a slender one, whose flow does not know what lies behind [jones1946].

    Parameters
    ----------
    planform, chord_share, span, rolling, n_chord, n_span
        As `flap_turn`.
    """
    edges = strip_edges(planform, n_span)
    found, x, y = horseshoes(planform, edges, n_chord)
    turned, covered = _flapped(edges, chord_share, span, n_chord)
    bent = np.tile(covered, n_chord) * np.repeat(turned, covered.size)
    by_flap = solved(found.upwash(x, y, -1.0 if rolling else 1.0), -bent)
    by_incidence = solved(found.upwash(x, y), -np.ones(y.size))
    weight = covered * np.diff(edges)
    first = slice(covered.size)
    flap, whole = _section_rows(turned)[0]
    return float(weight @ by_flap[first] / (weight @ by_incidence[first]) * whole / flap)
