"""Level trim and what belongs to it: neutral point, margin, modes, departure criteria."""

from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil, degrees, inf, log
from typing import NamedTuple

import numpy as np
import scipy

from sim import tables
from sim.core import layout as k
from sim.core.steady.linear import accelerations, servo_angles, trimmed_state
from sim.core.steady.statics import polar
from sim.core.steady.trim import T_AILERON, T_ALPHA, T_ELEVATOR, T_RUDDER, T_THROTTLE
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.pack.level_thrust import GOOD
from sim.pack.stalling import lift_of
from sim.trim.modes import Mode, lateral_modes, longitudinal_modes
from sim.units.quantities import SPEED

NO_ENDS = np.zeros(0)  # the tables' ends, which no trim reads
SPEED_STEP = 1.06  # from one speed tried to the next, when looking for the fastest
SPEED_TOLERANCE = 1e-3  # m/s
STEP_RAD = np.radians(0.5)  # of angle of attack either way, for the slopes about a trim
LONGITUDINAL = (0, 2, 4, 7)  # u, w, q, theta among the eight perturbations
LATERAL = (1, 3, 5, 6)  # v, p, r, phi
# of central differences: three m/s, three rad/s, two rad
STEPS = np.array([0.05, 0.05, 0.05, 0.02, 0.02, 0.02, 0.005, 0.005])


@dataclass(frozen=True)
class Trim:
    """Level flight at one speed.

    ``tail_deg`` is the deflection of the first surface that the elevator stick moves,
    trailing edge down positive; ``found`` is False where level flight is not to be had. A glider
    descends by ``descent_deg``, at no throttle; under power that is 0.
    """

    speed_mps: float
    found: bool
    alpha_deg: float
    elevator_stick: float
    tail_deg: float
    throttle: float
    aileron_stick: float
    rudder_stick: float
    state: Floats
    unknowns: Floats
    descent_deg: float = 0.0


def level(assembled: Assembled, speed_mps: float) -> Trim:
    """Return level flight at a speed [m/s]; of a glider, its glide."""
    glides = not assembled.aeroplane.has_motor
    x, z, error = trimmed_state(assembled.model, float(speed_mps))
    servos = servo_angles(assembled.model, x)
    tail = np.flatnonzero(assembled.model.servos[:, k.V_MIX_ELEVATOR])
    return Trim(
        speed_mps=speed_mps,
        found=bool(error < GOOD),
        alpha_deg=degrees(z[T_ALPHA]),
        elevator_stick=float(z[T_ELEVATOR]),
        tail_deg=degrees(servos[tail[0]]) if tail.size else 0.0,
        throttle=0.0 if glides else float(z[T_THROTTLE]),
        aileron_stick=float(z[T_AILERON]),
        rudder_stick=float(z[T_RUDDER]),
        state=x,
        unknowns=z,
        descent_deg=degrees(z[T_THROTTLE]) if glides else 0.0,
    )


def level_at_throttle(assembled: Assembled, throttle: float) -> Trim:
    """Return level flight at a throttle (0 to 1) [-], on the fast side of the power curve.

    Own: the fastest level flight that needs no more than this throttle. At full throttle that is
    the top speed, wherever it lies: the search goes on beyond the speed never to exceed.

    Raises
    ------
    ValueError
        At no speed does this throttle hold level flight; the text says how much would.
    """
    assembled.aeroplane.demand_motor("fly level at a throttle")
    flown = levels(assembled)
    held = [trim for trim in flown if trim.found and trim.throttle <= throttle]
    return _fastest(assembled, held[-1] if held else _thriftiest(assembled, flown, throttle),
                    throttle)  # fmt: skip


def levels(assembled: Assembled) -> list[Trim]:
    """Return level flight from the stall to the fastest [m/s] that is looked at.

    Own: in equal shares; kept for the next throttle that is asked of the same model.
    """
    packed = b"".join(x.tobytes() for x in assembled.model._replace(table_ends=NO_ENDS))
    slowest, fastest = assembled.stall.speed_mps, tables.flight().fastest_mps
    return list(_levels(_Question(packed, slowest, fastest, assembled)))


@dataclass(frozen=True)
class _Question:
    """A model between two speeds; two are one that hold the same numbers."""

    packed: bytes
    slowest: float
    fastest: float
    assembled: Assembled = field(compare=False)


