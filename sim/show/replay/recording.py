"""One flight as plain lists, small enough for a page: what a replay plays.

What a recording holds, key by key, is `sim.record.models.recording`. A flight that reaches the
field's level ends there with the event "ground".
"""

from math import ceil, degrees

import numpy as np

from sim.core import script_layout as s
from sim.fly.columns import history_columns
from sim.fly.flying import Flight
from sim.judge import events_of, verdict_of
from sim.record.models.recording import BALANCE, Columns, EventRow, PhaseRow, Recording
from sim.show.shapes.mesh import mesh_of, servo_names
from sim.version import __version__

MOST_ROWS = 300  # a longer flight is told at a lower rate, so that its size stays bounded
EVENT_NAMES = {
    "recovery starts": "first recovery input",
    "unstalled, rotation stopped": "unstalled",
}
STAGES = {
    s.STAGE_TRIED_PULL_OUT: "recovery that fails",
    s.STAGE_TRIED: "recovery that fails",
    s.STAGE_ENTRY: "entry",
    s.STAGE_RECOVERY: "recovery",
    s.STAGE_PULL_OUT: "pull-out",
}

# name in a recording, name in `sim.fly.columns`
COLUMNS = {
    "t_s": "time_s",
    "north_m": "north_m",
    "east_m": "east_m",
    "alpha_deg": "alpha_deg",
    "beta_deg": "beta_deg",
    "p_dps": "roll_rate_dps",
    "q_dps": "pitch_rate_dps",
    "r_dps": "yaw_rate_dps",
    "speed_mps": "speed_mps",
    "climb_mps": "climb_mps",
    "load_g": "load_factor_g",
    "elevator": "elevator_stick",
    "aileron": "aileron_stick",
    "rudder": "rudder_stick",
    "throttle": "throttle_stick",
}


def recording(
    flight: Flight,
    title: str,
    entry_m: float,
    floor_m: float,
    draw: int | None,
    rate_hz: float = 20.0,
    seed: int | None = None,
) -> Recording:
    """Return one flight as a recording.

    Parameters
    ----------
    flight : Flight
    title : str
        What a viewer writes over it.
    entry_m, floor_m : float
        Height above the field at the start, and the floor of the verdict [m].
    draw : int or None
        Which draw was flown; None is the nominal aeroplane.
    rate_hz : float
        Most rows a second; a long flight gets fewer.
    seed : int, optional
        Of the draws.
    """
    ready = flight.assembled
    history = _down_to_the_ground(flight.history, entry_m)
    rows = _rows(history[:, s.H_T], rate_hz)
    row = flight.summary
    # the mesh lies where the recording tells it
    balance = BALANCE.rounded(ready.weighed.balance_aft_mm, nullable=False)
    return Recording(
        schema="aftlimit.recording/2",
        version=__version__,
        title=title,
        aeroplane=ready.aeroplane.name,
        setup=ready.setup.name,
        pack=ready.setup.pack,
        balance_aft_mm=balance,
        manoeuvre=flight.manoeuvre.name,
        recovery=flight.recovery.name,
        draw=draw,
        seed=seed,
        side="right" if flight.side > 0 else "left",
        verdict=verdict_of(row, entry_m, floor_m),
        height_lost_m=row[s.R_HEIGHT_LOST] if row[s.R_BACK] > 0.0 else None,
        entry_m=entry_m,
        floor_m=floor_m,
        rate_hz=_rate(history[rows, s.H_T], rate_hz),
        stall_alpha_deg=degrees(ready.stall.alpha),
        stall_inverted_deg=degrees(ready.stall.inverted),
        columns=_columns(flight, history, rows, entry_m),
        events=_events(flight, history, entry_m),
        phases=_phases(flight, history),
        mesh=mesh_of(ready.aeroplane, balance),
    )


