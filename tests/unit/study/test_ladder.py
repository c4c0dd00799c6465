"""The ladder of test flights: from what is flown today in single changes, and where it ends."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import resolve_setup
from sim.judge import Outcome, outcome, wilson
from sim.landing.forward import CheckLimit, ForwardLimit
from sim.pack.assemble import assemble
from sim.show.words.ladder import ladder_text
from sim.show.words.ladder_ends import ending_text
from sim.study.combinations import combination_key, own_setup
from sim.study.ladder.climbing import Climbed, climb
from sim.study.ladder.fit import End, Fitness, fits, severest
from sim.study.ladder.ladder import fly_ladder, may_be_flown, plan, today_setup
from sim.study.ladder.predictions import Band, band, mildest_first
from sim.study.ladder.way import AFRESH, BALANCE, TODAY, Way
from sim.study.standing.heights import from_height
from sim.study.standing.outcomes import setup_outcome
from sim.trim.trimming import level
from tests.samples.cards import RECOVERY, Sample, each_stall_once, limit, sample

SPIN, STALL = "incipient_spin", "throttle_chop_stall"


@pytest.fixture(scope="module", autouse=True)
def _each_stall_once(brief):
    """Find a draw's stall speed once, though the ladders here climb over the same set-ups."""
    with each_stall_once():
        yield


@pytest.fixture(scope="module")
def study():
    return sample()


@pytest.fixture(scope="module")
def ladder(study):
    return study.ladder("middle")


def landing_at(study, nominal_mm, shown_mm):
    """Return the study's result, and its wanted set-up, with a forward limit made by hand."""
    check = CheckLimit("touch-down", 0.0, 11.7, 1.0, nominal_mm, shown_mm, shown_mm, shown_mm)
    made = ForwardLimit(
        shown_mm, shown_mm, shown_mm, 18.0, nominal_mm, (check,), 256, 95.0, 100.0, ()
    )
    setups = tuple(replace(x, forward=made) for x in study.result.setups)
    return replace(study.result, setups=setups), next(x for x in setups if x.name == "middle")


def test_forward_of_even_the_nominal_forward_limit_there_is_no_step(study):
    # with full aft stick it does not hold off there: not landed, whatever comes back (own rule)
    result, wanted = landing_at(study, 180.0, 190.0)
    ladder = fly_ladder(study.files, result, wanted, RECOVERY, study.predictor())
    assert (ladder.end, ladder.steps) == (End.TOO_FORWARD, ())
    assert not may_be_flown(result, wanted, ladder)
    told = ending_text(ladder)
    assert "12 mm forward of its forward limit, 190 mm (nominal, by the file's own values" in told
    assert "alone, 180 mm): even nominally full aft stick does not hold off" in told


def test_no_step_lies_forward_of_the_nominal_limit_and_one_ahead_of_the_shown_lands_fast(study):
    result, wanted = landing_at(study, 174.0, 177.0)
    ladder = fly_ladder(study.files, result, wanted, RECOVERY, study.predictor())
    assert ladder.blocked.end is End.TOO_FORWARD  # the changes at today's 172 mm
    assert ladder.reached
    assert ladder.fast is None
    first = next(i for i, x in enumerate(ladder.steps) if x.kind == AFRESH)
    for step in ladder.steps[first:]:
        assert step.balance_aft_mm >= 174.0
        assert (step.fast is not None) == (step.balance_aft_mm <= 176.0)
    fast = ladder.steps[first].fast
    assert fast.checks == ("touch-down",)
    assert 5.0 < fast.held_to_mps <= fast.held_to_p95_mps < 25.0


def with_limits(study, *limits):
    return replace(study.result, aft_limits=limits)


def flown(study, result, name, files=None):
    return fly_ladder(
        files or study.files, result, next(x for x in result.setups if x.name == name), RECOVERY,
        study.predictor(),
    )  # fmt: skip


