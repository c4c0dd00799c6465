"""Gain limits of the rate gyro's loop: K. J. Åström, R. M. Murray, for the method.

A sampled integrator is stable below K Ts = 2, with one sample of delay below 1, with d
samples below 2 sin(pi/(4d + 2)). A pure delay T allows K T < pi/2; sampling and holding adds
half a sample to it.
"""

from math import pi, sin

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.pilot.control import N_GYRO_MEMORY, gyro_angles
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


def rows():
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
