"""What the departure criteria say, how flights are held against it, and its picture."""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.judge import wilson
from sim.show.drawing.canvas import one_axes
from sim.show.figures.departure_plane import CORNERS, draw_departure_plane
from sim.show.report.beyond import agreement_row
from sim.study.checks.agreement import Agreement, departure_agreement
from sim.trim.criteria import Criteria, Says, criteria, criteria_beyond_stall, first, says
from sim.trim.trimming import criteria_of, lateral_slopes
from tests.samples import results as show_sample


def told(dynamic, aileron, power=1.0):
    alphas = np.arange(len(dynamic)) * 5.0
    return Criteria(alphas, np.array(dynamic), np.array(aileron), np.full(len(dynamic), power))


@pytest.mark.parametrize(
    ("dynamic", "aileron", "expected"),
    [
        ([0.002, 0.001], [0.001, 0.002], Says.RESISTS),
        ([0.002, -0.001], [0.001, 0.002], Says.NOSE),
        ([0.002, 0.001], [0.001, -0.002], Says.AILERON),
        ([-0.002, 0.001], [0.001, -0.002], Says.BOTH),
        ([0.002, 0.001], [np.nan, np.nan], Says.RESISTS),
    ],
)
def test_signs_become_words(dynamic, aileron, expected):
    assert says(told(dynamic, aileron)) is expected


def test_a_division_by_hardly_any_roll_is_no_number():
    power = np.array([0.02, 0.0019, -0.0021])  # a tenth of the most is the bound of judge.toml
    one = replace(told([0.003] * 3, [0.003, -0.26, 0.04]), roll_power=power)
    assert one.hardly_rolls.tolist() == [False, True, False]
    assert one.roll_against.tolist() == [False, True, True]  # its sign still counts against it


def test_ailerons_that_roll_backwards_turn_the_meaning_of_lcdp():
    assert says(told([0.002], [0.001], power=-1.0)) is Says.AILERON
    assert says(told([0.002], [-0.001], power=-1.0)) is Says.RESISTS


@pytest.mark.parametrize("cl_aileron", [0.03, -0.03])
@pytest.mark.parametrize("cn_aileron", [0.02, -0.02, -0.2])
def test_the_way_it_rolls_is_that_of_a_steady_roll(cl_aileron, cn_aileron):
    # independent: sideslip takes up the ailerons' yaw, Cnb b + Cnda = 0, and the roll that is
    # left is Clb b + Clda, the wrong way where it is not the stick's
    cn_beta, cl_beta = 0.002, -0.001
    beta = -cn_aileron / cn_beta
    left = cl_beta * beta + cl_aileron
    lcdp = cn_beta - cl_beta * cn_aileron / cl_aileron
    assert bool(told([0.002], [lcdp], cl_aileron).roll_against[0]) == (left < 0.0)


def test_the_first_angle_alone(display_jet):
    found = criteria_beyond_stall(display_jet)
    one = first(found)
    assert one.alphas_deg == pytest.approx([np.degrees(display_jet.stall.alpha)])
    assert found.alphas_deg[-1] == pytest.approx(35.0)
    assert one.dynamic[0] == found.dynamic[0]


def test_criteria_are_the_definitions_on_the_slopes(display_jet):
    # D. P. Raymer eq. 16.65-16.66: at no angle of attack Cnb,dyn is Cnb
    alphas = np.array([0.0, 20.0])
    slopes = lateral_slopes(display_jet, alphas, 15.0)
    dynamic, _ = criteria_of(display_jet, alphas, slopes)
    found = criteria(display_jet, alphas, 15.0)
    assert found.dynamic == pytest.approx(dynamic)
    assert dynamic[0] == pytest.approx(slopes.cn_beta[0])
    lcdp = slopes.cn_beta - slopes.cl_beta * slopes.cn_aileron / slopes.cl_aileron
    assert found.aileron == pytest.approx(lcdp)


def row(departed, flights, beyond=Says.RESISTS):
    low, high = wilson(departed, flights)
    return Agreement(
        setup="club",
        manoeuvre="chop",
        at_stall=Says.RESISTS,
        beyond=beyond,
        to_deg=35.0,
        departed=departed,
        flights=flights,
        low=low,
        high=high,
    )


@pytest.mark.parametrize(
    ("departed", "beyond", "agree"),
    [
        (0, Says.RESISTS, True),
        (0, Says.NOSE, False),
        (32, Says.RESISTS, False),
        (32, Says.AILERON, True),
        (16, Says.AILERON, None),
        (16, Says.RESISTS, None),
    ],
)
def test_agreement(departed, beyond, agree):
    assert row(departed, 32, beyond).agree is agree


def test_departures_are_counted_once_a_manoeuvre_and_broken_flights_not(display_jet):
    result = show_sample.result()
    rows = departure_agreement(result, [display_jet] * len(result.setups))
    assert [(r.setup, r.manoeuvre) for r in rows[:3]] == [
        ("forward", "chop"), ("forward", "spin"), ("club", "chop"),
    ]  # fmt: skip
    assert all((r.departed, r.flights) == (128, 128) for r in rows)

    case = result.setups[0].cases[0]
    flights = case.rows.copy()
    flights[:10, s.R_STATUS] = s.STATUS_BROKEN
    flights[10:30, s.R_DEPARTED] = 0.0
    one = replace(result.setups[0], cases=(replace(case, rows=flights),))
    (found,) = departure_agreement(replace(result, setups=(one,)), [display_jet])
    assert (found.departed, found.flights) == (98, 118)


def test_every_set_up_needs_its_own_aeroplane(display_jet):
    with pytest.raises(ValueError, match="shorter"):
        departure_agreement(show_sample.result(), [display_jet])


def test_the_table_of_agreement_says_all_three():
    told = [agreement_row(row(count, 32)) for count in (0, 32, 16)]
    assert [cells[4] for cells in told] == ["holds", "departs", "half and half"]
    assert [cells[6] for cells in told] == ["yes", "no", "cannot be told"]
    assert told[1][5].startswith("32 of 32 (")


def test_the_plane_marks_every_five_degrees_and_has_no_letters():
    alphas = np.arange(0.0, 41.0, 1.0)
    found = Criteria(alphas, 0.003 - 1e-4 * alphas, 0.001 - 5e-5 * alphas, np.ones(41))
    _, axes = one_axes(6.0, 5.0)
    draw_departure_plane(axes, {"club": found}, {"club": 12.0})
    texts = {t.get_text() for t in axes.texts}
    assert {f"{a}" for a in range(0, 41, 5)} <= texts
    assert texts - {f"{a}" for a in range(0, 41, 5)} == {corner[-1] for corner in CORNERS}
    assert axes.get_xlim()[0] == -axes.get_xlim()[1]
    assert axes.get_ylim()[0] < 0.0 < axes.get_ylim()[1]


def test_what_lies_beyond_the_plane_stands_at_its_edge():
    alphas = np.arange(0.0, 41.0, 5.0)
    aileron = np.full(9, 0.001)
    aileron[3] = 5.0
    _, axes = one_axes(6.0, 5.0)
    draw_departure_plane(
        axes, {"a": Criteria(alphas, np.full(9, 0.002), aileron, np.ones(9))}, {"a": 10.0}
    )
    edge = [line for line in axes.lines if line.get_marker() == ">"]
    assert len(edge) == 1
    assert edge[0].get_xdata()[0] < axes.get_xlim()[1]