def with_today(study, name):
    files = study.files
    return replace(files, study=files.study.model_copy(update={"today": name}))


def with_case(study, name, manoeuvre, back, flights=128):
    """Return the study's result with another count of flights back in one case of a set-up."""

    def changed(case):
        if case.manoeuvre != manoeuvre:
            return case
        gone = flights - back
        low, high = wilson(back, flights)
        return replace(case, shares=replace(
            case.shares, flights=flights, held=back, recovered=0, lost=gone, never=gone,
            below_floor=0, entry_used=0, back_low=low, back_high=high,
        ))  # fmt: skip

    setups = tuple(
        replace(x, cases=tuple(changed(c) for c in x.cases)) if x.name == name else x
        for x in study.result.setups
    )
    return replace(study.result, setups=setups)


# ------------------------------------------------------------------ where it begins
def test_first_step_is_what_is_flown_today_as_it_is(study, ladder):
    # the sample does not say what is flown today: the aeroplane's first set-up
    club = resolve_setup(study.files.aeroplane)
    assert (today_setup(study.files), ladder.named) == ((club, False), False)
    first = ladder.steps[0]
    ready = assemble(study.files.aeroplane, club)
    assert (first.kind, first.pack, ladder.today) == (TODAY, club.pack, "club")
    assert first.balance_aft_mm == ladder.start_mm == ready.weighed.balance_aft_mm
    assert first.pack_aft_mm == ready.weighed.pack_aft_mm


def test_today_may_be_named_and_be_the_studys_or_the_aeroplanes(study):
    for name in ("aft", "big_throws"):
        found, named = today_setup(with_today(study, name))
        assert (found.name, named) == (name, True)


def test_every_step_has_one_change_and_its_own_predictions(study, ladder):
    # one variable at a time: common practice, no source
    kinds = [step.kind for step in ladder.steps]
    assert kinds == [TODAY, "loose_weights", "pack", "gyro", BALANCE, BALANCE]
    at = [step.balance_aft_mm for step in ladder.steps]
    assert at == pytest.approx([172.0] * 4 + [175.0, 178.0])
    rows = [step.case.rows for step in ladder.steps if step.case.manoeuvre == STALL]
    for before, after in itertools.pairwise(rows):
        assert not np.array_equal(before, after)
    assert (ladder.end, ladder.steps[-1].balance_aft_mm) == (End.REACHED, 178.0)


def test_a_set_up_forward_of_today_is_had_in_one_step_first(study):
    files = with_today(study, "middle")
    way, end = plan(files, study.result, study.setup("middle"))
    assert ([x.kind for x in way.stops], end) == ([TODAY], End.REACHED)
    wanted = replace(study.setup("middle"))
    forward = files.study.setups[0].model_copy(update={"balance_aft_mm": 164.0})
    other = replace(files, study=files.study.model_copy(
        update={"today": "aft", "setups": (forward, files.study.setups[1])}
    ))  # fmt: skip
    way, end = plan(other, study.result, replace(wanted, balance_aft_mm=164.0))
    assert [x.kind for x in way.stops] == [TODAY, BALANCE, "loose_weights", "gyro"]
    assert end is End.REACHED


# -------------------------------------------------------------------- where it ends
def test_only_the_limit_of_the_own_pack_and_combination_counts(study):
    # aft has the same pack, but no gyro and no canister
    other = with_limits(study, limit(study, "aft", 175.0))
    assert plan(study.files, other, study.setup("middle"))[1] is End.REACHED
    own = with_limits(study, limit(study, "aft", 175.0), limit(study, "middle", 175.0))
    way, end = plan(study.files, own, study.setup("middle"))
    assert end is End.LIMIT
    last = way.stops[-1].setup
    assert (last.balance_aft_mm, last.gyro) == (175.0, "on")
    made = flown(study, own, "middle")
    assert (made.end, made.steps[-1].balance_aft_mm) == (End.LIMIT, pytest.approx(175.0))
    assert not made.reached


