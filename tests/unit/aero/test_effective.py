"""What a surface lifts and stalls like: closed forms and published formulas."""

from math import pi, radians, tan

import pytest

from sim.aero.geometry.effective import (
    edge_sweep,
    elliptic_induced,
    mean_reynolds,
    slope_aspect_ratio,
    unswept_aspect_ratio,
)
from tests.validation.wings import surface

SPAN = 1.2


@pytest.mark.parametrize("ratio", [4.0, 6.0, 10.0])
def test_a_straight_wing_stands_for_itself(ratio):
    # DATCOM's slope without sweep is Helmbold's, so the way there and back ends where it began
    wing = surface("wing", SPAN, SPAN / ratio, SPAN / ratio)
    assert slope_aspect_ratio(wing) == pytest.approx(ratio)
    assert unswept_aspect_ratio(wing) == pytest.approx(ratio)


def test_a_swept_wing_lifts_as_a_straight_one_of_less_aspect_ratio():
    # DATCOM 4.1.3.2 with kappa 1 and no Mach number: a = 2 pi A / (2 + sqrt(A^2/cos^2 L + 4))
    swept = surface("wing", SPAN, 0.2, 0.2, 40.0)
    asked = 6.0 / (1.0 / (2.0 * pi)) / (2.0 + (36.0 * (1.0 + tan(radians(40.0)) ** 2) + 4.0) ** 0.5)
    straight = unswept_aspect_ratio(swept)
    assert 2.0 * pi * straight / (2.0 + (straight**2 + 4.0) ** 0.5) == pytest.approx(asked)
    assert straight < 5.0


def test_an_elliptic_wing_induces_its_lift_over_pi_aspect_ratio():
    # J. D. Anderson, Fundamentals of Aerodynamics, 2011, eq. 5.42 (from memory)
    assert elliptic_induced(8.0) == pytest.approx(1.0 / (8.0 * pi))


def test_reynolds_number_of_a_model_wing():
    # 20 m/s, 0.2 m, 1.46e-5 m2/s (U.S. Standard Atmosphere 1976, sea level: 1.4607e-5)
    assert mean_reynolds(surface("wing", SPAN, 0.2, 0.2), 20.0) == pytest.approx(274e3, rel=0.002)


def test_a_wing_behind_a_strake_is_as_swept_as_both_together():
    wing, strake = surface("wing", SPAN, 0.3, 0.1, 20.0), surface("strake", 0.3, 0.4, 0.1, 70.0)
    assert edge_sweep(wing, (wing,)) == 20.0
    assert edge_sweep(wing, (wing, strake)) >= 20.0
