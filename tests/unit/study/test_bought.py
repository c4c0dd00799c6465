"""What a change bought and cost: by its sense, and only where it moved by more than is known."""

from dataclasses import replace
from math import inf

import pytest

from sim.landing.forward import ForwardLimit
from sim.record.models.changes import changes_row
from sim.show.words.findings.bought import moved_text, traded_notes, traded_rows
from sim.study.results.result import BeforeAfter, Change
from sim.study.standing.bought import ALL, What, traded
from sim.units.quantities import using_units
from tests.samples.agility import shown
from tests.samples.results import result, setup

START = Change(
    what="as flown today", balance_aft_mm=165.0, static_margin_pct=12.9, stall_speed_mps=10.5,
    pitch_response_dps2=500.0, limit_mm=200.0, limit_low_mm=194.8, limit_high_mm=204.8,
    mass_g=2430.0, throttle=0.47, current_a=8.6, static_thrust_n=17.0, thrust_to_weight=0.71,
    top_mps=43.0, minutes=5.3,
)  # fmt: skip


def forward(aft_mm, half):
    return ForwardLimit(
        aft_mm, aft_mm - half, aft_mm + half, 18.0, aft_mm, (), 256, 95.0, aft_mm, ()
    )


def way(*lines, before="forward", after="club"):
    return BeforeAfter(before, after, (START, *lines), 19.0)


def study(one):
    return replace(result(), changes=(one,))


def of(one, at=-1):
    found = traded(one, study(one))[at]
    return {x.what: x for x in found.bought}, {x.what: x for x in found.cost}


def test_a_lighter_pack_buys_stall_speed_and_costs_minutes_and_margin():
    """The senses are those of the trade (common practice, no source)."""
    light = replace(
        START, what="pack", mass_g=2200.0, stall_speed_mps=10.1, minutes=3.9, static_margin_pct=7.0,
        current_a=8.5, thrust_to_weight=0.77, pitch_response_dps2=600.0,
    )  # fmt: skip
    bought, cost = of(way(light, light), 0)
    assert set(bought) == {What.MASS, What.STALL, What.THRUST, What.PITCH_UP}
    assert set(cost) == {What.MINUTES, What.MARGIN}  # 0.1 A is no more than a watt meter tells


def test_a_smaller_nozzle_buys_top_speed_and_may_cost_static_thrust():
    small = replace(START, what="nozzle", top_mps=45.0, thrust_to_weight=0.68, throttle=0.45)
    bought, cost = of(way(small, small), 0)
    assert set(bought) == {What.TOP, What.THROTTLE}
    assert set(cost) == {What.THRUST}


def test_limits_moved_only_where_their_intervals_lie_apart():
    line = replace(START, forward=forward(150.0, 4.0), window_mm=50.0)
    near = replace(line, forward=forward(157.0, 4.0), window_mm=43.0)
    far = replace(line, forward=forward(160.0, 4.0), window_mm=40.0)
    same = BeforeAfter("forward", "club", (line, near, near))
    assert traded(same, study(same))[0].moved == ()
    apart = BeforeAfter("forward", "club", (line, far, far))
    cost = {x.what: x for x in traded(apart, study(apart))[0].cost}
    assert set(cost) == {What.FORWARD, What.WINDOW}
    unbounded = replace(far, limit_mm=240.0, limit_low_mm=None, limit_high_mm=None)
    open_ended = BeforeAfter("forward", "club", (line, unbounded, unbounded))
    assert What.AFT not in {x.what for x in traded(open_ended, study(open_ended))[0].moved}


def test_a_balance_point_outside_its_window_is_a_cost():
    """By hand: at 165 mm inside 160 to 200 mm; 150 mm is 10 mm forward of it, 207 mm 7 mm aft."""
    inside = replace(START, forward=forward(160.0, 4.0))
    for place, what, by in ((150.0, What.FORWARD_OF, 10.0), (207.0, What.AFT_OF, 7.0)):
        out = BeforeAfter("x", "y", (inside, replace(inside, balance_aft_mm=place)))
        (only,) = traded(out, study(out))
        assert [(x.what, x.was, x.now) for x in only.cost] == [(what, 0.0, by)]
        back = BeforeAfter("x", "y", out.lines[::-1])
        assert [x.what for x in traded(back, study(back))[0].bought] == [what]


def test_flights_are_told_of_all_changes_together_only():
    found = traded(way(START, START), study(way(START, START)))
    assert [x.flown for x in found] == [False, False, True]
    assert found[-1].change == ALL
    assert found[0].moved == ()
    # by hand: the club loses 12 of 128 in the spin, by 16 draws the nose comes 15 degrees higher
    cost = {x.what: x for x in found[-1].cost}
    assert cost[What.BACK].now == pytest.approx(116 / 128)
    assert What.SHOWN in {x.what for x in found[-1].bought}
    assert found[-1].cost[0].manoeuvre == "spin"