def with_a_blocked_way(study, start=None):
    """Return a result in which middle with the gyro still off, a stop on the way, lies aft.

    And the limit by which it does.
    """
    stop = plan(study.files, study.result, study.setup("middle"))[0].stops[2].setup
    found = replace(limit(study, "middle", 164.0), pack=stop.pack, key=combination_key(stop))
    return replace(start or study.result, aft_limits=(found,)), found


def test_a_step_behind_the_limit_of_its_own_combination_is_refused(study):
    result, found = with_a_blocked_way(study)
    made = flown(study, result, "middle")
    assert (made.blocked.end, made.blocked.limit) == (End.LIMIT, found)
    assert [step.kind for step in made.steps] == [TODAY, "loose_weights", AFRESH, BALANCE]
    assert made.reached


def test_where_single_changes_may_not_be_flown_it_begins_afresh_forward_of_the_goal(study):
    result, _ = with_a_blocked_way(study)
    # today is refused as well: all that single changes lead to is its balance moved
    made = flown(study, result, "middle", with_today(study, "aft"))
    assert made.skipped.end is End.NOT_MET
    assert [step.kind for step in made.steps] == [BALANCE, AFRESH, BALANCE]
    first, last = made.steps[1:]
    assert first.pack == own_setup(study.files, "middle").pack
    assert all(word in first.what for word in ("gyro on", f"balance {first.balance_aft_mm:.0f} mm"))
    # 2 % of the chord a flight and no more than 6 mm (common practice, no source); this pack's
    # tray ends before three of them
    assert 0.5 < last.balance_aft_mm - first.balance_aft_mm <= 6.0
    assert (made.reached, last.balance_aft_mm) == (True, pytest.approx(178.0))
    said = ladder_text(made, study.files.aeroplane, None).intro
    assert "so step 2 makes all changes at once, on the ground" in said
    assert "never two together but for that step" in said


def test_the_first_flight_is_not_at_the_goal_itself_where_today_is_not_flown(study):
    wanted = study.files.study.setups[0]
    rear = wanted.model_copy(update={"name": "rear", "balance_aft_mm": 190.0})
    setups = (*study.files.study.setups, rear)
    files = replace(study.files, study=study.files.study.model_copy(
        update={"today": "rear", "setups": setups}
    ))  # fmt: skip
    own = limit(study, "middle", 180.0)
    made = flown(study, with_limits(study, own), "middle", files)
    assert (made.skipped.end, made.blocked, made.reached) == (End.LIMIT, None, True)
    assert [step.kind for step in made.steps] == [AFRESH, BALANCE]
    assert made.steps[0].balance_aft_mm < 178.0 - 1.0
    said = ladder_text(made, files.aeroplane, None).intro
    assert "With nothing flown behind it, step 1 begins 5 mm forward of the wanted balance" in said


def test_afresh_no_further_forward_than_was_searched(study):
    result, found = with_a_blocked_way(study)
    own = limit(study, "middle", 180.0)
    front = min(step.balance_aft_mm for step in own.steps)
    result = replace(result, aft_limits=(found, own))
    made = flown(study, result, "middle", with_today(study, "aft"))
    assert made.reached
    assert made.steps[0].balance_aft_mm >= min(front, 178.0)


def test_what_is_not_met_is_not_begun_afresh_either(study):
    result, _ = with_a_blocked_way(study, with_case(study, "middle", SPIN, back=60))
    made = flown(study, result, "middle", with_today(study, "aft"))
    assert not made.reached
    assert all(step.kind != AFRESH for step in made.steps)


def test_no_ladder_where_nothing_met_the_requirement(study):
    made = flown(study, with_limits(study, limit(study, "middle", None)), "middle")
    assert (made.steps, made.end) == ((), End.NO_START)


