"""The ladder of test flights: small steps from a known-good balance, flown, and where it ends."""

from dataclasses import replace

import numpy as np
import pytest
from card_sample import RECOVERY, limit, sample

from sim.core import script_layout as s
from sim.describe import resolve_setup
from sim.fly.assemble import assemble
from sim.fly.trimming import level
from sim.study.ladder import Origin, balances, fly_ladder, plan
from sim.study.predictions import Band, End, band, mildest_first
from sim.weigh import weigh

CHORD_MM = 273.0


@pytest.fixture(scope="module")
def study():
    return sample()


@pytest.fixture(scope="module")
def ladder(study):
    return study.ladder("middle")


@pytest.fixture(scope="module")
def far(study):
    return study.ladder("aft")


# 3 to 6 mm, 1 to 2 % of the mean chord a flight: common practice, no source
@pytest.mark.parametrize("end", [184.0, 199.5, 230.0])
@pytest.mark.parametrize("chord", [80.0, CHORD_MM, 900.0])
def test_steps_are_small_and_end_where_wanted(end, chord):
    places = balances(170.0, end, chord)
    steps = np.diff(places)
    assert (places[0], places[-1]) == (170.0, end)
    assert (steps > 0.0).all()
    # places are whole millimetres, so a step may be one larger than the rule
    assert steps.max() <= min(6.0, max(3.0, 0.02 * chord)) + 1.0
    assert all(float(x).is_integer() for x in places[:-1])


def test_what_cannot_be_told_apart_on_a_balance_stand_is_one_step():
    assert balances(170.0, 172.0, CHORD_MM) == [172.0]


def with_limits(study, *limits):
    return replace(study.result, aft_limits=limits)


def test_begins_where_the_aeroplane_is_flown_if_that_is_forward_enough(study):
    places, origin, end = plan(study.files, study.result, study.setup("aft"))
    assert origin is Origin.FLOWN
    assert places[0] == pytest.approx(187.0)  # the club's own set-up in the aeroplane's file
    assert (places[-1], end) == (study.setup("aft").balance_aft_mm, End.REACHED)


def test_never_goes_beyond_the_aft_limit_shown(study):
    result = with_limits(study, limit(186.0))
    places, origin, end = plan(study.files, result, study.setup("aft"))
    assert (places[0], places[-1]) == (170.0, 186.0)
    assert (origin, end) == (Origin.SHOWN, End.LIMIT)


def test_another_packs_limit_does_not_count(study):
    other = replace(limit(186.0), pack="6s_5000")
    _, _, end = plan(study.files, with_limits(study, other), study.setup("aft"))
    assert end is End.REACHED


def test_no_ladder_where_nothing_met_the_requirement(study):
    result = with_limits(study, limit(None))
    made = fly_ladder(study.files, result, study.setup("aft"), RECOVERY, study.predictor())
    assert (made.steps, made.end) == ((), End.NO_START)


def test_forward_of_all_that_is_known_good_is_one_step(study):
    places, origin, end = plan(study.files, study.result, study.setup("middle"))
    assert (places, origin, end) == (
        [study.setup("middle").balance_aft_mm], Origin.FORWARD, End.REACHED,
    )  # fmt: skip


def test_the_pack_alone_moves_the_balance(study):
    result = with_limits(study, limit(186.0))
    made = fly_ladder(study.files, result, study.setup("aft"), RECOVERY, study.predictor())
    pack_g = study.files.aeroplane.packs["6s_3300"].mass_g
    assert len(made.steps) == 4
    for before, after in zip(made.steps, made.steps[1:], strict=False):
        # statics: what the pack's moment gains is what the whole's does
        whole = after.mass_g * (after.balance_aft_mm - before.balance_aft_mm)
        assert pack_g * (after.pack_aft_mm - before.pack_aft_mm) == pytest.approx(whole)
        assert after.added_weights == ()


def test_further_aft_the_tail_is_trimmed_further_down(study):
    # [etkin1996] 2.4: elevator to trim goes with the static margin, less of it, less up
    result = with_limits(study, limit(186.0))
    made = fly_ladder(study.files, result, study.setup("aft"), RECOVERY, study.predictor())
    tails = [step.seen.tail_deg.middle for step in made.steps]
    assert tails == sorted(tails)
    assert tails[-1] - tails[0] > 0.3


def test_bands_hold_what_was_drawn(study, ladder):
    (step,) = ladder.steps
    for found in (step.seen.tail_deg, step.seen.stall_mps, step.seen.height_lost_m):
        assert found.low < found.middle < found.high
    block = study.files.study.setups[0]
    ready = assemble(study.files.aeroplane, resolve_setup(study.files.aeroplane, block))
    nominal = level(ready, ladder.speed_mps).tail_deg
    assert step.seen.tail_deg.low < nominal < step.seen.tail_deg.high
    assert step.seen.stall_mps.low < ready.stall.speed_mps < step.seen.stall_mps.high
    assert step.seen.departed == int((step.case.rows[:, s.R_DEPARTED] > 0.0).sum())


def test_endless_heights_are_none():
    assert band(np.array([3.0, 1.0, 2.0, np.inf, np.inf])) == Band(2.0, 3.0, None)
    assert band(np.array([])) == Band(None, None, None)


def test_mildest_comes_first_whatever_the_study_says(study):
    names = [case.manoeuvre for case in mildest_first(study.files)]
    assert names == ["throttle_chop_stall", "incipient_spin"]


def test_stops_before_what_does_not_come_back(study, far):
    assert far.end in (End.FAILS, End.TOO_HIGH)
    assert far.refused_mm is not None
    assert far.refused_mm <= far.wanted_mm
    assert all(step.balance_aft_mm < far.refused_mm for step in far.steps)
    if far.end is End.FAILS:
        assert far.refused.shares.back_high < 0.95
    else:
        assert far.refused.entry_height_needed_m.p95 > far.ceiling_m
    assert far.steps  # the club's own balance is fit to begin from


def test_flies_nothing_that_needs_more_than_the_ceiling(far):
    for step in far.steps:
        assert step.case.entry_m <= far.ceiling_m == 120.0
        assert step.case.entry_height_needed_m.p95 <= far.ceiling_m
        for case, why in step.left_out:
            need = case.entry_height_needed_m.p95
            assert (why is End.TOO_HIGH) == (need is None or need > 120.0)


def test_a_ladder_flown_again_flies_nothing(study, far):
    predictor = study.predictor()
    again = fly_ladder(study.files, study.result, study.setup("aft"), RECOVERY, predictor)
    assert predictor.runner.flown == 0
    assert [x.seen for x in again.steps] == [x.seen for x in far.steps]


def test_the_wanted_balance_repeats_the_studys_own_flights(study, ladder):
    own = next(
        c for c in study.setup("middle").cases if c.manoeuvre == ladder.steps[0].case.manoeuvre
    )
    assert np.array_equal(own.rows, ladder.steps[0].case.rows)


def test_the_start_is_where_the_aeroplane_says(study):
    assert weigh(study.files.aeroplane).balance_aft_mm == pytest.approx(187.0)
