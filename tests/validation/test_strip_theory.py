"""Strip theory of a rectangular wing: closed forms, and autorotation from a measured table.

The wing is forty strips of the NACA 0015 at Re 3.6e5 (R. E. Sheldahl, P. C. Klimas,
SAND80-2114, 1981), induced flow off, nothing else in the air. Its raw table is put on
the kernel's grid of the flow coordinate; the kernel then interpolates linearly in that.
"""

from typing import NamedTuple

import numpy as np
import pytest
from scipy.optimize import brentq

from sim.aero.tables import read_csv
from sim.core import layout as k
from sim.core.layout import Model
from sim.core.lookup import (
    CC,
    CN,
    G0,
    N_COLUMNS,
    N_S,
    X0,
    alpha_of_coordinate,
    coordinate_of_alpha,
    grid,
)
from sim.core.statics import polar

REYNOLDS = 360000.0
SPAN, CHORD, STRIPS, SPEED = 2.0, 0.4, 40, 20.0
DENSITY = 1.225  # kg/m3, U.S. Standard Atmosphere 1976, sea level
HALF_PERCENT, ONE_PERCENT = 0.005, 0.01


def raw_section():
    """Return alpha [deg], CL and CD of the measured table."""
    columns = read_csv("naca0015_sand80-2114.csv").columns
    rows = columns["Re"] == REYNOLDS
    return columns["alpha_deg"][rows], columns["CL"][rows], columns["CD"][rows]


def section_coefficients(alpha_deg):
    """Return CL and CD, linear between the measured angles, odd and even in alpha."""
    at, lift, drag = raw_section()
    size = np.abs(alpha_deg)
    return np.sign(alpha_deg) * np.interp(size, at, lift), np.interp(size, at, drag)


def kernel_table():
    """Return the measured section as a kernel table (1, N_S, N_COLUMNS)."""
    alpha = alpha_of_coordinate(grid())
    lift, drag = section_coefficients(np.degrees(alpha))
    table = np.zeros((1, N_S, N_COLUMNS))
    table[0, :, CN] = lift * np.cos(alpha) + drag * np.sin(alpha)
    table[0, :, CC] = lift * np.sin(alpha) - drag * np.cos(alpha)
    table[0, :, X0] = table[0, :, G0] = 1.0
    return table


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


def straight_wing(body, taper=1.0, table=None):
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
    model = body(
        1.0, np.eye(3), strips=rows, strip_index=index, surfaces=surface,
        tables=kernel_table() if table is None else table,
    )  # fmt: skip
    model.env[k.E_AIR] = 1.0
    return Wing(model, float(surface[0, k.F_AREA]), SPAN)


@pytest.fixture(scope="module")
def wing(body):
    return straight_wing(body)


def gridded_coefficients(alpha_deg):
    """Return CL and CD of the kernel's table, interpolated as the kernel does."""
    alpha = np.radians(alpha_deg)
    s = coordinate_of_alpha(alpha)
    table = kernel_table()[0]
    cn, cc = np.interp(s, grid(), table[:, CN]), np.interp(s, grid(), table[:, CC])
    return cn * np.cos(alpha) + cc * np.sin(alpha), cn * np.sin(alpha) - cc * np.cos(alpha)


def integrated_moments(alpha, p_hat, strips=4000, section=section_coefficients):
    """Return wind-axis roll and yaw coefficients by an own strip integration.

    Forces per strip along its own air, V + omega x r with omega along the wind.
    """
    y = (np.arange(strips) + 0.5) / (0.5 * strips) - 1.0
    change = np.arctan(p_hat * y)
    square = 1.0 + (p_hat * y) ** 2
    lift, drag = section(np.degrees(alpha + change))
    up = square * (lift * np.cos(change) + drag * np.sin(change))
    back = square * (drag * np.cos(change) - lift * np.sin(change))
    return np.array([np.mean(-0.5 * y * up), np.mean(0.5 * y * back)])


