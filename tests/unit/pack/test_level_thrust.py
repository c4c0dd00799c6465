"""Thrust that level flight takes, without the power's own limits; and the field's air."""

import numpy as np
import pytest

from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.pack.field import field_density, warmth
from sim.pack.level_thrust import power_of, thrust_required
from sim.pack.power_fit import power_fit
from sim.power.operating_point import operating_point
from sim.trim.trimming import level


@pytest.mark.parametrize("name", ["display_jet", "club_sport"])
def test_it_is_what_trim_needs_where_the_power_suffices(name):
    ready = assemble(load_aeroplane(name))
    speeds = np.array([1.0, 1.3, 2.2]) * ready.stall.speed_mps
    found = thrust_required(ready.model, speeds, ready.density)
    for speed, needed in zip(speeds, found, strict=True):
        throttle = level(ready, speed).throttle
        given = operating_point(power_of(ready.model), throttle, speed, ready.density)
        assert needed == pytest.approx(given.net_thrust_n, rel=2e-3)


def test_it_goes_on_where_the_power_does_not():
    ready = assemble(load_aeroplane("twin_delta"))
    fast = np.array([40.0, 60.0])
    assert not level(ready, 60.0).found
    found = thrust_required(ready.model, fast, ready.density)
    # zero-lift drag alone goes with the square of the speed
    assert 1.9 < found[1] / found[0] < 1.5**2


def test_nothing_measured_is_nothing_fitted():
    jet = load_aeroplane("display_jet")
    assert power_fit(jet, assemble).aeroplane is jet


def test_a_warm_high_field_has_thinner_air():
    """Standard atmosphere [ussa1976]: 1.225 kg/m3 at sea level and 15 degrees."""
    jet = load_aeroplane("display_jet")
    assert field_density(jet) == pytest.approx(1.225, rel=1e-4)
    hills = jet.field.model_copy(update={"elevation_m": 1000.0, "temperature_c": 30.0})
    high = jet.model_copy(update={"field": hills})
    assert warmth(high) == 15.0
    assert field_density(high) < 1.09
