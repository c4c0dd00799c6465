"""Wings for the checks: strips of the measured NACA 0015, and surfaces as the build-up makes them.

The first is forty strips of the section at Re 3.6e5 (R. E. Sheldahl, P. C. Klimas,
SAND80-2114, 1981) with the induced flow off and nothing else in the air; its raw table is
put on the kernel's grid of the flow coordinate, in which the kernel interpolates.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.build import build_aero
from sim.aero.choice import TableEnds
from sim.core import layout as k
from sim.core.layout import Model
from sim.core.loads.lookup import (
    CC,
    CN,
    G0,
    N_COLUMNS,
    N_S,
    X0,
    alpha_of_coordinate,
    grid,
)
from sim.core.steady.statics import polar
from sim.describe import Section, Surface, load_aeroplane
from tests.conftest import bare_model

REYNOLDS = 360000.0
SPAN, CHORD, STRIPS, SPEED = 2.0, 0.4, 40, 20.0
BUILT_SPAN = 1.2
DENSITY = 1.225  # kg/m3, U.S. Standard Atmosphere 1976, sea level
NO_SPREAD = TableEnds(1.0, 0.05, 1.0, 0.05, 0.05)


def section_coefficients(alpha_deg):
    """Return CL and CD, linear between the measured angles, odd and even in alpha."""
    measured = tables.naca0015()
    _, at, lift, drag = (column[measured.Re == REYNOLDS] for column in measured)
    size = np.abs(alpha_deg)
    return np.sign(alpha_deg) * np.interp(size, at, lift), np.interp(size, at, drag)


def table_of(lift, drag):
    """Return CL and CD on the kernel's grid as a kernel table (1, N_S, N_COLUMNS)."""
    alpha = alpha_of_coordinate(grid())
    table = np.zeros((1, N_S, N_COLUMNS))
    table[0, :, CN] = lift * np.cos(alpha) + drag * np.sin(alpha)
    table[0, :, CC] = lift * np.sin(alpha) - drag * np.cos(alpha)
    table[0, :, X0] = table[0, :, G0] = 1.0
    return table


def measured_table():
    """Return the measured section as a kernel table."""
    return table_of(*section_coefficients(np.degrees(alpha_of_coordinate(grid()))))


class Wing(NamedTuple):
    """A wing model and the numbers it is referred to."""

    model: Model
    area: float
    span: float

    def moments(self, alpha, p_hat=0.0, r_hat=0.0, beta=0.0):
        """Return rolling and yawing moment coefficients about the wind axes.

        Rates are pb/2V about the wind and rb/2V across it; in sideslip the axes are those
        of the wind seen from the side.
        """
        rate = 2.0 * SPEED / self.span
        sin_a, cos_a = np.sin(alpha), np.cos(alpha)
        turn = np.array([[cos_a, -sin_a], [sin_a, cos_a]])  # body from wind, (x, z)
        p, r = turn @ np.array([p_hat, r_hat]) * rate
        loads = polar(
            self.model, SPEED, np.array([alpha]), np.array([beta]), np.array([[p, 0.0, r]]),
            np.zeros((1, 4)),
        )[0]  # fmt: skip
        push = 0.5 * DENSITY * SPEED**2 * self.area * self.span
        return turn.T @ loads[[3, 5]] / push


def straight_wing(taper=1.0, table=None):
    """Return a wing of constant taper about an unswept quarter-chord line, no induced flow."""
    edges = np.linspace(-0.5 * SPAN, 0.5 * SPAN, STRIPS + 1)
    y = 0.5 * (edges[1:] + edges[:-1])
    chord = CHORD * (1.0 - (1.0 - taper) * np.abs(y) / (0.5 * SPAN))
    rows = np.zeros((k.N_STRIP_ROWS, STRIPS))
    rows[k.S_RY], rows[k.S_CX], rows[k.S_NZ] = y, 1.0, -1.0
    rows[k.S_CHORD], rows[k.S_AREA] = chord, chord * SPAN / STRIPS
    rows[k.S_ETA] = y / (0.5 * SPAN)
    rows[k.S_FORCE], rows[k.S_RELAX] = 1.0, 7.0
    index = np.zeros((k.N_STRIP_INDEX, STRIPS), dtype=np.int64)
    index[k.SI_CHANNEL] = -1
    surface = np.zeros((1, k.N_SURFACE_COLS))
    surface[0, k.F_AREA] = rows[k.S_AREA].sum()
    surface[0, k.F_AREA_ETA2] = (rows[k.S_AREA] * rows[k.S_ETA] ** 2).sum()
    surface[0, [k.F_SPAN, k.F_RATE_MAX, k.F_SPANS]] = SPAN, 150.0, 0.5
    model = bare_model(
        1.0, np.eye(3), strips=rows, strip_index=index, surfaces=surface,
        tables=measured_table() if table is None else table,
    )  # fmt: skip
    model.env[k.E_AIR] = 1.0
    return Wing(model, float(surface[0, k.F_AREA]), SPAN)


@lru_cache
def measured_wing(taper=1.0):
    """Return the wing of the measured section."""
    return straight_wing(taper)


def surface(role, span, root, tip, sweep_deg=0.0, aft=0.0):
    """Return a mirrored, plane surface; lengths in m, sweep of the leading edge."""
    return Surface(
        name=role, role=role, mirrored=True, root_aft_mm=1000.0 * aft, root_right_mm=0.0,
        root_up_mm=0.0, panel_span_mm=500.0 * span, root_chord_mm=1000.0 * root,
        tip_chord_mm=1000.0 * tip, sweep_deg=sweep_deg, strips=20,
        section=Section(thickness_pct=10.0, edge="round"),
    )  # fmt: skip


def alone(*surfaces):
    """Return a model that is these surfaces and nothing else about the datum, and its area."""
    aeroplane = load_aeroplane("display_jet").model_copy(
        update={"surfaces": surfaces, "bodies": ()}
    )
    area = 1e-6 * sum(s.panel_span_mm * (s.root_chord_mm + s.tip_chord_mm) for s in surfaces[:1])
    aero = build_aero(aeroplane, {}, 15.0, NO_SPREAD, area)
    model = bare_model(
        1.0, np.eye(3), strips=aero.strips, strip_index=aero.strip_index,
        tables=aero.tables, surfaces=aero.surfaces, pairs=aero.pairs, sources=aero.sources,
    )  # fmt: skip
    model.env[k.E_AIR] = 1.0
    return model, area


def loads_at(model, alphas_deg, speed=SPEED):
    """Return steady loads (n, 6) at angles of attack."""
    n = len(alphas_deg)
    return polar(
        model, speed, np.radians(alphas_deg), np.zeros(n), np.zeros((n, 3)), np.zeros((n, 4))
    )


def lift_and_drag(model, area, alphas_deg):
    """Return CL and CD at angles of attack."""
    loads, a = loads_at(model, alphas_deg), np.radians(alphas_deg)
    push = 0.5 * DENSITY * SPEED**2 * area
    lift = loads[:, 0] * np.sin(a) - loads[:, 2] * np.cos(a)
    drag = -loads[:, 0] * np.cos(a) - loads[:, 2] * np.sin(a)
    return lift / push, drag / push


def slope_of(*surfaces):
    """Return dCL/dalpha [1/rad] of a built wing at zero, over a node of the tables either way."""
    model, area = alone(*surfaces)
    lift, _ = lift_and_drag(model, area, np.array([-0.6, 0.6]))
    return (lift[1] - lift[0]) / np.radians(1.2)
