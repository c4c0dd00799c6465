"""Each small kernel by itself, against closed forms."""

import numba
import numpy as np
import pytest

from sim.aero.sections.sweeping import across
from sim.core import error_layout as e
from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.air.wind import dryden_scales
from sim.core.errors import error_loads
from sim.core.flights.fork import keep, new_fork, take_up
from sim.core.flights.hanging import follow
from sim.core.flights.row import record
from sim.core.loads import lanes
from sim.core.loads.lookup import CM, N_COLUMNS, N_S, grid
from sim.core.loads.strip_air import turned
from sim.core.motion.integrate import scratch
from sim.core.pilot.stalled import stall_angle
from sim.core.steady.trim import solve_linear
from sim.fly.flying import judge_array
from tests.validation.wings import BUILT_SPAN, alone, surface


def test_turbulence_scales_at_a_thousand_feet():
    """MIL-F-8785C 3.7.3.1: L_u = L_w = 1000 ft there, and both intensities are one."""
    along, up, ratio = dryden_scales.py_func(1000.0 * 0.3048)
    assert along == pytest.approx(304.8, rel=1e-3)
    assert up == pytest.approx(304.8, rel=1e-3)
    assert ratio == pytest.approx(1.0, rel=1e-3)


def test_no_error_is_no_load():
    loads, errors, x = np.arange(6.0), np.zeros(e.Y_SERVO + e.N_SERVO_EFFECTS * 3), np.zeros(60)

    @numba.njit
    def added(loads, errors, x):
        error_loads(1.0, 2.0, 0.1, 0.2, 0.3, 20.0, 1.2, x, 3, errors, loads)

    added(loads, errors, x)
    np.testing.assert_array_equal(loads, np.arange(6.0))


def test_what_a_fork_keeps_it_gives_back():
    fork = new_fork(5, 2)
    kept = [np.random.default_rng(1).random(part.shape) for part in fork[:6]]
    back = [np.zeros_like(part) for part in kept]

    @numba.njit
    def kept_and_taken(fork, x, memory, gyro, wind, target, hinge, a, b, c, d, e, f):
        keep(fork, x, memory, gyro, wind, target, hinge, 7, 2, 123.0)
        return take_up(fork, a, b, c, d, e, f)

    assert kept_and_taken(fork, *kept, *back) == (7, 2, 123.0)
    for one, other in zip(kept, back, strict=True):
        np.testing.assert_array_equal(one, other)


@pytest.mark.parametrize("angle", [-0.7, -0.1, 0.0, 0.4, 0.7])
def test_a_small_turn_is_a_turn(angle):
    a, b = turned.py_func(2.0, -1.0, angle)
    assert np.hypot(a, b) == pytest.approx(np.hypot(2.0, 1.0), abs=1e-4)
    turn = np.arctan2(b, a) - np.arctan2(-1.0, 2.0)
    assert abs(turn) == pytest.approx(abs(angle), abs=1e-4)


def test_each_side_has_its_stall():
    env = np.zeros(k.N_ENV)
    env[k.E_STALL_ALPHA], env[k.E_STALL_INVERTED] = 0.25, 0.2
    assert (stall_angle(env, 0.1), stall_angle(env, -0.1)) == (0.25, 0.2)


def test_elimination_solves_what_numpy_solves():
    rng = np.random.default_rng(2)
    a, b = rng.random((6, 6)), rng.random(6)
    a[0, 0] = 0.0  # needs a pivot
    wanted = np.linalg.solve(a, b)
    solve_linear(a, b)
    np.testing.assert_allclose(b, wanted, rtol=1e-9)


@pytest.mark.parametrize(
    ("recovering", "alpha", "path", "hung"),
    [(True, 0.9, -1.0, True), (False, 0.9, -1.0, False), (True, 0.05, -1.0, False),
     (True, 0.9, 0.5, False)],
)  # fmt: skip
def test_it_hangs_only_stalled_sinking_and_against_a_recovery(recovering, alpha, path, hung):
    env = np.zeros(k.N_ENV)
    env[k.E_STALL_ALPHA] = env[k.E_STALL_INVERTED] = 0.25
    watch, judge = np.zeros(s.N_WATCH), judge_array()
    for _ in range(1000):
        long = follow(watch, recovering, alpha, 0.0, path, -0.5, env, judge, 0.01)
    assert (long > 5.0) == hung


def test_a_row_tells_angle_of_attack_height_and_load():
    row, x = np.zeros(s.N_HISTORY), np.zeros(80)
    x[k.X_QUAT], x[k.X_POS + 2] = 1.0, -50.0
    x[k.X_VEL], x[k.X_VEL + 2] = 10.0 * np.cos(0.2), 10.0 * np.sin(0.2)
    loads, mass, memory = np.zeros(20), np.zeros(k.N_MASS), np.zeros(s.N_MEMORY)
    mass[k.M_MASS], loads[k.L_FZ] = 2.0, -3.0 * 2.0 * 9.80665
    none = np.zeros((0, 8))
    record(row, 1.5, x, np.zeros(3), loads, np.zeros(20), mass, none, none, memory, 0.0, 0)
    wanted = {s.H_T: 1.5, s.H_UP: 50.0, s.H_ALPHA: 0.2, s.H_SPEED: 10.0, s.H_LOAD: 3.0}
    assert [row[column] for column in wanted] == pytest.approx(list(wanted.values()))
    assert row[s.H_PATH] == pytest.approx(-0.2)


def test_pressure_on_a_swept_strip_acts_at_the_strips_own_span():
    """Strips are cut along the stream: what lies aft of the quarter chord does not lie further in.

    Geometry: a force alike over a strip of a swept panel without camber has a moment about its
    quarter-chord point across the stream alone, a quarter of the chord along the stream long.
    """
    model, _ = alone(surface("wing", BUILT_SPAN, 0.3, 0.2, 40.0))
    work, _ = scratch(model)
    lean = np.arccos(model.strips[k.S_CX, 0])
    # at 90 degrees the table for air across the line has the moment over the cosine squared
    plain = np.full((N_S, N_COLUMNS), -0.25)
    told = across(plain, lean)[int(np.argmin(np.abs(grid() - 1.0))), CM]
    o = work.spots[lanes.SPOT_LANE]
    moment = told * np.array([work.lanes[o + p] for p in (lanes.K_PX, lanes.K_PY, lanes.K_PZ)])
    chord = model.strips[k.S_CHORD] / model.strips[k.S_CX]
    assert lean > 0.5
    assert moment == pytest.approx(np.stack([0.0 * chord, -0.25 * chord, 0.0 * chord]), abs=1e-12)
