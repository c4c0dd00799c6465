"""The highest gain of a loop: closed forms with the aeroplane taken out."""

from math import atan, inf, pi

import numpy as np
import pytest

from sim.gyro.loop import Loop, loop_of, open_loop
from sim.gyro.margins import Margins, delay_margin, frequencies, most_gain

OMEGAS = np.geomspace(1.0, 1000.0, 240)
S = 1j * OMEGAS
NONE = Margins(1.0, 0.0)


def late(seconds, lag=0.0):
    """Return an integrator behind a delay and a lag, both [s]."""
    return np.exp(-S * seconds) / (S * (1.0 + lag * S))


def test_margins_are_those_of_the_table():
    assert Margins.asked().gain == pytest.approx(1.9953, abs=1e-4)  # 6 dB by definition
    assert Margins.asked().phase_rad == pytest.approx(pi / 4.0)
    assert Margins.asked(limit_speed=True).gain < Margins.asked().gain


def test_a_gain_margin_halves_and_a_phase_margin_bounds_an_integrator():
    # K exp(-sT)/s: phase margin pi/2 - K T, so 45 degrees are left at
    # K = pi/(4 T), as are 6 dB
    found = most_gain(OMEGAS, late(0.02), Margins(2.0, pi / 4.0))
    assert found.kept == pytest.approx(pi / 0.08, rel=0.005)
    assert found.crossing_rps == pytest.approx(pi / 0.04, rel=0.005)
    wider = most_gain(OMEGAS, late(0.02), Margins(1.0, pi / 3.0))
    assert wider.kept == pytest.approx(pi / 0.12, rel=0.005)


def test_a_loop_that_never_comes_round_has_no_limit():
    assert most_gain(OMEGAS, 1.0 / (1.0 + 0.1 * S), NONE).swings == inf
    assert delay_margin(OMEGAS, 0.1 / S, 0.0) == (inf, inf)


def test_phase_left_and_delay_left():
    # at K = 10 rad/s, T = 20 ms: 90 - 11.46 degrees, and that over 10 rad/s
    phase, seconds = delay_margin(OMEGAS, late(0.02), 10.0)
    assert phase == pytest.approx(pi / 2.0 - 0.2, rel=0.005)
    assert seconds == pytest.approx(pi / 20.0 - 0.02, rel=0.01)


def test_a_gyro_lags_as_its_parts_say():
    # by definition: tan of the lag for the filter, omega T for the delay, half a frame for the hold
    loop = Loop(0.012, 0.02, 0.01, 0.0, False)
    at = loop.response(np.array([30.0]))[0]
    assert np.angle(at) == pytest.approx(-atan(0.36) - 0.6 - 0.15, abs=1e-9)
    assert abs(at) == pytest.approx(np.sinc(0.15 / pi) / np.hypot(1.0, 0.36), rel=1e-9)
    assert loop.slower(0.5).delay_s == pytest.approx(0.03)


def test_hold_mode_adds_its_integral():
    rate, hold = Loop(0.0, 0.0, 0.01, 0.0, False), Loop(0.0, 0.0, 0.01, 2.0, False)
    omegas = np.array([4.0])
    assert (hold.response(omegas) / rate.response(omegas))[0] == pytest.approx(1.0 - 0.5j)


def test_without_a_gyro_a_usual_one_is_assumed():
    assert loop_of(None).assumed
    assert frequencies(0.01)[-1] == pytest.approx(pi / 0.01)


def test_other_loops_closed_are_those_of_the_whole_matrix():
    # det(I + K P) with one more loop opened: the ratio of two determinants, by definition
    rng = np.random.default_rng(1)
    rates = rng.normal(size=(5, 3, 3)) + 1j * rng.normal(size=(5, 3, 3))
    gains = np.array([0.3, 0.7, 0.2])
    for axis in range(3):
        others = gains.copy()
        others[axis] = 0.0
        whole = np.linalg.det(np.eye(3) + gains[:, None] * rates)
        without = np.linalg.det(np.eye(3) + others[:, None] * rates)
        alone = open_loop(rates, axis, gains)
        assert 1.0 + gains[axis] * alone == pytest.approx(whole / without)
