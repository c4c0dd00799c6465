"""The equations of a steady spin about a vertical axis, controls held, and their solution.

Unknowns are the velocity in body axes, the direction of gravity in body axes, and the turn
rate about it, so that no attitude is singular; with them the rotor speeds and every lag of
the flow; and last a pitching moment handed to the aeroplane from outside. The rates follow:
(p, q, r) = turn rate x direction of gravity, so a turn rate of nought is a straight glide.
An equilibrium needs no moment from outside; with it free, angle of attack can be chosen.
"""

from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.loads.hinge import N_HINGE_MOMENT
from sim.core.motion.derivative import derivative, offsets
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import RATES, TARGETS
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.motion.rotation import body_of_ned
from sim.core.pilot.control import N_GYRO_MEMORY
from sim.core.steady import spinning
from sim.core.steady.spinning import N_RIGID
from sim.core.steady.statics import place
from sim.pack.assemble import Assembled
from sim.pack.field import field_density

# places in the vector of unknowns; rotor speeds and lags follow, the moment is last
VELOCITY, DOWN, TURN = slice(0, 3), slice(3, 6), 6
MOMENT = -1
PITCH_ROW = 4  # of the six accelerations
STEP = 1e-6  # of the differences, relative
ROTOR_SCALE = 1e-3  # brings rotor speeds [rad/s] to the size of the other equations
ENOUGH = 0.1  # of the fall that a straight line promises; with less a step is halved


class Held(NamedTuple):
    """Controls held: sticks (elevator, aileron, rudder, throttle) and trims, in stick units.

    Elevator +1 is full aft stick, aileron and rudder +1 full right. ``trims`` (elevator,
    aileron, rudder) add to the sticks, as in a flight.
    """

    sticks: np.ndarray
    trims: np.ndarray


