"""What pilots know of gyros, flown: common practice, no source.

A gain that helps on the approach swings at top speed; one that falls with the throttle does not,
but throttle is no speed: in a fast dive at idle it swings too. Left on, it
may hinder a recovery. Hold mode winds up in a spin and leans on when the turning has stopped.
"""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import layout as k
from sim.describe import SetUpBlock, load_aeroplane, load_manoeuvre, load_recovery
from sim.describe.manoeuvre import Manoeuvre
from sim.fly.flying import fly_many, fly_one
from sim.gyro.margins import Margins, frequencies, most_gain
from sim.gyro.motion import linear, response, steady_flight
from sim.judge.verdicts import Verdict, verdicts_of
from sim.pack.assemble import assemble, flown_spreads
from sim.pack.controls import gyro_array
from sim.study.flights.draws import make_draws
from sim.trim.trimming import level

TOP_OVER_STALL, APPROACH_OVER_STALL = 4.1, 1.25
ALWAYS = (1.0, 1.0, 1.0)
# what `aftlimit gains display_jet` advises by throttle; the gains of the approach, and its schedule
SCHEDULE = (1.0, 0.6, 0.15)
ROLL, PITCH, YAW = 0.135, 0.191, 0.366
STICKS = ("aileron", "elevator", "rudder")
RATES = ("roll_rate_dps", "pitch_rate_dps", "yaw_rate_dps")


@pytest.fixture(scope="module")
def jet():
    return assemble(load_aeroplane("display_jet"), "club")


def with_gyro(ready, gains, factors=ALWAYS, **changed):
    """Return the aeroplane with its gyro on and these gains."""
    keys = dict(zip(("roll_gain", "pitch_gain", "yaw_gain"), gains, strict=True))
    settings = ready.setup.gyro_settings.model_copy(
        update={**keys, "throttle_schedule": factors, **changed}
    )
    setup = ready.setup.model_copy(update={"gyro": "on", "gyro_settings": settings})
    return replace(ready, setup=setup, model=ready.model._replace(gyro=gyro_array(setup)))


def kicked(ready, over_stall, axis=0, kick=0.3, throttle=None, seconds=3.0):
    """Return one axis' rate [deg/s] after a short kick of its stick, hands off then."""
    phases = [
        {"name": "kick", "at_most_s": 0.15, "ramp_s": 0.05, STICKS[axis]: kick},
        {"name": "hands_off", "at_most_s": seconds, "ramp_s": 0.05},
    ]
    if throttle is not None:
        phases = [{**phase, "throttle": throttle} for phase in phases]
    manoeuvre = Manoeuvre.model_validate({
        "schema": "aftlimit.manoeuvre/1", "kind": "manoeuvre", "name": "kick", "title": "kick",
        "sides": "none", "start": {"speed_over_stall": over_stall}, "phases": phases,
    })  # fmt: skip
    flight = fly_one(ready, manoeuvre, load_recovery("centre_sticks"))
    return flight.to_columns()[RATES[axis]][: int((0.15 + seconds) * 100)]


def swing(rates):
    """Return how much a rate [deg/s] still moves after two seconds."""
    return float(np.std(rates[200:]))


def test_a_gain_that_helps_on_the_approach_swings_at_top_speed(jet):
    roll = (0.2, 0.0, 0.0)
    off, on = (kicked(x, APPROACH_OVER_STALL) for x in (jet, with_gyro(jet, roll)))
    assert np.abs(on).max() < 0.8 * np.abs(off).max()
    assert swing(kicked(jet, TOP_OVER_STALL)) < 0.5
    assert swing(kicked(with_gyro(jet, roll), TOP_OVER_STALL)) > 100.0


def test_gains_that_fall_with_the_throttle_hold_at_top_speed(jet):
    by_throttle = with_gyro(jet, (ROLL, PITCH, YAW), SCHEDULE)
    assert swing(kicked(by_throttle, TOP_OVER_STALL)) < 0.5
    assert swing(kicked(with_gyro(jet, (ROLL, PITCH, YAW)), TOP_OVER_STALL)) > 20.0


