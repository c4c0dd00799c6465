"""The limit without what is not to be flown: console, report, chart and card tell the same."""

from dataclasses import replace
from math import floor

import matplotlib.pyplot as plt
import pytest

from sim.describe import load_aeroplane
from sim.show.card.card import _window
from sim.show.console.aeroplane.landing import windows_table
from sim.show.console.console import render
from sim.show.figures.balance_scale import draw_balance_scale
from sim.show.report.answer import answer
from sim.show.report.parts import Paragraph
from sim.show.words.findings.first import first_lines
from sim.show.words.findings.mending import mending_lines
from sim.show.words.findings.packs import _limit
from sim.show.words.ladder_ends import ending_text, refusal_text
from sim.show.words.places.limits import aft_text, figure_text, held_text, shown_nowhere
from sim.show.words.places.never import never_text
from sim.show.words.places.window import window_text
from sim.study.ladder.fit import End, Refused
from sim.study.standing.mending import Lack, lacks
from tests.samples.results import limit, result
from tests.unit.landing.test_window import forward
from tests.unit.show.test_first import without_spins

HELD = "flown without spin, the aft limit is 141 mm (95 % limits 135 to 145)"


@pytest.fixture(scope="module")
def banned():
    """Return a limit that spins forbid, 141 mm without them, landing from 104 mm."""
    told = without_spins()
    ahead = forward(104.0)
    rest = replace(told.without, forward=ahead)
    return replace(told, forward=ahead, without=rest, setups=tuple(x.name for x in result().setups))


@pytest.fixture(scope="module")
def study(banned):
    setups = tuple(replace(x, forward=banned.forward) for x in result().setups)
    return replace(result(), aft_limits=(banned,), setups=setups, today=setups[0].name)


def test_it_is_one_sentence_everywhere(banned, study):
    assert held_text(banned) == HELD
    assert figure_text(banned) == f"none found over all; {HELD}"
    told = [
        first_lines(study)[0], never_text(banned), shown_nowhere(banned),
        refusal_text(Refused(End.LIMIT, "balance", 120.0, limit=banned)),
    ]  # fmt: skip
    assert all(HELD in text.replace("Flown", "flown") for text in told)
    assert held_text(limit("6s_4000", 150.0)) == ""
    assert shown_nowhere(limit("6s_4000", None)) == "showed no balance point"


def test_the_report_says_it_large_and_marked(study):
    jet = load_aeroplane(study.aeroplane)
    (first,) = [part for part in answer(study, jet).parts if hasattr(part, "picture")]
    told = [part for part in first.answer if isinstance(part, Paragraph)]
    big = [part.text for part in told if part.look == "big"]
    assert any(HELD in text.replace("Flown", "flown") for text in big)
    assert not any("none found, not shown" in text for text in big)
    assert "back nowhere" not in " ".join(part.text for part in told)


def test_the_chart_draws_it_hollow_and_says_without_what(banned, study):
    axes = plt.figure().add_subplot()
    draw_balance_scale(axes, load_aeroplane(study.aeroplane), study.setups, (banned,))
    texts = [x.get_text() for x in axes.texts]
    assert "aft limit 141 mm WITHOUT spin" in texts
    assert "aft limit 141 mm" not in texts
    assert "not shown here" not in texts
    # a band is a patch; nothing filled says that all is met there
    assert all(patch.get_facecolor()[-1] == 0.0 for patch in axes.patches)
    plt.close("all")


def test_the_card_says_it_in_its_window_and_at_the_ladders_end(banned, study):
    told = _window(study.setups[0], banned)
    assert told.startswith("NONE with spin; flown without: ")
    assert "141 mm" in told
    assert "back nowhere" not in told
    met = next(x for x in study.setups if aft_text(x, study))
    assert HELD in aft_text(met, study)
    text = window_text(banned.forward, banned)
    assert text.startswith("NO WINDOW with spin; flown without, balance window ")


def test_tables_mark_it(banned):
    (table, *_) = windows_table((banned,))
    lines = render([table])
    assert "without" in lines
    assert "141" in lines
    assert _limit(type("Choice", (), {"limit": banned})()).endswith("without spin")


def test_the_next_step_is_the_first_that_the_card_says_to_mend(study):
    (now,) = [x for x in study.setups if x.name == study.today]
    lines = mending_lines(now, study)
    assert lines
    assert first_lines(study)[-1].startswith(f"Next: {lines[0]}")


def closed(more=None):
    """Return a study whose today's set-up comes back only forward of where it lands."""
    base = result()
    low = base.setups[-1]
    none = replace(
        limit(low.pack, low.balance_aft_mm - 40.0), setups=(low.name,), more_area=more,
        forward=forward(low.balance_aft_mm - 10.0),
    )  # fmt: skip
    low = replace(low, forward=none.forward)
    return replace(base, setups=(low,), aft_limits=(none,), today=low.name), low


def test_without_a_window_balance_is_no_cure_on_the_card_either():
    study, low = closed()
    found = lacks(low, study.required_share_pct, study.draws, study.aft_limits)
    assert found[0] is Lack.WINDOW
    assert Lack.FORWARD not in found
    lines = mending_lines(low, study)
    assert not any("Balance it" in line for line in lines)
    assert first_lines(study)[-1] == f"Next: {lines[0]}"


def test_too_far_aft_both_say_to_the_same_millimetre_how_far_forward():
    base = result()
    low = base.setups[-1]
    open_ = replace(
        limit(low.pack, low.balance_aft_mm - 40.0), setups=(low.name,),
        forward=forward(low.balance_aft_mm - 80.0),
    )  # fmt: skip
    low = replace(low, forward=open_.forward)
    study = replace(base, setups=(low,), aft_limits=(open_,), today=low.name)
    lines = mending_lines(low, study)
    most = f"{floor(open_.low_mm)} mm (balance_aft_mm in a set-up)"
    assert any(f"Balance it at or ahead of {most}" in line for line in lines)
    assert first_lines(study)[-1] == f"Next: {lines[0]}"


def test_a_ladder_that_finds_no_start_says_what_holds(banned):
    ladder = type("Ladder", (), {
        "setup": "aft", "wanted_mm": 150.0, "reached": False, "refused": None, "steps": (),
        "end": End.NO_START, "limit": banned,
    })()  # fmt: skip
    text = ending_text(ladder)
    assert text.startswith("THERE IS NO STEP: the search with this pack and combination showed no ")
    assert f"with spin; {HELD}" in text
    assert text.endswith("is NOT TO BE FLOWN.")
