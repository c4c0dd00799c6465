"""The aerodynamic model of an aeroplane, packed: strips, tables, surfaces, wakes, body."""

from collections.abc import Mapping
from functools import partial
from typing import NamedTuple

import numpy as np

from sim.aero.choice import (
    TableEnds,
    felt_and_lean,
    section_slope,
    slope_at_zero,
    tables_with_ends,
    with_droop,
)
from sim.aero.geometry.felt import felt_share, own_slope
from sim.aero.geometry.fuselage import body_arrays
from sim.aero.geometry.kinds import facing_sweep, kind_of, section_share
from sim.aero.geometry.panels import (
    Panel,
    aspect_ratio,
    carry_over,
    panels_of,
    strip_columns,
    upright,
)
from sim.aero.geometry.pieces import whole_flaps
from sim.aero.interference.carried import cross_flow_only, crossed_as_body
from sim.aero.interference.fin_on_body import attached_only, fin_strip
from sim.aero.interference.finite_flap import finite_flap
from sim.aero.interference.flap_stall import fill_flap_stall
from sim.aero.interference.forewash import forewash
from sim.aero.interference.induced import add_downwash, induced_shape, surface_row
from sim.aero.interference.separating import fill_separation, helper_of
from sim.aero.interference.shielding import sources_and_pairs
from sim.aero.interference.sidewash import fill_sheet, fill_sidewash
from sim.aero.interference.turning import fill_turned
from sim.aero.sections.flaps import separated_level
from sim.core import layout as k
from sim.core.draw_layout import ROLE_FIN, ROLE_TAIL, ROLE_WING
from sim.describe.aeroplane import Aeroplane
from sim.describe.controls import Shares, Throws
from sim.describe.faults import Fault, FileFault
from sim.describe.geometry import Surface
from sim.tables import strip_model


class AeroArrays(NamedTuple):
    """Packed aerodynamics, positions from the datum; see `sim.core.layout.Model`.

    ``roles`` (m,) says for each surface whether draws treat it as wing, tail or fin;
    ``channels`` maps (channel, side) to its row of the servo array.
    """

    strips: np.ndarray
    strip_index: np.ndarray
    tables: np.ndarray
    table_ends: np.ndarray
    surfaces: np.ndarray
    pairs: np.ndarray
    sources: np.ndarray
    bodies: np.ndarray
    body_par: np.ndarray
    roles: np.ndarray
    channels: dict[tuple[str, float], int]


def servo_rows(aeroplane: Aeroplane) -> dict[tuple[str, float], int]:
    """Return the servo row of each (channel, side); side 0 where one panel has it alone."""
    rows: dict[tuple[str, float], int] = {}
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            for side in (1.0, -1.0) if surface.mirrored else (0.0,):
                rows.setdefault((control.channel, side), len(rows))
    return rows


def build_aero(
    aeroplane: Aeroplane, throws: dict[str, Throws], speed: float, ends: TableEnds, area: float,
    sticks: Mapping[str, Shares] | None = None,
) -> AeroArrays:  # fmt: skip
    """Return the packed aerodynamics of an aeroplane; the formulas are those of what it calls.

    Own: strips, as each then meets its own air in a spin.

    Parameters
    ----------
    aeroplane : Aeroplane
    throws : dict
        Throws of every channel in the set-up.
    speed : float
        Reference airspeed for Reynolds numbers [m/s].
    ends : TableEnds
        Half-widths of the drawn table parameters.
    area : float
        Wing area [m²].
    sticks : mapping of str to Shares, optional
        What each stick moves of every channel in the set-up; None: as the file says.

    Raises
    ------
    FileFault
        A surface that is no wing section names a section table.
    """
    surfaces = aeroplane.surfaces
    _refuse_idle_tables(aeroplane)
    channels = servo_rows(aeroplane)
    moved = sticks or {name: channel.stick for name, channel in aeroplane.channels.items()}
    made = _strips(aeroplane, throws, speed, ends, channels, moved)
    panels, strips, strip_index = made.panels, made.strips, made.strip_index
    fill_separation(surfaces, panels, strips, strip_index[k.SI_SURFACE])
    surface_rows = _surface_rows(aeroplane, made, speed, moved)
    sources, pairs = sources_and_pairs(
        surfaces, panels, aeroplane.bodies, strips, strip_index[k.SI_SURFACE]
    )
    bodies, body_par = _bodies(aeroplane, panels, area, speed)
    roles = np.array([_role(s) for s in surfaces], dtype=np.int64)
    return AeroArrays(
        strips=strips,
        strip_index=strip_index,
        tables=made.tables,
        table_ends=made.table_ends,
        surfaces=surface_rows,
        pairs=pairs,
        sources=sources,
        bodies=bodies,
        body_par=body_par,
        roles=roles,
        channels=channels,
    )


