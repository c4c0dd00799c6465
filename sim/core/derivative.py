"""The right-hand side: all forces, all rates, for one state and one control tick."""

from sim.core import kernel
from sim.core.actuators import duty_rate, servo_rate
from sim.core.atmosphere import air_density
from sim.core.body import body_loads
from sim.core.layout import (
    E_AIR,
    E_ELEVATION,
    E_THRUST_FACTOR,
    E_WARMER,
    X_POS,
    X_QUAT,
    X_RATE,
    X_SERVO,
    X_VEL,
)
from sim.core.rigid_body import STANDARD_GRAVITY, motion
from sim.core.rotation import body_of_ned
from sim.core.strips import strip_loads
from sim.core.thrust import U_SWEEP_TIME, power_loads
from sim.core.wake import wake_factors


@kernel
def offsets(model):
    """Return where servos' successors begin in the state: rotors, duties, induced, wash, x."""
    n_servo = model.servos.shape[0]
    n_unit = model.units.shape[0]
    n_surface = model.surfaces.shape[0]
    o_rotor = X_SERVO + n_servo
    o_duty = o_rotor + n_unit
    o_induced = o_duty + n_unit
    o_wash = o_induced + 2 * n_surface
    return o_rotor, o_duty, o_induced, o_wash, o_wash + n_surface


@kernel
def derivative(x, model, inputs, work, steady, out):
    """Fill ``out`` with the rates of the state vector ``x``.

    Parameters
    ----------
    x, out : float array (state_size,)
        Laid out as ``layout`` says.
    model : Model
        The aeroplane, packed; positions relative to the balance point.
    inputs : Inputs
        Servo targets [rad], duties, wind NED [m/s], held over the tick.
    work : Work
        Scratch arrays; ``work.loads`` holds the air's force and moment afterwards.
    steady : bool
        True: the lag states' entries hold target minus state (used to settle them).
    """
    o_rotor, o_duty, o_induced, o_wash, o_x = offsets(model)
    env = model.env
    wu, wv, ww = body_of_ned(
        x[X_QUAT], x[X_QUAT + 1], x[X_QUAT + 2], x[X_QUAT + 3],
        inputs.wind[0], inputs.wind[1], inputs.wind[2],
    )  # fmt: skip
    u = x[X_VEL] - wu
    v = x[X_VEL + 1] - wv
    w = x[X_VEL + 2] - ww
    p = x[X_RATE]
    q = x[X_RATE + 1]
    r = x[X_RATE + 2]
    rho = env[E_AIR] * air_density(-x[X_POS + 2], env[E_ELEVATION], env[E_WARMER])
    loads = work.loads
    for i in range(6):
        loads[i] = 0.0
    n_unit = model.units.shape[0]
    power_loads(
        model.units, model.prop_table, model.pack, u, v, w, p, q, r, rho,
        x[o_rotor : o_rotor + n_unit], x[o_duty : o_duty + n_unit],
        env[E_THRUST_FACTOR], work.rotor, work.power,
    )  # fmt: skip
    work.air[0] = u
    work.air[1] = v
    work.air[2] = w
    work.air[3] = p
    work.air[4] = q
    work.air[5] = r
    wake_factors(
        x, u, v, w, model.strips, model.strip_index, model.pairs, model.sources, o_x,
        work.separated, work.wake,
    )  # fmt: skip
    strip_loads(
        x, work.air, rho, work.power[10], model.strips, model.strip_index, model.tables,
        model.surfaces, o_induced, o_wash, o_x, work.wake, steady, work.sums, loads, out,
    )  # fmt: skip
    body_loads(u, v, w, p, q, r, rho, model.bodies, model.body_par, loads)
    for i in range(6):
        loads[i] += work.power[i]
    motion(
        x, model.mass, STANDARD_GRAVITY, loads[0], loads[1], loads[2], loads[3], loads[4],
        loads[5], work.power[6], work.power[7], work.power[8], out,
    )  # fmt: skip
    for i in range(model.servos.shape[0]):
        out[X_SERVO + i] = servo_rate(x[X_SERVO + i], inputs.target[i], model.servos[i])
    for i in range(n_unit):
        out[o_rotor + i] = work.rotor[i]
        out[o_duty + i] = duty_rate(x[o_duty + i], inputs.duty[i], model.units[i, U_SWEEP_TIME])