@lru_cache(maxsize=8)
def _levels(asked: _Question) -> tuple[Trim, ...]:
    """Return level flight at speeds [m/s] in equal shares."""
    count = int(log(asked.fastest / asked.slowest) / log(SPEED_STEP))
    return tuple(level(asked.assembled, asked.slowest * SPEED_STEP**i) for i in range(count))


def _thriftiest(assembled: Assembled, flown: list[Trim], throttle: float) -> Trim:
    """Return the level flight of least throttle [-], between the speeds tried [m/s], or refuse.

    Own: a bounded search about the least of those tried.
    """
    found = [trim for trim in flown if trim.found]
    if not found:
        text = f"{SPEED.figure(flown[0].speed_mps)} and {SPEED(flown[-1].speed_mps)}"
        raise ValueError(
            f"no level flight at any speed between {text}: full throttle does not hold the "
            "aeroplane up, or the elevator stick does not reach; look at thrust, mass and throws"
        )
    near = min(found, key=_needed).speed_mps
    best = scipy.optimize.minimize_scalar(
        lambda v: _needed(level(assembled, v)),
        bounds=(near / SPEED_STEP, near * SPEED_STEP), method="bounded", options={"xatol": 0.01},
    )  # fmt: skip
    least = min(level(assembled, float(best.x)), level(assembled, near), key=_needed)
    if _needed(least) <= throttle:
        return least
    raise ValueError(
        f"throttle {100.0 * throttle:.0f} % does not hold level flight at any speed; the least "
        f"that does is {ceil(100.0 * least.throttle)} %, at {SPEED(least.speed_mps, '.1f')}"
    )


def _needed(trim: Trim) -> float:
    return trim.throttle if trim.found else inf


def _fastest(assembled: Assembled, held: Trim, throttle: float) -> Trim:
    """Return the fastest level flight that a throttle holds, from a slower one, to 0.001 [m/s].

    Own: by halved steps. Newton's method now and then finds no trim where a neighbour has one;
    its throttle tells even there on which side of the asked one the speed lies.
    """
    step = held.speed_mps * (SPEED_STEP - 1.0)
    speed = held.speed_mps
    while step > SPEED_TOLERANCE:
        tried = level(assembled, speed + step)
        if _needed(tried) <= throttle or tried.throttle < throttle:
            speed += step
            held = tried if tried.found else held
        else:
            step *= 0.5
    return held


def neutral_point_pct(assembled: Assembled, trim: Trim) -> tuple[float, float]:
    """Return (neutral point, static margin) [% MAC], stick fixed, about a trimmed state.

    The change of pitching moment over the change of lift, with sticks and throttle held:
    margin = -dM/dL / c, [etkin1996] 2.3. Lags are settled, so it is the slow slope.
    """
    alpha = np.radians(trim.alpha_deg)
    alphas = np.array([alpha - STEP_RAD, alpha + STEP_RAD])
    sticks = np.array(
        [[trim.elevator_stick, trim.aileron_stick, trim.rudder_stick, trim.throttle]] * 2
    )
    loads = polar(assembled.model, trim.speed_mps, alphas, np.zeros(2), np.zeros((2, 3)), sticks)
    lift = lift_of(loads, alphas)
    margin = -(loads[1, 4] - loads[0, 4]) / (lift[1] - lift[0])
    pct = 100.0 * margin / assembled.weighed.reference.mean_chord_m
    return assembled.weighed.balance_pct_mac + pct, pct


def matrices(assembled: Assembled, trim: Trim) -> tuple[Floats, Floats]:
    """Return the (u, w, q, theta) and (v, p, r, phi) matrices (4, 4) of a trimmed state.

    Equations linear about level flight, [etkin1996] ch. 4 (from memory); SI units [m, s, rad].
    Central differences of the kernel's own right-hand side with the lag states settled
    and rotor speeds held; flow lags are much faster than the modes.
    """
    deltas = np.vstack([np.diag(STEPS), -np.diag(STEPS)])
    rates = accelerations(assembled.model, trim.state, trim.unknowns, float(trim.speed_mps), deltas)
    slopes = (rates[:8] - rates[8:]) / (2.0 * STEPS[:, None])
    theta = np.radians(trim.alpha_deg)
    long = np.zeros((4, 4))
    long[:3] = slopes[np.ix_(LONGITUDINAL, (0, 2, 4))].T
    long[3, 2] = 1.0
    lateral = np.zeros((4, 4))
    lateral[:3] = slopes[np.ix_(LATERAL, (1, 3, 5))].T
    lateral[3, 1] = 1.0
    lateral[3, 2] = np.tan(theta)
    return long, lateral


