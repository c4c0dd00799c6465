"""The section that others are built on, between its measured Reynolds numbers and beyond them."""

import numpy as np
import pytest

from sim import tables
from sim.aero.sections.base_section import base_stall_curve, separated_curves


def test_reynolds_numbers_beyond_the_table_s_ends_are_those_of_the_ends():
    values = tables.section_model()
    for end, beyond in ((values.reynolds_lowest, 1e4), (values.reynolds_highest, 1e7)):
        assert base_stall_curve(beyond).peak == base_stall_curve(end).peak


def test_half_way_between_two_measured_reynolds_numbers_it_is_their_mean():
    low, high = (base_stall_curve(reynolds) for reynolds in (160000.0, 360000.0))
    found = base_stall_curve(np.sqrt(160000.0 * 360000.0))
    assert found.peak == pytest.approx(0.5 * (low.peak + high.peak))
    np.testing.assert_allclose(found.share, 0.5 * (low.share + high.share), atol=1e-12)


@pytest.mark.parametrize("edge", ["round", "sharp"])
def test_across_the_flow_separated_flow_has_the_measured_drag(edge):
    # R. E. Sheldahl, P. C. Klimas, SAND80-2114 (1981), NACA 0015 at 90 degrees: CD 1.800
    assert float(separated_curves(edge)[0](90.0)) == pytest.approx(1.8, abs=0.001)


def test_all_is_attached_up_to_the_share_of_the_table():
    curve, values = base_stall_curve(360000.0), tables.section_model()
    whole = curve.alpha_deg < values.attached_to_share * curve.peak - 1.0
    assert whole.sum() > 2
    assert (curve.share[whole] == 1.0).all()
