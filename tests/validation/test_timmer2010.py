"""Aspect ratio beyond the stall: W. A. Timmer, TORQUE 2010, abstract.

For sections with leading-edge separation, lift over drag does not change with it from 30 to
80 degrees. The program takes this for its law (one factor on both), so it is no row.
"""

import numpy as np
import pytest

from sim.core.loads.lookup import CN
from tests.validation.curves import at, drag, lift, naca0015


def lift_over_drag(aspect_ratio, degrees):
    """Return lift over drag of a wing over that of its section."""
    wing, section = naca0015(200000, aspect_ratio), naca0015(200000)
    return (lift(wing, degrees) / drag(wing, degrees)) / (
        lift(section, degrees) / drag(section, degrees)
    )


@pytest.mark.parametrize("aspect_ratio", [2.5, 4.4])
def test_every_angle_between(aspect_ratio):
    degrees = np.arange(30.0, 81.0, 2.0)
    np.testing.assert_allclose(lift_over_drag(aspect_ratio, degrees), 1.0, rtol=1e-3)
    finite = naca0015(200000, aspect_ratio)
    assert np.all(at(finite, degrees, CN) < at(naca0015(200000), degrees, CN))
