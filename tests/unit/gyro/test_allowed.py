"""What each axis stands: the linear model, speeds, draws, advice, and how it is told."""

import tomllib
from dataclasses import replace

import numpy as np
import pytest

from sim import tables
from sim.commands.pictures import draw_gains
from sim.core import layout as k
from sim.describe import load_aeroplane
from sim.describe.controls import Dial, Gyro
from sim.gyro.advice import Schedule, advice, advised, by_hand, down, set_against
from sim.gyro.allowed import allowed, moved_axes, set_gains, throw_gains
from sim.gyro.motion import doubling, linear, response, steady_flight
from sim.gyro.points import points_of
from sim.gyro.unknown import loop_draws
from sim.pack.assemble import assemble, flown_spreads
from sim.pack.controls import servo_array
from sim.record.models.gains import gains_record
from sim.show.console.aeroplane.gyro import gyro_tables
from sim.show.console.console import render
from sim.show.figures.gyro_gains import gyro_gains_page
from sim.show.words.bench.gyro import (
    FIXED,
    divergence_text,
    gyro_toml,
    hold_text,
    schedule_text,
    standing_lines,
)
from sim.study.flights.draws import make_draws
from sim.trim.trimming import level, matrices

COUNT = 64


@pytest.fixture(scope="module")
def ready():
    return assemble(load_aeroplane("club_sport"))


@pytest.fixture(scope="module")
def points(ready):
    return points_of(ready)


@pytest.fixture(scope="module")
def found(ready, points):
    physical = make_draws(flown_spreads(ready.aeroplane), COUNT, 1).physical
    return allowed(ready, loop_draws(physical, 1), [points[0], points[-2], points[-1]])


@pytest.fixture(scope="module")
def told(found):
    return advice(found)


# ------------------------------------------------------------------- the linear model
def test_it_flies_where_the_trim_does_and_swings_as_the_slow_model(ready):
    trim = level(ready, 20.0)
    flight = steady_flight(ready.model, 20.0, trim.throttle, 0.0, (0.1, 0.0))
    assert flight.found
    assert np.degrees(flight.alpha_rad) == pytest.approx(trim.alpha_deg, abs=0.05)
    roots = np.linalg.eigvals(linear(ready.model, flight).matrix)
    for slow in matrices(ready, trim):
        # the slowest root, spiral or phugoid, does not feel the lags of the flow
        root = min(np.linalg.eigvals(slow), key=abs)
        assert np.abs(roots - root).min() < 0.06 * max(abs(root), 0.5)


def test_a_response_is_that_of_its_matrix(ready):
    flight = steady_flight(ready.model, 20.0, 0.6, 0.0, (0.05, 0.0))
    motion, omegas = linear(ready.model, flight), np.array([2.0, 30.0])
    whole = 1j * omegas[:, None, None] * np.eye(len(motion.matrix)) - motion.matrix
    direct = np.linalg.solve(whole, np.broadcast_to(motion.inputs, (2, *motion.inputs.shape)))
    assert response(motion, omegas) == pytest.approx(direct[:, 3:6], rel=1e-6, abs=1e-9)


def test_a_surface_at_once_lifts_more_than_a_wing_later_does(ready):
    # Wagner: a flap's lift is there before the wake that takes part of it away; so the rate that a
    # fast swing meets is more than a model without lags of the flow has
    trim = level(ready, 20.0)
    flight = steady_flight(ready.model, 20.0, trim.throttle, 0.0, (0.05, 0.0))
    motion = linear(ready.model, flight)
    slow = matrices(ready, trim)[1]
    fast = abs(response(motion, np.array([60.0]))[0, 0, 0])
    steady = abs(response(motion, np.array([2.0]))[0, 0, 0])
    pole = -min(np.linalg.eigvals(slow).real)  # of roll
    servo = 1.0 / np.hypot(1.0, 60.0 * ready.model.servos[0, k.V_LAG])
    assert fast > 1.1 * steady * servo * pole / np.hypot(pole, 60.0)