def test_what_was_not_flown_is_said_to_be_missing():
    gone = way(START, before="elsewhere")
    (only,) = traded(gone, study(gone))
    assert (only.flown, only.moved) == (False, ())
    assert traded_rows(study(gone))[0][-1] == "no"
    assert "Flown no:" in traded_notes(study(gone))[0]
    assert "Flown no:" not in traded_notes(study(way(START)))[0]
    several = way(START, START, before="elsewhere")
    assert [x.flown for x in traded(several, study(several))] == [False, False]


def test_a_change_that_cannot_be_had_moves_nothing_and_is_stepped_over():
    lighter = replace(START, what="balance", mass_g=2200.0)
    refused, last, whole = traded(way(Change("gyro: cannot be had"), lighter), study(way(START)))
    assert (refused.had, refused.moved) == (False, ())
    assert [x.what for x in last.moved] == [What.MASS]
    assert What.MASS not in {x.what for x in whole.moved}  # told above: flights alone stand here


def test_chance_between_draws_is_no_agility():
    """The same draws fly both set-ups: what moved up in half and down in half has not moved."""
    before = setup("forward", 165.0, 0)
    one = shown(60.0)
    mixed = tuple(replace(x, figure=replace(x.figure, median=90.0), rows=x.rows[::-1]) for x in one)
    told = replace(
        result(),
        setups=(replace(before, agility=one), replace(setup("club", 165.0, 0), agility=mixed)),
        changes=(way(START),),
    )
    assert What.SHOWN not in {x.what for x in traded(told.changes[0], told)[-1].moved}


def test_words_are_in_the_units_of_the_run_and_nominal_says_so():
    light = replace(START, what="pack", stall_speed_mps=10.1, minutes=3.9)
    told = study(way(light, light))
    assert traded_rows(told)[0] == (
        "club", "pack", "nominal stall 10.5 to 10.1 m/s", "flight time 5.3 to 3.9 min", "no",
    )  # fmt: skip
    with using_units("oz-in"):
        assert "nominal stall 23.5 to 22.6 mph" in traded_rows(told)[0][2]
    high = next(x for x in traded(told.changes[0], told)[-1].moved if x.what is What.BACK)
    assert moved_text(high) == "spin: back 100 to 91 %"
    lost = replace(high, what=What.HEIGHT, was=76.0, now=inf, manoeuvre="")
    assert moved_text(lost) == "shown from 80 m to no height"


def test_the_record_holds_what_is_told():
    one = way(replace(START, what="pack", minutes=3.9), START)
    row = changes_row(one, study(one))
    assert [x.change for x in row.traded] == ["pack", "as flown today", ALL]
    assert [x.what for x in row.traded[0].cost] == [What.MINUTES]
    assert row.lines[0].minutes == 5.3


def test_margin_forward_of_the_forward_limit_is_no_gain_and_all_together_says_where_it_lies():
    inside = replace(START, forward=forward(160.0, 4.0))
    ahead = replace(inside, balance_aft_mm=140.0, static_margin_pct=20.0)
    one = BeforeAfter("forward", "club", (inside, replace(inside, what="pack"), ahead))
    _, last, whole = traded(one, study(one))
    assert {What.MARGIN, What.FORWARD_OF} <= {x.what for x in last.cost}
    assert last.bought == ()
    assert (What.FORWARD_OF, 20.0) in [(x.what, x.now) for x in whole.cost]
    landed = replace(ahead, balance_aft_mm=161.0)
    fine = BeforeAfter("forward", "club", (inside, landed))
    assert What.MARGIN in {x.what for x in traded(fine, study(fine))[0].bought}


@pytest.mark.parametrize(
    ("peaks", "column", "told"),
    [
        ((10.0, 25.0), "cost", "pull through does not reach 90° (nor did before)"),
        ((60.0, 120.0), "bought", "pull through reaches 90° (before: does not reach 90°)"),
        ((120.0, 60.0), "cost", "pull through does not reach 90° (before: reaches 90°)"),
    ],
)
def test_what_is_not_achieved_is_not_bought(peaks, column, told):
    pair = [
        replace(setup(name, 165.0, 0), agility=tuple(x for x in shown(peak) if x.shows == "angle"))
        for name, peak in zip(("forward", "club"), peaks, strict=True)
    ]
    one = way(START)
    found = traded(one, replace(result(), setups=tuple(pair), changes=(one,)))[-1]
    assert told in [moved_text(x) for x in getattr(found, column)]
    assert What.SHOWN not in {x.what for x in found.moved}
