"""The ground: what it leaves of induced angles and downwash, and moments about the wheels."""

from math import pi

import numpy as np
import pytest

from sim.describe import load_aeroplane
from sim.landing.ground import (
    Wheels,
    downwash_left,
    forward_to_rotate,
    induced_left,
    near_ground,
    wheels_of,
)

STANDING = Wheels(forward=-0.04, down=0.15, attitude=0.0)


@pytest.mark.parametrize("height", [0.07, 0.1, 0.15, 0.2, 0.25])
def test_induced_angles_follow_wieselsbergers_curve(height):
    """Sigma = (1 - 1.32 h/b)/(1.05 + 7.4 h/b), NACA TM-77, 1/15 to 1/4 (from memory)."""
    published = (1.0 - 1.32 * height) / (1.05 + 7.4 * height)
    assert 1.0 - induced_left(height) == pytest.approx(published, abs=0.02)


def test_downwash_is_that_of_the_image_of_a_trailing_pair():
    """Far behind a pair and its image, by Biot and Savart; DATCOM 4.7.1 (from memory)."""
    span, height = 1.2, 0.2
    half = 0.125 * pi * span
    real, image = 1.0 / half, half / (half**2 + (2.0 * height) ** 2)
    assert downwash_left(span, height, height) == pytest.approx(1.0 - image / real, rel=1e-9)


def test_the_ground_is_forgotten_high_up_and_takes_everything_at_nought(display_jet):
    assert induced_left(5.0) > 0.999
    assert downwash_left(1.0, 50.0, 50.0) > 0.999
    assert downwash_left(1.0, 0.0, 0.0) == 0.0
    far = near_ground(display_jet.model, 100.0)
    np.testing.assert_allclose(far.surfaces, display_jet.model.surfaces, rtol=1e-3)


def test_standing_still_the_balance_point_must_lie_over_the_wheels():
    """Statics: without air the nose comes up only with the balance point behind the wheels."""
    ahead = forward_to_rotate(np.zeros(6), STANDING, 2.0, 0.0)
    assert ahead == pytest.approx(STANDING.forward)


def test_thrust_through_the_balance_point_neither_lifts_nor_holds_the_nose():
    """It is balanced by the inertia of the run, which acts at the same place (d'Alembert)."""
    thrust = np.array([15.0, 0.0, 0.0, 0.0, 0.0, 0.0])
    ahead = forward_to_rotate(thrust, STANDING, 2.0, 0.0)
    assert ahead == pytest.approx(STANDING.forward)
    # friction pulls back at the ground: the run is slower, the balance point's inertia less
    assert forward_to_rotate(thrust, STANDING, 2.0, 0.1) < ahead


def test_a_moment_nose_up_is_worth_itself_over_the_weight():
    up = np.array([0.0, 0.0, 0.0, 0.0, 1.0, 0.0])
    shift = forward_to_rotate(up, STANDING, 2.0, 0.0) - STANDING.forward
    assert shift == pytest.approx(1.0 / (2.0 * 9.80665), rel=1e-6)


def test_a_tail_wheel_stands_nose_up_and_a_jet_about_level(display_jet):
    sport = load_aeroplane("club_sport").undercarriage
    assert not sport.has_nose_wheel
    assert 8.0 < np.degrees(np.arctan(sport.slope)) < 16.0  # common practice, no source
    wheels = wheels_of(display_jet.aeroplane, display_jet.weighed.balance_m)
    # main wheels some 15 degrees behind the balance point: common practice, no source
    assert np.degrees(np.arctan2(-wheels.forward, wheels.down)) == pytest.approx(15.0, abs=5.0)
