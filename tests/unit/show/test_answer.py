"""The answer: bands, best recovery, chance, and what each of them says."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import spearmanr

from sim.core import script_layout as s
from sim.judge import Outcome, outcome
from sim.show.card.answer import answer_lines, verdict_text
from sim.show.card.heights import enter_text
from sim.show.console.console import render
from sim.show.console.results.study import study_tables
from sim.show.report.heights import heights as report_heights
from sim.show.report.parts import Table
from sim.show.words.findings.answer import (
    answer_sentences,
    band_sentences,
    band_text,
    headline,
    recovery_sentence,
)
from sim.show.words.findings.first import first_lines
from sim.show.words.phrases import few_draws_warning
from sim.show.words.places.limits import (
    against_text,
    combination_sentence,
    figure_text,
    interval_text,
    limit_sentence,
    neutral_text,
)
from sim.show.words.recovery.fly_from import shown_from_text
from sim.study.results.result import Factor
from sim.study.standing.bands import bands, own_limit, percent_line, shown_setup
from sim.study.standing.chance import noise_level, quantile_limits, told_apart
from sim.study.standing.heights import from_height
from sim.study.standing.outcomes import best_case
from sim.study.standing.trade import gain_of, height_needed, lost_share
from tests.samples.results import case, limit, result, setup, summaries

RESULT = result()


def test_band_of_a_search_runs_from_the_foremost_that_passed():
    first, none, beyond = bands(RESULT)
    assert (first.front_mm, first.aft_mm, first.at_end) == (170.0, 200.0, False)
    assert none.aft_mm is None
    assert beyond.at_end
    # 0.36 % MAC a mm from 128 mm, as the sample is made
    assert band_text(first, percent_line(RESULT)) == "170 to 200 mm (15.1 to 25.9 % MAC)"
    assert band_text(beyond, None) == "170 to at least 204 mm"
    between = replace(first, front_mm=124.4, aft_mm=124.4)  # rounds to 125 and to 124
    assert band_text(between, None) == "124 mm only"
    assert band_text(none, None) == "none found"


def test_band_of_set_ups_ends_before_the_first_that_fails():
    setups = (setup("a", 160.0, 0), setup("b", 170.0, 0), setup("c", 180.0, 60))
    again = (*setups, setup("d", 190.0, 0))
    (found,) = bands(replace(RESULT, setups=again, aft_limits=()))
    assert (found.front_mm, found.aft_mm, found.limit) == (160.0, 170.0, None)


def test_set_ups_of_other_throws_are_another_band():
    two = (setup("a", 160.0, 0), replace(setup("b", 170.0, 60), throws="tail 20/20°"))
    found = bands(replace(RESULT, setups=two, aft_limits=()))
    assert [(x.setups, x.aft_mm) for x in found] == [(("a",), 160.0), (("b",), None)]


def test_few_draws_show_no_band_and_say_why():
    few = [
        replace(
            x,
            cases=tuple(case(c.manoeuvre, c.recovery, summaries(32, 0, 20.0)) for c in x.cases),
        )
        for x in (setup("a", 160.0, 0),)
    ]
    study = replace(RESULT, setups=tuple(few), aft_limits=(), draws=32)
    (found,) = bands(study)
    assert found.open
    told = "cannot be shown with 32 draws, which takes 73 or more"
    assert f"band that met the requirement {told}" in band_sentences(study)[0]
    enter = enter_text(few[0].cases[0], study, 120.0, may_be_flown=True)
    assert enter == f"DO NOT FLY: {told}"
    assert band_text(found, None) == "not shown: undecided"  # as where more draws could tell
    assert f"for balance) {told}." in answer_sentences(study)[-1]
    assert f"1 {told} (a)" in headline(study)
    assert "undecided" not in headline(study)


def test_a_card_tells_too_few_draws_and_the_recovery_that_fails():
    held, failing = setup("club", 195.0, 0), setup("club", 195.0, 12)
    found = replace(held, cases=(*held.cases[:3], failing.cases[3]))
    nowhere = SimpleNamespace(limit=None, end=None, fast=None)
    lines = answer_lines(replace(RESULT, aft_limits=()), found, nowhere)
    assert any(x.startswith("NOT by rudder forward: spin, 104 of 128 came back") for x in lines)
    few = tuple(case(c.manoeuvre, c.recovery, summaries(32, 0, 20.0)) for c in held.cases)
    told = verdict_text(replace(RESULT, draws=32), replace(held, cases=few), nowhere)
    assert told == "CANNOT BE SHOWN WITH 32 DRAWS, WHICH TAKES 73 OR MORE (at least 95 % back)"


def test_a_study_with_enough_draws_is_undecided_and_not_told_to_fly_more():
    study = replace(RESULT, setups=(setup("a", 160.0, 3),), aft_limits=(), draws=128)
    assert "1 undecided (a)" in headline(study)
    assert "is undecided after 128 draws" in answer_sentences(study)[-1]
    assert few_draws_warning(95.0, 128) == ""


def test_the_warning_before_flying_names_a_number_that_will_do():
    told = few_draws_warning(95.0, 64)
    assert told.startswith("draws = 64 can never show that 95 % of flights come back")
    assert "73 or more: write draws = 128" in told
    assert "write draws = 64" in few_draws_warning(90.0, 32)


def test_a_recovery_shown_to_fail_is_named_with_its_counts():
    # by rudder 24 of 128 are lost in the spin; by centred sticks, which stand for it, none
    held, failing = setup("club", 195.0, 0), setup("club", 195.0, 12)
    cases = (*held.cases[:3], failing.cases[3])
    study = replace(RESULT, setups=(replace(held, cases=cases),), aft_limits=())
    told = "by rudder against, stick forward alone it does not meet the requirement: in spin 104 of"
    assert f"{told[0].upper()}{told[1:]} 128 came back (95 % limits" in answer_sentences(study)[-1]
    assert "Shown NOT to be enough alone: rudder forward (club 104 of 128 back)." in headline(study)
    assert "NOT to be enough" not in headline(replace(study, setups=(held,)))
    text = " ".join(render(study_tables(study)).split())
    assert "+ 256/256 100 % x 232/256 91 %" in text
    assert "x one or more is shown not to, ? cannot be told" in text


def test_a_set_up_is_told_with_its_margin_and_ballast():
    assert (
        "(160 mm, 12 % MAC, static margin 17.2 % MAC, 6s_4000, with 54 g at the tail cone for "
        "balance)" in answer_sentences(replace(RESULT, setups=(setup("a", 160.0, 0),)))[-1]
    )


def test_the_neutral_point_is_told_where_no_limit_was_found():
    none = replace(limit("6s_3300", None), neutral_mm=202.0, neutral_pct_mac=27.1, margin_pct=11.9)
    told = "tick-fixed neutral point 202 mm, static margin at 170 mm 11.9 % MAC"
    study = replace(RESULT, aft_limits=(none,))
    assert f"none found with pack 6s_3300, s{told}." in headline(study)
    assert f" S{told}." in answer_sentences(study)[0]


def deep_in_the_spin(flights):
    """Return a set-up whose flights lose 90 to 95 m in the spin, and little in the stall."""
    high = setup("high", 170.0, 0)
    lost = {"spin": 90.0}
    cases = tuple(
        case(c.manoeuvre, c.recovery, summaries(flights, 0, lost.get(c.manoeuvre, 20.0)))
        for c in high.cases
    )
    return replace(high, cases=cases)


def test_too_few_flights_still_say_about_which_height_they_would_need():
    # of 32 flights 90 to 95 m deep and 40 m of floor, 31 come back from 134.8 m; no proof
    high = deep_in_the_spin(32)
    study = replace(RESULT, setups=(high,), aft_limits=(), draws=256)
    assert "high (may need about 135 m of entry height, not shown)" in headline(study)
    assert (
        "it may need about 135 m of entry height: 95 % of its 32 flights in spin come back from "
        "135 m, no proof yet" in answer_sentences(study)[-1]
    )
    assert "meet it from there" not in answer_sentences(study)[-1]
    # where flights never come back, no height is named
    never = tuple(case(c.manoeuvre, c.recovery, summaries(32, 3, 90.0)) for c in high.cases)
    lost = replace(study, setups=(replace(high, cases=never),))
    assert "entry height, not shown" not in headline(lost)
    # where 7 of 256 never came back, so many were flown that no height shows it
    many = tuple(case(c.manoeuvre, c.recovery, summaries(256, 7, 90.0)) for c in high.cases)
    told = answer_sentences(replace(study, setups=(replace(high, cases=many),)))[-1]
    assert "come back from 135 m, but no height shows it by its lower 95 % limit" in told
    # and where enough come back from the study's own height, height is not what is wrong
    few = tuple(case(c.manoeuvre, c.recovery, summaries(32, 0, 20.0)) for c in high.cases)
    assert "may need" not in headline(replace(study, setups=(replace(high, cases=few),)))


def test_a_set_up_forward_of_its_limit_says_by_which_other_recovery_that_is():
    other = setup("other", 170.0, 60)
    whole = replace(limit("6s_4000", 200.0), setups=("other",), recovery="rudder_forward")
    whole = replace(whole, pack=other.pack)
    only = tuple(c for c in other.cases if (c.manoeuvre, c.recovery) != ("chop", "rudder_forward"))
    study = replace(RESULT, setups=(replace(other, cases=only),), aft_limits=(whole,))
    told = answer_sentences(study)[-1]
    assert "Its aft limit of 200 mm is by rudder forward, which it did not fly in chop." in told
    # aft of the limit there is nothing to explain
    behind = replace(study.setups[0], balance_aft_mm=210.0)
    assert "Its aft limit" not in answer_sentences(replace(study, setups=(behind,)))[-1]
    # and the headline says by which recovery the limit is
    assert "recovering by rudder forward" in headline(study)


def test_each_set_up_stands_with_its_own_best_single_recovery():
    told = recovery_sentence(RESULT)
    # in the sample rudder_forward loses twice as many in the spin
    assert told.startswith("Best single recovery: centre all sticks.")
    assert "floor of 40 m" in told
    other = setup("other", 170.0, 0)
    worse = tuple(
        case(c.manoeuvre, c.recovery, summaries(128, 60 if c.recovery == "centre" else 0, 20.0))
        for c in other.cases
    )
    study = replace(RESULT, setups=(RESULT.setups[0], replace(other, cases=worse)))
    told = recovery_sentence(study)
    assert "centre all sticks (forward); rudder against, stick forward (other)" in told
    assert recovery_sentence(replace(RESULT, setups=())) is None


def test_heights_of_the_headline_are_those_of_the_table():
    told = recovery_sentence(RESULT)
    text = render(study_tables(RESULT))
    heights = text[text.index("Height, m") : text.index("Entry height needed")]
    row = next(line for line in heights.splitlines() if line.startswith("forward"))
    lost, shown = row.split()[-4], row.split()[-2]
    # one set-up meets it, so its numbers stand alone: "chop: ... at most 15 m after its first ..."
    assert f"chop: 95 % of those flown lost at most {lost} m after its first input; " in told
    assert f"to be flown from {shown} m (shown by the lower 95 % limit, floor of" in told


def test_console_report_and_first_lines_tell_one_height_to_fly_from():
    one = RESULT.setups[0]
    case = best_case(one, "chop", 95.0)
    height = shown_from_text(case, RESULT)
    # by the rule that cases are judged by: it is met from there, and not from 5 m below
    metres = float(height.removesuffix(" m"))
    for entry, stands in ((metres, True), (metres - 5.0, False)):
        shares = from_height(case, entry, 95.0, RESULT.draws).shares
        assert (outcome(shares, 95.0) is Outcome.MET) is stands
    alone = replace(RESULT, setups=(replace(one, cases=(case,)),), aft_limits=())
    assert f"Enter no lower than {height} in chop" in " ".join(first_lines(alone))
    table = next(x for x in report_heights(alone).parts if isinstance(x, Table))
    row = next(r for r in table.rows if r[0] == one.name)
    assert f"{row[-2]} m" == height


def test_picture_shows_a_set_up_inside_its_band():
    assert shown_setup(RESULT).name == RESULT.today == "forward"  # what is flown now, if it is
    anew = replace(RESULT, today=None)
    assert shown_setup(anew).name == "club"  # 195 mm; the band ends at 200 mm
    outside = replace(anew, aft_limits=(limit("6s_4000", None),))
    assert shown_setup(outside).name == "forward"


def test_a_limit_is_told_with_its_interval_and_for_whom():
    first, none, beyond = RESULT.aft_limits
    assert figure_text(first) == "200 mm (95 % limits 194 to 204)"
    assert figure_text(none) == "none found"
    assert figure_text(beyond) == "at least 204 mm (95 % limits from 198, the upper one not found)"
    assert interval_text(None, None) == "95 % limits not found"
    assert combination_sentence(RESULT.aft_limits) == (
        "Searched with: gyro off; canister 40 g at 660 mm; tail 14/12°."
    )
    other = replace(none, key="other", setups=("aft",), combination="gyro on, rate (roll 0.1)")
    told = combination_sentence((first, other))
    assert "aft: gyro on, rate (roll 0.1)" in told
    assert "forward, club and aft: gyro off" in told


def test_a_limit_is_only_of_the_set_ups_it_was_searched_for():
    first = RESULT.aft_limits[0]
    assert own_limit(RESULT.aft_limits, RESULT.setups[0]) is first
    other = replace(RESULT, aft_limits=(replace(first, setups=("club",)),))
    assert own_limit(other.aft_limits, RESULT.setups[0]) is None


def test_behind_the_neutral_point_is_told_with_the_gyro():
    first = replace(RESULT.aft_limits[0], neutral_mm=190.0)
    told = neutral_text(first)
    assert told == (
        "stick-fixed neutral point 190 mm: the limit lies 10 mm BEHIND it, flown with gyro off"
    )
    assert told in headline(replace(RESULT, aft_limits=(first,)))
    # the sample's own neutral point, 202 mm, lies inside the limits 194 to 204
    assert "inside the limits of the aft limit" in neutral_text(RESULT.aft_limits[0])
    unstable = replace(RESULT.setups[2], static_margin_pct=-6.2)
    text = answer_sentences(replace(RESULT, setups=(unstable,)))[-1]
    assert "It balances 6.2 % MAC BEHIND the stick-fixed neutral point, with gyro off." in text


def test_a_band_of_some_manoeuvres_is_not_the_answer_while_another_fails_inside_it():
    one = replace(RESULT.aft_limits[0], manoeuvres=("chop",), each=RESULT.aft_limits[0].each[:1])
    failing = setup("inside", 180.0, 60)
    study = replace(RESULT, setups=(failing,), aft_limits=(replace(one, setups=("inside",)),))
    (band,) = bands(study)
    told = against_text(band)
    assert told.startswith("NOT THE WHOLE ANSWER: inside at 180 mm does not meet")
    assert "68 of 128 came back" in told
    assert "spin not searched" in told
    assert told in limit_sentence(band, study)
    assert against_text(bands(replace(RESULT, setups=RESULT.setups[:1]))[0]) == ""


def test_a_sure_height_beside_a_case_of_too_few_flights_is_still_told():
    # the spin's 256 flights, 90 to 95 m deep, need 135 m for sure; the stall's 32 are too few
    high = deep_in_the_spin(256)
    cases = tuple(
        case(c.manoeuvre, c.recovery, summaries(32, 0, 20.0)) if c.manoeuvre == "chop" else c
        for c in high.cases
    )
    study = replace(RESULT, setups=(replace(high, cases=cases),), aft_limits=(), draws=256)
    assert "high (may need about 135 m of entry height, not shown)" in headline(study)
    assert (
        "it may need about 135 m of entry height: 95 % of its 256 flights in spin come back from "
        "135 m, no proof yet" in answer_sentences(study)[-1]
    )
    # nothing is told where the spin's flights never come back from any height
    lost = tuple(
        case(c.manoeuvre, c.recovery, summaries(256, 40, 90.0)) if c.manoeuvre == "spin" else c
        for c in cases
    )
    assert "entry height" not in headline(replace(study, setups=(replace(high, cases=lost),)))


def test_where_only_height_is_wrong_the_answer_says_how_much():
    # 90 m and more are used of the 80 m between entry and floor
    high = deep_in_the_spin(128)
    study = replace(RESULT, setups=(high,), aft_limits=(), draws=128)
    # the spin loses 90 to 95 m, 40 m of floor; one of 128 may be lost: 134.96 rounds up to 135
    assert "high (needs 135 m of entry height)" in headline(study)
    assert (
        "needs 135 m of entry height, and would meet it from there" in answer_sentences(study)[-1]
    )
    never = tuple(case(c.manoeuvre, c.recovery, summaries(128, 60, 90.0)) for c in high.cases)
    lost = replace(study, setups=(replace(high, cases=never),))
    assert "needs" not in headline(lost)


def test_unresolved_flights_are_named_in_the_headline():
    rows = summaries(128, 0, 20.0)
    rows[:12, s.R_STATUS] = s.STATUS_NO_TRIM
    one = setup("club", 180.0, 0)
    cases = tuple(case(c.manoeuvre, c.recovery, rows) for c in one.cases)
    told = headline(replace(RESULT, setups=(replace(one, cases=cases),)))
    assert "UNRESOLVED flights count against: 12 of 128 of club in chop" in told
    assert "no level flight to start from" in told
    assert "1 did not meet it (club)" in told


@pytest.mark.parametrize(
    ("draws", "printed"),
    # critical values of Pearson's r, two-sided 5 %, n - 2 degrees of freedom, as tables of
    # statistics print them (from memory)
    [(12, 0.576), (32, 0.349), (102, 0.195)],
)
def test_noise_level_is_the_tabled_one(draws, printed):
    assert noise_level(draws) == pytest.approx(printed, abs=5e-4)


def test_chance_passes_the_noise_level_in_five_of_a_hundred():
    random = np.random.default_rng(3)
    found = [
        abs(spearmanr(random.normal(size=64), random.integers(0, 2, 64)).statistic)
        for _ in range(2000)
    ]
    share = np.mean(np.array(found) > noise_level(64))
    # 2000 trials: standard error 0.5 %; ranks with ties are not exactly normal
    assert share == pytest.approx(0.05, abs=0.015)


def test_what_chance_would_show_is_not_listed():
    weak = Factor("wind", "steady wind", "a vane anemometer", 0.15)
    known = told_apart([weak, *RESULT.factors], 128)
    assert [f.name for f in known] == ["fin_force", "pitch_inertia"]
    assert told_apart([weak, *RESULT.factors], 12) == [RESULT.factors[0]]
    text = render(study_tables(replace(RESULT, factors=(weak,))))
    assert "Nothing stands out." in text
    assert "128 draws cannot tell a link weaker than 0.17 from luck" in " ".join(text.split())
    assert "chance alone" not in text
    assert "steady wind" not in text


def test_limits_of_a_percentile():
    # binomial: of 256 values the 95th percentile lies between the 236th and 250th with 95 %
    # (computed: 243.2 +- 1.96 * 3.49, the exact ends by the binomial distribution)
    low, high = quantile_limits(np.arange(1.0, 257.0), 0.95)
    assert 235.0 <= low <= 237.0
    assert 249.0 <= high <= 251.0
    assert quantile_limits(np.arange(32.0), 0.95)[1] == np.inf
    assert quantile_limits(np.array([]), 0.95) == (0.0, np.inf)


def test_gains_and_risks_of_a_set_up():
    club = RESULT.setups[1]
    assert gain_of(club, "pitch_response").median == 410.0
    assert gain_of(club, "throttle").median == 50.0
    lost, low, high = lost_share(club, 95.0)
    assert lost == pytest.approx(12 / 128)
    assert low < lost < high
    assert height_needed(RESULT.setups[2], 95.0)[0] == np.inf
    middle, low, high = height_needed(RESULT.setups[0], 95.0)
    assert low < middle < high


def test_words_never_promise():
    text = " ".join([headline(RESULT), *answer_sentences(RESULT)])
    assert "safe" not in text.lower()
    assert "The requirement (at least 95 % of flights back) is met from 170 mm" in text


def test_a_set_up_aft_of_its_aft_limit_is_not_said_to_meet_it_and_no_more():
    study = replace(RESULT, setups=(setup("forward", 190.0, 0), setup("aft", 204.0, 0)))
    found = replace(limit("6s_4000", 200.0), setups=("forward", "aft"))
    study = replace(study, aft_limits=(found,))
    told = headline(study)
    assert (
        "1 met it in every manoeuvre (forward); 1 came back as asked in every manoeuvre, but "
        in told
    )
    assert "but AFT of the aft limit, not to be flown (aft)." in told
    told = answer_sentences(study)[-1]
    assert "NOT TO BE FLOWN: it lies 4 mm AFT of its aft limit, 200 mm by centre." in told
    assert "NOT TO BE FLOWN" not in answer_sentences(study)[-2]


def test_a_search_that_flew_nothing_says_so():
    none = replace(limit("6s_3300", None), steps=(), each=())
    (found,) = bands(replace(RESULT, setups=(), aft_limits=(none,)))
    told = limit_sentence(found, RESULT)
    assert told.endswith("nothing was flown, as it cannot be balanced at any place asked for.")
