"""A forward limit that lies behind where the aeroplane is flown today is no limit but an error.

What is flown, and so landed, every day can land: common practice, no source.
"""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from sim.landing.forward import CheckLimit, ForwardLimit
from sim.show.console.aeroplane.landing import windows_table
from sim.show.console.console import render
from sim.show.report.answer import _lands
from sim.show.words.ladder import _going_forward
from sim.show.words.places.begin_at import begin_text
from sim.show.words.places.window import card_window, forward_text, short_window, window_sentences
from sim.study.forward import with_forward
from sim.study.standing.window import Kind, ahead_mm, window_of
from tests.samples.results import limit, result

CHECK = CheckLimit("rotation", 0.0, 13.3, 1.0, 160.0, 167.0, 164.0, 171.0)
RECKONED = ForwardLimit(
    aft_mm=167.0, low_mm=164.0, high_mm=171.0, pct_mac=39.5, nominal_mm=160.0, checks=(CHECK,),
    draws=128, share_pct=95.0, reach_mm=97.0, left_out=(),
)  # fmt: skip


def test_what_is_flown_ahead_of_even_the_nominal_limit_refutes_it_and_nothing_less_does():
    held = RECKONED.against(112.0)
    assert (held.aft_mm, held.low_mm, held.nominal_mm) == (None, None, None)
    assert (held.flown_mm, held.reckoned_mm) == (112.0, 167.0)
    assert ahead_mm(held, 60.0) == 0.0
    # between the nominal limit and that of the draws it may well be flown: that refutes nothing
    assert RECKONED.against(161.0) is RECKONED
    assert RECKONED.against(180.0) is RECKONED


def test_its_words_name_both_places_and_what_to_do():
    held = RECKONED.against(112.4)
    window = window_of(held, limit("6s_4000", 110.0))
    assert window.kind is Kind.REFUTED
    told = short_window(window)
    assert told.startswith(
        "forward limit NOT KNOWN: 167 mm by the reckoning, but today it is flown"
    )
    assert "from 112 mm; go forward step by step" in told
    assert "if never flown so, the reckoning stands" in told
    assert card_window(window, 0.0) == "aft 110 mm; forward not known, flown from 112 mm today"
    assert "reckoned by lifting the nose for a full-throttle take-off by 13.3 m/s" in (
        forward_text(held)
    )
    # its aft limit holds as ever, and where to begin is named
    one = replace(limit("6s_4000", 110.0), forward=held)
    assert "begin at or ahead of 104 mm" in begin_text(one)
    assert "refuted: rotation" in " ".join(render(windows_table([one])).split())


def test_it_is_told_once_for_all_packs_and_once_in_a_pack_s_own_lines():
    held = RECKONED.against(112.0)
    packs = [replace(limit(x, 110.0), forward=held) for x in ("6s_4000", "6s_5000")]
    (told,) = window_sentences(packs, ())
    assert told.startswith("Pack 6s_4000 and pack 6s_5000: forward limit NOT KNOWN: 167 mm")
    assert told.count("NOT KNOWN") == 1
    (one,) = _lands(packs[0])
    assert (one.look, one.text.count("NOT KNOWN")) == ("caution", 1)
    known = replace(packs[1], forward=replace(RECKONED, aft_mm=90.0))
    assert len(window_sentences([packs[0], known], ())) == 2
    assert len(_lands(known)) == 2


@pytest.mark.parametrize(("balance_mm", "kept"), [(112.0, False), (162.0, True), (190.0, True)])
def test_a_study_holds_every_pack_against_where_today_is_flown(balance_mm, kept):
    now, other = (
        replace(result().setups[0], name=name, balance_aft_mm=place)
        for name, place in (("today", balance_mm), ("pack", 108.0))
    )
    own = replace(limit(now.pack, 200.0), like="today")
    limits = SimpleNamespace(of=lambda _: RECKONED, opening=lambda *_: (None, None))
    found = {"forward": RECKONED, "more_throw": None, "more_area": None}
    opening = SimpleNamespace(_asdict=lambda: found)
    aside = SimpleNamespace(setups=lambda: [opening, opening], limits=limits)
    blank = SimpleNamespace(model_copy=lambda update: update)
    aeroplane = SimpleNamespace(setups={"today": blank}, first_setup="today")
    study = SimpleNamespace(today="today", setups=())
    files = SimpleNamespace(study=study, aeroplane=aeroplane)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sim.study.forward.named_setup", lambda *_: blank)
        setups, (searched,) = with_forward(files, (now, other), (own,), aside)
    for x in (*setups, searched):
        assert (x.forward is RECKONED) == kept
        assert (x.forward.reckoned_mm is None) == kept
    # one and the same object, as lists of windows tell packs together by it
    assert setups[0].forward is setups[1].forward is searched.forward


def test_going_forward_of_where_it_is_flown_is_no_step_at_once():
    """A forward balance takes away what flares and lifts the nose: common practice, no source."""
    held = replace(limit("6s_4000", 110.0), forward=RECKONED.against(112.4))
    told = _going_forward(SimpleNamespace(limit=held))
    assert "ahead of 112 mm, where it is flown today, it is NOT KNOWN whether it lands" in told
    assert "in one step" not in told
    known = replace(held, forward=RECKONED)
    assert _going_forward(SimpleNamespace(limit=known)).endswith("it comes first and in one step.")
    assert _going_forward(SimpleNamespace(limit=None)).endswith("in one step.")
