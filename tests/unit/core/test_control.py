"""Servos and the rate gyro: closed forms of their loops."""

from math import exp, pi, radians, sin

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.loads.hinge import HM_ASKED, HM_SLOPE, N_HINGE_MOMENT
from sim.core.motion.actuators import duty_rate, servo_rate
from sim.core.motion.integrate import rk4_step, scratch
from sim.core.pilot.control import (
    N_GYRO_MEMORY,
    command_angle,
    expo,
    gyro_angles,
    schedule,
    servo_targets,
)


def servo(rate_dps=450.0, lag=0.025, stop_deg=20.0):
    """Return one servo row with equal throws."""
    row = np.zeros(k.N_SERVO_COLS)
    row[k.V_RATE], row[k.V_LAG] = radians(rate_dps), lag
    row[k.V_MIN], row[k.V_MAX] = radians(-stop_deg), radians(stop_deg)
    row[k.V_POSITIVE] = row[k.V_NEGATIVE] = radians(15.0)
    return row


# --------------------------------------------------------------------------- servos
@pytest.fixture
def step_response(body):
    """Positions [rad] every 5 ms of one servo after a step, by the whole kernel."""

    def respond(row, target, seconds):
        model = body(1.0, np.eye(3), servos=row.reshape(1, -1))
        work, inputs = scratch(model)
        inputs.target[0] = target
        x = np.zeros(work.k1.size)
        x[k.X_QUAT] = 1.0
        out = [0.0]
        for _ in range(round(seconds / 0.005)):
            rk4_step(x, model, inputs, work, 0.005)
            out.append(x[k.X_SERVO])
        return np.array(out)

    return respond


def test_a_rate_limited_step_takes_its_angle_over_its_rate(step_response):
    # closed form: delta/rate exactly while the limit holds, which is until the lag's own
    # rate, error/lag, falls below it
    row = servo(rate_dps=100.0, lag=0.02, stop_deg=40.0)
    moved = step_response(row, radians(30.0), 0.5)
    t = 0.005 * np.arange(moved.size)
    limited = t <= (30.0 - 100.0 * 0.02) / 100.0
    assert moved[limited] == pytest.approx(radians(100.0) * t[limited], abs=1e-12)
    assert limited.sum() > 50


def test_after_the_limit_the_lag_closes_in_exponentially(step_response):
    # from there the remaining error rate*lag falls as exp(-t/lag); RK4 at 5 ms of 20 ms
    # errs by (0.25)^5/120 = 8e-6 of it a step
    row = servo(rate_dps=100.0, lag=0.02, stop_deg=40.0)
    moved = step_response(row, radians(30.0), 0.5)
    left = radians(30.0) - moved
    i = round(0.28 / 0.005)
    for ahead in (4, 8, 20):
        expected = radians(2.0) * exp(-ahead * 0.005 / 0.02)
        assert left[i + ahead] == pytest.approx(expected, abs=radians(2.0) * 1e-4)


def test_small_steps_are_a_first_order_lag(step_response):
    # 63.2 % after one time constant
    row = servo(rate_dps=1000.0, lag=0.03)
    moved = step_response(row, radians(1.0), 0.03)
    assert moved[-1] == pytest.approx(radians(1.0) * (1.0 - exp(-1.0)), rel=1e-4)


def test_end_stops_hold(step_response):
    row = servo(stop_deg=20.0)
    moved = step_response(row, radians(35.0), 1.0)
    assert moved.max() <= radians(20.0) + 1e-12
    assert moved[-1] == pytest.approx(radians(20.0), abs=1e-9)


def test_rate_is_never_exceeded():
    row = servo(rate_dps=300.0)
    for error in np.radians([-90.0, -10.0, -1.0, 0.0, 1.0, 10.0, 90.0]):
        assert abs(servo_rate(0.0, error, *row[: k.V_DEADBAND])) <= radians(300.0)


