"""The 1-cosine gust of MIL-F-8785C 3.7.1.3 (from memory): it raises the angle of attack."""

from math import atan2, degrees

import numpy as np

from sim.core import script_layout as s
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.flying import fly_one


def test_a_gust_from_below_raises_the_angle_of_attack(display_jet):
    gust = load_manoeuvre("slow_flight_gust")
    calm = gust.model_copy(update={"start": gust.start.model_copy(update={"gust_mps": 0.0})})
    out = load_recovery("centre_sticks")
    hit, still = fly_one(display_jet, gust, out).history, fly_one(display_jet, calm, out).history
    speed = still[0, s.H_SPEED]
    through = (hit[:, s.H_T] > 1.0) & (hit[:, s.H_T] < 1.0 + 8.0 / speed)
    rise = hit[through, s.H_ALPHA].max() - still[0, s.H_ALPHA]
    # half a second long, against a heave time constant 2 m/(rho V S a) of a quarter of a
    # second: a good part of the gust's own angle is met, never more than all of it
    assert 0.3 * atan2(4.0, speed) < rise < atan2(4.0, speed), degrees(rise)
    np.testing.assert_allclose(hit[:100, s.H_ALPHA], still[:100, s.H_ALPHA], atol=1e-12)


def test_level_flight_is_held_in_calm_air(display_jet):
    gust = load_manoeuvre("slow_flight_gust")
    calm = gust.model_copy(update={"start": gust.start.model_copy(update={"gust_mps": 0.0})})
    history = fly_one(display_jet, calm, load_recovery("centre_sticks")).history
    held = history[history[:, s.H_T] < 5.0]
    assert abs(held[:, s.H_UP] - held[0, s.H_UP]).max() < 0.5  # m
