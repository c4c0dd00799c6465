"""The classical fourth-order Runge-Kutta method on separate arrays."""

from sim.core import kernel
from sim.core.layout import X_QUAT
from sim.core.rates import RATES, rates
from sim.core.rotation import normalise


@kernel(entry=False)
def march(
    x, servos, units, prop_table, pack, env, mass, surfaces, sources, bodies, body_par, errors,
    target, demand, wind, lanes, block_surface, spots, met, mask, tables, loads, power, rotor,
    speed, duty, sums, slope, total, mid, dt, steps,
):  # fmt: skip
    """Advance ``x`` in place by ``steps`` steps of ``dt`` [s] with the inputs held.

    The arrays are those of `rates.rates`, and three states as scratch.

    Source: any text on ordinary differential equations; [hairer1993] p. 138, table 1.2.
    """
    n = x.size
    for _ in range(steps):
        for i in range(n):
            mid[i] = x[i]
            total[i] = 0.0
        for stage in range(4):
            rates(
                mid, servos, units, prop_table, pack, env, mass, surfaces, sources, bodies,
                body_par, errors, target, demand, wind, lanes, block_surface, spots, met, mask,
                tables, loads, power, rotor, speed, duty, sums, RATES, slope,
            )  # fmt: skip
            weight = 1.0 if stage == 0 or stage == 3 else 2.0
            ahead = dt if stage == 2 else 0.5 * dt
            for i in range(n):
                total[i] += weight * slope[i]
                mid[i] = x[i] + ahead * slope[i]
        for i in range(n):
            x[i] += dt / 6.0 * total[i]
        normalise(x, X_QUAT)
