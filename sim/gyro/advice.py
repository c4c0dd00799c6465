"""What to set: one gain for every speed, and gains with a schedule by throttle."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor
from typing import NamedTuple

import numpy as np

from sim.core import layout as k
from sim.fly.columns import Floats
from sim.gyro.allowed import Allowed, At, AxisAt
from sim.gyro.motion import AXES

KNOTS = (0.0, 0.5, 1.0)  # of a schedule: idle, half and full throttle
BETWEEN = 12  # places looked at between two speeds
STEP = 0.05  # of the factors


@dataclass(frozen=True)
class Schedule:
    """Gains (3,) and the factor on all of them at idle, half and full throttle.

    Rounded down; an axis without surfaces has a gain of nought.
    """

    gains: tuple[float, ...]
    factors: tuple[float, float, float]

    def at(self, throttle: float) -> Floats:
        """Return the gains (3,) [-] at a throttle [-]; own: straight lines, as the kernel."""
        return np.array(self.gains) * np.interp(throttle, KNOTS, self.factors)


@dataclass(frozen=True)
class Advice:
    """What to set, and how far the schedule is off in a dive at idle.

    ``fixed`` (3,) stands every speed; ``over`` (3,) is the schedule at idle over what the dive
    stands [-], 1 or less being inside; NaN without surfaces.
    """

    fixed: tuple[float, ...]
    schedule: Schedule
    over: tuple[float, ...]


def down(value: float, digits: int) -> float:
    """Return a number cut to so many digits after the point, by definition never more [-]."""
    return floor(value * 10**digits + 1e-9) / 10**digits


def advised(at: At) -> Floats:
    """Return the gains (3,) that a point stands [-]; nought without surfaces."""
    return np.array([0.0 if a is None else a.advised for a in at.axes])


def advice(found: Allowed) -> Advice:
    """Return what to set from what each axis stands.

    Own: gains that the slowest speed stands at idle's factor, one, and at every speed with its own.
    """
    level = [at for at in found.points if not at.point.dive]
    stands = np.array([advised(at) for at in found.points])
    throttles = np.array([at.point.throttle for at in level])
    used = stands.min(axis=0) > 0.0
    factors, gains = (1.0, 1.0, 1.0), np.zeros(len(AXES))
    if used.any():
        factors, gains[used] = _scheduled(throttles, stands[: len(level), used])
    schedule = Schedule(tuple(down(float(g), 3) for g in gains), factors)
    idle, dive = schedule.at(0.0), stands[-1]
    over = [float(i / d) if d > 0.0 else float("nan") for i, d in zip(idle, dive, strict=True)]
    fixed = tuple(down(float(g), 3) for g in stands.min(axis=0))
    return Advice(fixed, schedule, tuple(over))


def _scheduled(throttles: Floats, stands: Floats) -> tuple[tuple[float, float, float], Floats]:
    """Return factors at the knots [-] and gains (a,) that stay below what axes stand (m, a).

    Own: of all factors in steps of STEP, falling from one at idle, those that use the most of what
    is stood, in the mean of its logarithm; between speeds on straight lines of the logarithm.
    """
    at = np.arange(len(throttles))
    fine = np.linspace(0, len(throttles) - 1, BETWEEN * (len(throttles) - 1) + 1)
    places = np.interp(fine, at, throttles)
    log = np.column_stack([np.interp(fine, at, np.log(column)) for column in stands.T])
    best = (-np.inf, (1.0, 1.0, 1.0), np.zeros(stands.shape[1]))
    steps = np.round(np.arange(1.0, 0.0, -STEP), 2)
    for half in steps:
        for full in steps[steps <= half]:
            factors = np.log(np.interp(places, KNOTS, (1.0, half, full)))
            gains = (log - factors[:, None]).min(axis=0)
            gains = np.minimum(gains, log[0])  # at idle no more than at the approach
            score = float((gains + factors[:, None] - log).mean())
            if score > best[0]:
                best = (score, (1.0, float(half), float(full)), np.exp(gains))
    return best[1], best[2]


class SetAgainst(NamedTuple):
    """The set-up's gain on an axis against what it stands.

    ``over`` are the points where it is more than advised, ``swings`` those where even the nominal
    aeroplane would swing on its own. ``backwards``: the gain is below nought, and feeds a turn.
    """

    axis: int
    over: tuple[At, ...]
    swings: tuple[At, ...]
    backwards: bool


def to_the_end(found: Allowed, points: Sequence[At]) -> bool:
    """Tell whether points are more than two and all from one speed on, the dive among them."""
    return len(points) > 2 and list(points) == list(found.points[-len(points) :])


def set_against(found: Allowed) -> list[SetAgainst]:
    """Return each axis of the set-up's gyro against what it stands; nothing without a gyro."""
    out = []
    for axis in range(len(AXES)):
        pairs = [(at, at.axes[axis]) for at in found.points]
        has = [(at, a) for at, a in pairs if a is not None and a.set_gain is not None]
        if has:
            over = tuple(at for at, a in has if (a.set_gain or 0.0) > a.advised)
            swings = tuple(at for at, a in has if (a.set_gain or 0.0) >= a.nominal.swings)
            backwards = any((a.set_gain or 0.0) < 0.0 for _, a in has)
            out.append(SetAgainst(axis, over, swings, backwards))
    return out


def worst_over(one: SetAgainst) -> tuple[At, AxisAt]:
    """Return where a gain is the furthest over, by its ratio [-], and the axis there."""
    pairs = [(at, axis) for at in one.over if (axis := at.axes[one.axis]) is not None]
    return max(pairs, key=lambda pair: (pair[1].set_gain or 0.0) / max(pair[1].advised, 1e-9))


class HandTurn(NamedTuple):
    """How far a moving part turns about each axis (3,) [deg], and its stop [deg]."""

    turned_deg: Floats
    stop_deg: float


def by_hand(found: Allowed, gains: Floats, rate_dps: float) -> dict[str, HandTurn]:
    """Return how far each moving part turns in a turn by hand about each axis, by its channel.

    Gain times rate [deg/s] times its share of the stick, by definition; to its stop at most.
    """
    servos, out = found.assembled.model.servos, {}
    for (channel, _), i in found.assembled.aero.channels.items():
        mixes = np.abs(servos[i, [k.V_MIX_AILERON, k.V_MIX_ELEVATOR, k.V_MIX_RUDDER]])
        stop = float(np.degrees(servos[i, k.V_MAX]))
        out[channel] = HandTurn(np.minimum(mixes * gains * rate_dps, stop), stop)
    return out