def _down_to_the_ground(history: np.ndarray, entry_m: float) -> np.ndarray:
    """Return the rows of a history up to the first at the field's level, without broken ones."""
    sound = history[np.isfinite(history).all(axis=1)]
    low = np.flatnonzero(_height(sound, entry_m) <= 0.0)
    return sound[: low[0] + 1] if low.size else sound


def _height(history: np.ndarray, entry_m: float) -> np.ndarray:
    """Return the height (n,) above the field [m]."""
    height: np.ndarray = entry_m + history[:, s.H_UP] - history[0, s.H_UP]
    return height


def _events(flight: Flight, history: np.ndarray, entry_m: float) -> list[EventRow]:
    end = float(history[-1, s.H_T])
    out = [
        EventRow(name=EVENT_NAMES.get(e.name, e.name), t_s=e.time_s)
        for e in events_of(flight.history, flight.summary)
        if e.time_s <= end
    ]
    if _height(history, entry_m)[-1] <= 0.0:
        out.append(EventRow(name="ground", t_s=end))
    return out


def _rows(times: np.ndarray, rate_hz: float) -> np.ndarray:
    """Return which rows are kept: evenly spaced, and the last."""
    last = len(times) - 1
    tick = float(times[1] - times[0]) if last > 0 else 1.0
    apart = max(1, round(1.0 / (rate_hz * tick)), ceil(last / MOST_ROWS))
    return np.unique(np.append(np.arange(0, last, apart), last))


def _rate(times: np.ndarray, rate_hz: float) -> float:
    """Return the rows a second of the kept times (n,) [s]."""
    return 1.0 / float(times[1] - times[0]) if len(times) > 2 else rate_hz


def quaternions(angles: np.ndarray) -> np.ndarray:
    """Return quaternions (n, 4) from body to NED of roll, pitch, yaw (n, 3) [rad].

    The sign is chosen so that neighbours lie near each other. Source: [stevens2015]
    eq. 1.8-20.
    """
    cr, cp, cy = np.cos(0.5 * angles).T
    sr, sp, sy = np.sin(0.5 * angles).T
    out = np.column_stack([
        cr * cp * cy + sr * sp * sy,
        sr * cp * cy - cr * sp * sy,
        cr * sp * cy + sr * cp * sy,
        cr * cp * sy - sr * sp * cy,
    ])  # fmt: skip
    jumps = np.einsum("ij,ij->i", out[1:], out[:-1]) < 0.0
    out[1:][np.cumsum(jumps) % 2 == 1] *= -1.0
    return out


def _columns(flight: Flight, history: np.ndarray, rows: np.ndarray, entry_m: float) -> Columns:
    kept = history[rows]
    columns = history_columns(kept)
    # the sign must follow the flight itself: kept rows may lie half a turn apart
    turns = quaternions(history[:, s.H_PHI : s.H_PSI + 1])[rows]
    names = servo_names(flight.assembled.aeroplane)[: s.KEPT_SERVOS]
    return Columns(
        **{name: columns[known].tolist() for name, known in COLUMNS.items()},
        up_m=_height(history, entry_m)[rows].tolist(),
        **{f"q{i}": turns[:, i].tolist() for i in range(4)},
        surfaces={
            name: np.degrees(kept[:, s.H_SERVO + i]).tolist() for i, name in enumerate(names)
        },
    )


def _phases(flight: Flight, history: np.ndarray) -> list[PhaseRow]:
    """Return stage, name and start of each phase flown, in order of time."""
    names = [p.name for p in flight.manoeuvre.phases] + [p.name for p in flight.recovery.phases]
    numbers = history[:, s.H_PHASE].astype(int)
    starts = np.flatnonzero(np.diff(numbers, prepend=-1))
    return [
        PhaseRow(
            stage=STAGES[int(history[i, s.H_STAGE])],
            name=names[numbers[i]] if numbers[i] < len(names) else STAGES[s.STAGE_PULL_OUT],
            from_s=history[i, s.H_T],
        )
        for i in starts
    ]
