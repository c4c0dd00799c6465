"""The classical fourth-order Runge-Kutta step, and scratch for it."""

import numpy as np

from sim.core import kernel
from sim.core.derivative import derivative
from sim.core.layout import X_QUAT, X_SERVO, Work
from sim.core.rotation import normalise


@kernel
def new_work(model):
    """Return fresh scratch arrays for ``model``."""
    n_strip = model.strips.shape[1]
    m = model.surfaces.shape[0]
    k = model.units.shape[0]
    size = X_SERVO + model.servos.shape[0] + 2 * k + 3 * m + n_strip
    return Work(
        np.zeros(6),
        np.ones(n_strip),
        np.zeros(6),
        np.zeros(12),
        np.zeros(k),
        np.zeros((m, 2)),
        np.zeros(m),
        np.zeros(size),
        np.zeros(size),
        np.zeros(size),
        np.zeros(size),
        np.zeros(size),
    )


@kernel
def rk4_step(x, model, inputs, work, dt):
    """Advance ``x`` in place by ``dt`` [s] with the inputs held.

    Source: any text on ordinary differential equations; [hairer1993] p. 138, table 1.2.
    """
    n = x.size
    k1, k2, k3, k4, mid = work.k1, work.k2, work.k3, work.k4, work.mid
    derivative(x, model, inputs, work, False, k1)
    for i in range(n):
        mid[i] = x[i] + 0.5 * dt * k1[i]
    derivative(mid, model, inputs, work, False, k2)
    for i in range(n):
        mid[i] = x[i] + 0.5 * dt * k2[i]
    derivative(mid, model, inputs, work, False, k3)
    for i in range(n):
        mid[i] = x[i] + dt * k3[i]
    derivative(mid, model, inputs, work, False, k4)
    sixth = dt / 6.0
    for i in range(n):
        x[i] += sixth * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i])
    normalise(x, X_QUAT)
