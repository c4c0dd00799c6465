"""Free rotation of rigid bodies against closed forms: L. D. Landau, E. M. Lifshitz, Mechanics."""

from functools import lru_cache

import numpy as np
import pytest
from scipy.special import ellipj, ellipk, ellipkinc

from sim.core.layout import X_QUAT, X_RATE
from sim.core.motion.integrate import rk4_step, scratch
from sim.core.motion.rotation import ned_of_body
from tests.conftest import bare_model
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.tumbling import BRICK, START_DPS, brick, momenta_ned, tumble

SOURCE = "landau1976"
SPIN = np.radians(20.0)
# a symmetric top: across, along the axis, its spin [rad/s] and tilt [rad]
ACROSS, ALONG, TOP_SPIN, TILT = 2.0, 1.0, 5.0, np.radians(20.0)


class Elliptic:
    """Free rotation of a body I1 < I2 < I3 with M^2 > 2 E I2.

    Section 37: w1 = a1 cn u, w2 = a2 sn u, w3 = a3 dn u.
    """

    def __init__(self, inertia, rates):
        i1, i2, i3 = inertia
        energy2 = float(np.dot(inertia, rates**2))
        square = float(np.dot(inertia**2, rates**2))
        low, high = energy2 * i3 - square, square - energy2 * i1
        self.amplitudes = np.sqrt(
            [low / (i1 * (i3 - i1)), low / (i2 * (i3 - i2)), high / (i3 * (i3 - i1))]
        )
        self.k = np.sqrt((i3 - i2) * high / (i1 * i2 * i3))
        self.m = (i2 - i1) * low / ((i3 - i2) * high)
        phase = np.arctan2(rates[1] / self.amplitudes[1], rates[0] / self.amplitudes[0])
        self.u0 = ellipkinc(phase, self.m)
        self.period = 4.0 * ellipk(self.m) / self.k

    def rates(self, t):
        sn, cn, dn, _ = ellipj(self.k * t + self.u0, self.m)
        return np.column_stack([cn, sn, dn]) * self.amplitudes


def growth():
    """Return the rate of growth about the middle axis over the spin, fitted over two decades."""
    t, states = tumble(brick(), [1e-7, SPIN, 0.0], 60.0, 0.01)
    size = np.abs(states[:, X_RATE])
    grown = (size > 1e-6) & (size < 1e-4)
    return np.polyfit(t[grown], np.log(size[grown]), 1)[0] / SPIN


def crossings(t, values):
    """Return when values rise through zero, interpolated."""
    up = np.flatnonzero((values[:-1] < 0.0) & (values[1:] >= 0.0))
    return t[up] - values[up] * (t[up + 1] - t[up]) / (values[up + 1] - values[up])


def wobble(axis, other):
    """Return the frequency of a wobble of 1e-4 about a stable axis over the spin."""
    rates = np.zeros(3)
    rates[axis], rates[other] = SPIN, 1e-4 * SPIN
    t, states = tumble(brick(), rates, 200.0, 0.01)
    times = crossings(t, states[:, X_RATE + other])
    return 2.0 * np.pi * (len(times) - 1) / (times[-1] - times[0]) / SPIN


def tumbling_period():
    """Return the period of the tumbling brick's middle rate [s]."""
    t, states = tumble(brick(), np.radians(START_DPS), 90.0, 0.01)
    times = crossings(t, states[:, X_RATE + 1])
    return (times[-1] - times[0]) / (len(times) - 1)


@lru_cache
def top():
    """Return times, states and NED axes of the symmetric top over 10 s."""
    rate = ALONG * TOP_SPIN * np.tan(TILT) / ACROSS
    model = bare_model(1.0, np.diag([ACROSS, ACROSS, ALONG]))
    t, states = tumble(model, [rate, 0.0, TOP_SPIN], 10.0, 0.001)
    axes = np.array([ned_of_body(*x[X_QUAT : X_QUAT + 4], 0.0, 0.0, 1.0) for x in states])
    return t, states, axes


def precession():
    """Return the angle of the top's axis about its momentum (n,), and the cosine to it."""
    _, states, axes = top()
    momentum = momenta_ned(np.diag([ACROSS, ACROSS, ALONG]), states[:1])[0]
    up = momentum / np.linalg.norm(momentum)
    first = axes[0] - up * (axes[0] @ up)
    second = np.cross(up, first)
    return np.unwrap(np.arctan2(axes @ second, axes @ first)), axes @ up


def nutation_rate():
    """Return the rate at which the top's cross rates turn in the body [rad/s]."""
    t, states, _ = top()
    return np.unwrap(np.arctan2(states[:, X_RATE + 1], states[:, X_RATE]))[-1] / t[-1]