class SpinBalance:
    """The balance of one aeroplane with its controls held."""

    def __init__(self, assembled: Assembled, held: Held, height_m: float) -> None:
        """Prepare for a height [m] above the field, which sets the air's density.

        By definition: weight [N], and radii of gyration [m] that make accelerations alike [g].
        """
        self.assembled = assembled
        self.model = assembled.model
        self.held = held
        self.span = assembled.weighed.reference.span_m
        self.work, self.inputs = scratch(self.model)
        self.x = np.zeros(self.work.k1.size)
        self.x[k.X_POS + 2] = -height_m
        self.density = field_density(assembled.aeroplane, height_m)
        rotor, duty, flow, _, _ = offsets(self.model)
        self.servos = slice(k.X_SERVO, rotor)
        self.rotors, self.duties = slice(rotor, duty), slice(duty, flow)
        self.lags = slice(flow, self.x.size)
        # rotors and lags, where they stand in the state
        self.inner = np.r_[rotor:duty, flow : self.x.size]
        self.size = N_RIGID + self.inner.size + 1
        self.weight = self.model.mass[k.M_MASS] * STANDARD_GRAVITY
        self.flown = self.x, self.model, self.inputs, self.work  # what kernels move on
        servos, pilot = len(self.model.servos), self.model.pilot
        self.controls = spinning.Controls(
            sticks=held.sticks,
            trims=held.trims,
            expos=pilot[[k.P_EXPO_E, k.P_EXPO_A, k.P_EXPO_R]].copy(),
            added=np.zeros(3),
            memory=np.zeros(N_GYRO_MEMORY),
            hinge=np.zeros((servos, N_HINGE_MOMENT)),
            off=np.zeros(servos),
            density=self.density,
            tick=1.0 / tables.flight().control_rate_hz,
        )
        inertia = self.model.mass[k.M_INERTIA : k.M_INERTIA + 9].reshape(3, 3)
        # accelerations in g, those about the axes at the radius of gyration
        radii = np.sqrt(np.diag(inertia) / self.model.mass[k.M_MASS])
        self._scale = np.concatenate([np.ones(3), radii]) / STANDARD_GRAVITY

    def start(self, alpha: float, rate: float) -> np.ndarray:
        """Return unknowns of a spin that falls straight down its own axis, lags settled.

        ``alpha`` [rad]; ``rate`` is the turn rate times span over twice the airspeed [-]. Own:
        speed by force as its square, which carries the weight.
        """
        search = tables.spin_search()
        speed = search.settling_mps
        down = np.array([np.cos(alpha), 0.0, np.sin(alpha)])
        turn = 2.0 * rate * speed / self.span
        p, q, r = turn * down
        place(
            self.x, self.model, self.inputs, self.work, speed, alpha, 0.0, p, q, r,
            self.held.sticks,
        )  # fmt: skip
        derivative(self.x, self.model, self.inputs, self.work, TARGETS, self.work.k2)
        # forces go with the square of the speed, and carry the weight
        factor = np.sqrt(self.weight / max(float(np.linalg.norm(self.work.loads[:3])), 1e-9))
        factor = float(np.clip(factor, *search.start_speed_ends))
        self.x[self.rotors] *= factor
        rigid = np.concatenate([factor * speed * down, down, [factor * turn]])
        return np.concatenate([rigid, self.x[self.inner], [0.0]])

    def put(self, z: np.ndarray) -> None:
        """Put the state ``x`` [SI] where the unknowns say, servos where controls and air have them.

        By `spinning.rates_near`.
        """
        self._rates_at(z)

    def taken(self, x: np.ndarray) -> np.ndarray:
        """Return the unknowns [m/s, -, rad/s] nearest to a state.

        The turn rate is by definition the part of the rotation about the vertical.
        """
        down = np.array(body_of_ned(*x[k.X_QUAT : k.X_QUAT + 4], 0.0, 0.0, 1.0))
        turn = down @ x[k.X_RATE : k.X_RATE + 3]
        velocity = x[k.X_VEL : k.X_VEL + 3]
        return np.concatenate([velocity, down, [turn], x[self.inner], [0.0]])

    def command(self) -> None:
        """Set duties [-] and servo targets [rad] to what controls and air make of the state ``x``.

        By `spinning.command`.
        """
        spinning.command(*self.flown, self.controls)

    def fall(self, ticks: int, steps: int, kept: int) -> np.ndarray:
        """Fly on from ``x`` for some ticks; return the last states (kept, state_size) [SI].

        By `spinning.fall`, each tick in so many steps.
        """
        out = np.empty((kept, self.x.size))
        spinning.fall(*self.flown, self.controls, ticks, steps, out)
        return out

    def rates_into(self, out: np.ndarray, mode: float = RATES) -> None:
        """Fill ``out`` with the rates of ``x``; with TARGETS, lags as target less state."""
        derivative(self.x, self.model, self.inputs, self.work, mode, out)

    def _equations(self, z: np.ndarray, raw: np.ndarray) -> np.ndarray:
        """Return what is left of the equations (m, n) from unknowns and state rates (m, ...).

        Euler's equations of motion [etkin1996], accelerations [g]; own: the moment from outside,
        and rotors that may stand still.
        """
        speeds = z[:, N_RIGID : N_RIGID + self.rotors.stop - self.rotors.start]
        # a rotor turns steadily, or stands still where the torque would turn it backwards
        still = np.minimum(speeds, -raw[:, self.rotors]) * ROTOR_SCALE
        six = np.hstack([raw[:, k.X_VEL : k.X_VEL + 3], raw[:, k.X_RATE : k.X_RATE + 3]])
        six *= self._scale
        six[:, PITCH_ROW] += z[:, MOMENT]
        unit = np.sum(z[:, DOWN] ** 2, axis=1, keepdims=True) - 1.0
        return np.hstack([six, unit, still, raw[:, self.lags]])

    def residual(self, z: np.ndarray) -> np.ndarray:
        """Return what is left of the equations (n,): six accelerations [g] first."""
        return self._equations(z[None], self._rates_at(z))[0]

    def _rates_at(self, z: np.ndarray) -> np.ndarray:
        """Return the rates (1, state_size) [SI] at ``z``, lags as target less state."""
        raw = np.empty((1, self.x.size))
        spinning.rates_near(*self.flown, self.controls, self.inner, z, np.zeros(0), raw)
        return raw

    def jacobian(self, z: np.ndarray) -> np.ndarray:
        """Return the slopes (n, n + 1) of the residual [g] at ``z``.

        Forward differences, by definition.
        """
        steps = STEP * (1.0 + np.abs(z))
        near = np.vstack([z, z + np.diag(steps)])
        raw = np.empty((z.size + 1, self.x.size))
        spinning.rates_near(*self.flown, self.controls, self.inner, z, steps, raw)
        left = self._equations(near, raw)
        return ((left[1:] - left[0]) / steps[:, None]).T

    def solve(self, z: np.ndarray, row: np.ndarray, value: float) -> tuple[np.ndarray, float]:
        """Return (unknowns, largest residual [g]) where also ``row @ z`` is ``value``.

        Own: Newton's method with halved steps; the residual is left large where no solution is
        near.
        """
        search = tables.spin_search()
        z = z.copy()
        here = np.append(self.residual(z), row @ z - value)
        for _ in range(search.iterations):
            if np.abs(here).max() < search.solved:
                break
            try:
                move = -np.linalg.solve(np.vstack([self.jacobian(z), row]), here)
            except np.linalg.LinAlgError:
                break
            share = self._allowed(z, move, search.reach)
            for _ in range(search.halvings):
                there = np.append(self.residual(z + share * move), row @ (z + share * move) - value)
                if np.linalg.norm(there) < (1.0 - ENOUGH * share) * np.linalg.norm(here):
                    break
                share *= 0.5
            else:
                break
            z, here = z + share * move, there
        return z, float(np.abs(here).max())

    def solve_free(self, z: np.ndarray) -> tuple[np.ndarray, float]:
        """Return (unknowns, largest residual [g]) of the equilibrium near ``z``.

        By definition no moment is added.
        """
        row = np.zeros(z.size)
        row[MOMENT] = 1.0
        return self.solve(z, row, 0.0)

    def solve_at_alpha(self, z: np.ndarray, alpha: float) -> tuple[np.ndarray, float]:
        """Return (unknowns, largest residual) at an angle of attack [rad], the moment free.

        By definition: w cos(alpha) = u sin(alpha).
        """
        row = np.zeros(z.size)
        speed = tables.spin_search().settling_mps
        row[0], row[2] = -np.sin(alpha) / speed, np.cos(alpha) / speed
        return self.solve(z, row, 0.0)

    @staticmethod
    def _allowed(z: np.ndarray, move: np.ndarray, reach: float) -> float:
        """Return the share [-] of a move that keeps speed, gravity and turn within ``reach``.

        Own: a trust region against Newton's far jumps.
        """
        most = max(
            np.linalg.norm(move[VELOCITY]) / np.linalg.norm(z[VELOCITY]),
            np.linalg.norm(move[DOWN]),
            abs(move[TURN]) / (1.0 + abs(z[TURN])),
        )
        return float(min(1.0, reach / max(most, 1e-12)))
