"""The nominal stall, upright and inverted: where lift stops growing; the slowest flight."""

from dataclasses import dataclass
from math import radians, sqrt

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.air.atmosphere import air_density
from sim.core.layout import Model
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.steady.statics import polar

STICKS = np.linspace(-1.0, 1.0, 9)  # of the elevator; straight lines between
SOON = 24  # angles that are looked at first
PROBE_SPEED = 15.0  # m/s; coefficients do not depend on it


@dataclass(frozen=True)
class Stall:
    """Power-off stall with everything nominal.

    ``alpha`` [rad] is where lift first stops growing, ``inverted`` [rad, above 0] the size of
    the angle where lift downwards does; ``no_lift`` [rad] is the angle without lift;
    ``speed_mps`` the slowest level flight with the tail trimmed or at its stop, whichever
    comes first; ``lift_coefficient`` there;
    ``out_of_tail`` is True where full aft stick cannot reach the peak.
    """

    alpha: float
    speed_mps: float
    lift_coefficient: float
    out_of_tail: bool
    inverted: float
    no_lift: float = 0.0

    def angle(self, alpha: float) -> float:
        """Return the size of the stall's angle [rad] on the side of the angle ``alpha``."""
        return self.alpha if alpha >= 0.0 else self.inverted


def grid_loads(model: Model, alphas: np.ndarray, sticks: np.ndarray, speed: float) -> np.ndarray:
    """Return loads (sticks, alphas, 6) over a grid of angle [rad] and elevator stick, idle."""
    out = np.zeros((sticks.size, alphas.size, 6))
    for i, stick in enumerate(sticks):
        held = np.zeros((alphas.size, 4))
        held[:, 0] = stick
        out[i] = polar(
            model, speed, alphas, np.zeros(alphas.size), np.zeros((alphas.size, 3)), held
        )
    return out


def lift_of(loads: np.ndarray, alphas: np.ndarray) -> np.ndarray:
    """Return lift [N] from body-axis loads (..., n, 6) at angles (n,) [rad].

    By definition, across the stream.
    """
    return loads[..., 0] * np.sin(alphas) - loads[..., 2] * np.cos(alphas)


def first_break(lift: np.ndarray) -> int:
    """Return the index (of angles one degree apart) where lift [N] first stops growing.

    Own: from there it grows over the next two degrees by less than judge.toml's share of what it
    does from nought; the degree between them is taken where it is a peak. A bend after which
    lift goes on to rise slowly is such a place too. The last index if it never stops.
    """
    judge = tables.judge()
    first = judge.stall_slope_to_deg
    least = judge.stall_slope_share * 2.0 * (lift[first] - lift[0]) / first
    for i in range(first, lift.size - 2):
        if lift[i + 2] - lift[i] < least:
            return i + int(lift[i + 1] > max(lift[i], lift[i + 2]))
    return lift.size - 1


def _alphas_deg() -> np.ndarray:
    """Return the angles (n,) [deg], whole ones, at which a stall is looked for; judge.toml."""
    return np.arange(0.0, tables.judge().stall_reach_deg + 1.0, 1.0)


def find_stall(model: Model, area: float, mass: float) -> Stall:
    """Return the nominal power-off stall of a model.

    Parameters
    ----------
    model : Model
        Positions relative to the balance point.
    area, mass : float
        Reference area [m2], mass [kg].
    """
    peak, (speed, trimmed, out) = _upright(model, area, mass)
    alphas_deg = _alphas_deg()
    alphas = -np.radians(alphas_deg)
    below, down = _swept_to_break(model, alphas)
    lift = lift_of(down, alphas[: len(down)])
    least = radians(tables.judge().least_stall_deg)
    upright, inverted = (radians(alphas_deg[i]) for i in (peak, below))
    no_lift = _no_lift(alphas, lift)
    return Stall(max(upright, least), speed, trimmed, out, max(inverted, least), no_lift)


def _no_lift(alphas: np.ndarray, lift: np.ndarray) -> float:
    """Return the angle without lift [rad], of lift [N] at angles (n,) from nought on [rad].

    Own: on the straight line through the first and the third, two degrees apart.
    """
    slope = (lift[2] - lift[0]) / (alphas[2] - alphas[0])
    return float(alphas[0] - lift[0] / slope) if slope > 0.0 else 0.0


def stall_angle(model: Model) -> float:
    """Return the angle of attack of `find_stall` [rad] alone, upright."""
    alphas = np.radians(_alphas_deg())
    return max(float(alphas[_peak(model, alphas)]), radians(tables.judge().least_stall_deg))


def _peak(model: Model, alphas: np.ndarray) -> int:
    """Return the index of the angle (n,) [rad] where lift first stops growing, stick centred."""
    return _swept_to_break(model, alphas)[0]


def _swept_to_break(model: Model, alphas: np.ndarray) -> tuple[int, np.ndarray]:
    """Return the index of the angle [rad] where lift first stops growing, and the loads (m, 6).

    Stick centred, the loads up to there and beyond; of angles (n,) from nought down it is lift
    downwards. Own: most lift breaks within the first `SOON` angles, and what is swept later does
    not move what was swept before.
    """
    sense = 1.0 if alphas[-1] > 0.0 else -1.0
    for count in (min(SOON, alphas.size), alphas.size):
        near = alphas[:count]
        loads = grid_loads(model, near, np.zeros(1), PROBE_SPEED)[0]
        at = first_break(sense * lift_of(loads, near))
        if at < count - 1:
            break
    return at, loads


def stall_speed(model: Model, area: float, mass: float) -> float:
    """Return the speed of `find_stall` [m/s] alone, in half of its time."""
    return _upright(model, area, mass)[1][0]


def _upright(model: Model, area: float, mass: float) -> tuple[int, tuple[float, float, bool]]:
    """Return the index of the stall's angle; speed [m/s], lift coefficient, whether out of tail.

    Lift carries the weight in level flight, by definition: V = sqrt(2 m g / (rho S C_L)).
    """
    alphas = np.radians(_alphas_deg())
    rho = air_density(0.0, model.env[k.E_ELEVATION], model.env[k.E_WARMER])
    push = 0.5 * rho * PROBE_SPEED**2 * area
    peak, centred = _swept_to_break(model, alphas)
    alphas = alphas[: peak + 1]
    loads = np.empty((STICKS.size, alphas.size, 6))
    loads[STICKS == 0.0] = centred[: peak + 1]
    loads[STICKS != 0.0] = grid_loads(model, alphas, STICKS[STICKS != 0.0], PROBE_SPEED)
    trimmed, out = _trimmed_lift(lift_of(loads, alphas) / push, loads[..., 4])
    speed = sqrt(2.0 * mass * STANDARD_GRAVITY / (rho * area * trimmed))
    return peak, (speed, trimmed, out)


def _trimmed_lift(lift: np.ndarray, pitch: np.ndarray) -> tuple[float, bool]:
    """Return the largest trimmed lift coefficient [-], and whether the tail ran out before the end.

    Own: ``lift`` and ``pitch`` (sticks, alphas) end at the peak. At each angle the stick that
    balances pitch is interpolated; beyond the last angle that full aft stick can hold, slower
    flight is not to be had.
    """
    best = tables.judge().least_trimmed_lift
    held = False
    for i in range(lift.shape[1]):
        moments = pitch[:, i]
        inside = moments.min() <= 0.0 <= moments.max()
        if inside:
            order = np.argsort(moments)
            stick = np.interp(0.0, moments[order], STICKS[order])
            best = max(best, float(np.interp(stick, STICKS, lift[:, i])))
            held = i == lift.shape[1] - 1
    return best, not held
