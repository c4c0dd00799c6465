"""What pilots go aft for, read off a flight's history: angles, rates, loops, rolls, passes."""

from math import radians

import numpy as np
from numpy.typing import NDArray

from sim import tables
from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.measured_layout import (
    M_ANGLE,
    M_ANGLE_TIME,
    M_ASIDE,
    M_BACK,
    M_FORWARD,
    M_LOAD,
    M_LOOP_HEIGHT,
    M_LOOP_TIME,
    M_OFF,
    M_OVER_TIME,
    M_PITCH_RATE,
    M_ROLL_RATE,
    M_ROLL_TIME,
    M_SLOWEST,
    M_SLOWEST_ANGLE,
    M_STATUS,
    M_TORQUE,
    M_USED,
    N_MEASURED,
)
from sim.describe import Manoeuvre, Recovery
from sim.fly.columns import Floats
from sim.fly.flying import Flight, fly_one
from sim.pack.assemble import Assembled


def fly_measured(
    assembled: Assembled,
    manoeuvre: Manoeuvre,
    recovery: Recovery,
    draws: Floats,
    which: NDArray[np.int64],
    sides: Floats,
    height_m: float,
) -> Floats:
    """Fly draw ``which[i]`` to side ``sides[i]`` for each i; return the rows (n, N_MEASURED).

    Parameters as those of `sim.fly.flying.fly_many`.
    """
    out = np.zeros((which.size, N_MEASURED))
    for i, (draw, side) in enumerate(zip(which, sides, strict=True)):
        flight = fly_one(assembled, manoeuvre, recovery, float(side), draws[draw], height_m)
        out[i] = measured(flight)
    return out


def measured(flight: Flight) -> Floats:
    """Return what is measured of a flight (N_MEASURED,).

    Angles are the sums of the body's rates, or the angle of attack followed past 180 degrees;
    the flight path has turned by what the nose has, less what the angle of attack has grown.
    """
    h, table = flight.history, tables.agility()
    tick = float(h[1, s.H_T] - h[0, s.H_T]) if len(h) > 1 else 0.01
    ends = int((h[:, s.H_STAGE] <= s.STAGE_ENTRY).sum())
    way = -1.0 if flight.manoeuvre.start.inverted else 1.0
    alpha = way * np.unwrap(h[:, s.H_ALPHA])
    rolled, pitched, yawed = (np.cumsum(h[:, at]) * tick for at in (s.H_P, s.H_Q, s.H_R))
    path = np.abs(pitched - way * (alpha - alpha[0]))
    out = np.zeros(N_MEASURED)
    out[M_STATUS] = flight.summary[s.R_STATUS]
    out[M_BACK] = flight.summary[s.R_BACK]
    out[M_ANGLE] = alpha[:ends].max()
    out[M_PITCH_RATE] = np.abs(h[:ends, s.H_Q]).max()
    once = radians(table.round_deg)
    out[M_ANGLE_TIME] = _first(alpha[:ends] >= radians(table.angle_deg), tick)
    out[M_OVER_TIME] = _first(alpha >= once, tick)
    out[M_LOOP_TIME] = _first(path >= once, tick)
    out[M_ROLL_TIME] = _first(np.abs(rolled) >= once, tick)
    up = h[:, s.H_UP]
    top = int(up[:ends].argmax())
    out[M_LOOP_HEIGHT] = up[top] - up[: top + 1].min()
    out[M_ROLL_RATE] = np.abs(_means(h[:ends, s.H_P], table.roll_window_s, tick)).max()
    out[M_SLOWEST], out[M_SLOWEST_ANGLE] = _held_pass(
        h[:ends], alpha[:ends], yawed[:ends], way, tick
    )
    out[M_LOAD] = np.abs(h[:, s.H_LOAD]).max()
    kept = s.KEPT_SERVOS
    out[M_TORQUE : M_TORQUE + kept] = flight.summary[s.R_TORQUE : s.R_TORQUE + kept]
    out[M_OFF : M_OFF + kept] = flight.summary[s.R_OFF : s.R_OFF + kept]
    out[M_USED] = flight.summary[s.R_DROP]
    found = _forward(h[ends:], flight, tick)
    out[M_FORWARD] = found * tick if found >= 0 else np.inf
    last = len(h) if found < 0 else min(len(h), ends + found + 1)
    rolls = flight.manoeuvre.shows == "roll"
    other = np.maximum(np.abs(pitched if rolls else rolled), np.abs(yawed))
    out[M_ASIDE] = other[:last].max()
    return out


def _first(holds: NDArray[np.bool_], tick: float) -> float:
    """Return when something first holds [s]; infinite if it never does."""
    return float(holds.argmax()) * tick if holds.any() else np.inf


def _means(values: Floats, window_s: float, tick: float) -> Floats:
    """Return the means (m,) of values (n,) over a window; over all of them where they are fewer."""
    size = min(len(values), max(1, round(window_s / tick)))
    sums = np.concatenate([[0.0], np.cumsum(values)])
    return (sums[size:] - sums[:-size]) / size


def _held_pass(
    h: Floats, alpha: Floats, yawed: Floats, way: float, tick: float
) -> tuple[float, float]:
    """Return the least mean speed [m/s] held level for a while, and the angle of attack [rad].

    What comes after the pilot has lost it does not count.
    """
    table = tables.agility()
    bank = np.arctan(np.tan(h[:, s.H_PHI]))  # from wings level, either way up
    lost = (np.abs(bank) > radians(table.lost_bank_deg)) | (
        np.abs(yawed) > radians(table.lost_bank_deg)
    )
    until = int(lost.argmax()) if lost.any() else len(h)
    size = round(table.held_s / tick)
    if until <= size:
        return np.inf, np.nan
    windows = np.lib.stride_tricks.sliding_window_view
    steep = windows(np.abs(bank[:until]), size).max(axis=1) > radians(table.held_bank_deg)
    angles = windows(alpha[:until], size)
    swings = np.ptp(angles, axis=1) > radians(table.held_swing_deg)
    sinks = _means(-h[:until, s.H_CLIMB], table.held_s, tick) > table.held_sink_mps
    speeds = _means(h[:until, s.H_SPEED], table.held_s, tick)
    # the stick at its stop against the nose controls nothing any more
    stop = _means(way * h[:until, s.H_ELEVATOR], table.held_s, tick) < -table.held_stick
    speeds = np.where(steep | swings | sinks | stop, np.inf, speeds)
    at = int(speeds.argmin())
    return float(speeds[at]), float(angles[at].mean()) if np.isfinite(speeds[at]) else np.nan


def _forward(h: Floats, flight: Flight, tick: float) -> int:
    """Return which of the rows (n, N_HISTORY) first points forwards for a while, or -1."""
    table, env = tables.agility(), flight.assembled.model.env
    stall = np.where(h[:, s.H_ALPHA] >= 0.0, env[k.E_STALL_ALPHA], env[k.E_STALL_INVERTED])
    along = np.abs(h[:, s.H_ALPHA]) < stall
    along &= np.abs(h[:, s.H_BETA]) < radians(table.forward_sideslip_deg)
    size = round(table.forward_for_s / tick)
    if len(along) < size:
        return -1 if not len(along) or not along.all() else 0
    whole = np.lib.stride_tricks.sliding_window_view(along, size).all(axis=1)
    return int(whole.argmax()) if whole.any() else -1