def test_a_set_up_that_does_not_meet_it_is_never_a_step(study):
    result = with_case(study, "middle", SPIN, back=60)
    made = flown(study, result, "middle")
    assert (made.end, made.refused.case.manoeuvre) == (End.NOT_MET, SPIN)
    assert all(step.balance_aft_mm < 178.0 for step in made.steps)
    assert made.steps
    # nor is its spin asked for on the way there
    assert {step.case.manoeuvre for step in made.steps} == {STALL}
    assert {why for step in made.steps[1:] for _, why in step.left_out} == {End.NOT_MET}


def test_an_undecided_set_up_is_never_a_step(study):
    result = with_case(study, "middle", SPIN, back=124)
    assert setup_outcome(result.setups[0], 95.0) is Outcome.OPEN
    made = flown(study, result, "middle")
    assert (made.end, made.refused.case.shares.flights) == (End.UNDECIDED, 128)
    assert all(step.balance_aft_mm < 178.0 for step in made.steps)


def test_nothing_is_flown_to_where_no_manoeuvre_is_shown(study):
    predictor = study.predictor()
    made = fly_ladder(study.files, study.result, study.setup("aft"), RECOVERY, predictor)
    assert (made.steps, made.end) == ((), End.NOT_MET)
    assert predictor.runner.flown == 0


def test_a_set_up_flown_today_that_the_study_refuses_is_no_step(study):
    made = flown(study, study.result, "middle", with_today(study, "aft"))
    assert made.skipped.end is End.NOT_MET
    assert all(step.kind != TODAY for step in made.steps)


def test_what_is_flown_today_further_aft_and_not_in_the_study_is_no_step(study):
    # the ladder's few draws cannot show it, and that it is flown today shows nothing
    middle = next(x for x in study.files.study.setups if x.name == "middle")
    aft = study.setup("middle").balance_aft_mm + 4.0
    today = middle.model_copy(update={"name": "own", "balance_aft_mm": aft})
    changed = {"today": "own", "setups": (*study.files.study.setups, today)}
    files = replace(study.files, study=study.files.study.model_copy(update=changed))
    result = replace(study.result, aft_limits=())
    made = flown(study, result, "middle", files)
    assert (made.skipped.end, made.reached) == (End.UNDECIDED, True)
    assert all(step.balance_aft_mm < aft for step in made.steps)
    assert "Do not fly it as it is." in ladder_text(made, study.files.aeroplane, None).intro


# ------------------------------------------------------------------ what it asks for
def test_no_draw_of_what_is_asked_for_needs_more_than_the_ceiling(study, ladder):
    spin = next(c for c in study.setup("middle").cases if c.manoeuvre == SPIN)
    # the study met it from 200 m; 95 % of its flights need more than the ceiling
    assert spin.shares.back == spin.shares.flights
    assert spin.entry_height_needed_m.p95 > 120.0
    for step in ladder.steps:
        assert step.case.manoeuvre != SPIN
        assert step.case.shares.back == step.case.shares.flights == 32
        assert step.seen.most_needed_m <= step.case.entry_m <= ladder.ceiling_m == 120.0
        assert step.seen.most_needed_m == step.case.rows[:, s.R_DROP].max() + 40.0
    for case, why in (x for step in ladder.steps[1:] for x in step.left_out):
        assert (case.manoeuvre, why) == (SPIN, End.TOO_HIGH)


@pytest.mark.parametrize(("back", "fit"), [(32, True), (31, True), (30, False)])
def test_what_fits_the_height_is_the_share_that_was_asked_for(study, ladder, back, fit):
    # 31 of 32 are 96.9 %, 30 are 93.8 %
    step = ladder.steps[0]
    shares = replace(step.case.shares, held=back, recovered=0, lost=32 - back)
    case = replace(step.case, shares=shares)
    assert fits(case, 95.0) is fit
    told = replace(ladder, steps=(replace(step, case=case), *ladder.steps[1:]))
    fly = dict(ladder_text(told, study.files.aeroplane, None).steps[0].rows)["Fly"]
    assert (f"{32 - back} of 32 draws did NOT come back above the floor" in fly) == (back < 32)


