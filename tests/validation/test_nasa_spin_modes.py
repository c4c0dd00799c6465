"""NASA's names of spin modes by angle of attack: 20-30° steep, to 45, 65 and 90°.

The names are read from a table of the program (judge.toml), so no row of published numbers.
"""

from math import radians

import pytest

from sim.judge.spins import mode_name

INSIDE = [(25, "steep"), (38, "moderately steep"), (55, "moderately flat"), (80, "flat")]


@pytest.mark.parametrize(("alpha_deg", "name"), INSIDE)
def test_names(alpha_deg, name):
    assert mode_name(radians(alpha_deg), 0.0) == f"erect, {name}"
    assert mode_name(radians(-alpha_deg), 0.0) == f"inverted, {name}"
