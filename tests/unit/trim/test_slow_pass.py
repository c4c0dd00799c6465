"""The slow pass at a high angle of attack."""

from math import cos, radians, sin

import pytest

from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.trim.slow_pass import slow_pass


@pytest.fixture(scope="module")
def jet():
    return assemble(load_aeroplane("display_jet"))


def test_thrust_carries_what_lift_does_not(jet):
    """Slower than the stall, for the jet's push carries part; statics by hand."""
    held = slow_pass(jet, 25.0)
    weight = jet.weighed.mass_kg * 9.80665
    assert held.speed_mps < jet.stall.speed_mps
    assert 0.3 * weight < held.thrust_n < weight
    # at a right angle all weight hangs on the thrust
    steep = slow_pass(jet, 89.9)
    assert steep.thrust_n * sin(radians(89.9)) == pytest.approx(weight, rel=0.01)
    assert held.thrust_n * cos(radians(25.0)) < steep.thrust_n