def test_a_dead_band_swallows_small_wishes_and_the_air_limits_large_ones():
    row = servo()
    row[k.V_MIX_ELEVATOR], row[k.V_DEADBAND] = 1.0, radians(0.3)
    target, none = np.zeros(1), np.zeros(3)
    servos, off = row.reshape(1, -1), np.zeros(1)
    hinge = np.zeros((1, N_HINGE_MOMENT))

    def asked(stick):
        sticks = np.array([stick, 0.0, 0.0, 0.0])
        servo_targets(servos, sticks, none, none, none, hinge, target, off)
        return target[0]

    assert asked(0.01) == 0.0
    assert asked(0.5) == pytest.approx(radians(7.5))
    assert off[0] == 0.0
    servos[0, k.V_TORQUE], hinge[0, HM_SLOPE] = 0.1, -0.1 / radians(5.0)
    assert asked(1.0) == pytest.approx(radians(5.0))
    assert off[0] == pytest.approx(-radians(10.0))
    hinge[0, HM_SLOPE] *= 2.0  # twice the dynamic pressure
    assert asked(-1.0) == pytest.approx(-radians(2.5))
    assert hinge[0, HM_ASKED] == pytest.approx(0.1 * 15.0 / 2.5)


def test_mixes_and_unequal_throws():
    row = servo()
    row[k.V_MIX_ELEVATOR], row[k.V_MIX_AILERON] = -1.0, 0.5
    row[k.V_POSITIVE], row[k.V_NEGATIVE] = radians(12.0), radians(20.0)
    assert command_angle(row, 1.0, 0.0, 0.0) == pytest.approx(-radians(20.0))
    assert command_angle(row, -1.0, 0.0, 0.0) == pytest.approx(radians(12.0))
    assert command_angle(row, 0.5, 1.0, 1.0) == pytest.approx(0.0)
    assert command_angle(row, -1.0, 1.0, 0.0) == pytest.approx(radians(12.0))  # saturates


def test_expo_keeps_the_ends():
    assert expo(1.0, 0.3) == pytest.approx(1.0)
    assert expo(-1.0, 0.3) == pytest.approx(-1.0)
    assert expo(0.5, 0.3) == pytest.approx(0.7 * 0.5 + 0.3 * 0.125)


def test_a_throttle_sweep_takes_its_time():
    # one full range per full_sweep seconds, but for the last 2 %
    duty, t = 0.0, 0.0
    while duty < 0.98:
        duty += 1e-4 * duty_rate(duty, 1.0, 0.6)
        t += 1e-4
    assert t == pytest.approx(0.98 * 0.6, abs=2e-4)


# ----------------------------------------------------------------------------- gyro
def gyro(gain=0.0, delay=0.0, filter_s=0.0, override=0.0):
    """Return a roll gyro at full gain whatever the throttle."""
    row = np.zeros(k.N_GYRO)
    row[k.G_ON], row[k.G_ROLL], row[k.G_DELAY] = 1.0, gain, delay
    row[k.G_FILTER], row[k.G_OVERRIDE], row[k.G_CENTRED] = filter_s, override, 0.05
    row[k.G_IDLE] = row[k.G_HALF] = row[k.G_FULL] = 1.0
    return row