def modes(assembled: Assembled, trim: Trim) -> list[Mode]:
    """Return the modes of motion about a trimmed state."""
    long, lateral = matrices(assembled, trim)
    return longitudinal_modes(long) + lateral_modes(lateral)


class Slopes(NamedTuple):
    """Yawing and rolling moment coefficients (n,), body axes.

    Per degree of sideslip; of the ailerons over the stick of judge.toml either way.
    """

    cn_beta: Floats
    cl_beta: Floats
    cn_aileron: Floats
    cl_aileron: Floats


def lateral_slopes(assembled: Assembled, alphas_deg: Floats, speed_mps: float) -> Slopes:
    """Return the slopes at angles of attack (n,), elevator for trim or at its nearer stop.

    By definition, differences [1/deg], and over stick from left to right [-]. Over
    the sideslip and aileron stick of judge.toml, lags settled.
    """
    ref = assembled.weighed.reference
    push = 0.5 * assembled.density * speed_mps**2 * ref.area_m2 * ref.span_m
    judge, out = tables.judge(), np.zeros((4, len(alphas_deg)))
    slip, aileron = judge.criteria_sideslip_deg, judge.criteria_aileron_stick
    for i, alpha in enumerate(np.radians(alphas_deg)):
        stick = balancing_stick(assembled, float(alpha), speed_mps)
        rows = np.array([[stick, x, 0, 0] for x in (0.0, 0.0, aileron, -aileron)], dtype=float)
        betas = np.radians([slip, -slip, 0.0, 0.0])
        loads = polar(assembled.model, speed_mps, np.full(4, alpha), betas, np.zeros((4, 3)), rows)
        roll, yaw = loads[:, 3] / push, loads[:, 5] / push
        out[0, i], out[1, i] = (yaw[0] - yaw[1]) / (2.0 * slip), (roll[0] - roll[1]) / (2.0 * slip)
        out[2, i], out[3, i] = yaw[2] - yaw[3], roll[2] - roll[3]
    return Slopes(*out)


def departure_criteria(
    assembled: Assembled, alphas_deg: Floats, speed_mps: float
) -> tuple[Floats, Floats]:
    """Return Cn_beta,dyn and LCDP (n,) [1/deg] at angles of attack."""
    return criteria_of(assembled, alphas_deg, lateral_slopes(assembled, alphas_deg, speed_mps))


def criteria_of(assembled: Assembled, alphas_deg: Floats, slopes: Slopes) -> tuple[Floats, Floats]:
    """Return Cn_beta,dyn and LCDP (n,) [1/deg]; LCDP is NaN where ailerons do not roll.

    Cn_beta cos a - (Izz/Ixx) Cl_beta sin a, and Cn_beta - Cl_beta Cn_da/Cl_da, body axes:
    [raymer] eq. 16.65-16.66, p. 632.
    """
    inertia = assembled.weighed.inertia_kg_m2
    ratio = inertia[2, 2] / inertia[0, 0]
    alphas = np.radians(alphas_deg)
    dynamic = slopes.cn_beta * np.cos(alphas) - ratio * slopes.cl_beta * np.sin(alphas)
    rolls = np.abs(slopes.cl_aileron) > 1e-9
    per_roll = slopes.cn_aileron / np.where(rolls, slopes.cl_aileron, np.nan)
    return dynamic, slopes.cn_beta - slopes.cl_beta * per_roll


def balancing_stick(assembled: Assembled, alpha: float, speed: float) -> float:
    """Return the elevator stick that balances pitch at an angle [rad], or the nearer stop.

    Own: the first zero of nine sticks tried, on a straight line.
    """
    tried = np.linspace(-1.0, 1.0, 9)
    rows = np.zeros((9, 4))
    rows[:, 0] = tried
    moment = polar(assembled.model, speed, np.full(9, alpha), np.zeros(9), np.zeros((9, 3)), rows)[
        :, 4
    ]
    for i in range(8):
        if moment[i] * moment[i + 1] <= 0.0:
            share = moment[i] / (moment[i] - moment[i + 1]) if moment[i] != moment[i + 1] else 0.0
            return float(tried[i] + share * (tried[i + 1] - tried[i]))
    return float(tried[np.argmin(np.abs(moment))])
