"""Flight with one unit stopped: what it yaws, how slowly it is held straight, what it climbs.

The minimum control speed is the least at which the aeroplane flies straight, one unit stopped and
the rest at a throttle, with no more than full rudder and aileron, wings level or banked by 5°
towards the units that run: "minimum control speed" of 14 CFR 23.149 and the straight flight with
asymmetric thrust of MIL-F-8785C 3.3.9 [faa23149], [milf8785c], both from memory. There, forces
of feet and hands bound it too; here only throws and the stall do.
"""

from dataclasses import dataclass
from math import asin, cos, degrees, radians, sin

import numpy as np
import scipy

from sim import tables
from sim.core import layout as k
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.steady.statics import polar
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.power.operating_point import operating_point
from sim.power.stopping import (
    drag_of_stopped,
    lacks_a_pair,
    stopped_unit,
    unit_places,
    without_current,
)

ALPHA, BETA, ELEVATOR, AILERON, RUDDER = range(5)
BALANCED = 2e-3  # of the weight, and of weight times span, that may be left over
STEPS = np.array([2e-3, 2e-3, 5e-3, 5e-3, 5e-3])  # rad, rad, sticks; for slopes
AT_STOP = 0.98  # of full stick: what bounds the speed stands there
MOST_SIDESLIP = radians(40.0)
SPEED_STEP = 1.12  # from one speed tried to the next, downwards
FASTEST = 3.5  # times the stall speed, where the search begins
HALVINGS = 7


@dataclass(frozen=True)
class Straight:
    """Straight flight with a unit stopped; ``z`` (5,) alpha, beta [rad] and three sticks."""

    speed_mps: float
    bank_deg: float
    z: Floats
    climb_mps: float
    held: bool


@dataclass(frozen=True)
class LeastSpeed:
    """The minimum control speed at one throttle and bank.

    ``speed_mps`` is NaN where it is held at no speed. ``bound`` is what ends it: "rudder",
    "ailerons", "elevator", "stall" or "none found". ``climb_mps`` is there, at that speed.
    """

    throttle: float
    bank_deg: float
    speed_mps: float
    bound: str
    rudder_stick: float
    aileron_stick: float
    sideslip_deg: float
    climb_mps: float


@dataclass(frozen=True)
class OneOut:
    """What a stopped unit does on one side.

    ``yaw_nm`` is the yawing moment left at ``speed_mps`` and full throttle, straight flow, sticks
    centred; ``rudder_nm`` what full rudder gives there, and there are the drags [N] of the stopped
    unit and the thrust [N] of the others. ``best_climb_mps`` on the rest at ``best_climb_at_mps``,
    banked.
    """

    unit: str
    side: float
    speed_mps: float
    yaw_nm: float
    rudder_nm: float
    turning_drag_n: float
    held_drag_n: float
    thrust_left_n: float
    best_climb_mps: float
    best_climb_at_mps: float
    speeds: tuple[LeastSpeed, ...]


def one_out(ready: Assembled, side: float) -> OneOut:
    """Return what the outermost unit on a side (+1 right, -1 left) does when it stops.

    Throttles, banks and the speed [m/s] of the moments are those of one_out.toml. Own: see the
    module.

    Raises
    ------
    ValueError
        No unit stands there, or none is left.
    """
    lacking = lacks_a_pair(ready.aeroplane, (side,))
    if lacking is not None:
        raise ValueError(lacking)
    asked, model = tables.one_out(), ready.model
    index = stopped_unit(model.units, side)
    dead = model._replace(units=without_current(model.units, index))
    speed = asked.moment_speed_over_stall * ready.stall.speed_mps
    alpha = _level_alpha(ready, speed)
    rows = np.array([[alpha, 0.0, 0.0, 0.0, r] for r in (0.0, 1.0, -1.0)])
    loads = _loads(dead, speed, rows, 1.0)
    turning, held = drag_of_stopped(ready.power, index, speed, ready.density)
    power = ready.power._replace(units=dead.units)
    left = operating_point(power, 1.0, speed, ready.density).net_thrust_n
    speeds = tuple(
        least_speed(ready, dead, side, throttle, bank)
        for throttle in asked.throttles
        for bank in (0.0, asked.bank_deg)
    )
    climb, at = _best_climb(ready, dead, side, speeds)
    return OneOut(
        unit=unit_places(ready.aeroplane)[index][0],
        side=side,
        speed_mps=speed,
        yaw_nm=float(loads[0, 5]),
        rudder_nm=0.5 * float(loads[1, 5] - loads[2, 5]),
        turning_drag_n=turning,
        held_drag_n=held,
        thrust_left_n=left + turning,
        best_climb_mps=climb,
        best_climb_at_mps=at,
        speeds=speeds,
    )


def least_speed(
    ready: Assembled, dead: k.Model, side: float, throttle: float, bank_deg: float
) -> LeastSpeed:
    """Return the minimum control speed [m/s] with ``dead`` units, banked away from the side [deg].

    Own: from fast to slow in small steps, each from the one before, then by halves.
    """
    stall = ready.stall.speed_mps
    last: Straight | None = None
    speed, slow = FASTEST * stall, 0.0
    while speed > 0.6 * stall:
        found = straight(ready, dead, side, speed, throttle, bank_deg, last)
        if found.held:
            last = found
        elif last is not None:
            slow = speed
            break
        speed /= SPEED_STEP
    if last is None:
        nan = float("nan")
        return LeastSpeed(throttle, bank_deg, nan, "none found", nan, nan, nan, nan)
    for _ in range(HALVINGS):
        middle = 0.5 * (slow + last.speed_mps)
        found = straight(ready, dead, side, middle, throttle, bank_deg, last)
        last, slow = (found, slow) if found.held else (last, middle)
    z = last.z
    return LeastSpeed(
        throttle=throttle, bank_deg=bank_deg, speed_mps=last.speed_mps, bound=_bound(ready, z),
        rudder_stick=float(z[RUDDER]), aileron_stick=float(z[AILERON]),
        sideslip_deg=degrees(z[BETA]), climb_mps=last.climb_mps,
    )  # fmt: skip


