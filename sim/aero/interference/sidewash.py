"""Where fins stand to the vortices of strakes and wing ahead of them."""

from math import hypot, tan

import numpy as np

from sim import tables
from sim.aero.geometry.panels import Panel, half_span, upright
from sim.core import layout as k


def vortex_place(strake: Panel) -> tuple[float, float]:
    """Return x and y [m] of where a right strake's vortex leaves it.

    Own: at the share of its span in strip_model.toml, in the middle of the chord there.
    """
    share = tables.strip_model().strake_vortex_at_share
    leaves = strake.root[0] - share * strake.span * tan(strake.sweep) - 0.5 * strake.chord(share)
    return leaves, strake.root[1] + share * strake.span


def fill_sidewash(panels: list[Panel], fin: Panel, row: np.ndarray) -> None:
    """Fill the F_SIDE columns of an upright surface behind a strake; others keep 0.

    A vortex leaves its strake where `vortex_place` says, at y from the centreline. The pair
    carries what it makes the body between the strakes lift as well: with images at r^2 / y in a
    body of half-width r [pitts1957] strake and body lift as y - r^2 / y where the strake alone
    does as y - r, so 1 + r / y times as much. Places [m].

    Parameters
    ----------
    panels : list of Panel
        All of the aeroplane.
    fin : Panel
        The surface's right, or only, panel.
    row : float array (N_SURFACE_COLS,)
        Of the surface.
    """
    strake = next((p for p in panels if p.surface.role == "strake" and p.side > 0.0), None)
    if strake is None or not upright(fin.surface):
        return
    middle = fin.point(tables.strip_model().mean_chord_at_share, 0.25)
    leaves, out = vortex_place(strake)
    if leaves <= middle[0]:
        return
    row[k.F_SIDE] = 1.0 + strake.root[1] / out
    row[k.F_SIDE_X] = leaves - middle[0]
    row[k.F_SIDE_Y] = out
    row[k.F_SIDE_OUT] = abs(middle[1])
    row[k.F_SIDE_LOW] = strake.root[2] - fin.point(0.0, 0.25)[2]
    row[k.F_SIDE_HIGH] = strake.root[2] - fin.point(1.0, 0.25)[2]


def fill_sheet(panels: list[Panel], fin: Panel, row: np.ndarray) -> None:
    """Fill the F_SHEET columns of an upright surface behind the wing; others keep 0.

    Places in half spans [-]. The sheet leaves the trailing edge, and what is shed near the root
    counts most. Its legs begin at the wing's quarter chord, so less than the whole of an endless
    one's wash is there: (1 + x / sqrt(x^2 + z^2)) / 2, Biot-Savart's law [katz2001], at a
    distance x behind it and z over it.

    Parameters
    ----------
    panels : list of Panel
        All of the aeroplane.
    fin : Panel
        The surface's right, or only, panel.
    row : float array (N_SURFACE_COLS,)
        Of the surface.
    """
    wing = next((p for p in panels if p.surface.role == "wing"), None)
    if wing is None or not wing.surface.mirrored or upright(wing.surface):
        return
    if not upright(fin.surface):
        return
    mean = tables.strip_model().mean_chord_at_share
    begins, middle = wing.point(mean, 0.25), fin.point(mean, 0.25)
    aft, over = begins[0] - middle[0], begins[2] - middle[2]
    if aft <= 0.0:
        return
    half = half_span(wing.surface)
    row[k.F_SHEET] = 0.5 * (1.0 + aft / hypot(aft, over))
    row[k.F_SHEET_OF] = next(
        j for j, s in enumerate(dict.fromkeys(p.surface.name for p in panels))
        if s == wing.surface.name
    )  # fmt: skip
    row[k.F_SHEET_X] = max(0.0, wing.point(0.0, 1.0)[0] - middle[0]) / half
    row[k.F_SHEET_OUT] = abs(middle[1]) / half
    ends = [(begins[2] - fin.point(share, 0.25)[2]) / half for share in (0.0, 1.0)]
    row[k.F_SHEET_LOW], row[k.F_SHEET_HIGH] = min(ends), max(ends)
