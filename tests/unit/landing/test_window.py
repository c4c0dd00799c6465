"""The window: from two limits, in a study's words, records, tables and figure."""

from dataclasses import replace
from types import SimpleNamespace

import matplotlib.pyplot as plt
import pytest

from sim.describe import load_aeroplane
from sim.landing.forward import CheckLimit, ForwardLimit
from sim.landing.more_throw import Ended, MoreThrow, Travel
from sim.record.models.landing import forward_row, window_row
from sim.show.console.aeroplane.landing import windows_table
from sim.show.figures.balance_scale import draw_balance_scale
from sim.show.words.findings.answer import answer_sentences, headline
from sim.show.words.findings.mending import window_line
from sim.show.words.places import window
from sim.show.words.places.forward_rests import asks_text
from sim.show.words.places.landing import landing_sentences
from sim.show.words.places.window import (
    card_window,
    forward_of_text,
    forward_text,
    opening_text,
    short_window,
    window_sentences,
    window_text,
)
from sim.study.standing.bands import front_of
from sim.study.standing.window import Kind, forward_of_limit, window_of
from tests.samples.results import result

RESULT = result()
LIMIT = next(x for x in RESULT.aft_limits if x.aft_mm is not None and not x.at_end)
TRIED = front_of(LIMIT)


def forward(aft_mm, reach_mm=0.0):
    check = CheckLimit("touch-down", 0.0, 11.7, 1.0, aft_mm - 30.0, aft_mm, aft_mm - 3, aft_mm + 4)
    return ForwardLimit(
        aft_mm=aft_mm, low_mm=aft_mm - 3.0, high_mm=aft_mm + 4.0, pct_mac=12.0,
        nominal_mm=aft_mm - 30.0, checks=(check,), draws=256, share_pct=95.0, reach_mm=reach_mm,
        left_out=("rotation not looked at: no [undercarriage]",),
    )  # fmt: skip


def test_forward_of_the_aft_limit_there_is_a_window():
    inside = LIMIT.aft_mm - 0.6
    window = window_of(forward(inside), LIMIT)
    # rounded aft, so as to claim no more
    assert (window.kind, window.front_mm, window.aft_mm) == (Kind.OPEN, LIMIT.aft_mm, LIMIT.aft_mm)
    assert "by what full aft stick does" in window_text(forward(inside), LIMIT)


def test_what_was_not_flown_is_not_in_the_window():
    ahead = forward(TRIED - 50.0)
    assert window_of(ahead, LIMIT).front_mm == TRIED
    told = window_text(ahead, LIMIT)
    assert f"balance window {TRIED:.0f} to {LIMIT.aft_mm:.0f} mm" in told
    assert f"{TRIED:.0f} mm is the foremost balance point flown" in told


def test_aft_of_the_aft_limit_there_is_none_and_it_is_told():
    behind = forward(LIMIT.aft_mm + 10.0)
    assert window_of(behind, LIMIT).kind is Kind.NONE
    told = window_text(behind, LIMIT)
    assert told == (
        f"NO WINDOW: landing takes {LIMIT.aft_mm + 10.0:.0f} mm or further aft, coming back "
        f"{LIMIT.aft_mm:.0f} mm or further forward"
    )
    advice = opening_text(behind, LIMIT)
    assert "Try more elevator" in advice
    assert f"own values alone it lands from {LIMIT.aft_mm - 20.0:.0f} mm" in advice
    assert "nominally" not in opening_text(forward(LIMIT.aft_mm + 40.0), LIMIT)
    assert opening_text(forward(LIMIT.aft_mm - 0.6), LIMIT) == ""
    row = window_row(behind, LIMIT)
    assert (row.kind, row.front_mm, row.aft_mm) == (Kind.NONE, None, None)


@pytest.mark.parametrize(
    ("ahead", "limit", "kind", "words"),
    [
        (forward(100.0), None, Kind.NOT_SEARCHED, "no aft limit was searched"),
        (
            forward(100.0),
            replace(LIMIT, aft_mm=None),
            Kind.NO_AFT,
            "coming back from all that was asked is shown nowhere",
        ),
        (None, LIMIT, Kind.UNKNOWN, "not known"),
        (replace(forward(100.0), aft_mm=None), LIMIT, Kind.UNKNOWN, "not known"),
    ],
)
def test_what_is_missing_is_told(ahead, limit, kind, words):
    window = window_of(ahead, limit)
    assert window.kind is kind
    assert words in short_window(window)


def test_a_card_has_room_for_one_line():
    lines = [
        card_window(window_of(ahead, limit), 12.0)
        for ahead in (forward(LIMIT.aft_mm + 10.0), forward(TRIED), None)
        for limit in (LIMIT, None, replace(LIMIT, aft_mm=None))
    ]
    assert lines[0].startswith(f"NONE: lands from {LIMIT.aft_mm + 10.0:.0f}, back to ")
    assert lines[0].endswith(" mm; 12 mm FORWARD")
    assert lines[3].startswith(f"{TRIED:.0f} to {LIMIT.aft_mm:.0f} mm")
    assert max(len(x) for x in lines) <= 52


def test_a_limit_ahead_of_the_packs_reach_says_so():
    told = forward_text(forward(100.0, reach_mm=126.0))
    assert "balances it at 126 mm, behind that" in told
    assert "rotation not looked at: no [undercarriage]" in told
    # a figure that nothing shows does not stand beside one that draws do
    assert "70" not in told
    assert "nominal" not in told
    assert "behind that" not in forward_text(forward(140.0, reach_mm=126.0))
    assert forward_row(None) is None


