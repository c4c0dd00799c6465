"""The curve of the sections against scipy's of the same method."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from sim.aero.sections.monotone import monotone

WIDTHS = st.floats(0.01, 10.0)
VALUES = st.one_of(st.just(0.0), st.floats(-100.0, 100.0).filter(lambda y: abs(y) > 1e-6))


@given(st.lists(st.tuples(WIDTHS, VALUES), min_size=2, max_size=12))
def test_curve_and_slope_are_those_of_scipy(points):
    """Reference: scipy.interpolate.PchipInterpolator, by Fritsch and Butland (1984)."""
    widths, values = np.array(points).T
    knots = np.cumsum(widths)
    at = np.concatenate([np.linspace(knots[0] - 1.0, knots[-1] + 1.0, 200), knots])
    theirs, ours = PchipInterpolator(knots, values), monotone(knots, values)
    np.testing.assert_allclose(ours(at), theirs(at), rtol=1e-12, atol=1e-9)
    np.testing.assert_allclose(ours.slope(at), theirs.derivative()(at), rtol=1e-12, atol=1e-9)


def test_no_overshoot_at_a_step():
    """By the method's definition: Fritsch and Butland (1984), SIAM J. Sci. Stat. Comput. 5."""
    curve = monotone(np.arange(6.0), np.array([0.0, 0.0, 0.0, 1.0, 1.0, 1.0]))
    found = curve(np.linspace(0.0, 5.0, 501))
    assert found.min() == 0.0
    assert found.max() <= 1.0 + 1e-12
    assert np.all(np.diff(found) >= -1e-12)


@pytest.mark.parametrize(
    ("knots", "values"),
    [([0.0, 0.0, 1.0], [1.0, 2.0, 3.0]), ([0.0, 1.0, 2.0], [1.0, np.nan, 3.0])],
)
def test_points_without_a_curve_are_refused(knots, values):
    with pytest.raises(ValueError, match="finite values at places that rise"):
        monotone(np.array(knots), np.array(values))