# --------------------------------------------------------------------- closed forms
def test_damping_in_roll(wing):
    # Clp = -(a + CD0)/6 = -1.05194 for a = 0.11/deg, CD0 = .0091; the rate is large enough
    # to reach over several nodes of the grid (2.3 deg at the tip) and small enough that
    # its square changes nothing (0.1 %)
    roll, _ = wing.moments(0.0, p_hat=0.04)
    assert roll / 0.04 == pytest.approx(-1.05194, rel=HALF_PERCENT)


@pytest.mark.parametrize(
    ("taper", "share"),
    [(1.0, 0.16667), (0.6, 0.14583), (0.5, 0.13889), (0.4, 0.13095), (0.3, 0.12179)],
)
def test_damping_in_roll_of_tapered_wings(body, taper, share):
    # Clp = -a (1 + 3 lambda)/(12 (1 + lambda)), here with a + CD0 in place of a
    slope = np.degrees(0.11) + 0.0091
    roll, _ = straight_wing(body, taper).moments(0.0, p_hat=0.04)
    assert roll / 0.04 == pytest.approx(-share * slope, rel=HALF_PERCENT)


class Smooth(NamedTuple):
    """A made-up section, CL = a alpha and CD = d + e alpha^2, fine for closed forms."""

    slope: float = 6.0
    drag: float = 0.05
    growth: float = 1.5

    def table(self):
        alpha = alpha_of_coordinate(grid())
        lift, drag = self.slope * alpha, self.drag + self.growth * alpha**2
        table = np.zeros((1, N_S, N_COLUMNS))
        table[0, :, CN] = lift * np.cos(alpha) + drag * np.sin(alpha)
        table[0, :, CC] = lift * np.sin(alpha) - drag * np.cos(alpha)
        table[0, :, X0] = table[0, :, G0] = 1.0
        return table


def test_cross_derivatives_at_an_angle(body):
    # Clr = +CL/3, Cnp = -(CL - CD_alpha)/6, Cnr = -CD/3. With the measured table, whose
    # drag is 2 % of its lift, linear interpolation of CN and CC would change CD by 1 %,
    # so a section with more drag stands in
    section = Smooth()
    wing = straight_wing(body, table=section.table())
    alpha, small = np.radians(6.0), 0.02
    lift, drag = section.slope * alpha, section.drag + section.growth * alpha**2
    p_right, p_left = wing.moments(alpha, p_hat=small), wing.moments(alpha, p_hat=-small)
    r_right, r_left = wing.moments(alpha, r_hat=small), wing.moments(alpha, r_hat=-small)
    _, cnp = (p_right - p_left) / (2.0 * small)
    clr, cnr = (r_right - r_left) / (2.0 * small)
    assert clr == pytest.approx(lift / 3.0, rel=HALF_PERCENT)
    assert cnr == pytest.approx(-drag / 3.0, rel=HALF_PERCENT)
    drag_slope = 2.0 * section.growth * alpha
    assert cnp == pytest.approx(-(lift - drag_slope) / 6.0, rel=HALF_PERCENT)


# --------------------------------------------------------------------- autorotation
# own strip integration of the raw table, roll about the wind axis: alpha [deg], stable
# autorotation pb/2V, Clp at pb/2V = .01
AUTOROTATION = [(12.0, 0.1712, 0.478), (14.0, 0.1972, 1.051), (16.0, 0.2057, 0.695)]


@pytest.mark.parametrize(("alpha_deg", "p_hat", "clp"), AUTOROTATION)
def test_the_reference_integration_is_the_published_one(alpha_deg, p_hat, clp):
    # the reference used below, against the figures of another script
    alpha = np.radians(alpha_deg)
    assert integrated_moments(alpha, 0.01)[0] / 0.01 == pytest.approx(clp, abs=2e-3)
    stable = brentq(lambda x: integrated_moments(alpha, x)[0], 0.9 * p_hat, 1.1 * p_hat)
    assert stable == pytest.approx(p_hat, abs=1e-4)


