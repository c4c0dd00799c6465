"""The aeroplane in steady flight made linear with every state: what a gyro's loop closes round.

States: velocity, rates, bank and pitch, servos, rotors, and every lag of the flow; a surface that
turns lifts at once as its section does and only then as a finite wing, which the slow model of
`sim.trim.trimming.matrices` leaves out. Position, heading and throttle are held.
"""

from dataclasses import dataclass
from math import inf, log

import numpy as np
from numpy.typing import NDArray

from sim.core import layout as k
from sim.core.layout import Model
from sim.core.motion.derivative import derivative, derivatives, offsets
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import RATES
from sim.core.motion.rotation import quaternion_of_euler
from sim.core.steady.statics import place
from sim.fly.columns import Floats

Complexes = NDArray[np.complex128]
AXES = ("roll", "pitch", "yaw")
MIXES = (k.V_MIX_AILERON, k.V_MIX_ELEVATOR, k.V_MIX_RUDDER)  # by axis
RATE_ROWS = slice(3, 6)  # p, q, r among the states of `Linear`
GOOD = 1e-3  # m/s2, rad/s2; steady flight with more left over was not found
NEWTON = 25
MOST_MOVE = 0.2  # rad or stick a step of Newton's method
SMALL = 1e-4  # of its differences
# steps of central differences: three m/s, three rad/s, two rad; then servos [rad], lags [-, rad]
STEPS = (0.05, 0.05, 0.05, 0.02, 0.02, 0.02, 0.005, 0.005)
SERVO_STEP, LAG_STEP, ROTOR_STEP = 0.002, 1e-4, 1.0


@dataclass(frozen=True)
class Steady:
    """Flight at a speed, throttle and climb: what it needs, and the state it is in.

    ``path_rad`` is the climb, below nought a dive; ``found`` False where nothing holds it there;
    ``at_stop``: full elevator does not balance it, so that it begins to pitch.
    """

    speed_mps: float
    throttle: float
    path_rad: float
    alpha_rad: float
    elevator: float
    found: bool
    at_stop: bool
    state: Floats


@dataclass(frozen=True)
class Linear:
    """d(state)/dt = matrix @ state + inputs @ (roll, pitch, yaw of surface asked for) [SI, rad].

    ``matrix`` (n, n), ``inputs`` (n, 3); rates p, q, r are states 3 to 5.
    """

    matrix: Floats
    inputs: Floats


def steady_flight(
    model: Model, speed: float, throttle: float, path: float, guess: tuple[float, float]
) -> Steady:
    """Return straight flight at a speed [m/s], throttle [-] and climb [rad], wings level.

    Own: Newton's method on angle of attack [rad] and elevator stick, so that neither the force
    across the body nor the pitching moment is left over; whether it gains speed, or what is
    lopsided turns it slowly, is nothing to a loop that is far faster.
    """
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[x.size - model.strips.shape[1] :] = 1.0

    def left(z: Floats) -> Floats:
        sticks = np.array([z[1], 0.0, 0.0, throttle])
        place(x, model, inputs, work, speed, z[0], 0.0, 0.0, 0.0, 0.0, sticks)
        quaternion_of_euler(0.0, z[0] + path, 0.0, x[k.X_QUAT : k.X_QUAT + 4])
        derivative(x, model, inputs, work, RATES, work.k2)
        return work.k2[[k.X_VEL + 2, k.X_RATE + 1]].copy()

    z = np.array(guess)
    here, stop = left(z), False
    for n in range(2 * NEWTON):
        if np.abs(here[: 1 if stop else 2]).max() < 0.1 * GOOD:
            break
        slopes = np.column_stack([(left(z + move) - here) / SMALL for move in SMALL * np.eye(2)])
        step = -np.linalg.lstsq(slopes, here, rcond=None)[0]
        if not stop and ((abs(z[1]) == 1.0 and step[1] * z[1] > 0.0) or n == NEWTON):
            stop = True
            z[1] = -1.0 if here[1] * slopes[1, 1] > 0.0 else 1.0
            here = left(z)
        if stop:
            step = np.array([-here[0] / slopes[0, 0], 0.0])
        z += np.clip(step, -MOST_MOVE, MOST_MOVE)
        z[1] = np.clip(z[1], -1.0, 1.0)
        here = left(z)
    found = bool(np.abs(here[: 1 if stop else 2]).max() < GOOD)
    return Steady(speed, throttle, path, float(z[0]), float(z[1]), found, stop, x)


def linear(model: Model, flight: Steady) -> Linear:
    """Return the motion about steady flight, linear in every state [SI, rad].

    Central differences of the kernel's right-hand side, by definition; bank and pitch by the
    kinematics of [etkin1996], from memory. A servo follows what it is asked as its lag says.
    """
    work, inputs = scratch(model)
    x = flight.state.copy()
    rotor, duty, flow, _, _ = offsets(model)
    inputs.target[:] = x[k.X_SERVO : rotor]
    inputs.duty[:] = flight.throttle
    pitch = flight.alpha_rad + flight.path_rad
    inner = [*range(k.X_SERVO, duty), *range(flow, x.size)]
    places = [*range(k.X_VEL, k.X_VEL + 3), *range(k.X_RATE, k.X_RATE + 3), -1, -1, *inner]
    lags = [LAG_STEP] * (x.size - flow)
    steps = [*STEPS, *[SERVO_STEP] * (rotor - k.X_SERVO), *[ROTOR_STEP] * (duty - rotor), *lags]
    rows = np.array([p for p in places if p >= 0])
    matrix = np.zeros((len(places), len(places)))
    keep = np.array([i for i, p in enumerate(places) if p >= 0])
    near = np.tile(x, (2, len(places), 1))
    for i, (where, step) in enumerate(zip(places, steps, strict=True)):
        for side, sign in enumerate((step, -step)):
            if where >= 0:
                near[side, i, where] += sign
            else:
                bank, tilt = (sign, pitch) if i == 6 else (0.0, pitch + sign)
                quaternion_of_euler(bank, tilt, 0.0, near[side, i, k.X_QUAT : k.X_QUAT + 4])
    there = np.empty_like(near)
    for side in range(2):
        derivatives(near[side], model, inputs, work, there[side])
    matrix[keep] = ((there[0] - there[1])[:, rows] / (2.0 * np.array(steps))[:, None]).T
    matrix[6, 3], matrix[6, 5], matrix[7, 4] = 1.0, np.tan(pitch), 1.0
    asked = np.zeros((len(places), 3))
    for j, mix in enumerate(MIXES):
        asked[8 : 8 + rotor - k.X_SERVO, j] = model.servos[:, mix] / model.servos[:, k.V_LAG]
    return Linear(matrix, asked)


def response(motion: Linear, omegas: Floats) -> Complexes:
    """Return rates over surface asked for (m, 3, 3) [1/s] at frequencies (m,) [rad/s].

    [p, q, r] by [roll, pitch, yaw]: C (j omega - A)^-1 B by definition, mode by mode.
    """
    roots, shapes = np.linalg.eig(motion.matrix)
    driven = np.linalg.solve(shapes, motion.inputs.astype(complex))
    each = 1.0 / (1j * omegas[:, None] - roots)
    found: Complexes = (shapes[RATE_ROWS] * each[:, None, :]) @ driven
    return found


def doubling(motion: Linear) -> float:
    """Return the time [s] in which the fastest divergence doubles without a gyro; inf for none.

    ln 2 over the greatest real part, by definition [etkin1996].
    """
    fastest = float(np.linalg.eigvals(motion.matrix).real.max())
    return log(2.0) / fastest if fastest > 0.0 else inf