def test_what_full_elevator_does_not_balance_is_flown_at_its_stop(ready):
    servos = ready.model.servos.copy()
    servos[:, [k.V_POSITIVE, k.V_NEGATIVE]] *= 0.02
    flight = steady_flight(ready.model._replace(servos=servos), 13.0, 0.5, 0.0, (0.1, 0.0))
    assert flight.found
    assert flight.at_stop
    assert abs(flight.elevator) == 1.0


def test_balanced_behind_the_neutral_point_it_diverges(jet_balanced_at):
    tail_heavy = jet_balanced_at(215.0)
    flight = steady_flight(tail_heavy.model, 13.0, 0.4, 0.0, (0.1, 0.0))
    assert doubling(linear(tail_heavy.model, flight)) < tables.gyro_loop().told_doubling_s


# ------------------------------------------------------------------- what is stood
def test_points_go_from_the_approach_to_a_dive(ready, points):
    t = tables.gyro_loop()
    assert points[0].speed_mps == pytest.approx(t.approach_over_stall * ready.stall.speed_mps)
    assert points[-2].throttle > 0.99
    assert (points[-1].dive, points[-1].throttle, points[-1].speed_mps) == (True, 0.0, 40.0)


def test_gains_fall_with_speed_and_are_of_the_size_that_pilots_set(found):
    # common practice, no source: 0.05 to 0.3 deg per deg/s on models of this size
    slow, fast, _ = (advised(at) for at in found.points)
    assert (fast < 0.6 * slow).all()
    assert (fast > 0.02).all()
    assert (slow < 0.6).all()


def test_draws_take_away_and_no_slow_turn_meets_a_throw(found):
    for at in found.points:
        assert at.unresolved == 0
        for one, most in zip(at.axes, throw_gains(found.assembled.model), strict=True):
            assert 0.5 * one.nominal.kept < one.kept < one.nominal.kept
            assert one.advised <= min(one.kept, most)


def test_the_rule_of_a_turn_is_throw_over_rate(ready):
    rudder = ready.setup.throws["rudder"].up_deg
    full = tables.gyro_loop().full_throw_dps
    assert throw_gains(ready.model)[2] == pytest.approx(rudder / full)


def test_too_few_draws_are_refused(ready, points):
    with pytest.raises(ValueError, match="32 draws are too few"):
        allowed(ready, loop_draws(np.zeros((32, 1)), 1), points[:1])


def test_an_axis_that_no_surface_moves_has_no_gain(ready, found):
    servos = servo_array(ready.aeroplane, ready.setup, ready.aero.channels)
    servos[:, k.V_MIX_RUDDER] = 0.0
    assert moved_axes(ready.model._replace(servos=servos)) == [0, 1]
    without = replace(
        found, points=tuple(replace(at, axes=(*at.axes[:2], None)) for at in found.points)
    )
    assert advice(without).schedule.gains[2] == 0.0
    assert "none" in render(gyro_tables(without, advice(without)))


# ------------------------------------------------------------------- what to set
def test_the_schedule_stays_inside_at_every_level_speed(found, told):
    assert told.schedule.factors[0] == 1.0
    for at in found.points[:-1]:
        assert (told.schedule.at(at.point.throttle) <= advised(at) + 1e-9).all()
    # throttle is no speed: at idle it is far over what the dive stands
    assert min(told.over) > 1.5
    for at in found.points:
        assert (np.array(told.fixed) <= advised(at)).all()


def test_numbers_are_cut_never_rounded_up():
    assert down(0.12399, 3) == 0.123
    assert down(0.3, 2) == 0.3


def test_the_set_up_is_held_against_what_it_stands(found):
    roll, pitch, yaw = set_against(found)
    assert [at.point.dive for at in roll.over] == [True]
    assert (pitch.over, yaw.over, roll.swings, roll.backwards) == ((), (), (), False)
    assert any(
        line.startswith("roll: OVER at 40 m/s in the dive") for line in standing_lines(found)
    )


def test_a_turn_by_hand_is_gain_times_rate_up_to_the_stops(found, told):
    angles = by_hand(found, np.array([0.05, 0.1, 9.0]), 180.0)
    assert angles["aileron"].turned_deg[0] == pytest.approx(9.0)
    assert angles["elevator"].turned_deg[1] == pytest.approx(18.0)
    assert angles["rudder"].turned_deg[2] == pytest.approx(1.3 * 30.0)