@lru_cache
def order():
    """Return the fitted order of the integrator on the tumbling brick."""
    exact = Elliptic(np.diag(BRICK), np.radians(START_DPS))
    steps = np.array([0.8, 0.4, 0.2, 0.1])
    errors = []
    for step in steps:
        _, states = tumble(brick(), np.radians(START_DPS), 16.0, step)
        errors.append(np.abs(states[-1, X_RATE : X_RATE + 3] - exact.rates(16.0)).max())
    return np.polyfit(np.log(steps), np.log(errors), 1)[0]


def rows():
    yield from each(SOURCE, "section 37, period 4 K(m)/k, eight printed digits", [
        ("tumbling brick: period, s", 17.384489, tumbling_period)
    ], absolute(1e-6), "computed")  # fmt: skip
    yield from each(SOURCE, "sqrt((I2 - I1)(I3 - I2)/(I1 I3)); e-fold 5.1323 s at 20 °/s", [
        ("spin about the middle axis: growth over the spin", 0.558187, growth)
    ], relative(0.005), "computed")  # fmt: skip
    yield from each(SOURCE, "a wobble of 1e-4 shifts it by 1e-8; crossings to 1e-6", [
        ("spin about the largest axis: wobble over the spin", 0.665701, lambda: wobble(2, 0)),
        ("spin about the smallest axis: wobble over the spin", 0.715567, lambda: wobble(0, 1)),
    ], absolute(2e-6), "computed")  # fmt: skip
    yield from each(SOURCE, "(Ia - It)/It w3", [
        ("symmetric top: nutation in the body, rad/s", -2.5, nutation_rate)
    ], relative(1e-8), "computed")  # fmt: skip
    yield from each(SOURCE, "Ia w3/(It cos theta), seven printed digits", [
        ("symmetric top: precession in space, rad/s", 2.660444,
         lambda: precession()[0][-1] / top()[0][-1])
    ], absolute(5e-7), "computed")  # fmt: skip
    yield from each("hairer1993", "classical Runge-Kutta: the error falls as the fourth power", [
        ("integrator: order", 4.0, order)
    ], absolute(0.15), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_the_elliptic_solution_is_the_published_one():
    # checks the reference itself: amplitudes deg/s, k, m, period from another script
    exact = Elliptic(np.diag(BRICK), np.radians(START_DPS))
    assert np.degrees(exact.amplitudes) == pytest.approx([18.531030, 23.755824, 34.369028], 5e-8)
    assert exact.k == pytest.approx(0.39932230, rel=2e-8)
    assert exact.m == pytest.approx(0.335898037, abs=1e-9)
    assert exact.period == pytest.approx(17.384489, abs=1e-6)


def test_free_tumbling_follows_the_elliptic_solution():
    # tolerance 1e-8 of the largest rate over one period: RK4 at 5 ms errs by 1e-12
    exact = Elliptic(np.diag(BRICK), np.radians(START_DPS))
    t, states = tumble(brick(), np.radians(START_DPS), exact.period, 0.005)
    error = states[:, X_RATE : X_RATE + 3] - exact.rates(t)
    assert np.abs(error).max() < 1e-8 * exact.amplitudes.max()


def test_symmetric_top_all_along():
    t, states, _ = top()
    rate = ALONG * TOP_SPIN * np.tan(TILT) / ACROSS
    seen = states[:, X_RATE] + 1j * states[:, X_RATE + 1]
    assert np.abs(seen - rate * np.exp(-2.5j * t)).max() < 1e-8 * rate
    angle, cosine = precession()
    assert cosine == pytest.approx(np.cos(TILT), abs=1e-8)
    expected = ALONG * TOP_SPIN / (ACROSS * np.cos(TILT)) * t
    assert angle == pytest.approx(expected, abs=1e-8 * 10.0)


def test_growth_about_the_middle_axis_in_seconds():
    assert 1.0 / (growth() * SPIN) == pytest.approx(5.1323, rel=0.005)


def test_falling_does_not_disturb_the_rotation_nor_the_reverse():
    # a thrown body: its balance point flies a parabola (Galilei). RK4 turns the velocity of
    # 20 m/s with (omega h)^5/120 a step, 3e-7 m in these 3 s
    model = bare_model(2.0, np.diag([0.1, 0.2, 0.25]))
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT] = 1.0
    x[3:6] = 12.0, 3.0, -15.0
    x[X_RATE : X_RATE + 3] = 1.0, 4.0, 0.5
    for _ in range(600):
        rk4_step(x, model, inputs, work, 0.005)
    fall = -15.0 * 3.0 + 0.5 * 9.80665 * 9.0
    assert x[:3] == pytest.approx([36.0, 9.0, fall], abs=1e-6)
    _, free = tumble(model, [1.0, 4.0, 0.5], 3.0, 0.005)
    assert x[X_RATE : X_RATE + 3] == pytest.approx(free[-1, X_RATE : X_RATE + 3], abs=1e-14)