def straight(
    ready: Assembled, dead: k.Model, side: float, speed: float, throttle: float, bank_deg: float,
    near: Straight | None = None,
) -> Straight:  # fmt: skip
    """Return straight flight at a speed [m/s], climbing or sinking as the thrust has it.

    Five balances (side and normal force, three moments) of five unknowns within their bounds; the
    path follows from the force along. Weight in body axes by definition; own: least squares.

    Parameters
    ----------
    side : float
        Of the stopped unit; the bank [deg] is away from it.
    near : Straight, optional
        A flight to start from.
    """
    weight = ready.weighed.mass_kg * STANDARD_GRAVITY
    span = ready.weighed.reference.span_m
    bank = -side * radians(bank_deg)

    def left_over(rows: Floats) -> Floats:
        loads = _loads(dead, speed, rows, throttle)
        pitch = np.arcsin(np.clip(loads[:, 0] / weight, -0.99, 0.99))
        forces = loads[:, 1:3] / weight
        forces[:, 0] += np.cos(pitch) * sin(bank)
        forces[:, 1] += np.cos(pitch) * cos(bank)
        return np.hstack([forces, loads[:, 3:] / (weight * span)])

    def slopes(z: Floats) -> Floats:
        # one-sided, inwards at a stop
        steps = np.where(z + STEPS > most, -STEPS, STEPS)
        rows = left_over(np.vstack([z, z + np.diag(steps)]))
        return np.asarray((rows[1:] - rows[0]).T / steps)

    most = np.array([ready.stall.alpha, MOST_SIDESLIP, 1.0, 1.0, 1.0])
    least = -most
    start = np.array([0.5 * ready.stall.alpha, 0.0, 0.0, 0.0, 0.0]) if near is None else near.z
    start = np.clip(start, least + 1e-6, most - 1e-6)
    found = scipy.optimize.least_squares(
        lambda z: left_over(z[None])[0], start, slopes, bounds=(least, most), max_nfev=25,
        xtol=1e-6, ftol=1e-9,
    )  # fmt: skip
    z = found.x
    along = _loads(dead, speed, z[None], throttle)[0, 0] / weight
    pitch = asin(min(0.99, max(-0.99, along)))
    u, v, w = cos(z[0]) * cos(z[1]), sin(z[1]), sin(z[0]) * cos(z[1])
    climb = speed * (u * sin(pitch) - (v * sin(bank) + w * cos(bank)) * cos(pitch))
    held = bool(np.max(np.abs(found.fun)) < BALANCED)
    return Straight(speed, bank_deg, z, float(climb), held)


def _loads(model: k.Model, speed: float, rows: Floats, throttle: float) -> Floats:
    """Return loads (n, 6) [N, N m] at rows (n, 5) of unknowns, lags settled; the kernel's own."""
    sticks = np.column_stack([rows[:, ELEVATOR:], np.full(len(rows), throttle)])
    alphas, betas = np.ascontiguousarray(rows[:, ALPHA]), np.ascontiguousarray(rows[:, BETA])
    return polar(
        model, speed, alphas, betas, np.zeros((len(rows), 3)), np.ascontiguousarray(sticks)
    )


def _level_alpha(ready: Assembled, speed: float) -> float:
    """Return the angle of attack [rad] that carries the weight at a speed [m/s]; own: no thrust."""
    weight = ready.weighed.mass_kg * STANDARD_GRAVITY
    alphas = np.linspace(0.0, ready.stall.alpha, 16)
    lift = -_loads(ready.model, speed, np.pad(alphas[:, None], ((0, 0), (0, 4))), 0.0)[:, 2]
    return float(np.interp(weight, np.maximum.accumulate(lift), alphas))


def _best_climb(
    ready: Assembled, dead: k.Model, side: float, speeds: tuple[LeastSpeed, ...]
) -> tuple[float, float]:
    """Return the best climb [m/s] at full throttle, banked as the standards allow, and its speed.

    Own: tried from fast to slow; speed in m/s. It is often best as slow as it is held straight, so
    that flight of ``speeds`` is tried too.
    """
    bank = tables.one_out().bank_deg
    best, last = (float("nan"), float("nan")), None
    for row in speeds:
        if row.throttle == 1.0 and row.bank_deg == bank and not row.climb_mps <= best[0]:
            best = (row.climb_mps, row.speed_mps)
    for over in np.arange(FASTEST, 0.8, -0.2):
        found = straight(
            ready, dead, side, over * ready.stall.speed_mps, 1.0, bank, last
        )  # fmt: skip
        if found.held:
            last = found
            if not found.climb_mps <= best[0]:
                best = (found.climb_mps, found.speed_mps)
    return best


def _bound(ready: Assembled, z: Floats) -> str:
    """Return what of the unknowns (5,) stands at its stop [rad, 1]; own: the stall first."""
    if z[ALPHA] > 0.97 * ready.stall.alpha:
        return "stall"
    names = {RUDDER: "rudder", AILERON: "ailerons", ELEVATOR: "elevator"}
    for which, name in names.items():
        if abs(z[which]) > AT_STOP:
            return name
    return "stall"
