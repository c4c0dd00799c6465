"""Gain limits of the rate gyro's loop: K. J. Åström, R. M. Murray, for the method.

The aeroplane is taken out: an integrator stands for it, so that all limits have closed forms.

A sampled integrator is stable below K Ts = 2, with one sample of delay below 1, with d
samples below 2 sin(pi/(4d + 2)). A pure delay T allows K T < pi/2; sampling and holding adds
half a sample to it.
"""

from math import pi, sin

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.motion.actuators import servo_rate
from sim.core.pilot.control import N_GYRO_MEMORY, gyro_angles
from sim.gyro.loop import Loop
from sim.gyro.margins import Margins, delay_margin, most_gain
from tests.validation.rows import cases, check, each, relative

SOURCE = "astrom2008"


def grows(gain, late, sample, ticks):
    """Return True if the gyro's loop round an integrator diverges at this gain.

    The aeroplane is taken out: one radian of surface gives one rad/s² of roll.
    """
    row = np.zeros(k.N_GYRO)
    row[k.G_ON], row[k.G_ROLL], row[k.G_DELAY] = 1.0, gain, late * sample
    row[k.G_IDLE] = row[k.G_HALF] = row[k.G_FULL] = 1.0
    memory, out = np.zeros(N_GYRO_MEMORY), np.zeros(3)
    rate, sizes = 1.0, []
    for _ in range(ticks):
        gyro_angles(row, memory, rate, 0.0, 0.0, np.zeros(4), sample, out)
        rate += sample * out[0]
        sizes.append(abs(rate))
    return max(sizes[-ticks // 6 :]) > max(sizes[ticks // 3 : ticks // 2])


def limit(late, sample, near, ticks):
    """Return the gain [1/s] at which the loop begins to grow, to 0.2 %."""
    low, high = 0.9 * near, 1.1 * near
    while high - low > 0.002 * near:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if grows(middle, late, sample, ticks) else (middle, high)
    return 0.5 * (low + high)


OMEGAS = np.geomspace(1.0, 1000.0, 240)
S = 1j * OMEGAS


def swings(loop):
    """Return the gain [1/s] at which a loop with this response swings on its own."""
    return most_gain(OMEGAS, loop, Margins(1.0, 0.0)).swings


def late(seconds, lag=0.0):
    """Return an integrator behind a delay and a lag, both [s], by the gyro's own response."""
    return Loop(lag, seconds, 0.0, 0.0, False).response(OMEGAS) / S


def delay_left(seconds, gain):
    """Return the delay [s] that the loop still stands at a gain [1/s]."""
    return delay_margin(OMEGAS, late(seconds), gain)[1]


def limited_step(rate_dps, step_deg):
    """Return the time [s] that a servo at its greatest speed takes for a step."""
    rate, goal, lag, dt, now = np.radians(rate_dps), np.radians(step_deg), 0.001, 1e-4, 0.0
    for n in range(100000):
        if goal - now < 1e-9 + rate * lag:  # from here the lag rounds the corner off
            return n * dt + (goal - now) / rate
        now += dt * servo_rate(now, goal, rate, lag, -10.0, 10.0)
    return None


def rows():
    yield from each(SOURCE, "K exp(-sT)/s: pi/2 over T", (
        (f"gyro, pure delay {1000 * t:.0f} ms: largest gain, 1/s", value,
         lambda t=t: swings(late(t)))
        for t, value in ((0.02, 78.5398), (0.03, 52.3599))
    ), relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "K exp(-sT)/s: pi/(2K) - T", (
        (f"gyro, pure delay {1000 * t:.0f} ms at {k:.0f} 1/s: delay left, s", pi / (2.0 * k) - t,
         lambda t=t, k=k: delay_left(t, k))
        for t, k in ((0.02, 20.0), (0.02, 60.0), (0.03, 30.0))
    ), relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "K exp(-sT)/(s(1 + tau s)), solved for the angle of -180 degrees", (
        (f"gyro, delay {1000 * t:.0f} ms, lag {1000 * tau:.0f} ms: {name}", value,
         lambda t=t, tau=tau, what=what: what(most_gain(OMEGAS, late(t, tau), Margins(1.0, 0.0))))
        for t, tau, gain, omega in ((0.02, 0.05, 53.0579, 29.6621), (0.01, 0.03, 105.1697, 54.7161))
        for name, value, what in (
            ("largest gain, 1/s", gain, lambda found: found.swings),
            ("where it swings, rad/s", omega, lambda found: found.crossing_rps),
        )
    ), relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "integrator behind a second-order servo: 2 zeta omega_n", [
        ("servo of 60 rad/s, damping 0.7: largest gain, 1/s", 84.0,
         lambda: swings(3600.0 / (S * S + 84.0 * S + 3600.0) / S)),
    ], relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "step over rate", [
        ("servo at 400 deg/s, step of 20 deg: time, s", 0.05, lambda: limited_step(400.0, 20.0)),
    ], relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "2 sin(pi/(4d + 2))/Ts for d samples of delay", (
        (f"gyro at 100 Hz, {late} samples late: largest gain, 1/s", value,
         lambda late=late, value=value: limit(late, 0.01, value, 1200))
        for late, value in ((0, 200.0), (1, 100.0), (2, 200.0 * sin(pi / 10.0)))
    ), relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "(pi/2)/(T + Ts/2); 78.54 with nothing sampled", [
        ("gyro at 1000 Hz, 20 ms late: largest gain, 1/s", 0.5 * pi / 0.0205,
         lambda: limit(20, 0.001, 0.5 * pi / 0.0205, 12000)),
    ], relative(0.01), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