def grows(gain, samples_late, sample, ticks):
    """Return True if a sampled loop round an integrator diverges at this gain.

    The aircraft is taken out: one radian of surface gives one rad/s2 of roll.
    """
    row = gyro(gain, delay=samples_late * sample)
    memory, out = np.zeros(N_GYRO_MEMORY), np.zeros(3)
    rate, sizes = 1.0, []
    for _ in range(ticks):
        gyro_angles(row, memory, rate, 0.0, 0.0, np.zeros(4), sample, out)
        rate += sample * out[0]
        sizes.append(abs(rate))
    early, late = max(sizes[ticks // 3 : ticks // 2]), max(sizes[-ticks // 6 :])
    return late > early


# K. J. Astrom, R. M. Murray, Feedback Systems, for the method: a sampled integrator is
# stable below K Ts = 2, with one sample of delay below 1, with d below 2 sin(pi/(4d + 2))
@pytest.mark.parametrize(("late", "limit"), [(0, 2.0), (1, 1.0), (2, 2.0 * sin(pi / 10.0))])
def test_gain_limit_of_the_sampled_loop(late, limit):
    sample = 0.01
    assert not grows(0.99 * limit / sample, late, sample, 1200)
    assert grows(1.01 * limit / sample, late, sample, 1200)


def test_gain_limit_with_a_delay():
    # K exp(-sT)/s: stable if K T < pi/2. 20 ms of delay, sampled each ms, whose hold adds
    # half a sample: K < (pi/2)/0.0205 = 76.6; without it 78.54
    limit = 0.5 * pi / 0.0205
    assert not grows(0.99 * limit, 20, 0.001, 20000)
    assert grows(1.01 * limit, 20, 0.001, 20000)


def test_the_filter_is_a_first_order_lag():
    # a held rate through a lag tau sampled at dt: 1 - (tau/(tau + dt))^n
    row = gyro(gain=1.0, filter_s=0.03)
    memory, out = np.zeros(N_GYRO_MEMORY), np.zeros(3)
    for _ in range(6):
        gyro_angles(row, memory, 1.0, 0.0, 0.0, np.zeros(4), 0.01, out)
    assert -out[0] == pytest.approx(1.0 - 0.75**6)


@pytest.mark.parametrize("late", [0, 1, 2, 5])
def test_the_delay_is_whole_samples(late):
    row = gyro(gain=1.0, delay=0.01 * late)
    memory, out = np.zeros(N_GYRO_MEMORY), np.zeros(3)
    seen = []
    for n in range(80):  # round the ring more than twice
        gyro_angles(row, memory, float(n + 1), 0.0, 0.0, np.zeros(4), 0.01, out)
        seen.append(-out[0])
    expected = [max(0.0, n + 1.0 - late) for n in range(80)]
    assert seen == pytest.approx(expected)


def test_stick_override_and_off():
    row = gyro(gain=1.0, override=1.0)
    memory, out = np.zeros(N_GYRO_MEMORY), np.zeros(3)
    half_right = np.array([0.0, 0.5, 0.0, 0.0])
    gyro_angles(row, memory, 1.0, 0.0, 0.0, half_right, 0.01, out)
    assert out[0] == pytest.approx(-0.5)
    gyro_angles(row, memory, 1.0, 0.0, 0.0, np.array([0.0, 1.0, 0.0, 0.0]), 0.01, out)
    assert out[0] == 0.0
    row[k.G_ON] = 0.0
    gyro_angles(row, memory, 1.0, 0.0, 0.0, np.zeros(4), 0.01, out)
    assert np.all(out == 0.0)


def test_hold_mode_leans_on_the_angle_and_lets_go_with_the_stick():
    row = gyro(gain=0.1)
    row[k.G_HOLD], row[k.G_HOLD_LIMIT] = 2.0, radians(30.0)
    memory, out = np.zeros(N_GYRO_MEMORY), np.zeros(3)
    for _ in range(50):  # half a second at 0.4 rad/s
        gyro_angles(row, memory, 0.4, 0.0, 0.0, np.zeros(4), 0.01, out)
    assert out[0] == pytest.approx(-0.1 * (0.4 + 2.0 * 0.2))
    for _ in range(500):
        gyro_angles(row, memory, 0.4, 0.0, 0.0, np.zeros(4), 0.01, out)
    assert out[0] == pytest.approx(-0.1 * (0.4 + 2.0 * radians(30.0)))
    gyro_angles(row, memory, 0.0, 0.0, 0.0, np.array([0.0, 0.5, 0.0, 0.0]), 0.01, out)
    assert out[0] == 0.0


def test_schedule_is_linear_between_its_three_points():
    row = gyro()
    row[k.G_IDLE], row[k.G_HALF], row[k.G_FULL] = 1.0, 0.8, 0.5
    found = [schedule(row, t) for t in (0.0, 0.25, 0.5, 0.75, 1.0)]
    assert found == pytest.approx([1.0, 0.9, 0.8, 0.65, 0.5])