def test_a_set_up_forward_of_it_is_told_wherever_it_stands():
    setup = RESULT.setups[0]
    short = replace(setup, forward=forward(setup.balance_aft_mm + 12.0))
    assert forward_of_limit(short) == pytest.approx(12.0, abs=1.0)
    told = forward_of_text(short)
    assert "FORWARD of its forward limit" in told
    assert "nominally" not in told
    nominal = replace(setup, forward=forward(setup.balance_aft_mm + 42.0))
    assert "nominally, and in too many draws" in forward_of_text(nominal)
    assert forward_of_text(replace(setup, forward=forward(setup.balance_aft_mm - 5.0))) == ""
    both = replace(RESULT, setups=(short, *RESULT.setups[1:]))
    assert any(told in x.replace("It lies", "it lies") for x in answer_sentences(both))


def test_console_and_figure_show_the_window(capsys):
    limits = tuple(
        replace(x, forward=forward((x.aft_mm or 150.0) + 20.0)) for x in RESULT.aft_limits
    )
    told = headline(replace(RESULT, aft_limits=limits))
    assert "NO WINDOW" in told
    assert len(window_sentences(limits, RESULT.setups)) == len(limits)
    table, *_ = windows_table(limits)
    assert str(next(iter(table.columns[-1].cells))) == "NO WINDOW"
    assert windows_table(RESULT.aft_limits) == []
    axes = plt.figure().add_subplot()
    draw_balance_scale(axes, load_aeroplane(RESULT.aeroplane), RESULT.setups, limits)
    texts = [x.get_text() for x in axes.texts]
    assert sum("forward limit" in x for x in texts) == len(limits)
    far = tuple(replace(x, forward=forward(-900.0)) for x in RESULT.aft_limits)
    axes = plt.figure().add_subplot()
    draw_balance_scale(axes, load_aeroplane(RESULT.aeroplane), RESULT.setups, far)
    assert axes.get_xlim()[0] > -400.0
    assert any("← forward limit -900" in x.get_text() for x in axes.texts)
    plt.close("all")


def test_a_forward_limit_near_or_behind_the_neutral_point_says_so():
    made = forward(160.0)
    assert "neutral" not in forward_text(replace(made, neutral_mm=200.0, room_pct=15.0))
    near = forward_text(replace(made, neutral_mm=166.0, room_pct=2.4))
    assert "only 2.4 % MAC ahead of the neutral point, 166 mm" in near
    assert "BEHIND the neutral point" in forward_text(
        replace(made, neutral_mm=150.0, room_pct=-4.0)
    )
    assert forward_row(replace(made, neutral_mm=150.0, room_pct=-4.0)).ahead_of_neutral_pct == -4.0


def test_a_set_up_too_far_forward_is_told_so_with_what_helps():
    ready = SimpleNamespace(
        weighed=SimpleNamespace(balance_aft_mm=80.0), aeroplane=load_aeroplane(RESULT.aeroplane)
    )
    landing = SimpleNamespace(forward=forward(100.0), more_throw=None, rotation_mps=None, flap=None)
    told, *rest = landing_sentences(ready, landing)
    assert told.startswith("This set-up lies 20 mm FORWARD of its forward limit: more elevator")
    assert rest == ["No flap: the aeroplane has no channel 'flap'."]
    # 30 mm ahead of the limit shown lies that of the file's own values alone
    ready.weighed.balance_aft_mm = 60.0
    assert "NOT TO BE FLOWN so" in landing_sentences(ready, landing)[0]


def test_without_a_window_there_is_always_something_to_do_or_it_is_said():
    """What was tried in vain is told as tried, and not advised again."""
    now = Travel(32.2, 16.0, None, None, None, None, None)
    more = MoreThrow(
        goal_mm=120.0, channel="elevator", others=(), up=True, now=now, best=None, tried=0,
        ended=Ended.MOST,
    )  # fmt: skip
    behind = forward(LIMIT.aft_mm + 10.0)
    told = replace(LIMIT, forward=behind, more_throw=more)
    assert "Try more elevator" not in opening_text(behind, told)
    line = window_line(told)
    assert "measuring may help" in line
    assert "32.2° of throw is as much as is looked at" in line
    bare = replace(behind, nominal_mm=LIMIT.aft_mm + 5.0)
    assert "With this aeroplane nothing that was reckoned opens one" in window_line(
        replace(told, forward=bare)
    )


def test_study_and_card_tell_the_same_limit_and_the_nominal_one_as_such():
    now = replace(RESULT.setups[0], balance_aft_mm=150.0, forward=forward(200.0))
    study, card = forward_of_text(now), window.ahead_text(now.forward, 150.0)
    both = "forward limit, 200 mm (nominal, by the file's own values alone, 170 mm)"
    assert both in study
    assert both in card
    assert "50 mm FORWARD" in study
    assert "50 mm forward" in card
    # a figure that no draws show does not stand where the nominal aeroplane lands
    assert "own values" not in forward_of_text(replace(now, balance_aft_mm=180.0))


def test_a_touch_down_slower_than_its_own_slowest_flight_says_what_it_rests_on():
    # a tail's throw may be raised, so it is the wing's stall that is asked (FAR 23.49 takes the
    # least steady speed where the stick ends first): at 11.7 m/s here
    now = replace(RESULT.setups[0], balance_aft_mm=150.0, forward=forward(200.0))
    told = forward_of_text(replace(now, stall_speed_mps=13.2))
    assert "touch-down, slower than its own slowest level flight there, 13.2 m/s nominal" in told
    assert "as if the elevator had the throw" in told
    assert "not that it cannot land" in told
    assert "slowest level flight" not in forward_of_text(replace(now, stall_speed_mps=11.0))
    # of a take-off no touch-down is told
    rolling = replace(now.forward.checks[0], name="rotation")
    assert asks_text(replace(now.forward, checks=(rolling,)), 13.2) == ""
