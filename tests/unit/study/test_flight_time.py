"""Flight time from flown work: shares, charge, and what was measured."""

from dataclasses import replace

import numpy as np
import pytest

from sim import tables
from sim.describe import FileFault, SetUpBlock, load_aeroplane, resolve_setup
from sim.describe.duty import Duty
from sim.describe.masses import Measured
from sim.pack.assemble import assemble
from sim.study.flight_time.mix import charged_of, mix_of
from sim.study.flight_time.reckoning import flight_time
from sim.study.flight_time.work import demands, top_speed
from sim.study.results.flight_time import Spread
from sim.trim.trimming import level_at_throttle

CRUISING = Duty(cruise_pct=100.0, manoeuvring_pct=0.0, climb_pct=0.0, high_alpha_pct=0.0)
FULL = Duty(cruise_pct=0.0, manoeuvring_pct=100.0, climb_pct=0.0, high_alpha_pct=0.0)


@pytest.fixture(scope="module")
def jet():
    return assemble(load_aeroplane("display_jet"))


@pytest.fixture(scope="module")
def usual(jet):
    return flight_time(jet)


def with_setup(jet, **told):
    return replace(jet, setup=jet.setup.model_copy(update=told))


def test_cruise_alone_is_the_longest_and_full_throttle_the_shortest(jet, usual):
    cruising, full = flight_time(jet, CRUISING), flight_time(jet, FULL)
    assert cruising.minutes.middle == pytest.approx(cruising.cruise_alone_min)
    assert cruising.minutes.middle == pytest.approx(usual.cruise_alone_min)
    assert full.minutes.middle < usual.minutes.middle < cruising.minutes.middle
    # charge over current, by definition
    assert full.minutes.middle == pytest.approx(
        0.06 * usual.usable_mah / full.works[1].current_a, rel=0.02
    )
    assert usual.assumed
    assert not full.assumed


def test_the_timer_is_on_the_safe_side(usual):
    step = tables.flight_time().timer_step_min
    assert usual.minutes.low - step < usual.timer_min <= usual.minutes.low < usual.minutes.middle


def test_a_bigger_reserve_is_a_shorter_flight(jet, usual):
    more = flight_time(jet, Duty(reserve_pct=40.0))
    assert more.minutes.middle == pytest.approx(usual.minutes.middle * 60.0 / 75.0, rel=0.03)
    assert more.assumed


def test_draws_are_those_of_the_seed(jet, usual):
    assert flight_time(jet, None, 0) == usual
    other = flight_time(jet, None, 7)
    assert other != usual
    assert other.minutes.middle == pytest.approx(usual.minutes.middle, rel=0.02)


def test_a_worse_pack_takes_more_current_in_cruise_and_gives_less_at_full_throttle(jet, usual):
    own = jet.aeroplane.packs[jet.setup.pack]
    worn = own.model_copy(update={"resistance_mohm": 3.0 * own.resistance_mohm})
    packs = {**jet.aeroplane.packs, jet.setup.pack: worn}
    tired = flight_time(replace(jet, aeroplane=jet.aeroplane.model_copy(update={"packs": packs})))
    assert tired.works[0].current_a > 1.02 * usual.works[0].current_a
    assert tired.works[1].current_a < 0.98 * usual.works[1].current_a


def test_what_the_charger_said_beats_what_was_assumed(jet, usual):
    """2 min that take 690 mAh: 2760 usable last 8 min, a plain proportion."""
    charged = flight_time(with_setup(jet, mah_put_back=usual.usable_mah / 4.0, after_minutes=2.0))
    assert charged.minutes.middle == pytest.approx(8.0)
    assert charged.timer_min == 8.0
    assert charged.minutes.low < 8.0 < charged.minutes.high
    assert charged.charged is not None
    assert isinstance(charged.minutes, Spread)


def test_whose_duty_it_is(jet):
    """The set-up's own before the study's before the aeroplane's, key by key."""
    aeroplane = jet.aeroplane.model_copy(update={"duty": Duty(cruise_mps=25.0, reserve_pct=30.0)})
    own = jet.setup.model_copy(update={"duty": Duty(reserve_pct=20.0)})
    mix = mix_of(aeroplane, own, FULL)
    assert (mix.shares_pct, mix.cruise_mps, mix.reserve_pct) == ((0.0, 100.0, 0.0, 0.0), 25.0, 20.0)
    assert mix_of(jet.aeroplane, jet.setup).shares_pct == tables.flight_time().shares_pct
    assert sum(tables.flight_time().shares_pct) == 100.0


def test_measured_holds_for_its_pack_and_nozzle_only(jet):
    raw = jet.aeroplane.measured
    assert raw is None
    measured = {"setup": "club", "mah_put_back": 2000.0, "after_minutes": 4.0}
    plain = jet.aeroplane.model_dump(exclude_none=True, by_alias=True)
    told = type(jet.aeroplane).model_validate({**plain, "measured": measured})
    assert charged_of(told, resolve_setup(told, "display")) == (2000.0, 4.0)
    other = resolve_setup(told, SetUpBlock(like="club", pack="6s_5000"))
    assert charged_of(told, other) is None
    assert charged_of(told, resolve_setup(told, SetUpBlock(like="club", nozzle_mm=66.0))) is None
    block = SetUpBlock(like="club", mah_put_back=1500.0, after_minutes=4.0)
    assert charged_of(told, resolve_setup(told, block)) == (1500.0, 4.0)


def test_charged_where_nobody_says_is_of_the_first_set_up(jet):
    # as for pull and current: only masses are of the set-up that says where its pack lies
    first = jet.aeroplane.first_setup
    far = {"far": SetUpBlock(like=first, pack="6s_5000", pack_aft_mm=100.0)}
    setups = {first: jet.aeroplane.setups[first].model_copy(update={"pack_aft_mm": None})} | far
    measured = Measured(mah_put_back=2000.0, after_minutes=4.0)
    told = jet.aeroplane.model_copy(update={"setups": setups, "measured": measured})
    assert charged_of(told, resolve_setup(told, first)) == (2000.0, 4.0)
    assert charged_of(told, resolve_setup(told, "far")) is None


def test_top_speed_is_that_of_trim(jet):
    assert top_speed(jet) == pytest.approx(level_at_throttle(jet, 1.0).speed_mps, rel=0.005)


def test_power_at_equal_thrust_is_the_trimmed_one(jet):
    asked = demands(jet, mix_of(jet.aeroplane, jet.setup))
    assert asked.cruise.holds(asked.cruise_n)
    assert asked.faster_power[0] < 1.0 < asked.faster_power[-1]
    # what thrust and speed alone need, over any plausible efficiency (0.35 to 0.65)
    useful = asked.cruise_n * asked.cruise.speed_mps
    assert 0.3 <= useful / asked.cruise.power(np.array(asked.cruise_n)) <= 0.65


@pytest.mark.parametrize("speed", [8.0, 60.0])
def test_a_cruise_that_is_no_level_flight_is_refused(jet, speed):
    words = r"duty.cruise_mps: must lie between stall and top speed of set-up club, 10.5 and 43"
    with pytest.raises(FileFault, match=words):
        flight_time(jet, Duty(cruise_mps=speed))
