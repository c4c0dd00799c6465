"""All forces and all rates for one state, from arrays taken one by one."""

from math import sqrt

from sim.core import kernel
from sim.core.air.atmosphere import air_density
from sim.core.errors import error_loads
from sim.core.layout import (
    E_AIR,
    E_ELEVATION,
    E_MOST_LAG,
    E_THRUST_FACTOR,
    E_WARMER,
    L_FX,
    L_FY,
    L_FZ,
    L_HX,
    L_HY,
    L_HZ,
    L_MX,
    L_MY,
    L_MZ,
    V_LAG,
    V_MAX,
    V_MIN,
    V_RATE,
    X_POS,
    X_QUAT,
    X_RATE,
    X_SERVO,
    X_VEL,
)
from sim.core.loads.body import body_loads
from sim.core.loads.separation import separation_rates
from sim.core.loads.slipstream import slipstreams
from sim.core.loads.strip_air import strip_air, strip_states
from sim.core.loads.strips import strip_loads
from sim.core.loads.thrust import U_SWEEP_TIME, power_loads
from sim.core.loads.turned_air import turned_air
from sim.core.loads.wake import wake_factors
from sim.core.motion.actuators import duty_rate, servo_rate
from sim.core.motion.rigid_body import STANDARD_GRAVITY, motion
from sim.core.motion.rotation import body_of_ned

# What `rates` fills in for the lag states. Floats, not True and False: numba compiles a
# function anew for each constant of another kind that is handed to it.
RATES = 0.0
TARGETS = 1.0


@kernel(inlined=True, entry=False)
def rates(x, model, inputs, work, steady, out):
    """Fill ``out`` with the rates of the state vector ``x``.

    Parameters
    ----------
    x, out : float array (state_size,)
    model : Model
    inputs : Inputs
    work : Work
    steady : float
        RATES or TARGETS.

    SI units: m, s, rad, kg. Source: [stevens2015] table 1.7 for the motion; own: the order,
    each part from what the ones before it left.
    """
    servos, units, prop_table, pack = model.servos, model.units, model.prop_table, model.pack
    env, mass, surfaces, errors = model.env, model.mass, model.surfaces, model.errors
    target, demand, wind = inputs.target, inputs.duty, inputs.wind
    lanes, first_block, spots, tables = work.lanes, work.first_block, work.spots, work.tables
    loads, power, rotor, sums = work.loads, work.power, work.rotor, work.sums
    speed, duty = work.speed, work.duty
    n_servo, n_unit, n_surface = servos.shape[0], units.shape[0], surfaces.shape[0]
    o_rotor = X_SERVO + n_servo
    o_duty = o_rotor + n_unit
    o_induced = o_duty + n_unit
    o_wash = o_induced + 2 * n_surface
    o_x = o_wash + 2 * n_surface
    wu, wv, ww = body_of_ned(
        x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3], wind[0], wind[1], wind[2]
    )
    u, v, w = x[X_VEL] - wu, x[X_VEL + 1] - wv, x[X_VEL + 2] - ww
    airspeed = sqrt(u * u + v * v + w * w)
    p, q, r = x[X_RATE], x[X_RATE + 1], x[X_RATE + 2]
    rho = env[E_AIR] * air_density(-x[X_POS + 2], env[E_ELEVATION], env[E_WARMER])
    # copies, not slices of x: those would cost counts on every array of this function
    for i in range(n_unit):
        speed[i] = x[o_rotor + i]
        duty[i] = x[o_duty + i]
    power_loads(
        units, prop_table, pack, u, v, w, p, q, r, rho, speed, duty, env[E_THRUST_FACTOR], rotor,
        power, work.jets,
    )  # fmt: skip
    for i in range(6):
        loads[i] = power[i]
    strip_states(x, spots, first_block, o_x, lanes, sums)
    wake_factors(u, v, w, work.met, work.mask, model.sources, sums, lanes)
    wash = 0.0
    for j in range(n_surface):
        wash += x[o_wash + j]
    slipstreams(units, u, v, w, p, q, r, work.jets, work.tubes, surfaces, wash, first_block, lanes)
    turned_air(
        x, u, w, airspeed, wash, model.strips, model.strip_index, spots, surfaces, o_induced, lanes,
    )  # fmt: skip
    strip_air(x, u, v, w, p, q, r, first_block, surfaces, o_induced, o_wash, lanes, sums)
    strip_loads(
        x, airspeed, rho, spots, first_block, tables, surfaces,
        o_induced, o_wash, steady, lanes, sums, loads, out,
    )  # fmt: skip
    body_loads(u, v, w, p, q, r, rho, model.bodies, model.body_par, loads)
    error_loads(v, w, p, q, r, airspeed, rho, x, n_servo, errors, loads)
    motion(
        x, mass, STANDARD_GRAVITY, loads[L_FX], loads[L_FY], loads[L_FZ], loads[L_MX],
        loads[L_MY], loads[L_MZ], power[L_HX], power[L_HY], power[L_HZ], out,
    )  # fmt: skip
    separation_rates(
        u, v, w, p, q, r, wu, wv, ww, env[E_MOST_LAG], spots, first_block, tables, surfaces,
        o_induced, o_wash, o_x, steady, lanes, sums, out,
    )  # fmt: skip
    for i in range(n_servo):
        out[X_SERVO + i] = servo_rate(
            x[X_SERVO + i], target[i], servos[i, V_RATE], servos[i, V_LAG], servos[i, V_MIN],
            servos[i, V_MAX],
        )  # fmt: skip
    for i in range(n_unit):
        out[o_rotor + i] = rotor[i]
        out[o_duty + i] = duty_rate(x[o_duty + i], demand[i], units[i, U_SWEEP_TIME])
