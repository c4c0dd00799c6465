"""The classical fourth-order Runge-Kutta method on separate arrays."""

from math import sqrt

from sim.core import kernel
from sim.core.layout import X_QUAT, X_RATE
from sim.core.motion.rates import RATES, rates
from sim.core.motion.rotation import normalise

TINY = 1e-12  # rad2/s4; keeps the quotient finite at rest


@kernel(entry=False, borrowing=True)
def march(x, model, inputs, work, dt, steps):
    """Advance ``x`` in place by ``steps`` steps of ``dt`` [s] with the inputs held.

    Returns
    -------
    float
        How rough the roughest step was [rad/s]: about its error in p, q and r, which feel
        every force at once and so stand for all states. With dt lambda = z the difference
        dt/6 |k1 - k2 - k3 + k4| goes with z^3 / 24 and the error with z^5 / 120; z is
        2 |k3 - k2| / |k2 - k1|. It goes with dt^5 where the rates are smooth. Own reasoning.

    Source: any text on ordinary differential equations; [hairer1993] p. 138, table 1.2.
    """
    n = x.size
    slope, total, mid = work.k1, work.total, work.mid
    worst = 0.0
    for _ in range(steps):
        first_p, first_q, first_r = 0.0, 0.0, 0.0  # k2 - k1
        next_p, next_q, next_r = 0.0, 0.0, 0.0  # k3 - k2
        odd_p, odd_q, odd_r = 0.0, 0.0, 0.0  # k1 - k2 - k3 + k4
        for i in range(n):
            mid[i] = x[i]
            total[i] = 0.0
        for stage in range(4):
            rates(mid, model, inputs, work, RATES, slope)
            weight = 1.0 if stage == 0 or stage == 3 else 2.0
            ahead = dt if stage == 2 else 0.5 * dt
            first = -1.0 if stage == 0 else (1.0 if stage == 1 else 0.0)
            later = -1.0 if stage == 1 else (1.0 if stage == 2 else 0.0)
            dp, dq, dr = slope[X_RATE], slope[X_RATE + 1], slope[X_RATE + 2]
            first_p, first_q, first_r = (
                first_p + first * dp, first_q + first * dq, first_r + first * dr,
            )  # fmt: skip
            next_p, next_q, next_r = next_p + later * dp, next_q + later * dq, next_r + later * dr
            odd = 3.0 - 2.0 * weight
            odd_p, odd_q, odd_r = odd_p + odd * dp, odd_q + odd * dq, odd_r + odd * dr
            for i in range(n):
                total[i] += weight * slope[i]
                mid[i] = x[i] + ahead * slope[i]
        for i in range(n):
            x[i] += dt / 6.0 * total[i]
        normalise(x, X_QUAT)
        turn = first_p * first_p + first_q * first_q + first_r * first_r + TINY
        bend = next_p * next_p + next_q * next_q + next_r * next_r
        size = sqrt(odd_p * odd_p + odd_q * odd_q + odd_r * odd_r)
        worst = max(worst, size * min(1.0, 0.8 * bend / turn))  # 0.8 bend/turn is z^2 / 5
    return worst * dt / 6.0
