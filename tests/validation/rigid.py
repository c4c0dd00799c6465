"""Rates of a rigid body under given force and moment, by the product's equations of motion."""

import numpy as np

from sim.core.layout import X_QUAT, X_RATE, X_VEL
from sim.core.motion.rigid_body import motion
from sim.core.motion.rotation import quaternion_of_euler
from tests.conftest import mass_row

N_RIGID = 13


def state(attitude, velocity, rates):
    """Return a rigid body's state from Euler angles, body velocity and rates."""
    x = np.zeros(N_RIGID)
    quaternion_of_euler(*attitude, x[X_QUAT : X_QUAT + 4])
    x[X_VEL : X_VEL + 3] = velocity
    x[X_RATE : X_RATE + 3] = rates
    return x


def rates_of(x, mass, gravity, force=(0.0, 0.0, 0.0), moment=(0.0, 0.0, 0.0), rotor=0.0):
    """Return the rates of the state; ``mass`` as `tests.conftest.mass_row` makes it."""
    out = np.zeros(N_RIGID)
    motion(x, mass, gravity, *force, *moment, rotor, 0.0, 0.0, out)
    return out


__all__ = ["mass_row", "rates_of", "state"]
