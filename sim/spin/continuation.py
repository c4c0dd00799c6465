"""Curves of steady spins along which a pitching moment from outside is let vary.

Each curve is followed through its folds by pseudo-arclength continuation [keller1977]
(from memory); an equilibrium of the aeroplane itself is where the moment is nought.
That is a systematic search: along a curve every equilibrium between two others is met.
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from sim import tables
from sim.fly.flying import Settings
from sim.spin.equilibrium import DOWN, MOMENT, TURN, VELOCITY, SpinBalance
from sim.tables.models.spin_search import SpinSearch


def measure(balance: SpinBalance, z: np.ndarray) -> np.ndarray:
    """Return the weights (n,) that make a length [-] of a change of the unknowns.

    Own: shares of the airspeed, attitude [rad], omega b / 2 V and the moment count alike.
    """
    out = np.zeros(z.size)
    speed = float(np.linalg.norm(z[VELOCITY]))
    out[VELOCITY] = 1.0 / speed**2
    out[DOWN] = 1.0
    out[TURN] = (0.5 * balance.span / speed) ** 2
    out[MOMENT] = 1.0
    return out


def apart(balance: SpinBalance, one: np.ndarray, other: np.ndarray) -> float:
    """Return the distance between two points [-], in shares of speed, radians and reduced rate.

    Own: `measure` says what counts how much.
    """
    return float(np.sqrt(measure(balance, one) @ (one - other) ** 2))


def seeds(balance: SpinBalance) -> list[np.ndarray]:
    """Return points on curves, from starts at many angles of attack and turn rates."""
    search = tables.spin_search()
    found: list[np.ndarray] = []
    for alpha in np.radians(search.start_alpha_deg):
        for rate in search.start_rates:
            z, error = balance.solve_at_alpha(balance.start(float(alpha), float(rate)), alpha)
            if error < search.accepted and abs(z[MOMENT]) < search.most_moment:
                keep_new(balance, found, z)
    return found


def fallen(balance: SpinBalance) -> list[np.ndarray]:
    """Return the equilibria near where flights end that begin as spins at many angles.

    Where the end still swings, its mean is tried as well.
    """
    search = tables.spin_search()
    found: list[np.ndarray] = []
    for alpha in np.radians(search.fall_alpha_deg):
        for rate in search.fall_rates:
            last = _fall(balance, balance.start(float(alpha), float(rate)), search)
            for near in (last[-1], last.mean(axis=0)):
                z, error = balance.solve_free(near)
                if error < search.accepted:
                    keep_new(balance, found, z)
    return found


def _fall(balance: SpinBalance, z: np.ndarray, search: SpinSearch) -> np.ndarray:
    """Return the unknowns (n, ...) [SI] at the end of a flight with the controls held.

    Own: the height, and so the air's density, stays what it is.
    """
    settings = Settings.standard()
    ticks = int(search.fall_s * settings.control_rate_hz)
    steps = round(1.0 / (settings.control_rate_hz * settings.step_s))
    balance.put(z)
    last = balance.fall(ticks, steps, int(search.fall_mean_share * ticks))
    return np.array([balance.taken(x) for x in last])


def _tangent(balance: SpinBalance, z: np.ndarray, along: np.ndarray) -> np.ndarray | None:
    """Return the unit direction (n,) [-] of the curve at ``z`` that points ``along``.

    The null vector of the slopes [keller1977], from memory.
    """
    weights = measure(balance, z)
    last = np.zeros(z.size)
    last[-1] = 1.0
    try:
        out = np.linalg.solve(np.vstack([balance.jacobian(z), weights * along]), last)
    except np.linalg.LinAlgError:
        return None
    return out / np.sqrt(weights @ out**2)


def follow(balance: SpinBalance, first: np.ndarray, sense: float) -> list[np.ndarray]:
    """Return points along the curve through ``first``, in order, until it leaves the field.

    Pseudo-arclength steps [-] by `measure` [keller1977], from memory. ``sense`` +1 sets off
    towards a larger moment, -1 towards a smaller one.
    """
    search = tables.spin_search()
    points, z = [first], first
    along = np.zeros(z.size)
    along[MOMENT] = sense
    near = search.near_steps * search.steps[0]
    for _ in range(search.most_steps):
        there = _next(balance, z, along, search)
        if there is None:
            break
        along, z = there - z, there
        points.append(z)
        closed = len(points) > 4 and apart(balance, z, first) < near
        if closed or _outside(balance, z, search.most_moment, search.most_rate):
            break
    return points


def _next(
    balance: SpinBalance, z: np.ndarray, along: np.ndarray, search: SpinSearch
) -> np.ndarray | None:
    """Return the next point of a curve, by the first of the steps [-] that finds one, if any.

    A step along the tangent, then Newton across it [keller1977].
    """
    tangent = _tangent(balance, z, along)
    if tangent is None:
        return None
    row = measure(balance, z) * tangent
    for step in search.steps:
        there, error = balance.solve(z + step * tangent, row, float(row @ z) + step)
        if error < search.accepted and apart(balance, z, there) < search.stride_steps * step:
            return there
    return None


def _outside(balance: SpinBalance, z: np.ndarray, moment: float, rate: float) -> bool:
    """Return True beyond the most moment [m g k_y] or omega b / 2 V [-]; by definition."""
    speed = float(np.linalg.norm(z[VELOCITY]))
    return abs(z[MOMENT]) > moment or 0.5 * abs(z[TURN]) * balance.span / speed > rate


def curves(balance: SpinBalance, through: list[np.ndarray]) -> list[list[np.ndarray]]:
    """Return the curves through some points, each as its points in order.

    Own: a point near a curve [-] by `measure` is taken to lie on it, spin_search.toml.
    """
    search = tables.spin_search()
    near = search.near_steps * search.steps[0]
    out: list[list[np.ndarray]] = []
    for point in through:
        if not any(_on(balance, point, curve, near) for curve in out):
            back = follow(balance, point, -1.0)
            out.append([*back[:0:-1], *follow(balance, point, 1.0)])
    return out


def _on(balance: SpinBalance, z: np.ndarray, curve: list[np.ndarray], near: float) -> bool:
    """Return True if a point lies near one of a curve's.

    Own: within ``near``, lengths [-] by `measure`.
    """
    all_points = np.array(curve)
    lengths = (all_points - z) ** 2 @ measure(balance, z)
    return bool(np.sqrt(lengths.min()) < near)


def equilibria(balance: SpinBalance, known: Sequence[np.ndarray] = ()) -> list[np.ndarray]:
    """Return the unknowns [m/s, -, rad/s] of every equilibrium found, each once.

    Own: from the ends of flights, and where curves cross no moment. ``known`` are equilibria of a
    neighbouring case, from which the search starts as well.
    """
    search = tables.spin_search()
    found: list[np.ndarray] = []
    for near in (*known, *fallen(balance)):
        z, error = balance.solve_free(near)
        if error < search.accepted:
            keep_new(balance, found, z)
    for curve in curves(balance, [*found, *seeds(balance)]):
        for one, other in pairwise(curve):
            if one[MOMENT] * other[MOMENT] <= 0.0 and one[MOMENT] != other[MOMENT]:
                share = one[MOMENT] / (one[MOMENT] - other[MOMENT])
                z, error = balance.solve_free(one + share * (other - one))
                if error < search.accepted:
                    keep_new(balance, found, z)
    return found


def keep_new(balance: SpinBalance, found: list[np.ndarray], z: np.ndarray) -> bool:
    """Append an equilibrium to those found if it is none of them; return whether it was new."""
    same = tables.spin_search().same
    new = all(apart(balance, z, old) > same for old in found)
    if new:
        found.append(z)
    return new