def test_what_the_front_gives_no_height_for_is_no_step(study, ladder):
    # all 128 back from 200 m; from the ceiling of 120 m too few to show it, though 31 of 32 may be
    setup = study.setup("middle")
    stall = next(c for c in setup.cases if c.manoeuvre == STALL)
    rows = stall.rows.copy()
    rows[40:44, s.R_DROP] = 100.0  # back above the floor of 40 m from 140 m, not from 120 m
    high = replace(stall, entry_m=200.0, rows=rows)
    assert outcome(from_height(high, 200.0, 95.0, 128).shares, 95.0) is Outcome.MET
    assert outcome(from_height(high, 120.0, 95.0, 128).shares, 95.0) is not Outcome.MET
    spin = next(c for c in setup.cases if c.manoeuvre == SPIN)
    wanted = replace(setup, cases=(high, spin))
    fitness = Fitness(study.files, study.result, wanted, RECOVERY, study.predictor())
    step = ladder.steps[-1].case
    assert fits(step, 95.0)
    assert fitness.why_not(step) is End.TOO_HIGH
    # what is told is why: 4 of the study's 128, not the step's 32 of 32
    told = fitness.too_high(step)
    assert (told.entry_m, told.shares.flights, told.shares.below_floor) == (120.0, 128, 4)


def test_a_way_without_stops_is_flown_nowhere(study):
    fitness = Fitness(study.files, study.result, study.setup("aft"), RECOVERY, study.predictor())
    made = climb(fitness, Way((), False, ()), End.NO_START)
    assert made == Climbed(End.NO_START, steps=(), skipped=None, refused=None)


def test_a_step_says_what_is_not_yet_as_on_the_front(study, ladder):
    told = [dict(x.rows)["Set"] for x in ladder_text(ladder, study.files.aeroplane, None).steps]
    assert [step.kind for step in ladder.steps[:4]] == [TODAY, "loose_weights", "pack", "gyro"]
    assert "NOT YET as on the front: no loose weights; gyro off" in told[0]
    assert "NOT YET as on the front: gyro off" in told[2]
    assert all("NOT YET" not in x for x in told[3:])


def test_a_ladder_from_a_set_up_to_itself_says_so(study):
    made = flown(study, study.result, "middle", with_today(study, "middle"))
    assert [step.kind for step in made.steps] == [TODAY]
    said = ladder_text(made, study.files.aeroplane, None).intro
    assert said.startswith("What is flown today is the wanted set-up, middle, itself.")


def test_each_step_is_held_against_the_limit_of_its_own_pack_and_combination(study):
    first = plan(study.files, study.result, study.setup("middle"))[0].stops[0].setup
    club = replace(limit(study, "middle", 176.0), pack=first.pack, key=combination_key(first))
    made = flown(study, with_limits(study, club), "middle")
    assert [step.inside for step in made.steps] == [club, *[None] * (len(made.steps) - 1)]
    said = ladder_text(made, study.files.aeroplane, None).intro
    assert (
        f"Step 1: aft of 171 mm, and so inside the 95 % limits of the aft limit of pack "
        f"{first.pack}" in said
    )


class FakeFitness:
    def __init__(self, **whys):
        self.whys = whys

    def why_not(self, case):
        return self.whys[case]


