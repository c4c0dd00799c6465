"""Strips of a wing without induced flow: closed forms, and an own integration in numpy."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np
import pytest

from sim.core.loads.lookup import CC, CN, alpha_of_coordinate, coordinate_of_alpha, grid
from tests.validation.rows import cases, check, each, relative
from tests.validation.wings import (
    STRIPS,
    measured_table,
    measured_wing,
    section_coefficients,
    straight_wing,
    table_of,
)

SOURCE = "closed_form"
HALF_PERCENT = 0.005
MEASURED_SLOPE, MEASURED_DRAG = np.degrees(0.11), 0.0091


class Smooth(NamedTuple):
    """A made-up section, CL = a alpha and CD = d + e alpha^2, fine for closed forms."""

    slope: float = 6.0
    drag: float = 0.05
    growth: float = 1.5

    def table(self):
        alpha = alpha_of_coordinate(grid())
        return table_of(self.slope * alpha, self.drag + self.growth * alpha**2)


def roll_damping(taper):
    """Return Clp at 0°.

    The rate is large enough to reach over several nodes of the grid (2.3 deg at the tip)
    and small enough that its square changes nothing (0.1 %).
    """
    return measured_wing(taper).moments(0.0, p_hat=0.04)[0] / 0.04


@lru_cache
def cross_derivatives():
    """Return Clr, Cnp and Cnr of the smooth section at 6°."""
    wing = straight_wing(table=Smooth().table())
    alpha, small = np.radians(6.0), 0.02
    p_right, p_left = wing.moments(alpha, p_hat=small), wing.moments(alpha, p_hat=-small)
    r_right, r_left = wing.moments(alpha, r_hat=small), wing.moments(alpha, r_hat=-small)
    _, cnp = (p_right - p_left) / (2.0 * small)
    clr, cnr = (r_right - r_left) / (2.0 * small)
    return clr, cnp, cnr


def closed_cross_derivatives():
    """Return Clr = CL/3, Cnp = -(CL - CD_alpha)/6 and Cnr = -CD/3 at 6°."""
    section, alpha = Smooth(), np.radians(6.0)
    lift, drag = section.slope * alpha, section.drag + section.growth * alpha**2
    return lift / 3.0, -(lift - 2.0 * section.growth * alpha) / 6.0, -drag / 3.0


def rows():
    shares = [(1.0, 0.16667), (0.6, 0.14583), (0.5, 0.13889), (0.4, 0.13095), (0.3, 0.12179)]
    yield from each(SOURCE, "Clp = -(a + CD0)(1 + 3 taper)/(12(1 + taper)), a 0.11/°, CD0 .0091", (
        (f"strips without induced flow, taper {taper}: Clp",
         -share * (MEASURED_SLOPE + MEASURED_DRAG), lambda taper=taper: roll_damping(taper))
        for taper, share in shares
    ), relative(HALF_PERCENT), "computed")  # fmt: skip
    # With the measured table, whose drag is 2 % of its lift, linear interpolation of CN and
    # CC would change CD by 1 %, so a section with more drag stands in
    yield from each(SOURCE, "Clr = CL/3, Cnp = -(CL - CDa)/6, Cnr = -CD/3", (
        (f"strips without induced flow, made-up section at 6°: {name}", value,
         lambda i=i: cross_derivatives()[i])
        for i, (name, value) in enumerate(
            zip(("Clr", "Cnp", "Cnr"), closed_cross_derivatives(), strict=True)
        )
    ), relative(HALF_PERCENT), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def gridded_coefficients(alpha_deg):
    """Return CL and CD of the kernel's table, interpolated as the kernel does."""
    alpha = np.radians(alpha_deg)
    s = coordinate_of_alpha(alpha)
    table = measured_table()[0]
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


@pytest.mark.parametrize("alpha_deg", [3.0, 12.0, 15.0, 25.0, 40.0, 80.0])
@pytest.mark.parametrize("p_hat", [0.05, 0.2, 0.5])
def test_strips_against_an_own_integration(alpha_deg, p_hat):
    # the same strips and the same table in numpy: nothing is left to differ but
    # the density, printed to five digits by the standard. (Against 4000 strips of the raw
    # table it is 1.6 % just past the stall, where the table has steps.)
    alpha = np.radians(alpha_deg)
    exact = integrated_moments(alpha, p_hat, STRIPS, gridded_coefficients)
    assert measured_wing().moments(alpha, p_hat=p_hat) == pytest.approx(exact, rel=1e-6)


def test_the_table_on_the_grid_is_the_measured_one():
    # what the grid of 401 nodes does to the raw table, halfway between its angles
    degrees = np.arange(0.5, 25.0, 1.0)
    lift, drag = section_coefficients(degrees)
    found_lift, found_drag = gridded_coefficients(degrees)
    assert found_lift == pytest.approx(lift, abs=0.012)
    assert found_drag == pytest.approx(drag, abs=0.006)


SCRIPT = [(12.0, 0.1712, 0.478), (14.0, 0.1972, 1.051), (16.0, 0.2057, 0.695)]


@pytest.mark.parametrize(("alpha_deg", "p_hat", "clp"), SCRIPT)
def test_the_own_integration_is_that_of_another_script(alpha_deg, p_hat, clp):
    alpha = np.radians(alpha_deg)
    assert integrated_moments(alpha, 0.01)[0] / 0.01 == pytest.approx(clp, abs=2e-3)
    below, above = (integrated_moments(alpha, x)[0] for x in (p_hat - 1e-4, p_hat + 1e-4))
    assert below > 0.0 > above
