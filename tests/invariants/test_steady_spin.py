"""A steady spin found by flying it satisfies the six equilibrium equations.

The balances are worked out here from the loads, in numpy, not by the kernel's own
equations of motion; averaged over whole turns, each within 2 % (the weight for forces,
the largest inertia moment for moments).
"""

from typing import NamedTuple

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sim.core.layout import M_INERTIA, M_MASS, X_QUAT, X_RATE, X_VEL
from sim.core.motion.derivative import derivative
from sim.core.motion.rigid_body import STANDARD_GRAVITY

SETTLE_S, FOR_S = 24.0, 16.0
SHARE = 0.02


class Turns(NamedTuple):
    """Whole turns of a spin: NED-from-body rotations, rates, velocities, loads, momenta."""

    attitude: Rotation
    rates: np.ndarray
    velocity_ned: np.ndarray
    force: np.ndarray
    moment: np.ndarray
    rotor: np.ndarray
    mass: float
    inertia: np.ndarray


@pytest.fixture(scope="module", params=[175.0, 215.0, 225.0], ids=lambda a: f"{a:g}mm")
def turns(request, spin_at):
    """The last whole turns of a long held spin."""
    spin = spin_at(request.param)
    states = spin.fly(SETTLE_S + FOR_S)[round(SETTLE_S / 0.01) :]
    loads = np.zeros((len(states), 9))
    out = np.zeros(states.shape[1])
    for i, x in enumerate(states):
        derivative(x, spin.model, spin.inputs, spin.work, False, out)
        loads[i, :6], loads[i, 6:] = spin.work.loads, spin.work.power[6:9]
    attitude = Rotation.from_quat(states[:, [X_QUAT + 1, X_QUAT + 2, X_QUAT + 3, X_QUAT]])
    rates = states[:, X_RATE : X_RATE + 3]
    turned = np.cumsum(attitude.apply(rates)[:, 2]) * 0.01 / (2.0 * np.pi)
    assert abs(turned[-1]) > 1.0
    whole = np.abs(turned) <= np.floor(abs(turned[-1]))
    mass = spin.model.mass
    return Turns(
        attitude=attitude[whole],
        rates=rates[whole],
        velocity_ned=attitude.apply(states[:, X_VEL : X_VEL + 3])[whole],
        force=loads[whole, :3],
        moment=loads[whole, 3:6],
        rotor=loads[whole, 6:],
        mass=mass[M_MASS],
        inertia=mass[M_INERTIA : M_INERTIA + 9].reshape(3, 3),
    )


def test_forces_balance(turns):
    # along the axis the weight is carried; across it the air supplies the centripetal
    # force m Omega x v, both in axes that turn with the spin
    weight = turns.mass * STANDARD_GRAVITY
    force = turns.attitude.apply(turns.force)
    force[:, 2] += weight
    omega = turns.attitude.apply(turns.rates)
    residual = force - turns.mass * np.cross(omega, turns.velocity_ned)
    in_body = turns.attitude.inv().apply(residual)
    assert np.abs(in_body.mean(axis=0)).max() < SHARE * weight


def test_moments_balance(turns):
    # M = omega x (I omega + h)
    momentum = turns.rates @ turns.inertia + turns.rotor
    needed = np.cross(turns.rates, momentum)
    scale = np.abs(needed.mean(axis=0)).max()
    assert scale > 0.0
    assert np.abs((turns.moment - needed).mean(axis=0)).max() < SHARE * scale


def test_the_axis_is_vertical_and_drag_is_weight(turns):
    # closed forms of the steady spin: the rotation vector is vertical, and with no fan
    # running the upward force of the air equals the weight
    omega = turns.attitude.apply(turns.rates).mean(axis=0)
    assert np.hypot(omega[0], omega[1]) < SHARE * abs(omega[2])
    up = -turns.attitude.apply(turns.force)[:, 2].mean()
    assert up == pytest.approx(turns.mass * STANDARD_GRAVITY, rel=SHARE)


def test_circle_of_the_spin(turns):
    # R = v_horizontal/Omega, and the horizontal force is m R Omega^2
    omega = turns.attitude.apply(turns.rates)[:, 2].mean()
    sideways = np.hypot(turns.velocity_ned[:, 0], turns.velocity_ned[:, 1]).mean()
    force = turns.attitude.apply(turns.force)
    inward = np.hypot(force[:, 0], force[:, 1]).mean()
    radius = sideways / abs(omega)
    weight = turns.mass * STANDARD_GRAVITY
    # a steep spin turns with more than its weight sideways: the larger force is the scale
    scale = max(weight, inward)
    assert inward == pytest.approx(turns.mass * radius * omega**2, abs=SHARE * scale)
