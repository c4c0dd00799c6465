"""Bring the lag states and the rotors to where they would stay."""

from sim.core import kernel
from sim.core.atmosphere import air_density
from sim.core.derivative import derivative, offsets
from sim.core.layout import E_AIR, E_ELEVATION, E_THRUST_FACTOR, E_WARMER, X_POS, X_RATE, X_VEL
from sim.core.thrust import power_loads

HALF_STEP = 0.5  # relaxation of the induced angles: converges while k0 x slope < 3


@kernel
def settle_lags(x, model, inputs, work, rounds):
    """Relax induced angles, downwash and attached fractions of ``x`` in place.

    The relaxation stops early once no state moves by more than 1e-10.
    """
    _, _, o_induced, _, o_x = offsets(model)
    out = work.k1
    for _ in range(rounds):
        derivative(x, model, inputs, work, True, out)
        worst = 0.0
        for i in range(o_induced, x.size):
            move = out[i] * (HALF_STEP if i < o_x else 0.9)
            x[i] += move
            worst = max(worst, abs(move))
        if worst < 1e-10:
            return


@kernel
def settle_rotors(x, model, inputs, work):
    """Set duties to their demand and rotor speeds to their equilibrium, in place.

    Newton steps with a one-sided difference; a rotor that nothing drives stops at zero.
    """
    o_rotor, o_duty, _, _, _ = offsets(model)
    n = model.units.shape[0]
    rho = model.env[E_AIR] * air_density(
        -x[X_POS + 2], model.env[E_ELEVATION], model.env[E_WARMER]
    )
    for i in range(n):
        x[o_duty + i] = inputs.duty[i]
    for _ in range(25):
        worst = 0.0
        for i in range(n):
            speed = x[o_rotor + i]
            here = _spin_up(x, model, work, rho, o_rotor, o_duty, n, i)
            step = max(1e-3 * speed, 0.1)
            x[o_rotor + i] = speed + step
            there = _spin_up(x, model, work, rho, o_rotor, o_duty, n, i)
            slope = (there - here) / step
            move = -here / slope if slope < -1e-9 else 0.0
            move = min(0.5 * speed + 200.0, max(-0.5 * speed - 200.0, move))
            x[o_rotor + i] = max(0.0, speed + move)
            worst = max(worst, abs(move))
        if worst < 1e-6:
            return


@kernel
def _spin_up(x, model, work, rho, o_rotor, o_duty, n, i):
    """Return the angular acceleration of rotor ``i`` [rad/s2]."""
    power_loads(
        model.units, model.prop_table, model.pack, x[X_VEL], x[X_VEL + 1], x[X_VEL + 2],
        x[X_RATE], x[X_RATE + 1], x[X_RATE + 2], rho, x[o_rotor : o_rotor + n],
        x[o_duty : o_duty + n], model.env[E_THRUST_FACTOR], work.rotor, work.power,
    )  # fmt: skip
    return work.rotor[i]
