"""Fly one flight, or many of one kind."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from math import pi, radians
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sim import tables
from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.draw_layout import N_DRAW
from sim.core.flights.batch import many_flights
from sim.core.flights.beginning import Start
from sim.core.flights.flight import Pace
from sim.core.layout import Model
from sim.describe import Aeroplane, Manoeuvre, Recovery, as_wanted
from sim.describe.faults import Fault, FileFault
from sim.describe.study import ENTRY_M
from sim.fly.columns import Columns, Floats, frame, history_columns, surface_columns
from sim.pack.assemble import Assembled
from sim.pack.phases import longest, phase_table
from sim.power.stopping import lacks_a_pair

if TYPE_CHECKING:
    from pandas import DataFrame


NEVER_PASSED = 1e9  # N m
STOPS_ON = {"left": (-1.0,), "right": (1.0,), "side": (-1.0, 1.0)}


@dataclass(frozen=True)
class Flight:
    """One flight's record.

    ``history`` (n, N_HISTORY) has one row a control tick, ``summary`` (N_SUMMARY,) its
    events, heights and peaks; `sim.core.script_layout` says what stands where, and
    ``to_columns`` gives the history by name.
    """

    assembled: Assembled
    manoeuvre: Manoeuvre
    recovery: Recovery
    side: float
    history: Floats
    summary: Floats
    draw: Floats | None = None  # offsets that it was flown with; None is nominal

    def to_columns(self) -> Columns:
        """Return the history as columns (n,), one row a control tick, angles in degrees.

        Names end in their units, as `sim.fly.columns.HISTORY` lists them; after those the
        deflection [deg] of each moving part, by channel and side.
        """
        moving = surface_columns(self.history, self.assembled.aero.channels)
        return {**history_columns(self.history), **moving}

    def to_frame(self) -> "DataFrame":
        """Return ``to_columns`` as a pandas data frame.

        Raises
        ------
        ModuleNotFoundError
            pandas is not installed.
        """
        return frame(self.to_columns())


@dataclass(frozen=True)
class Settings:
    """How flights are integrated; the defaults come from flight.toml."""

    step_s: float
    control_rate_hz: float
    most_drop_m: float
    rough_rps: float
    smooth_rps: float
    finest_parts: int
    coarsest_steps: int
    easy_share: float
    trim_good_mps2: float
    start_step: float
    start_most: float
    retries_s: float

    @staticmethod
    def standard() -> "Settings":
        """Return the settings of flight.toml."""
        table = tables.flight()
        return Settings(**{field.name: getattr(table, field.name) for field in fields(Settings)})

    def pace(self) -> Pace:
        """Return what the kernel asks of them."""
        return Pace(**{name: getattr(self, name) for name in Pace._fields})


def judge_array() -> Floats:
    """Return the judge's thresholds (N_JUDGE,) of judge.toml in SI units."""
    judge, out = tables.judge(), np.zeros(s.N_JUDGE)
    out[s.J_STALL_MARGIN] = radians(judge.stall_margin_deg)
    out[s.J_YAW] = radians(judge.yaw_rate_dps)
    out[s.J_YAW_FOR] = judge.yaw_for_s
    out[s.J_ALPHA] = radians(judge.alpha_deg)
    out[s.J_ALPHA_FOR] = judge.alpha_for_s
    out[s.J_BANK] = radians(judge.bank_drop_deg)
    out[s.J_SPIN_RATE] = radians(judge.spin_rate_dps)
    out[s.J_WINDOW] = judge.spin_window_s
    out[s.J_LEVEL_PATH] = radians(judge.level_path_deg)
    out[s.J_LEVEL_FOR] = judge.level_for_s
    out[s.J_STOPPED] = radians(judge.stopped_dps)
    out[s.J_SPIN_TURNS] = judge.spin_turns
    out[s.J_STALLED_TURNS] = judge.stalled_turns
    out[s.J_STALLED_GAP] = judge.stalled_gap_s
    out[s.J_TURNS_MARGIN] = radians(judge.turns_margin_deg)
    out[s.J_HANG_ALPHA] = radians(judge.deep_stall_alpha_deg)
    out[s.J_HANG_MOST_ALPHA] = radians(judge.deep_stall_most_alpha_deg)
    out[s.J_HANG_MEAN] = judge.deep_stall_mean_s
    out[s.J_HANG_FOR] = judge.deep_stall_for_s
    out[s.J_HANG_STICK] = judge.deep_stall_stick
    out[s.J_HANG_PASSED] = judge.deep_stall_passed_share
    out[s.J_BANK_PATH] = judge.bank_path_rad
    return out


def start_of(manoeuvre: Manoeuvre, height_m: float) -> Start:
    """Return how a manoeuvre begins at a height [m]; inverted flight is banked by half a turn."""
    start = manoeuvre.start
    return Start(
        speed_ratio=float(start.speed_over_stall),
        height_m=float(height_m),
        bank=pi if start.inverted else radians(start.bank_deg),
    )


def with_gust(model: Model, manoeuvre: Manoeuvre) -> Model:
    """Return the model with the manoeuvre's gust in its air; the model itself if there is none."""
    start = manoeuvre.start
    if start.gust_mps == 0.0 and start.side_gust_mps == 0.0:
        return model
    env = model.env.copy()
    env[k.E_GUST], env[k.E_GUST_SIDE] = start.gust_mps, start.side_gust_mps
    env[k.E_GUST_START] = start.gust_at_s
    env[k.E_GUST_LENGTH] = start.gust_length_m
    return model._replace(env=env)


