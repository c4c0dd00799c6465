"""The answer: bands, best recovery, chance, and what each of them says."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import spearmanr
from show_sample import case, limit, result, setup, summaries

from sim.show.answer import band_sentences, band_text, limit_in_short, recovery_sentence
from sim.study.chance import noise_level, quantile_limits, told_apart
from sim.show.console import render
from sim.show.gain_risk import gain_of, height_needed, lost_share
from sim.show.study_tables import study_tables
from sim.study.bands import best_single_recovery, percent_line, shown_setup, windows
from sim.study.result import Factor

RESULT = result()


def test_band_of_a_search_runs_from_the_foremost_that_passed():
    first, none, beyond = windows(RESULT)
    assert (first.front_mm, first.aft_mm, first.at_end) == (170.0, 200.0, False)
    assert none.aft_mm is None
    assert beyond.at_end
    # 0.36 % MAC a mm from 128 mm, as the sample is made
    assert band_text(first, percent_line(RESULT)) == "170 to 200 mm (15.1 to 25.9 % MAC)"
    assert band_text(beyond, None) == "170 to at least 204 mm"
    assert band_text(none, None) == "none found"


def test_band_of_set_ups_ends_before_the_first_that_fails():
    setups = (setup("a", 160.0, 0), setup("b", 170.0, 0), setup("c", 180.0, 60))
    again = (*setups, setup("d", 190.0, 0))
    (found,) = windows(replace(RESULT, setups=again, aft_limits=()))
    assert (found.front_mm, found.aft_mm, found.searched) == (160.0, 170.0, False)


def test_few_draws_show_no_band_and_say_why():
    few = [
        replace(
            x,
            cases=tuple(case(c.manoeuvre, c.recovery, summaries(32, 0, 20.0)) for c in x.cases),
        )
        for x in (setup("a", 160.0, 0),)
    ]
    study = replace(RESULT, setups=tuple(few), aft_limits=(), draws=32)
    (found,) = windows(study)
    assert found.open
    assert "not shown: too few draws" in band_sentences(study)[0]
    assert "too few for firm figures" in recovery_sentence(study)


def test_best_single_recovery_is_judged_by_its_worst_manoeuvre():
    # in the sample rudder_forward loses twice as many in the spin
    assert best_single_recovery(RESULT) == "centre"
    told = recovery_sentence(RESULT)
    assert "centre all sticks" in told
    assert "floor of 40 m" in told
    assert best_single_recovery(replace(RESULT, setups=())) is None
    assert recovery_sentence(replace(RESULT, setups=())) is None


def test_picture_shows_a_set_up_inside_its_band():
    assert shown_setup(RESULT).name == "club"  # 195 mm; the band ends at 200 mm
    outside = replace(RESULT, aft_limits=(limit("6s_4000", None),))
    assert shown_setup(outside).name == "forward"


def test_limits_in_short_say_how_sure():
    assert "96-99 % come back (95 % limits, 256 draws)" in limit_in_short(RESULT.aft_limits[0])
    assert "none found" in limit_in_short(RESULT.aft_limits[1])
    assert "beyond 204 mm" in limit_in_short(RESULT.aft_limits[2])


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
    assert "Not distinguishable." in text
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
    assert gain_of(club, "pitch_response") == 410.0
    assert gain_of(club, "throttle") == 50.0
    lost, low, high = lost_share(club)
    assert lost == pytest.approx(12 / 128)
    assert low < lost < high
    assert height_needed(RESULT.setups[2])[0] == np.inf
    middle, low, high = height_needed(RESULT.setups[0])
    assert low < middle < high


def test_words_never_promise():
    text = " ".join([*band_sentences(RESULT), recovery_sentence(RESULT)])
    assert "safe" not in text.lower()
    assert "band that met the requirement" in text
