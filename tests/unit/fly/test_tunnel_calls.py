"""The tunnel's calls by their own modules: what symmetry and a typing error must give."""

import pytest

from sim.describe import load_aeroplane
from sim.fly.tunnel.coefficients import coefficients
from sim.fly.tunnel.forced_oscillation import forced_oscillation
from sim.pack.assemble import assemble


@pytest.fixture(scope="module")
def ready():
    return assemble(load_aeroplane("twin_delta"))


def test_without_sideslip_a_symmetric_aeroplane_neither_rolls_nor_yaws(ready):
    found = coefficients(ready, alpha_deg=[0.0, 10.0])
    assert found.Cl == pytest.approx([0.0, 0.0], abs=1e-9)
    assert pytest.approx([0.0, 0.0], abs=1e-9) == found.CY
    assert found.CZ[1] < found.CZ[0]  # lift is up, z down


def test_an_axis_that_is_none_is_refused(ready):
    with pytest.raises(ValueError, match="axis"):
        forced_oscillation(ready, axis="sideways", alpha_deg=5.0, frequency_hz=1.0)