def test_throttle_is_no_speed_in_a_dive_at_idle(jet):
    by_throttle = with_gyro(jet, (ROLL, PITCH, YAW), SCHEDULE)
    one_gain = with_gyro(jet, (0.032, 0.039, 0.055))
    swings, calm = (
        kicked(x, TOP_OVER_STALL, throttle=0.0)[60:160] for x in (by_throttle, one_gain)
    )
    assert np.std(swings) > 8.0 * np.std(calm)
    # several times to and fro a second, not a roll away
    assert np.count_nonzero(np.diff(np.sign(swings - swings.mean()))) >= 6


@pytest.mark.parametrize(("axis", "over_stall"), [(0, 2.5), (1, 4.1), (2, 4.1)])
def test_the_swing_begins_where_the_frequency_response_says(jet, axis, over_stall):
    # the loop as flown: filter and delay in whole ticks, no dead band; flights within 3 %
    servos = jet.model.servos.copy()
    servos[:, k.V_DEADBAND] = 0.0
    smooth = replace(jet, model=jet.model._replace(servos=servos))
    speed, omegas = over_stall * jet.stall.speed_mps, frequencies(0.01)
    trim = level(smooth, speed)
    guess = (np.radians(trim.alpha_deg), trim.elevator_stick)
    flight = steady_flight(smooth.model, speed, trim.throttle, 0.0, guess)
    frame, share = np.exp(-0.01j * omegas), 0.01 / (0.012 + 0.01)
    gyro = share / (1.0 - (1.0 - share) * frame) * frame**2 * (1.0 - frame) / (0.01j * omegas)
    rates = response(linear(smooth.model, flight), omegas)[:, axis, axis]
    limit = most_gain(omegas, rates * gyro, Margins.asked()).swings
    for share, grows in ((0.96, False), (1.05, True)):
        gains = share * limit * np.eye(3)[axis]
        flown = with_gyro(smooth, gains, stick_override=False)
        moves = np.diff(kicked(flown, over_stall, axis, kick=0.02, seconds=4.0))
        assert (np.std(moves[300:400]) > np.std(moves[200:300])) == grows


def test_on_at_idle_it_may_hinder_a_recovery():
    # of 32 draws at 200 mm 12 come back with it off and 15 with it on, four saved and one hindered
    # by it, the fourteenth
    jet = assemble(load_aeroplane("display_jet"), SetUpBlock(like="club", balance_aft_mm=200.0))
    own = jet.setup.gyro_settings
    on = with_gyro(jet, (own.roll_gain, own.pitch_gain, own.yaw_gain), own.throttle_schedule)
    draws, which = make_draws(flown_spreads(jet.aeroplane), 32, 1), np.arange(16)
    lost = [
        verdicts_of(
            fly_many(ready, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"),
                     draws.physical, which, draws.sides[which]), 400.0, 40.0,
        )
        for ready in (jet, on)
    ]  # fmt: skip
    broken = [a != Verdict.LOST and b == Verdict.LOST for a, b in zip(*lost, strict=True)]
    assert any(broken)


def test_hold_mode_winds_up_in_a_spin_and_leans_on_when_it_has_stopped():
    jet = assemble(load_aeroplane("display_jet"), SetUpBlock(like="club", balance_aft_mm=185.0))
    left = {}
    for mode in ("rate", "hold"):
        ready = with_gyro(jet, (ROLL, PITCH, YAW), mode=mode)
        flight = fly_one(ready, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))
        columns = flight.to_columns()
        roll, after = columns["roll_rate_dps"], columns["phase"] >= 2
        stops = np.flatnonzero(after & (roll < 0.0))[0]
        left[mode] = abs(columns["aileron_right_deg"][stops])
    # wound up it holds what its limit allows, 30 deg at 2 a second: 8 deg of aileron
    assert left["hold"] > left["rate"] + 3.0
    assert left["hold"] < 60.0 * ROLL + left["rate"] + 1.0
