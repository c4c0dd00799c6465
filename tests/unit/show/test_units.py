"""Whole outputs in ounces and inches: nothing is left in grams, millimetres, metres, m/s."""

import re
from html import unescape

import numpy as np
import pytest

from sim.describe import load_aeroplane, resolve_setup
from sim.show.card.blocks import laid_out
from sim.show.card.card import make_card
from sim.show.card.page import card_page
from sim.show.console.aeroplane.bench import weigh_tables
from sim.show.console.console import render
from sim.show.console.results.study import study_tables
from sim.show.drawing.canvas import one_axes
from sim.show.drawing.scales import in_units
from sim.show.replay.page import packed_flights, replay_section
from sim.show.report.report import report_html
from sim.show.words.places.limits import interval_text
from sim.show.words.recovery.higher import asked_height
from sim.study.ladder.ladder import fly_ladder
from sim.study.standing.outcomes import recovery_of
from sim.units.quantities import HEIGHT, LENGTH, using_units
from sim.weigh import weigh_set_up
from tests.samples.brief import briefly
from tests.samples.cards import each_stall_once, sample
from tests.samples.flown import recordings
from tests.samples.results import result

# a number or a heading's comma, and a unit that an American modeller does not use
LEFT = re.compile(
    r"(?:\d|,|\() ?(?:mm|cm|m|m/s|km/h|g|kg|kg m²|kg m2|dm²|dm2|cm2|g/dm²|g/dm2|N cm)(?![\w/²°])"
    r"|\bmm\b|\bin m\b"
)
# words of files and of the sample's, and of what tables say of their sources, stay as written
OWN_WORDS = re.compile(
    r"load, g|one 80 mm fan|canister 40 g at 660 mm|balance to 195 mm"
    r"|(?:passes|up to|most)\s+[\d.]+ g(?= (?:in|of)\b)"  # a load factor
    r"|at 100 m is about 0.5\s+to 1 m/s|fingers 2 to 3 mm, a stand 1 mm"
)


def left_in(text):
    """Return what stands in a unit of the default system, with the words around it."""
    plain = OWN_WORDS.sub("", text)
    return [plain[max(0, m.start() - 30) : m.end() + 15] for m in LEFT.finditer(plain)]


def words_of(page):
    """Return the words of a page, without style, script and where things stand in drawings."""
    body = re.sub(r"<(style|script)\b.*?</\1>", "", page, flags=re.DOTALL)
    return unescape(re.sub(r"<[^>]*>", "\n", body)).replace("\xa0", " ")


@pytest.fixture(scope="module")
def jet():
    return load_aeroplane("display_jet")


def test_the_scan_sees_what_is_left():
    for text in ("187 mm", "height, m", "pack at, mm", "12 m/s", "add 30 g at", "(120 m)"):
        assert left_in(text)
    for text in ("7.35 in", "4 min", "5 mohm", "12 mph", "3.2 m²/s", "30 mAh"):
        assert not left_in(text)


@pytest.mark.usefixtures("unarranged")
def test_a_report_in_inches_and_ounces(jet):
    with using_units("oz-in"):
        text = words_of(report_html(result(), jet))
    assert left_in(text) == []
    for told in (" in ", " ft", " mph", " oz"):
        assert told in text


def test_a_card_in_inches_and_ounces():
    made = sample()
    setup = made.setup("middle")
    recovery = recovery_of(made.result, setup)
    with using_units("oz-in"), briefly(), each_stall_once():
        # a ladder tells its steps as it is made, so it is made anew; its flights are kept
        ladder = fly_ladder(made.files, made.result, setup, recovery, made.predictor())
        card = make_card(made.files, made.result, setup, ladder)
        page = words_of(card_page(laid_out(card, made.files.aeroplane), 9.0))
    assert left_in(page) == []
    assert "mph" in page


def test_the_console_in_inches_and_ounces(jet):
    with using_units("oz-in"):
        text = render(study_tables(result()))
        text += render(weigh_tables(weigh_set_up(jet, resolve_setup(jet))))
    assert left_in(text) == []


def test_a_replay_brings_its_units():
    flights = recordings()
    assert "units" not in packed_flights(flights)
    with using_units("oz-in"):
        units = packed_flights(flights)["units"]
        section = replay_section(flights)
    assert units["height"]["each"] == pytest.approx(1.0 / 0.3048)
    assert units["height"]["post"] == pytest.approx(50.0 * 0.3048)
    assert units["speed"]["symbol"] == "mph"
    assert section is not None


def test_an_axis_has_round_ticks_in_its_unit():
    _, axes = one_axes(4.0, 3.0)
    axes.set_xlim(100.0, 200.0)
    before = list(axes.get_xticks())
    in_units(axes.xaxis, LENGTH)
    assert list(axes.get_xticks()) == before
    with using_units("oz-in"):
        in_units(axes.xaxis, LENGTH)
        ticks = np.array(axes.get_xticks()) / 25.4
        said = [float(label.get_text()) for label in axes.get_xticklabels()]
    assert np.allclose(ticks * 2.0, np.round(ticks * 2.0))
    assert said == pytest.approx(ticks)


def test_heights_to_ask_for_are_rounded_up_and_limits_forward():
    assert asked_height(125.0, 121.0) == "125 m"
    assert interval_text(179.6, 190.2) == "95 % limits 179 to 190"
    with using_units("oz-in"):
        for metres in (30.0, 121.0, 121.92, 200.0):
            said, unit = asked_height(0.0, metres).split()
            assert -1e-9 <= float(said) - HEIGHT.value(metres) < 20.0
            assert unit == "ft"
        low, high = (float(x) for x in interval_text(179.6, 190.2).split()[3::2])
        assert (low, high) == (7.0, 7.45)
