"""Motion of a rigid body without air against closed forms and a published check-case.

All figures that are not cited otherwise are closed forms evaluated by an independent
script. One state of the integrator is the whole kernel with no strips, no body, no air.
"""

import numpy as np
import pytest
from scipy.special import ellipj, ellipk, ellipkinc

from sim.core.flight import scratch
from sim.core.integrate import rk4_step
from sim.core.layout import X_QUAT, X_RATE
from sim.core.rotation import euler_of_quaternion, ned_of_body

SLUG_FT2 = 1.3558179483314004  # kg m2; 1 lbf = 4.4482216152605 N, 1 ft = 0.3048 m, exactly
SLUG = 14.593902937206364  # kg

# E. B. Jackson, D. G. Murri, R. O. Shelton, NASA/TM-2015-218675 vol. II, tables 4-5 p. 13
# (brick) and table 26 p. 58 (start): check-case 2, tumbling without damping
BRICK = np.diag([0.001894220, 0.006211019, 0.007194665]) * SLUG_FT2
BRICK_MASS = 0.155404754 * SLUG
START_DPS = np.array([10.0, 20.0, 30.0])


def tumble(model, rates, seconds, step, attitude=(1.0, 0.0, 0.0, 0.0)):
    """Return times (n,) and states (n, size) of a free body, one row a step."""
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT : X_QUAT + 4] = attitude
    x[X_RATE : X_RATE + 3] = rates
    n = round(seconds / step)
    out = np.zeros((n + 1, x.size))
    out[0] = x
    for i in range(n):
        rk4_step(x, model, inputs, work, seconds / n)
        out[i + 1] = x
    return np.linspace(0.0, seconds, n + 1), out


def momenta_ned(inertia, states):
    """Return the angular momentum (n, 3) in NED."""
    body = states[:, X_RATE : X_RATE + 3] @ inertia
    return np.array(
        [ned_of_body(*x[X_QUAT : X_QUAT + 4], *h) for x, h in zip(states, body, strict=True)]
    )


