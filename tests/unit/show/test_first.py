"""The first lines: what not to fly, the limit without it, where it lands, height, what next."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from sim.judge import wilson
from sim.record.study import _limit
from sim.show.card.answer import _limit_line
from sim.show.console.console import render
from sim.show.console.progress import EVERY_S, StudyProgress
from sim.show.console.results.limits import limits_tables
from sim.show.words.findings import first
from sim.show.words.findings.first import _only_behind, first_lines
from sim.show.words.findings.left_out import left_out_texts
from sim.show.words.findings.measuring import told_limit
from sim.show.words.findings.mending import undecided_too
from sim.show.words.phrases import spoken
from sim.show.words.places.begin_at import (
    begin_mm,
    begin_short,
    begin_text,
    behind_line,
    inside_line,
)
from sim.show.words.places.never import height_text, never_short, never_text, not_forward_text
from sim.show.words.places.one_apart import apart_lines
from sim.show.words.recovery.on_paper import on_paper_text
from sim.study.own_study import LEFT_OUT
from sim.study.results.aft_limit import NeverMet
from sim.study.standing.bands import front_of
from tests.samples.measuring import measuring
from tests.samples.results import limit, result

LOW, HIGH = wilson(250, 256)  # of 6 lost in 256, Wilson 1927
NEVER = NeverMet(
    manoeuvre="spin", recovery="centre", balance_aft_mm=90.0, places=5, flights=256, lost=6,
    never=5, lost_low=1.0 - HIGH, lost_high=1.0 - LOW, entry_m=200.0, floor_m=40.0, need_m=150.0,
)  # fmt: skip


def without_spins():
    """Return a limit that spins forbid everywhere, with the one over the rest."""
    other = replace(limit("6s_4000", 141.0), manoeuvres=("chop",))
    return replace(limit("6s_4000", None), never=(NEVER,), without=other)


def test_what_not_to_fly_comes_first_and_then_the_limit_without_it():
    told = first_lines(replace(result(), aft_limits=(without_spins(),)))
    assert told[0].startswith("Pack 6s_4000: DO NOT FLY spin, at any balance tried: 6 of 256")
    assert (
        "(1-5 %) do not come back even at 90 mm" in told[0]
    )  # 1.08 to 5.0 % by the score interval
    assert "Flown without spin, the aft limit is 141 mm (95 % limits 135 to 145)" in told[0]
    assert told[-1].startswith("Next: ")
    assert len(told) <= 8
    low = replace(without_spins(), never=(replace(NEVER, need_m=220.0),))
    assert "DO NOT FLY spin from 200 m, at any balance" in never_short(low)
    once = replace(without_spins(), never=(replace(NEVER, places=1),))
    assert "DO NOT FLY spin, at 90 mm, the only balance tried: " in never_short(once)
    whole = never_text(without_spins())
    assert "foremost of the 5 balance points flown, nor is it shown to at any" in whole
    assert "Flown without spin, the aft limit is 141 mm" in whole


def test_a_front_that_fails_is_told_beside_the_limit_that_holds_behind_it():
    heavy = replace(limit("6s_4000", 141.0), from_mm=120.0, ahead=(NEVER,))
    told = first_lines(replace(result(), aft_limits=(heavy,)))[0]
    assert "begin at or ahead of 135 mm" in told
    assert "NOT FORWARD of 120 mm either, the first step aft that meets what is asked: 6 of" in told
    assert "at 90 mm, the foremost" in told
    # from there on, and from nowhere ahead of it, whatever else was flown there
    assert front_of(heavy) == 120.0
    assert _limit(heavy).from_mm == 120.0
    assert [x.lost for x in _limit(heavy).ahead] == [6]
    rest = replace(heavy, manoeuvres=("chop",))
    ban = replace(limit("6s_4000", None), never=(NEVER,), without=rest)
    assert "NOT FORWARD of 120 mm either" in never_short(ban)
    assert "NOT FORWARD of 120 mm either" in never_text(ban)
    assert not_forward_text(limit("6s_4000", 141.0)) == ""
    # ahead of what the tray reaches nobody flies
    far = replace(heavy, reach_mm=(125.0, 150.0))
    assert "NOT FORWARD" not in first_lines(replace(result(), aft_limits=(far,)))[0]


def test_where_to_begin_is_not_named_where_it_lies_ahead_of_what_holds():
    # 95 % limits 135 to 145 of a limit of 141 mm, which holds from 138 mm on only
    narrow = replace(limit("6s_4000", 141.0), from_mm=138.0, ahead=(NEVER,))
    told = begin_text(narrow)
    assert "NOT KNOWN WELL ENOUGH to name one balance point: it comes back from 138" in told
    assert "begin at or ahead" not in told
    assert begin_short(narrow) == ""
    assert "begin at or ahead of 135 mm" in begin_text(replace(narrow, from_mm=120.0))


def test_packs_of_which_the_same_holds_share_a_line():
    one, two = limit("6s_4000", 141.0), limit("6s_5000", 141.0)
    both = first_lines(replace(result(), aft_limits=(one, two)))
    assert both[0].startswith("Pack 6s_4000 and pack 6s_5000: aft limit 141 mm (95 %")
    other = first_lines(replace(result(), aft_limits=(one, limit("6s_5000", 150.0))))
    assert [x.split(":")[0] for x in other[:2]] == ["Pack 6s_4000", "Pack 6s_5000"]
    assert len(other) == len(both) + 1


def test_what_could_not_be_started_is_not_decided_rather_than_lost():
    # 6 of 256 lost, 2 of them without a start: without those it would do
    open_ = replace(NEVER, need_m=None, unresolved=2, never=4, shown=False)
    told = never_short(replace(without_spins(), never=(open_,)))
    assert (
        "2 could not be resolved and count against: without them it would do, so it is NOT" in told
    )
    shown = replace(open_, shown=True)
    assert "NOT DECIDED" not in never_short(replace(without_spins(), never=(shown,)))


def test_an_undecided_set_up_is_told_that_more_draws_may_decide_it():
    both = result()
    name = both.today or both.setups[0].name
    now = replace(next(x for x in both.setups if x.name == name))
    wide = replace(both, setups=(now,), today=name)
    assert undecided_too(now, wide) == "" or "--draws" in undecided_too(now, wide)
    half = tuple(
        replace(c, shares=replace(c.shares, back_low=0.5, back_high=0.99)) for c in now.cases
    )
    ahead = SimpleNamespace(aft_mm=now.balance_aft_mm + 20.0, nominal_mm=0.0, reckoned_mm=None)
    undecided = replace(now, cases=half, forward=ahead)
    told = undecided_too(undecided, wide)
    assert told.startswith(f"It is UNDECIDED after {wide.draws} draws besides")
    assert f"--draws {2 * wide.draws}" in told
    # no more than a study may fly
    assert undecided_too(undecided, replace(wide, draws=4096)) == ""
    # where more draws are all that lacks, they are told first, and once
    assert undecided_too(replace(undecided, forward=None), wide) == ""


def test_a_pack_without_a_ban_tells_its_limit_with_its_interval():
    told = first_lines(replace(result(), aft_limits=(limit("6s_4000", 200.0),)))
    assert told[0].startswith("Pack 6s_4000: aft limit 200 mm (95 % limits 194 to 204): begin at")
    assert (
        "begin at or ahead of 194 mm; from there aft only step by step, never behind 200 mm."
        in (told[0])
    )
    assert begin_short(limit("6s_4000", 200.0)) == "; begin at 194 mm"
    short = replace(limit("6s_4000", 200.0), reach_mm=(150.0, 187.4))
    told = first_lines(replace(result(), aft_limits=(short,)))
    assert " (its tray alone reaches aft only to 187 mm); from there" in told[0]
    window = replace(
        limit("6s_4000", 200.0), forward=SimpleNamespace(aft_mm=197.0, reckoned_mm=None)
    )
    assert "NOT KNOWN WELL ENOUGH to name one balance point: it lands from" in begin_text(window)
    each = tuple(replace(x, low_mm=None) for x in short.each)
    wide = replace(short, low_mm=None, reach_mm=(150.0, 210.0), each=each)
    assert "fly it at or ahead of 200 mm (the limit itself, as its lower" in begin_text(wide)
    assert "tray" not in begin_text(wide)
    assert never_text(limit("6s_4000", 200.0)) == ""


def test_where_the_tray_does_not_reach_where_to_begin_is_told():
    ahead = replace(limit("6s_4000", 200.0), reach_mm=(196.6, 210.0))
    assert "its tray alone reaches forward only to 197 mm: begin there, inside the" in (
        begin_text(ahead)
    )
    behind = replace(ahead, reach_mm=(203.0, 210.0))
    assert "only to 203 mm, BEHIND the limit: it takes weight in the nose" in begin_text(behind)


def test_no_place_to_begin_is_named_without_a_window():
    none = replace(limit("6s_4000", 200.0), forward=SimpleNamespace(aft_mm=215.0, reckoned_mm=None))
    assert begin_text(none) == "aft limit 200 mm (95 % limits 194 to 204)"
    assert begin_short(none) == ""


def test_no_manoeuvre_left_is_said():
    bare = replace(limit("6s_4000", None), never=(NEVER,))
    assert never_text(bare).endswith("No manoeuvre of the search is left.")


@pytest.mark.parametrize(
    ("need", "said"),
    [
        (220.0, "need 220 m of entry height"),
        # entered from higher already
        (150.0, "5 of 256 cannot be saved from any height, 1 more from a"),
        (None, "5 of 256 cannot be saved from any height"),
    ],
)
def test_whether_height_helps_is_said(need, said):
    assert said in height_text(replace(NEVER, need_m=need))


def test_what_could_not_be_resolved_is_not_told_as_beyond_saving():
    odd = replace(NEVER, never=1, unresolved=4, need_m=None)
    wanted = "1 of 256 cannot be saved from any height, 1 more from a greater one only, 4 could not"
    assert height_text(odd) == f"{wanted} be resolved and count against"


def test_card_table_and_record_tell_it_too():
    told = without_spins()
    line = next(x for x in render(limits_tables([told])).splitlines() if "without" in x)
    assert "141" in line
    assert "135" in line
    study = replace(result(), aft_limits=(told,))
    line = _limit_line(study, study.setups[0], told, "centre")
    assert line.startswith("DO NOT FLY spin")
    row = _limit(told)
    assert (row.never[0].lost, row.never[0].flights) == (6, 256)
    assert row.without is not None
    assert row.without.aft_mm == 141.0


def test_measuring_is_told_of_the_limit_that_is_left():
    told = without_spins()
    assert told.without is not None
    told = replace(told, without=replace(told.without, measuring=measuring()))
    assert told_limit(replace(result(), aft_limits=(told,))) is told.without


def test_what_was_left_out_is_said_on_the_console():
    study = replace(result(), story=f"As flown. {LEFT_OUT}heaviest pack.")
    assert left_out_texts(study) == (f"{LEFT_OUT}heaviest pack.",)
    assert left_out_texts(result()) == ()


def test_a_study_into_a_file_says_now_and_then_where_it_is(capsys, monkeypatch):
    now = [0.0]
    monkeypatch.setattr("sim.show.console.progress.time.monotonic", lambda: now[0])
    with StudyProgress() as progress:
        progress.watch.planned(100)
        progress.watch.ended(10)
        now[0] = EVERY_S + 0.5
        progress.watch.ended(10)
        progress.watch.ended(10)
        # what comes next has a count of its own
        progress.watch.said("ways out")
        progress.watch.planned(50)
        now[0] = 2.0 * EVERY_S + 1.0
        progress.watch.ended(5)
    said = capsys.readouterr().err
    lines = [line for line in said.splitlines() if "flights so far" in line]
    assert lines == [
        "16 s: flying, 20 of at most 100; 20 flights so far",
        "31 s: ways out, 5 of at most 50; 35 flights so far",
    ]
    assert "\x1b" not in said
    assert "\r" not in said


def test_without_a_limit_and_a_today_what_may_be_flown_is_said_and_what_the_best_lacks():
    study = replace(result(), aft_limits=(), today=None)
    told = first_lines(study)
    assert told[0].startswith(f"Of {len(study.setups)} set-ups ")
    assert "may be flown, and no other: " in told[0]
    aft = replace(study, setups=study.setups[-1:])
    told = first_lines(aft)
    assert told[0].startswith("The one set-up does not both meet what is asked and land")
    assert told[-1].startswith(f"Next: {aft.setups[0].name}: ")


def test_today_is_told_by_its_name():
    told = first_lines(replace(result(), today="club"))
    assert any(line.startswith("Today, balanced at") for line in told)
    assert first.FIRST_TITLE == "In short"


def test_what_needs_more_height_than_the_ceiling_counts_on_paper_only():
    study = result()
    case = study.setups[0].cases[0]
    entry = case.entry_m
    assert on_paper_text(replace(study, ceiling_m=entry)) == ""
    told = on_paper_text(replace(study, ceiling_m=entry - 90.0, ceiling_said=True))
    assert told.startswith("ON PAPER ONLY: ")
    assert spoken(case.manoeuvre) in told
    assert f"your ceiling of {entry - 90.0:.0f} m" in told
    assert told.endswith("NOT to be flown here.")
    assert told in first_lines(replace(study, ceiling_m=entry - 90.0, ceiling_said=True))


def test_without_a_lower_end_of_all_the_foremost_of_one_alone_is_where_to_begin():
    """The whole limit lies no further aft than any manoeuvre's own."""
    wide = replace(limit("6s_4000", 200.0), low_mm=None)
    first = replace(wide.each[0], low_mm=None)
    second = replace(wide.each[1], low_mm=181.4)
    known = replace(wide, each=(first, second))
    assert begin_mm(known) == 181.0
    assert "begin at or ahead of 181 mm (of spin alone, as the lower end" in begin_text(known)
    assert begin_mm(replace(wide, each=(first, replace(second, low_mm=None)))) == 200.0