def all_looked_at(model: Model) -> Model:
    """Return the model with the air's moments on all servos told, for a flight flown alone.

    Own: a servo without a stated torque gets one that nothing passes; so it flies as it did.
    """
    servos = model.servos.copy()
    servos[servos[:, k.V_TORQUE] == 0.0, k.V_TORQUE] = NEVER_PASSED
    return model._replace(servos=servos)


def demand_units(aeroplane: Aeroplane, manoeuvre: Manoeuvre) -> None:
    """Refuse a manoeuvre in which a unit stops that the aeroplane has not got, or only one."""
    for phase in manoeuvre.phases:
        if phase.stop_unit == "none":
            continue
        lacking = lacks_a_pair(aeroplane, STOPS_ON[phase.stop_unit])
        if lacking is not None:
            fault = Fault(f"phases.{phase.name}.stop_unit", lacking)
            raise FileFault(f"{manoeuvre.name}.toml", [fault])


def fly_one(
    assembled: Assembled,
    manoeuvre: Manoeuvre,
    recovery: Recovery,
    side: float = 1.0,
    draw: Floats | None = None,
    height_m: float = ENTRY_M,
    settings: Settings | None = None,
) -> Flight:
    """Fly one manoeuvre and recovery, keeping the history.

    Parameters
    ----------
    side : float
        +1 enters to the right, -1 to the left.
    draw : float array (N_DRAW,), optional
        Offsets in physical units; None flies the nominal aeroplane.
    height_m : float
        Entry height above the field, for the air's density only.

    Raises
    ------
    FileFault
        The recovery stands where the manoeuvre belongs, or the other way round; a unit stops that
        the aeroplane has not got.
    """
    as_wanted(manoeuvre, Manoeuvre)
    as_wanted(recovery, Recovery)
    demand_units(assembled.aeroplane, manoeuvre)
    found, history = _flown(
        all_looked_at(with_gust(assembled.model, manoeuvre)),
        assembled.roles,
        np.zeros((1, N_DRAW)) if draw is None else np.array(draw, dtype=float)[None],
        np.array([float(side)]),
        np.zeros(1, dtype=np.int64),
        manoeuvre,
        [recovery],
        height_m,
        settings or Settings.standard(),
    )
    summary = found[0, 0]
    silent = assembled.model.servos[: s.KEPT_SERVOS, k.V_TORQUE] == 0.0
    summary[s.R_TORQUE : s.R_TORQUE + silent.size][silent] = 0.0  # as in a flight among many
    return Flight(
        assembled=assembled,
        manoeuvre=manoeuvre,
        recovery=recovery,
        side=side,
        history=history,
        summary=summary,
        draw=draw,
    )


def fly_many(
    assembled: Assembled,
    manoeuvre: Manoeuvre,
    recovery: Recovery,
    draws: Floats,
    which: NDArray[np.int64],
    sides: Floats,
    height_m: float = ENTRY_M,
    settings: Settings | None = None,
) -> Floats:
    """Fly draw ``which[i]`` to side ``sides[i]`` for each i; return summaries (n, N_SUMMARY).

    Runs without Python's lock, so calls on several threads run side by side.
    `sim.fly.columns.summary_columns` gives the summaries by name.

    Parameters
    ----------
    draws : float array (m, N_DRAW)
        Offsets in physical units, such as `sim.study.flights.draws.make_draws` gives.
    which : int array (n,)
        Row of ``draws`` that each flight has.
    sides : float array (n,)
        +1 enters to the right, -1 to the left.

    Raises
    ------
    FileFault
        As `fly_one`.
    """
    found = fly_recoveries(
        assembled, manoeuvre, [recovery], draws, which, sides, height_m, settings
    )
    return found[0]


def fly_recoveries(
    assembled: Assembled,
    manoeuvre: Manoeuvre,
    recoveries: Sequence[Recovery],
    draws: Floats,
    which: NDArray[np.int64],
    sides: Floats,
    height_m: float = ENTRY_M,
    settings: Settings | None = None,
) -> Floats:
    """Fly one entry with several recoveries; return summaries (recoveries, n, N_SUMMARY).

    The entry of a draw is flown once, and each recovery goes on from its end: the
    same numbers as flying each whole.
    """
    as_wanted(manoeuvre, Manoeuvre)
    for recovery in recoveries:
        as_wanted(recovery, Recovery)
    demand_units(assembled.aeroplane, manoeuvre)
    found, _ = _flown(
        with_gust(assembled.model, manoeuvre),
        assembled.roles,
        draws,
        sides,
        which,
        manoeuvre,
        recoveries,
        height_m,
        settings or Settings.standard(),
    )
    return found


def _flown(
    model: Model,
    roles: NDArray[np.int64],
    draws: Floats,
    sides: Floats,
    which: NDArray[np.int64],
    manoeuvre: Manoeuvre,
    recoveries: Sequence[Recovery],
    height_m: float,
    settings: Settings,
) -> tuple[Floats, Floats]:
    """Return summaries (recoveries, n, N_SUMMARY), and the history (m, N_HISTORY) of the last."""
    tables = [phase_table(manoeuvre, recovery) for recovery in recoveries]
    ends = np.array([len(table) for table in tables])
    phases = np.zeros((len(tables), ends.max(), s.N_PHASE))
    for i, table in enumerate(tables):
        phases[i, : len(table)] = table
    seconds = np.array([longest(manoeuvre, out, settings.retries_s) for out in recoveries])
    history = np.zeros((int(seconds.max() * settings.control_rate_hz) + 1, s.N_HISTORY))
    found, rows = many_flights(
        model, roles, draws, sides, which, phases, ends, seconds, judge_array(),
        start_of(manoeuvre, height_m), settings.pace(), history,
    )  # fmt: skip
    return found, history[:rows]