class Elliptic:
    """Free rotation of a body I1 < I2 < I3 with M^2 > 2 E I2.

    L. D. Landau, E. M. Lifshitz, *Mechanics*, section 37: w1 = a1 cn u, w2 = a2 sn u,
    w3 = a3 dn u.
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


@pytest.fixture(scope="module")
def brick(body):
    return body(BRICK_MASS, BRICK)


def test_the_elliptic_solution_is_the_published_one():
    # checks the reference itself: amplitudes deg/s, k, m, period from another script
    exact = Elliptic(np.diag(BRICK), np.radians(START_DPS))
    assert np.degrees(exact.amplitudes) == pytest.approx([18.531030, 23.755824, 34.369028], 5e-8)
    assert exact.k == pytest.approx(0.39932230, rel=2e-8)
    assert exact.m == pytest.approx(0.335898037, abs=1e-9)
    assert exact.period == pytest.approx(17.384489, abs=1e-6)


def test_free_tumbling_follows_the_elliptic_solution(brick):
    # tolerance 1e-8 of the largest rate over one period: RK4 at 5 ms errs by 1e-12
    exact = Elliptic(np.diag(BRICK), np.radians(START_DPS))
    t, states = tumble(brick, np.radians(START_DPS), exact.period, 0.005)
    error = states[:, X_RATE : X_RATE + 3] - exact.rates(t)
    assert np.abs(error).max() < 1e-8 * exact.amplitudes.max()


def test_check_case_2_tumbling_brick(brick):
    _, states = tumble(brick, np.radians(START_DPS), 30.0, 0.005)
    rates = np.degrees(states[-1, X_RATE : X_RATE + 3])
    angles = np.degrees(euler_of_quaternion(*states[-1, X_QUAT : X_QUAT + 4]))
    # independent high-accuracy integration in a frame that does not turn
    assert rates == pytest.approx([12.618391, -17.397475, 31.119589], abs=1e-6)
    assert angles == pytest.approx([-56.025982, -3.810267, -4.297694], abs=1e-5)
    # NASA/TM-2015-218675 vol. II, tool "SIM 5" at 30 s; its own spread is 0.004 deg/s, and
    # its Earth turns under the brick by 0.125 deg
    assert rates == pytest.approx([12.61842377, -17.3974441, 31.11960301], abs=0.004)
    assert angles == pytest.approx([-56.15127539, -3.819633201, -4.289288509], abs=0.2)


def test_energy_and_momentum_stay(brick):
    _, states = tumble(brick, np.radians(START_DPS), 30.0, 0.005)
    rates = states[:, X_RATE : X_RATE + 3]
    energy = 0.5 * np.einsum("ni,ij,nj->n", rates, BRICK, rates)
    assert energy == pytest.approx(energy[0], rel=1e-10)
    momentum = momenta_ned(BRICK, states)
    size = np.linalg.norm(momentum[0])
    assert np.linalg.norm(momentum, axis=1) == pytest.approx(size, rel=1e-10)
    assert np.abs(momentum - momentum[0]).max() < 1e-10 * size


def test_falling_does_not_disturb_the_rotation_nor_the_reverse(body):
    # a thrown body: its balance point flies a parabola (Galilei). RK4 turns the velocity of
    # 20 m/s with (omega h)^5/120 a step, 3e-7 m in these 3 s
    model = body(2.0, np.diag([0.1, 0.2, 0.25]))
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


def test_intermediate_axis_grows_at_the_known_rate(brick):
    # lambda = Om sqrt((I2 - I1)(I3 - I2)/(I1 I3)) = 0.558187 Om, so e-fold 5.1323 s at
    # 20 deg/s; fitted over two decades, tolerance 0.5 %
    spin = np.radians(20.0)
    t, states = tumble(brick, [1e-7, spin, 0.0], 60.0, 0.01)
    size = np.abs(states[:, X_RATE])
    grown = (size > 1e-6) & (size < 1e-4)
    slope = np.polyfit(t[grown], np.log(size[grown]), 1)[0]
    assert slope / spin == pytest.approx(0.558187, rel=0.005)
    assert 1.0 / slope == pytest.approx(5.1323, rel=0.005)


@pytest.mark.parametrize(("axis", "other", "ratio"), [(2, 0, 0.665701), (0, 1, 0.715567)])
def test_stable_axes_wobble_at_the_known_frequency(brick, axis, other, ratio):
    # about z sqrt((I3 - I1)(I3 - I2)/(I1 I2)), about x sqrt((I2 - I1)(I3 - I1)/(I2 I3));
    # a wobble of 1e-4 shifts it by 1e-8; the zero crossings are interpolated to 1e-6
    spin = np.radians(20.0)
    rates = np.zeros(3)
    rates[axis], rates[other] = spin, 1e-4 * spin
    t, states = tumble(brick, rates, 200.0, 0.01)
    w = states[:, X_RATE + other]
    up = np.flatnonzero((w[:-1] < 0.0) & (w[1:] >= 0.0))
    crossings = t[up] - w[up] * (t[up + 1] - t[up]) / (w[up + 1] - w[up])
    period = (crossings[-1] - crossings[0]) / (len(crossings) - 1)
    assert 2.0 * np.pi / period / spin == pytest.approx(ratio, abs=2e-6)


def test_symmetric_top(body):
    # It 2, Ia 1, w3 5, theta 20 deg: in the body the rate turns at (Ia - It)/It w3 = -2.5,
    # in space the axis turns about H at Ia w3/(It cos theta) = 2.660444 rad/s
    across, along, spin, theta = 2.0, 1.0, 5.0, np.radians(20.0)
    inertia = np.diag([across, across, along])
    tilt = along * spin * np.tan(theta) / across
    t, states = tumble(body(1.0, inertia), [tilt, 0.0, spin], 10.0, 0.001)
    nutation = tilt * np.exp(-2.5j * t)
    seen = states[:, X_RATE] + 1j * states[:, X_RATE + 1]
    assert np.abs(seen - nutation).max() < 1e-8 * tilt
    momentum = momenta_ned(inertia, states[:1])[0]
    up = momentum / np.linalg.norm(momentum)
    axes = np.array([ned_of_body(*x[X_QUAT : X_QUAT + 4], 0.0, 0.0, 1.0) for x in states])
    assert axes @ up == pytest.approx(np.cos(theta), abs=1e-8)
    first = axes[0] - up * (axes[0] @ up)
    second = np.cross(up, first)
    angle = np.unwrap(np.arctan2(axes @ second, axes @ first))
    assert angle[-1] / t[-1] == pytest.approx(2.660444, abs=5e-7)
    assert angle == pytest.approx(along * spin / (across * np.cos(theta)) * t, abs=1e-8 * 10.0)


def test_order_of_the_integrator(brick):
    # classical Runge-Kutta: the error falls as the fourth power of the step
    exact = Elliptic(np.diag(BRICK), np.radians(START_DPS))
    steps = np.array([0.8, 0.4, 0.2, 0.1])
    errors = []
    for step in steps:
        _, states = tumble(brick, np.radians(START_DPS), 16.0, step)
        errors.append(np.abs(states[-1, X_RATE : X_RATE + 3] - exact.rates(16.0)).max())
    order = np.polyfit(np.log(steps), np.log(errors), 1)[0]
    assert order == pytest.approx(4.0, abs=0.15)