def test_inside_the_limits_is_told_and_no_card_of_it_is_the_next_thing():
    study = replace(result(), today=None)
    one = study.setups[0]
    own = replace(limit(one.pack, one.balance_aft_mm + 2.0), setups=(one.name,))
    place = one.balance_aft_mm
    told = inside_line(replace(study, setups=(one,), aft_limits=(own,)))
    # the sample's lower end lies 5.2 mm ahead of its limit, told as a whole mm ahead of that
    assert told.endswith(f"{one.name}, at {place:.0f} mm.")
    there = replace(one, name="there", balance_aft_mm=place - 10.0)
    both = replace(
        study, setups=(one, there), aft_limits=(replace(own, setups=("there", one.name)),)
    )
    assert "--setup there" in first_lines(both)[-1]
    assert inside_line(replace(study, aft_limits=())) == ""


def test_a_set_up_behind_its_aft_limit_is_told_in_words():
    study = replace(result(), today=None)
    one = study.setups[0]
    place = one.balance_aft_mm
    own = replace(limit(one.pack, place - 28.0), setups=(one.name,))
    behind = replace(study, setups=(one,), aft_limits=(own,))
    told = behind_line(behind)
    assert "NOT to be flown there" in told
    assert f"{one.name}, at {place:.0f} mm (limit {int(place - 28.0)})" in told
    # today's is told of by a line of its own, one verdict in it
    now = replace(behind, today=one.name)
    assert behind_line(now) == ""
    told = next(x for x in first_lines(now) if x.startswith("Today, "))
    assert "28 mm" in told
    assert told.count("NOT") == 1
    # and the next thing is to balance it further forward, not to fly more draws
    lost = tuple(
        replace(c, shares=replace(c.shares, back_low=0.5, back_high=0.99)) for c in one.cases
    )
    open_ = replace(now, setups=(replace(one, cases=lost),))
    assert first_lines(open_)[-1].startswith("Next: Balance")
    # without a window the window comes first
    shut = replace(own, forward=SimpleNamespace(aft_mm=place + 50.0, reckoned_mm=None))
    assert not _only_behind(one, shut)
    ahead = replace(own, aft_mm=one.balance_aft_mm + 5.0)
    assert behind_line(replace(study, setups=(one,), aft_limits=(ahead,))) == ""


def test_what_more_throw_costs_is_told_where_both_limits_were_searched():
    study = result()
    one = replace(study.setups[0], throws="aileron 14/14°, elevator 19.5/19.5°")
    big = replace(one, name="big", throws="aileron 14/14°, elevator 32.2/32.2°")
    limits = (
        replace(limit(one.pack, 126.0), setups=(one.name,)),
        replace(limit(one.pack, 90.0), setups=("big",), key="big"),
    )
    told = apart_lines(replace(study, setups=(one, big), aft_limits=limits, today=one.name))
    assert len(told) == 1
    assert "elevator 32.2/32.2° (big) instead of elevator 19.5/19.5°" in told[0]
    assert "aft limit 90 mm (95 % limits 84 to 94) instead of 126 mm" in told[0]
    alone = apart_lines(replace(study, setups=(one, big), aft_limits=limits[1:]))
    assert "instead of not searched" in alone[0]
    assert apart_lines(replace(study, setups=(one,), aft_limits=limits)) == []
