"""The report: complete, self-contained, in plain words."""

import re
from dataclasses import replace
from html.parser import HTMLParser
from typing import get_args

import pytest
from markupsafe import Markup

from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.show.card.blocks import Block
from sim.show.card.page import TEMPLATES as CARD_TEMPLATES
from sim.show.report.beyond import departures
from sim.show.report.page import TEMPLATES as REPORT_TEMPLATES
from sim.show.report.page import page_html
from sim.show.report.parts import Part, Table, section
from sim.show.report.report import Inserts, report_html, save_report
from sim.show.words.findings.answer import answer_sentences
from sim.show.words.phrases import CAUTIONS
from tests.samples.results import named_by_file, result

RESULT = result()
JET = load_aeroplane("display_jet")
VOID = {"meta", "br", "img", "link", "input", "hr", "wbr"}


@pytest.fixture(scope="module", autouse=True)
def _unarranged(unarranged):
    """What a page says does not hang on where its figures have it."""


@pytest.fixture(scope="module")
def text():
    return report_html(RESULT, JET)


class _Nesting(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.faults, self.words, self.ids = [], [], [], []

    def handle_starttag(self, tag, attrs):
        self.ids += [value for key, value in attrs if key == "id"]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.ids += [value for key, value in attrs if key == "id"]

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data):
        self.words.append(data)


@pytest.fixture(scope="module")
def parsed(text):
    parser = _Nesting()
    parser.feed(text)
    return parser


def test_well_nested_with_names_used_once(parsed):
    assert not parsed.faults
    assert not parsed.open
    assert len(parsed.ids) == len(set(parsed.ids))


def test_says_everything(parsed):
    words = " ".join("".join(parsed.words).split())
    for x in RESULT.setups:
        assert x.name in words
    for line in (*answer_sentences(RESULT), *CAUTIONS):
        assert line in words
    for title in (
        "The answer", "What came back", "Height", "Aft limit by pack", "What going aft buys",
        "What each set-up is, and its trim", "Spins", "What decided it", "Assumptions",
        "Limits of the method", "Cautions",
    ):  # fmt: skip
        assert title in words
    for fact in (
        "Aft limit 200 mm (95 % limits 194 to 204)", "Met from 170 to 200 mm",
        "Best single recovery: centre all sticks",
        "NACA Report 273", "force of the wing at a given angle",
    ):  # fmt: skip
        assert fact in words
    for fact in ("seed 7", "0.1.0", "0123456789ab", "128 draws", "swing-test it"):
        assert fact in words
    assert "cannot be tested lawfully from 120 m here" in words
    assert "more than" in words
    assert " kept from an earlier run" not in words


def test_a_report_is_the_same_however_it_was_flown(text):
    assert "1536 flights." in text
    assert report_html(replace(RESULT, kept=1500, seconds=99.0), JET) == text


@pytest.mark.usefixtures("undrawn")
def test_sections_made_elsewhere_have_their_places():
    made = Inserts(*(section(f"made {name}") for name in ("replay", "departure", "spins")))
    text = report_html(RESULT, JET, inserts=made)
    order = [
        ">Height<", "made replay", ">What going aft buys", "made departure", ">Spins<",
        "made spins", ">What decided it",
    ]  # fmt: skip
    places = [text.index(word) for word in order]
    assert places == sorted(places)


def test_every_cell_names_its_column_for_a_phone():
    table = Table("weights", ("name", "mass, <g>"), [("wing", "340")])
    text = page_html("", "", "", [section("Weights", table)])
    assert '<td data-head="mass, &lt;g&gt;">340</td>' in text


@pytest.mark.parametrize(
    ("kinds", "template"),
    [(Part, REPORT_TEMPLATES / "parts.html"), (Block, CARD_TEMPLATES / "card.html")],
)
def test_every_kind_of_part_has_its_markup(kinds, template):
    """The template would pass over one that it does not know."""
    asked = set(re.findall(r'x\.kind == "(\w+)"', template.read_text(encoding="utf-8")))
    assert asked == {x.kind for x in get_args(kinds) if x is not Markup}


@pytest.mark.usefixtures("undrawn")
def test_a_slip_of_the_unit_is_told_first(text):
    surfaces = tuple(
        x.model_copy(update={"panel_span_mm": 57.5}) if x.name == "wing" else x
        for x in JET.surfaces
    )
    slipped = report_html(RESULT, JET.model_copy(update={"surfaces": surfaces}))
    assert slipped.index("Doubtful: surfaces.wing.panel_span_mm") < slipped.index("Pack 6s_4000")
    assert "Doubtful" not in text


@pytest.mark.usefixtures("undrawn")
def test_weak_correlations_are_not_listed(text):
    few = report_html(replace(RESULT, factor_draws=8), JET)
    assert "Nothing stands out. What is not listed may matter too: 8 draws cannot tell" in few
    assert "rank correlation</th>" not in few
    assert "rank correlation</th>" in text


def test_needs_no_network(text):
    assert "http" not in text
    assert not re.search(r"\b(src|srcset|action)\s*=", text)
    assert not re.search(r'href="(?!#)', text)
    assert "@import" not in text
    assert "url(" not in re.sub(r"url\(#[^)]+\)", "", text)
    assert "<script" not in text


def test_figures_have_words_for_those_who_cannot_see(text):
    labels = re.findall(r'role="img" aria-label="([^"]+)"', text)
    assert len(labels) == text.count("<svg") >= 5
    assert all(len(label) > 40 for label in labels)


def test_written_text_is_escaped(text):
    assert "How far aft &amp; how high?" in text
    assert "&lt;for the display&gt;" in text
    assert "<for the display>" not in text


def test_forbidden_word(text):
    assert "safe" not in text.lower()


@pytest.mark.usefixtures("undrawn")
def test_saved_whole(tmp_path):
    path = save_report(RESULT, JET, tmp_path / "deep" / "report.html")
    assert path.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert [p.name for p in path.parent.iterdir()] == ["report.html"]


def test_a_study_of_limits_alone():
    only = replace(RESULT, setups=())
    text = report_html(only, JET)
    assert "no aft limit found over all of" in text
    assert "What came back" not in text


def test_nothing_names_a_manoeuvre_by_the_ending_of_its_file():
    found = named_by_file(RESULT)
    inserts = Inserts(departure=departures(found, [assemble(JET, "club")] * len(found.setups)))
    told = report_html(found, JET, inserts=inserts)
    assert ".toml" not in told
    assert "own/" not in told
