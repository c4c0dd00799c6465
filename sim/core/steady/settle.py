"""Bring the lag states and the rotors to where they would stay."""

from sim.core import kernel
from sim.core.air.atmosphere import air_density
from sim.core.layout import E_AIR, E_ELEVATION, E_THRUST_FACTOR, E_WARMER, X_POS, X_RATE, X_VEL
from sim.core.loads.thrust import power_loads
from sim.core.motion.derivative import derivative, offsets
from sim.core.motion.rates import TARGETS

STEPS = 60  # most steps for one rotor; ten are usual
SWEEPS = 25  # most rounds over rotors that share a pack
ROTOR_SETTLED = 1e-6  # rad/s
HALF_STEP = 0.5  # relaxation of the induced angles: converges while k0 x slope < 3
MOST_STEP = 0.9  # of what nothing chases
NEAR, TOLD = 0.03, 1e-13  # near rest, moves show a slope; below the second, only rounding


@kernel(entry=False)
def settle_lags(x, model, inputs, work, rounds):
    """Relax induced angles, downwash and attached fractions of ``x`` in place.

    The relaxation stops early once no state moves by more than 1e-10. ``rounds`` is a
    float, as numba compiles a function anew for each whole constant handed to it.

    Angles in rad, shares. Own: relaxation, half steps where loading and induced angle chase
    each other; near rest each state goes as far as its own last two steps tell (the secant
    method, state by state), no less than that and no further than where its own rate sends it.
    """
    _, _, o_induced, _, o_x = offsets(model)
    out, before, moved = work.k1, work.k2, work.mid
    near = False
    for _ in range(int(rounds)):
        derivative(x, model, inputs, work, TARGETS, out)
        worst = 0.0
        for i in range(o_induced, x.size):
            share = HALF_STEP if i < o_x else MOST_STEP
            if near and abs(moved[i]) > TOLD:
                slope = (before[i] - out[i]) / moved[i]
                if slope > 0.0:
                    share = min(max(1.0 / slope, share), 1.0)
            before[i], moved[i] = out[i], share * out[i]
            x[i] += moved[i]
            worst = max(worst, abs(moved[i]))
        if worst < 1e-10:
            return
        near = worst < NEAR


@kernel(entry=False)
def settle_rotors(x, model, inputs, work):
    """Set duties to their demand and rotor speeds to their equilibrium, in place.

    Newton steps with a one-sided difference, kept inside what the signs met so far leave.
    Where the slope is not negative (blades stalled: a windmill that starts, a motor at its
    current limit) the speed goes by halves and doubles towards where the torque pushes it.
    A rotor that nothing drives stops at zero.

    Speeds in rad/s. Own: Newton's method within a bracket.
    """
    o_rotor, o_duty, _, _, _ = offsets(model)
    n = model.units.shape[0]
    rho = model.env[E_AIR] * air_density(-x[X_POS + 2], model.env[E_ELEVATION], model.env[E_WARMER])
    for i in range(n):
        x[o_duty + i] = inputs.duty[i]
    for _ in range(SWEEPS):
        worst = 0.0
        for i in range(n):
            before = x[o_rotor + i]
            _settle_rotor(x, model, work, rho, o_rotor, o_duty, n, i)
            worst = max(worst, abs(x[o_rotor + i] - before))
        # one rotor acts on another through the pack alone
        if n == 1 or worst < ROTOR_SETTLED:
            return


@kernel
def _settle_rotor(x, model, work, rho, o_rotor, o_duty, n, i):
    """Put rotor ``i`` to the equilibrium its present speed runs to, the others held.

    Speeds in rad/s. Own: see `settle_rotors`.
    """
    low, high = 0.0, 1e9
    for _ in range(STEPS):
        speed = x[o_rotor + i]
        here = _spin_up(x, model, work, rho, o_rotor, o_duty, n, i)
        if here > 0.0:
            low = speed
        else:
            high = speed
        step = max(1e-3 * speed, 0.1)
        x[o_rotor + i] = speed + step
        there = _spin_up(x, model, work, rho, o_rotor, o_duty, n, i)
        slope = (there - here) / step
        if slope < -1e-9:
            goal = speed - here / slope
        else:
            goal = 2.0 * speed + 50.0 if here > 0.0 else 0.5 * speed - 1.0
        goal = min(2.0 * speed + 200.0, max(0.0, goal))
        if (goal <= low and low > 0.0) or goal >= high:
            goal = 0.5 * (low + high)
        x[o_rotor + i] = goal
        if abs(goal - speed) < ROTOR_SETTLED:
            return


@kernel
def _spin_up(x, model, work, rho, o_rotor, o_duty, n, i):
    """Return the angular acceleration of rotor ``i`` [rad/s2]."""
    power_loads(
        model.units, model.prop_table, model.pack, x[X_VEL], x[X_VEL + 1], x[X_VEL + 2],
        x[X_RATE], x[X_RATE + 1], x[X_RATE + 2], rho, x[o_rotor : o_rotor + n],
        x[o_duty : o_duty + n], model.env[E_THRUST_FACTOR], work.rotor, work.power, work.jets,
    )  # fmt: skip
    return work.rotor[i]
