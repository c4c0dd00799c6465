"""Verdicts and their reasons, and what counts as a departure."""

import numpy as np
import pytest

from sim.core import kernel
from sim.core import script_layout as s
from sim.core.flights.summary import summarise
from sim.core.layout import E_STALL_ALPHA, E_STALL_INVERTED, N_ENV
from sim.fly.flying import judge_array
from sim.judge import Reason, Verdict, is_back, reasons_of, shares_of, typical_spin, verdicts_of

TICK, STALL_DEG = 0.01, 12.0


@kernel
def summary_of(history, n, tick, env, judge, status, out):
    """Call the summary from Python: it has no way in of its own."""
    summarise(history, n, tick, env, judge, status, out)


def rows(**columns: list[float]) -> np.ndarray:
    """Return summaries of flights that came back having used 50 m, but for the columns given."""
    out = np.zeros((len(next(iter(columns.values()))), s.N_SUMMARY))
    out[:, s.R_BACK] = 1.0
    out[:, s.R_DROP] = 50.0
    out[:, s.R_DROP_ENTRY] = 10.0
    for name, values in columns.items():
        out[:, getattr(s, name)] = values
    return out


def test_three_ways_to_be_lost_have_three_names():
    # of 80 m: never back; back but 90 m down; the entry alone took 85 m
    told = rows(R_BACK=[0, 1, 1, 1], R_DROP=[300, 90, 95, 50], R_DROP_ENTRY=[10, 10, 85, 10])
    assert reasons_of(told, 120.0, 40.0) == [
        Reason.NEVER, Reason.BELOW_FLOOR, Reason.ENTRY, Reason.NONE,
    ]  # fmt: skip
    shares = shares_of(told, 120.0, 40.0)
    assert (shares.never, shares.below_floor, shares.entry_used, shares.lost) == (1, 1, 1, 3)
    # from higher up only the one that never came back is lost
    assert shares_of(told, 200.0, 40.0).reasons == {Reason.NEVER: 1}


@pytest.mark.parametrize(
    ("status", "why"),
    [(s.STATUS_NO_TRIM, Reason.NO_TRIM), (s.STATUS_BROKEN, Reason.GUARD),
     (s.STATUS_NAN, Reason.STEP)],
)  # fmt: skip
def test_unresolved_flights_count_against(status, why):
    told = rows(R_STATUS=[status] * 12 + [s.STATUS_DONE] * 116)
    shares = shares_of(told, 120.0, 40.0)
    assert (shares.flights, shares.back, shares.unresolved) == (128, 116, 12)
    assert shares.reasons == {why: 12}
    # 116 of 128, not 116 of 116: Wilson's upper limit is 94.6 %
    assert shares.back_high == pytest.approx(0.946, abs=1e-3)


def test_a_summary_that_is_no_number_is_unresolved():
    told = rows(R_BACK=[1, 1, 1])
    told[1, s.R_HEIGHT_LOST] = np.nan
    told[2, s.R_PEAK_SPEED] = np.inf
    assert verdicts_of(told, 120.0, 40.0) == [Verdict.HELD, Verdict.UNRESOLVED, Verdict.UNRESOLVED]
    assert list(is_back(told, 120.0, 40.0)) == [True, False, False]
    shares = shares_of(told, 120.0, 40.0)
    assert (shares.back, shares.step) == (1, 2)
    assert np.isfinite([shares.back_low, shares.back_high]).all()


def test_touching_a_high_angle_for_a_moment_is_counted():
    told = rows(R_HIGH_FOR=[0.0, 0.4, 0.9], R_DEPARTED=[0, 0, 1])
    assert shares_of(told, 120.0, 40.0).touched == 1