def test_the_severest_that_is_fit_up_to_the_one_whose_turn_it_is():
    fit = FakeFitness(a=None, b=End.NOT_MET, c=None, d=End.TOO_HIGH)
    assert severest("abcd", 0, fit) == ("a", ())
    assert severest("abcd", 1, fit) == ("a", (("b", End.NOT_MET),))
    assert severest("abcd", 2, fit) == ("c", (("b", End.NOT_MET),))
    assert severest("abcd", 9, fit)[0] == "c"
    unfit = FakeFitness(a=End.NOT_MET, b=None, c=End.TOO_HIGH)
    assert severest("abc", 0, unfit) == ("b", (("a", End.NOT_MET),))
    none = FakeFitness(a=End.NOT_MET, b=End.TOO_HIGH)
    assert severest("ab", 0, none) == (None, (("a", End.NOT_MET), ("b", End.TOO_HIGH)))


def test_a_manoeuvre_the_recovery_was_not_flown_after_is_not_shown(study):
    setup = study.setup("middle")
    only = replace(setup, cases=tuple(c for c in setup.cases if c.manoeuvre == STALL))
    fitness = Fitness(study.files, study.result, only, RECOVERY, study.predictor())
    spin = next(c for c in setup.cases if c.manoeuvre == SPIN)
    assert fitness.why_not(spin) is End.UNDECIDED


def test_mildest_is_what_needs_the_least_height_whatever_it_is_called(study):
    names = [c.manoeuvre for c in mildest_first(study.files, study.setup("middle"), RECOVERY)]
    assert names == [STALL, SPIN]  # the study has them the other way round
    assert [c.manoeuvre for c in study.files.study.cases] == [SPIN, STALL]


# ------------------------------------------------------------------ what is predicted
def test_the_pack_alone_keeps_or_moves_the_balance(ladder):
    for before, after in zip(ladder.steps, ladder.steps[1:], strict=False):
        assert after.added_weights == ()
        if after.kind == BALANCE:
            # statics: what the pack's moment gains is what the whole's does
            whole = after.mass_g * (after.balance_aft_mm - before.balance_aft_mm)
            moved = 535.0 * (after.pack_aft_mm - before.pack_aft_mm)
            assert moved == pytest.approx(whole)


def test_further_aft_the_tail_is_trimmed_further_down(ladder):
    # [etkin1996] 2.4: elevator to trim goes with the static margin, less of it, less up
    tails = [step.seen.tail_deg.middle for step in ladder.steps if step.balance_aft_mm > 172.5]
    assert tails == sorted(tails)
    # and with the lift coefficient: what is 0.3 degrees at 18 m/s is less at the cruise flown
    least = 0.3 * (18.0 / ladder.speed_mps) ** 2
    assert tails[-1] > ladder.steps[-3].seen.tail_deg.middle + least


def test_bands_hold_what_was_drawn(study, ladder):
    step = ladder.steps[-1]
    for found in (step.seen.tail_deg, step.seen.stall_mps, step.seen.height_lost_m):
        assert found.low < found.middle < found.high
    ready = assemble(study.files.aeroplane, own_setup(study.files, "middle"))
    nominal = level(ready, ladder.speed_mps).tail_deg
    assert step.seen.tail_deg.low < nominal < step.seen.tail_deg.high
    assert step.seen.stall_mps.low < ready.stall.speed_mps < step.seen.stall_mps.high
    assert step.seen.departed == int((step.case.rows[:, s.R_DEPARTED] > 0.0).sum())


def test_endless_heights_are_none():
    assert band(np.array([3.0, 1.0, 2.0, np.inf, np.inf])) == Band(2.0, 3.0, None)
    assert band(np.array([])) == Band(None, None, None)


def test_a_ladder_flown_again_flies_nothing(study: Sample, ladder):
    predictor = study.predictor()
    again = fly_ladder(study.files, study.result, study.setup("middle"), RECOVERY, predictor)
    assert predictor.runner.flown == 0
    assert [x.seen for x in again.steps] == [x.seen for x in ladder.steps]


def test_the_wanted_set_up_repeats_the_studys_own_flights(study, ladder):
    own = next(c for c in study.setup("middle").cases if c.manoeuvre == STALL)
    assert np.array_equal(own.rows[:32], ladder.steps[-1].case.rows)
