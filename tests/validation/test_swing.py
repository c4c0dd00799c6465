"""Bifilar swing and radii of gyration against published figures."""

import numpy as np
import pytest

from sim.describe import load_aeroplane
from sim.weigh import swing_inertia, weigh


def test_bifilar_worked_example():
    """A measured small flying wing, *Measuring the moment of inertia of a UAV*, a web article.

    0.980 kg hung by wires 175 mm either side of its middle, 1.55 m long; nine swings in
    16.5 s. The article prints 0.0161 kg m² (two figures behind, cut rather than rounded);
    the formula gives 0.016166 (computed), to 1e-4.
    """
    inertia = swing_inertia(
        mass_kg=0.980, wire_spacing_m=0.350, wire_length_m=1.55, period_s=16.5 / 9.0
    )
    assert inertia == pytest.approx(0.016166, rel=1e-4)
    assert inertia == pytest.approx(0.0161, abs=1e-4)


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("display_jet", (0.266, 0.346, 0.400)),  # jet fighter
        ("club_sport", (0.248, 0.338, 0.393)),  # light low wing
        ("twin_delta", (0.253, 0.380, 0.390)),  # delta airliner
    ],
)
def test_radii_of_gyration_are_of_the_usual_size(name, printed):
    """D. P. Raymer, *Aircraft Design: A Conceptual Approach*, pp. 443-444.

    Ixx = m(bRx/2)², Iyy = m(LRy/2)², Izz = m((b+L)Rz/4)²; a sanity band of ± 40 %, because
    the true yaw inertia of a known jet differs from the table by as much.
    """
    weighed = weigh(load_aeroplane(name))
    span, length = weighed.reference.span_m, weighed.reference.length_m
    scales = np.array([span / 2, length / 2, (span + length) / 4])
    np.testing.assert_allclose(weighed.radii_of_gyration_m / scales, printed, rtol=0.40)