def flown(
    alpha_deg: float,
    turn_dps: float,
    seconds: float = 6.0,
    axis: int = s.H_ROTATION,
    inverted_deg: float = STALL_DEG,
):
    """Return the summary of a flight at one angle of attack that turns about one axis."""
    history = np.zeros((int(seconds / TICK), s.N_HISTORY))
    history[:, s.H_T] = np.arange(len(history)) * TICK
    history[:, s.H_UP] = 100.0
    history[:, s.H_SPEED] = 15.0
    history[:, s.H_ALPHA] = np.radians(alpha_deg)
    history[:, axis] = np.radians(turn_dps)
    env = np.zeros(N_ENV)
    env[E_STALL_ALPHA], env[E_STALL_INVERTED] = np.radians((STALL_DEG, inverted_deg))
    out = np.zeros(s.N_SUMMARY)
    summary_of(history, len(history), TICK, env, judge_array(), s.STATUS_DONE, out)
    return out


def test_a_screw_at_moderate_angle_is_a_departure_and_a_spin():
    # two turns about the flight path at 3 degrees beyond the stall, no yaw about the vertical
    out = flown(STALL_DEG + 3.0, 120.0)
    assert out[s.R_STALLED_TURNS] == pytest.approx(2.0, abs=0.01)
    assert (out[s.R_DEPARTED], out[s.R_SPUN]) == (1.0, 1.0)
    # one full turn is passed after 3 s
    assert out[s.R_T_DEPART] == pytest.approx(3.0, abs=0.02)


def test_a_pushed_flight_is_stalled_from_its_own_angle():
    # a cambered wing that stalls 6 degrees later inverted: what screws upright only rolls there
    upright = flown(STALL_DEG + 3.0, 120.0, inverted_deg=STALL_DEG + 6.0)
    pushed = flown(-STALL_DEG - 3.0, 120.0, inverted_deg=STALL_DEG + 6.0)
    beyond = flown(-STALL_DEG - 9.0, 120.0, inverted_deg=STALL_DEG + 6.0)
    assert (upright[s.R_DEPARTED], upright[s.R_SPUN]) == (1.0, 1.0)
    assert (pushed[s.R_DEPARTED], pushed[s.R_SPUN], pushed[s.R_T_STALL]) == (0.0, 0.0, -1.0)
    assert (beyond[s.R_DEPARTED], beyond[s.R_SPUN], beyond[s.R_T_STALL]) == (1.0, 1.0, 0.0)


@pytest.mark.parametrize("axis", [s.H_P, s.H_Q, s.H_R, s.H_ROTATION])
def test_a_turn_about_any_axis_counts(axis):
    assert flown(STALL_DEG + 3.0, 120.0, axis=axis)[s.R_DEPARTED] == 1.0


def test_the_same_turns_unstalled_are_a_roll():
    assert flown(STALL_DEG - 4.0, 120.0)[s.R_DEPARTED] == 0.0


def test_half_a_turn_while_stalled_is_none():
    out = flown(STALL_DEG + 3.0, 30.0)
    assert out[s.R_STALLED_TURNS] == pytest.approx(0.5, abs=0.01)
    assert out[s.R_DEPARTED] == 0.0


def test_high_angle_is_timed():
    out = flown(74.0, 0.0, seconds=0.8)
    assert out[s.R_HIGH_FOR] == pytest.approx(0.8, abs=0.02)
    assert out[s.R_DEPARTED] == 0.0


def test_a_spin_without_numbers_is_no_spin():
    told = rows(R_SPUN=[1, 1, 1, 1], R_SPIN_ALPHA=[0.7] * 4, R_SPIN_SPEED=[12.0] * 4)
    told[:, s.R_SPIN_RATE] = [2.0, 2.0, 2.0, np.nan]
    spin = typical_spin(told, 1.2)
    assert spin is not None
    assert spin.share == 0.75
    # omega b / 2 V = 2 * 1.2 / 24, by hand
    assert spin.rate == pytest.approx(0.1)


def test_what_hardly_turns_at_high_angle_is_a_mush_and_no_deep_stall_yet():
    # whether it hangs on when a recovery is tried is another question (test_deep_stall)
    rows = np.zeros((32, s.N_SUMMARY))
    rows[:, s.R_DEPARTED] = 1.0
    rows[:, s.R_SPIN_ALPHA] = np.radians(50.0)
    rows[:, s.R_SPIN_SPEED] = 10.0
    assert typical_spin(rows, 1.2).mode == "mush"