class _Strips(NamedTuple):
    """All panels, their strips side by side, and the tables that the strips look up."""

    panels: list[Panel]
    strips: np.ndarray
    strip_index: np.ndarray
    tables: np.ndarray
    table_ends: np.ndarray


def _strips(
    aeroplane: Aeroplane,
    throws: dict[str, Throws],
    speed: float,
    ends: TableEnds,
    channels: dict[tuple[str, float], int],
    sticks: Mapping[str, Shares],
) -> _Strips:
    """Return the strips of all panels [m, m²], those that stand in for the body among them.

    Own, as `build_aero`, whose parameters these are; and the servo row of each channel.
    """
    surfaces = aeroplane.surfaces
    tables, table_ends = tables_with_ends(surfaces, speed, ends)
    panels: list[Panel] = []
    columns: list[np.ndarray] = []
    index: list[np.ndarray] = []
    for j, surface in enumerate(surfaces):
        gains = {
            c.channel: finite_flap(surface, c, sticks[c.channel]) for c in whole_flaps(surface)
        }
        special: int | None = None  # table of the strip that is the body's, the same on both sides
        for panel in panels_of(surface):
            panels.append(panel)
            rows, servo = _strips_of(panel, surface, channels, throws, gains)
            table = np.where(_behind_droop(panel, rows), _droop_table(surfaces, j), j)
            under = fin_strip(panel, aeroplane.bodies)
            through = rows[k.S_CARRIED] > 0.0
            felt = felt_and_lean(surface, speed)
            bodily = attached_only if under is not None else partial(cross_flow_only, induced=felt)
            bodied = through.any() and crossed_as_body(surface)
            if special is None and (under is not None or bodied):
                special = tables.shape[0]
                tables = np.concatenate([tables, bodily(tables[j : j + 1])])
                table_ends = np.concatenate([table_ends, bodily(table_ends[:, j : j + 1])], axis=1)
            if under is not None:
                rows, servo = np.hstack([under, rows]), np.concatenate([[-1], servo])
                table = np.concatenate([[special], table])
            elif special is not None:
                table[through] = special
            late = [k.S_LATE_CN, k.S_LATE_CN2, k.S_LATE_CM]
            rows[late] *= np.array([separated_level(t) for t in tables])[table]
            lean = facing_sweep(surface)
            half = 0.5 * rows[k.S_AREA] * np.cos(lean) / rows[k.S_CHORD]
            rows[k.S_HALF_Y], rows[k.S_HALF_Z] = np.outer(panel.outward[1:], half)
            columns.append(rows)
            block = np.full((k.N_STRIP_INDEX, rows.shape[1]), j, dtype=np.int64)
            block[k.SI_CHANNEL] = servo
            block[k.SI_TABLE] = table
            index.append(block)
    strips = np.ascontiguousarray(np.hstack(columns))
    strip_index = np.ascontiguousarray(np.hstack(index))
    return _Strips(panels, strips, strip_index, tables, table_ends)


def _behind_droop(panel: Panel, rows: np.ndarray) -> np.ndarray:
    """Return True (n,) for strips whose middle [m] lies behind a leading edge turned down."""
    droop = panel.surface.droop
    if droop is None:
        return np.zeros(rows.shape[1], dtype=bool)
    out = (rows[k.S_RX : k.S_RZ + 1].T - panel.root) @ panel.outward / panel.span
    within = (0.01 * droop.inner_pct <= out) & (out <= 0.01 * droop.outer_pct)
    return within & (rows[k.S_CARRIED] == 0.0)


def _droop_table(surfaces: tuple[Surface, ...], j: int) -> int:
    """Return the row of surface ``j``'s table behind its drooped edge, ``j`` if it has none."""
    if surfaces[j].droop is None:
        return j
    return len(surfaces) + len(with_droop(surfaces[:j]))