def test_gains_follow_the_files_schedule(ready):
    assert set_gains(ready, 1.0) == pytest.approx([0.035, 0.042, 0.056])
    assert set_gains(replace(ready, setup=ready.setup.model_copy(
        update={"gyro_settings": None})), 1.0) is None  # fmt: skip


# ------------------------------------------------------------------- what is told
def test_console_tells_loop_margins_schedule_and_bench(found, told):
    text = render(gyro_tables(found, told))
    for words in ("6 dB and 45 deg", "MIL-F-9490D, from memory", "20 ms late", "frame of 10 ms",
                  "dead band", "(180 deg/s)", "lies in a dive", "hinder a recovery"):  # fmt: skip
        assert words in " ".join(text.split())
    assert "% of its dial" not in text
    assert divergence_text(found) is None


def test_the_first_block_to_paste_stands_an_idle_dive(found, told):
    # of two blocks the one that keeps the aeroplane comes first; what swings in a dive says so
    text = render(gyro_tables(found, told))
    blocks = ["[gyro]" + part for part in text.split("[gyro]\n")[1:]]
    pasted = tomllib.loads(gyro_toml(found, Schedule(told.fixed, FIXED)))
    first = Gyro.model_validate(pasted["gyro"])
    assert first.throttle_schedule == (1.0, 1.0, 1.0)
    assert f"yaw_gain = {told.fixed[2]:.3f}" in blocks[0]
    dive = [axis.advised for axis in found.points[-1].axes]
    gains = (first.roll_gain, first.pitch_gain, first.yaw_gain)
    assert all(x <= y for x, y in zip(gains, dive, strict=True))
    assert max(told.over) > 1.0
    assert blocks[0].index("lies in a dive") < blocks[0].index("NOT for dives at idle")
    assert "throttle_schedule" in blocks[1]
    safe = schedule_text(replace(told, over=(0.9, 1.0, float("nan"))))
    assert safe.endswith("in a dive at idle too:")


def test_per_cent_only_of_a_dial_that_was_measured(found, told):
    dial = Dial(roll=0.5, pitch=0.5, yaw=0.5)
    ready = found.assembled
    gyro = ready.setup.gyro_settings.model_copy(update={"surface_deg_per_dps_at_100_pct": dial})
    setup = ready.setup.model_copy(update={"gyro_settings": gyro})
    measured = replace(found, assembled=replace(ready, setup=setup))
    text = " ".join(render(gyro_tables(measured, told)).split())
    assert f"{200.0 * told.fixed[0]:.0f} % of its dial, as measured" in text


def test_hold_mode_says_how_far_it_winds_up(found):
    # 30 deg at 2 a second, times the gain
    assert hold_text(found, np.array([0.1, 0.2, 0.0])) is None
    held = replace(found, loop=replace(found.loop, hold_per_s=2.0))
    assert "roll 6 deg and pitch 12 deg of surface" in hold_text(held, np.array([0.1, 0.2, 0.0]))


def test_the_printed_table_is_a_gyro_that_the_file_takes(found, told):
    text = gyro_toml(found, told.schedule)
    assert text.startswith("[gyro]\nroll_gain = ")
    gyro = Gyro.model_validate(tomllib.loads(text)["gyro"])
    assert gyro.throttle_schedule == told.schedule.factors
    assert gyro.yaw_gain == told.schedule.gains[2]


def test_record_and_picture(found, told, tmp_path):
    content = gains_record(found, told).content()
    assert content["schema"] == "aftlimit.gains/1"
    assert [row["axis"] for row in content["speeds"][0]["axes"]] == ["roll", "pitch", "yaw"]
    assert content["as_set"][0]["over_at_mps"] == [40.0]
    labels = {text.get_text() for text in gyro_gains_page(found, told).legends[0].get_texts()}
    assert {"schedule by throttle", "schedule, dive at idle", "as the set-up has it"} <= labels
    assert draw_gains(found, told, str(tmp_path / "g.svg")).read_text().startswith("<?xml")