@pytest.mark.parametrize(("alpha_deg", "p_hat", "_clp"), AUTOROTATION)
def test_autorotation_rate(wing, alpha_deg, p_hat, _clp):
    # tolerance 1 %, the same table but sampled at the kernel's grid
    alpha = np.radians(alpha_deg)
    stable = brentq(lambda x: wing.moments(alpha, p_hat=x)[0], 0.8 * p_hat, 1.2 * p_hat)
    assert stable == pytest.approx(p_hat, rel=ONE_PERCENT)
    beyond = wing.moments(alpha, p_hat=1.05 * stable)[0]
    assert beyond < 0.0 < wing.moments(alpha, p_hat=0.95 * stable)[0]


@pytest.mark.parametrize("alpha_deg", [0.0, 5.0, 10.0])
def test_no_autorotation_before_the_stall(wing, alpha_deg):
    for p_hat in np.linspace(0.01, 0.5, 50):
        assert wing.moments(np.radians(alpha_deg), p_hat=p_hat)[0] < 0.0


@pytest.mark.parametrize("alpha_deg", [20.0, 30.0, 45.0, 60.0])
def test_no_autorotation_far_beyond_the_stall(wing, alpha_deg):
    # none from 20 deg on; and M. Knight, NACA Report 273 (1927), abstract: a monoplane
    # wing alone "is incapable of flat spinning"
    for p_hat in np.linspace(0.02, 0.8, 40):
        assert wing.moments(np.radians(alpha_deg), p_hat=p_hat)[0] < 0.0


def test_a_hysteresis_of_autorotation(wing):
    # at 18 deg a small rate dies out, a large one keeps itself up (own integration)
    alpha = np.radians(18.0)
    small = wing.moments(alpha, p_hat=0.01)[0]
    large = max(wing.moments(alpha, p_hat=x)[0] for x in np.linspace(0.05, 0.3, 26))
    assert small < 0.0 < large


@pytest.mark.xfail(
    strict=True,
    reason="strips of a plane, unswept wing meet the same angle in sideslip: the separation "
    "that yaw moves to the trailing panel is not modelled",
)
def test_sideslip_widens_the_range_of_autorotation(wing):
    # M. Knight, C. J. Wenzinger, NACA Report 379 (number from memory), abstract: past the
    # largest lift the rolling moment of 5 to 20 deg of yaw is about as large as that of
    # rolling, and yaw considerably increases the range of autorotation of a monoplane
    def range_of(beta_deg):
        beta = np.radians(beta_deg)
        turning = np.concatenate([np.linspace(-0.3, -0.02, 8), np.linspace(0.02, 0.3, 8)])
        return [
            alpha
            for alpha in range(8, 36)
            if max(
                np.sign(x) * wing.moments(np.radians(alpha), p_hat=x, beta=beta)[0] for x in turning
            )
            > 0.0
        ]

    assert len(range_of(0.0)) > 3
    assert len(range_of(15.0)) > len(range_of(0.0))


@pytest.mark.parametrize("alpha_deg", [3.0, 12.0, 15.0, 25.0, 40.0, 80.0])
@pytest.mark.parametrize("p_hat", [0.05, 0.2, 0.5])
def test_strips_against_an_own_integration(wing, alpha_deg, p_hat):
    # the same strips and the same table in numpy: nothing is left to differ but
    # the density, printed to five digits by the standard. (Against 4000 strips of the raw
    # table it is 1.6 % just past the stall, where the table has steps.)
    alpha = np.radians(alpha_deg)
    exact = integrated_moments(alpha, p_hat, STRIPS, gridded_coefficients)
    assert wing.moments(alpha, p_hat=p_hat) == pytest.approx(exact, rel=1e-6)


def test_the_table_on_the_grid_is_the_measured_one():
    # what the grid of 401 nodes does to the raw table, halfway between its angles
    degrees = np.arange(0.5, 25.0, 1.0)
    alpha = np.radians(degrees)
    s = coordinate_of_alpha(alpha)
    table = kernel_table()[0]
    cn, cc = np.interp(s, grid(), table[:, CN]), np.interp(s, grid(), table[:, CC])
    lift, drag = section_coefficients(degrees)
    assert cn * np.cos(alpha) + cc * np.sin(alpha) == pytest.approx(lift, abs=0.012)
    assert cn * np.sin(alpha) - cc * np.cos(alpha) == pytest.approx(drag, abs=0.006)