def _surface_rows(
    aeroplane: Aeroplane, made: _Strips, speed: float, sticks: Mapping[str, Shares]
) -> np.ndarray:
    """Return a row (n, N_SURFACE_COLS) a surface; fill in what its strips feel of air turned.

    ``speed`` [m/s] and ``sticks`` as `build_aero`.
    """
    surfaces, panels, strips = aeroplane.surfaces, made.panels, made.strips
    slopes = np.array([
        section_slope(s, speed) if section_share(s) > 0.0 else slope_at_zero(t)
        for s, t in zip(surfaces, made.tables[: len(surfaces)], strict=True)
    ])  # fmt: skip
    per_surface: list[np.ndarray] = []
    for j, surface in enumerate(surfaces):
        mine = made.strip_index[k.SI_SURFACE] == j
        panel = next(p for p in panels if p.surface is surface)
        if section_share(surface) > 0.0:
            strips[k.S_INDUCED, mine] = induced_shape(panel, strips[:, mine])
        row = surface_row(surface, panel, strips[:, mine], slopes[j])
        strips[k.S_INDUCED, mine] *= felt_share(surface, row, slopes[j])
        if surface.role == "wing" and not upright(surface):
            strips[k.S_AHEAD, mine] = forewash(
                panel, panels, aeroplane.bodies, strips[:, mine], row, own_slope(surface, slopes[j])
            )
        fill_flap_stall(surface, sticks, strips, mine, row, slopes[j])
        row[k.F_HELPER] = helper_of(surfaces, surface)
        fill_sidewash(panels, panel, row)
        fill_sheet(panels, panel, row)
        row[k.F_VORTEX] = 1.0 if surface.role == "strake" else 0.0
        per_surface.append(row)
        row[k.F_WASHED] = 1.0 if surface.role in ("tail", "fin") else 0.0
    surface_rows = np.array(per_surface)
    add_downwash(surfaces, panels, surface_rows)
    owner = made.strip_index[k.SI_SURFACE]
    fill_turned(surfaces, panels, strips, owner, surface_rows, slopes)
    return surface_rows


def _refuse_idle_tables(aeroplane: Aeroplane) -> None:
    """Raise a FileFault if a surface names a section table but is a plate by its aspect ratio."""
    least = strip_model().section_aspect_ratios[0]
    faults = [
        Fault(
            f"surfaces.{surface.name}.section.table",
            f"has no effect: at aspect ratio {aspect_ratio(surface):.2f} the surface is built from "
            f"plates, not from sections (above {least:g}); leave it out",
        )
        for surface in aeroplane.surfaces
        if surface.section.table is not None and section_share(surface) == 0.0
    ]
    if faults:
        raise FileFault(f"{aeroplane.name}.toml", faults)


def _strips_of(
    panel: Panel,
    surface: Surface,
    channels: dict[tuple[str, float], int],
    throws: dict[str, Throws],
    gains: dict[str, float],
) -> tuple[np.ndarray, np.ndarray]:
    """Return the strips of a panel, with the one that carries it through the body.

    Hinge lines [rad], geometry; the tilt of a flap's force by thin-aerofoil theory [glauert1926].
    """
    lean = facing_sweep(surface)
    rows, servo = strip_columns(panel, lean, channels, throws, gains)
    # Without suction at the leading edge a flap tilts what acts on it. With it, the force stands
    # across the air that chord and flap meet together: suction there is 2 pi (a + theta d/pi)^2
    # but read off as 2 pi (a + tau d)^2, and tau + share = 2 theta/pi [glauert1926].
    rows[k.S_TILT] += section_share(surface) * (rows[k.S_TAU] - rows[k.S_TILT])
    if kind_of(surface) != "section" and lean != 0.0:
        # hinges lie across the stream there, but the tables' angle is in the plane of the lean
        rows[[k.S_TAU, k.S_TILT, k.S_FLAP_STALL]] /= np.cos(lean)
    if surface.root_right_mm > 0.0 and not upright(surface):
        rows = np.hstack([carry_over(panel, lean), rows])
        servo = np.concatenate([[-1], servo])
    return rows, servo


def _role(surface: Surface) -> int:
    """Return the role that draws use: upright surfaces are fins, strakes count as wing."""
    if upright(surface) or surface.role == "fin":
        return ROLE_FIN
    return ROLE_WING if surface.role in ("wing", "strake") else ROLE_TAIL


def _bodies(
    aeroplane: Aeroplane, panels: list[Panel], area: float, speed: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return all bodies' strips side by side, and one set of scalars for them."""
    parts = [body_arrays(body, panels, area, speed) for body in aeroplane.bodies]
    if not parts:
        return np.zeros((k.N_BODY_ROWS, 0)), np.zeros(k.N_BODY_PAR)
    par = parts[0][1]
    for _, other in parts[1:]:
        par[k.BP_DRAG_AREA] += other[k.BP_DRAG_AREA]
    return np.ascontiguousarray(np.hstack([rows for rows, _ in parts])), par
