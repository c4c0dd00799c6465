"""Aspect ratio beyond the stall: W. A. Timmer, TORQUE 2010, abstract."""

import numpy as np
import pytest

from sim.core.lookup import CN
from tests.validation.curves import at, drag, lift, naca0015
from tests.validation.rows import cases, check, each, relative

SOURCE = "timmer2010"


def lift_over_drag(aspect_ratio, degrees):
    """Return lift over drag of a wing over that of its section."""
    wing, section = naca0015(200000, aspect_ratio), naca0015(200000)
    return (lift(wing, degrees) / drag(wing, degrees)) / (
        lift(section, degrees) / drag(section, degrees)
    )


def rows():
    where = "sections with leading-edge separation, 30-80°: no effect of aspect ratio"
    yield from each(SOURCE, where, (
        (f"CL/CD at {a}°, aspect ratio {ar:g} over endless", 1.0,
         lambda ar=ar, a=a: lift_over_drag(ar, a))
        for ar in (2.5, 4.4) for a in (30, 40, 50, 60, 70, 80)
    ), relative(1e-3), "published")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_every_angle_between():
    degrees = np.arange(32.0, 81.0, 2.0)
    np.testing.assert_allclose(lift_over_drag(4.4, degrees), 1.0, rtol=1e-3)
    assert np.all(at(naca0015(200000, 4.4), degrees, CN) < at(naca0015(200000), degrees, CN))
