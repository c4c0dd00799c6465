"""The report: complete, self-contained, in plain words."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from show_sample import result

from sim.describe import load_aeroplane
from sim.show.phrases import CAUTIONS, answer_sentences
from sim.show.report import report_html, save_report

RESULT = result()
JET = load_aeroplane("display_jet")
VOID = {"meta", "br", "img", "link", "input", "hr"}


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
    for section in (
        "The answer", "Where it balances", "What came back", "Height", "Aft limit by pack",
        "Trim and flight time", "Spins", "What decided it", "Assumptions", "Cautions",
    ):  # fmt: skip
        assert section in words
    for fact in ("seed 7", "0.1.0", "0123456789ab", "128 draws", "swing-test it"):
        assert fact in words
    assert "cannot be tested lawfully from 120 m here" in words
    assert "more than" in words


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


def test_saved_whole(tmp_path):
    path = save_report(RESULT, JET, tmp_path / "deep" / "report.html")
    assert path.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert [p.name for p in path.parent.iterdir()] == ["report.html"]


def test_a_study_of_limits_alone():
    only = replace(RESULT, setups=())
    text = report_html(only, JET)
    assert "none found for" in text
    assert "What came back" not in text
