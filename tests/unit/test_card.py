"""The flight card: it says everything, fits one page, and nothing is cut off."""

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from math import cos, radians

import numpy as np
import pytest
from card_sample import RECOVERY, limit, sample

from sim.cli import main
from sim.describe import FileFault, bundled, load_aeroplane
from sim.show.canvas import one_axes
from sim.show.card import make_card, timer_text
from sim.show.card_page import card_page
from sim.show.card_pdf import card_pdf, front, ladder_sheets
from sim.show.finger_view import finger_right_mm, finger_view
from sim.show.phrases import CAUTION, share_text
from sim.show.sheet import Sheet, broken, text_width_mm
from sim.study.ladder import fly_ladder
from sim.study.saved import find_flown
from sim.study.writing import write_study

JET = load_aeroplane("display_jet")
VOID = {"meta", "br"}


@pytest.fixture(scope="module")
def study():
    return sample()


@pytest.fixture(scope="module")
def cards(study):
    """The cards of a set-up fit to be flown, of one far aft, and of one aft of a limit."""
    out = {
        name: make_card(study.files, study.result, study.setup(name), study.ladder(name))
        for name in ("middle", "aft")
    }
    bound = replace(study.result, aft_limits=(limit(186.0),))
    found = study.setup("aft")
    ladder = fly_ladder(study.files, bound, found, RECOVERY, study.predictor())
    return {**out, "bound": make_card(study.files, bound, found, ladder)}


@pytest.fixture(scope="module")
def pages(cards):
    return {name: card_page(card, JET) for name, card in cards.items()}


def everything(card):
    """Return all text of a card."""
    parts = [card.title, card.setup, card.verdict, card.order, *card.answer, card.caution]
    for pairs in (card.weights, card.speeds):
        parts += [text for pair in pairs for text in pair]
    for rows in (card.throws, card.gyro, card.heights, card.overleaf):
        parts += [cell for row in rows for cell in row]
    parts += [card.throws_note, card.gyro_note, card.heights_note, *card.recovery, *card.aborts]
    parts += [card.ladder.intro, card.ladder.ending, card.small_print]
    for step in card.ladder.steps:
        parts += [step.heading, *(text for row in step.rows for text in row)]
    return " ".join(parts)


def test_says_everything_a_spotter_needs(study, cards):
    text = everything(cards["middle"])
    found = study.setup("middle")
    for wanted in (
        "canister 40 g, 660 mm aft of the datum", "leading edge of the wing at the centreline",
        f"{found.balance_aft_mm:.0f} mm aft of the datum", f"{found.mass_g:.0f} g",
        "behind the front end of the tray", "6 cells, 3300 mAh, 535 g", "ON, rate mode",
        "a wing drops more than 60°", "a cell is under 3.5 V", "any buzz", "33 % of the travel",
        "floor, 40 m", f"{1.3 * found.stall_speed_mps:.1f} m/s", "seed 11", CAUTION,
    ):  # fmt: skip
        assert wanted in text
    worst = min(found.cases, key=lambda c: c.shares.back_low)
    assert share_text(worst.shares) in text


def test_gains_fall_with_the_throttle_as_the_schedule_says(cards):
    # 0.04, 0.05 and 0.06 in the aeroplane's file, times 1.0, 0.8 and 0.6
    assert cards["middle"].gyro == (
        ("idle", "0.040", "0.050", "0.060"),
        ("half", "0.032", "0.040", "0.048"),
        ("full", "0.024", "0.030", "0.036"),
    )
    assert cards["aft"].gyro == ()
    assert cards["aft"].gyro_note.startswith("OFF")


def test_what_needs_more_than_the_ceiling_is_not_to_be_flown(study, cards):
    case = next(c for c in study.setup("middle").cases if c.manoeuvre == "incipient_spin")
    assert case.entry_height_needed_m.p95 > 120.0  # or there is nothing to refuse here
    row = next(r for r in cards["middle"].heights if r[0] == case.manoeuvre_title)
    assert row[-1] == "cannot be tested lawfully at this height here"


def test_flights_that_never_came_back_are_more_than_a_height(cards):
    assert any(row[2].startswith("more than") for row in cards["aft"].heights)
    assert any(row[-1].startswith("DO NOT FLY") for row in cards["aft"].heights)


def test_a_set_up_its_ladder_does_not_reach_is_not_to_be_flown(cards):
    assert cards["aft"].order.startswith("NOT TO BE FLOWN")
    assert cards["aft"].ladder.ending.startswith("STOP BEFORE")
    bound = cards["bound"]
    assert "this set-up lies 49 mm aft of it" in " ".join(bound.answer)
    assert bound.ladder.ending == (
        "STOP THERE. The wanted 235 mm lies aft of the aft limit shown for this pack, 186 mm: "
        "it is not to be flown."
    )
    assert cards["middle"].order.startswith("Fly it only at the end of the ladder")


def test_forbidden_word(cards):
    assert all("safe" not in everything(card).lower() for card in cards.values())


def test_timer_is_shorter_than_cruise_and_in_half_minutes():
    assert timer_text(10.0).startswith("6:00 min")
    assert timer_text(7.4).startswith("4:00 min")
    assert "not known" in timer_text(0.0)


# ------------------------------------------------------------------------- on paper
@pytest.mark.parametrize("name", ["middle", "aft", "bound"])
def test_card_fits_one_page_in_letters_for_arms_length(cards, name):
    sheet = front(cards[name], JET)
    assert sheet.room_mm >= 0.0
    assert sheet.size >= 11.0
    for page in (sheet, *ladder_sheets(cards[name])):
        assert_inside(page)


def assert_inside(sheet: Sheet):
    """All text lies within what both A4 and Letter print."""
    sheet.figure.set_dpi(600)  # fine enough for letters to have their own width
    renderer = sheet.figure.canvas.get_renderer()
    per_mm = sheet.figure.dpi / 25.4
    boxes = [t.get_window_extent(renderer) for t in sheet.figure.texts if t.get_text().strip()]
    assert boxes
    for box in boxes:
        assert box.x0 >= 11.0 * per_mm
        assert box.x1 <= (210.0 - 11.0) * per_mm
        assert box.y0 >= 9.0 * per_mm  # Letter is 18 mm shorter than A4
        assert box.y1 <= (297.0 - 9.0) * per_mm


def test_an_overfull_card_still_is_one_page(cards):
    card = cards["middle"]
    full = replace(card, weights=card.weights * 2, recovery=card.recovery * 3)
    sheet = front(full, JET)
    assert sheet.room_mm >= 0.0
    assert sheet.size < front(card, JET).size
    assert_inside(sheet)


def test_pdf_has_its_fonts_and_as_many_pages_as_told(cards):
    data = card_pdf(cards["middle"], front(cards["middle"], JET))
    assert data.startswith(b"%PDF")
    assert b"/FontFile2" in data
    pages = len(re.findall(rb"/Type /Page\b(?!s)", data))
    assert pages == 1 + len(ladder_sheets(cards["middle"]))
    assert b"/MediaBox [ 0 0 595.27" in data  # A4 is 595.28 x 841.89 points


def test_lines_are_broken_to_the_width_and_units_stay():
    text = "the pack lies 127 mm ahead of the datum and 203 mm behind the front end"
    for width in (30.0, 45.0, 80.0):
        lines = broken(text, width, 11.0)
        assert all(text_width_mm(line, 11.0) <= width * 1.01 for line in lines)
        assert " ".join(lines).replace("\u00a0", " ") == text
        assert not any(line.startswith("mm") for line in lines)


class _Nesting(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.faults, self.words = [], [], []

    def handle_starttag(self, tag, attrs):
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data):
        self.words.append(data)


def test_page_is_whole_self_contained_and_says_the_same(cards, pages):
    for name, text in pages.items():
        parser = _Nesting()
        parser.feed(text)
        assert (parser.faults, parser.open) == ([], [])
        assert "http" not in text
        assert "<script" not in text
        words = " ".join("".join(parser.words).replace("\u00a0", " ").split())
        card = cards[name]
        for line in (card.verdict, card.order, *card.answer, *card.recovery, *card.aborts):
            assert line in words
        for step in card.ladder.steps:
            assert step.heading in words
    assert "$10 canister &lt;&amp;&gt; more" in pages["middle"]


# ---------------------------------------------------------------------- the drawing
@pytest.mark.parametrize("name", bundled("aeroplanes"))
def test_fingers_are_under_the_wing_beside_the_body(name):
    aeroplane = load_aeroplane(name)
    wing = aeroplane.surfaces_as("wing")[0]
    balance = 0.5 * wing.root_chord_mm
    out = finger_right_mm(aeroplane, balance)
    front_there = (out - wing.root_right_mm) * np.tan(radians(wing.sweep_deg))
    assert out < wing.panel_span_mm * cos(radians(wing.dihedral_deg))
    assert front_there < balance
    figure, axes = one_axes(3.0, 3.0)
    finger_view(axes, aeroplane, balance)
    fingers = [p.center for p in axes.patches if hasattr(p, "radius")]
    assert sorted(fingers) == [(-out, -balance), (out, -balance)]
    assert f"{balance:.0f} mm" in [t.get_text() for t in axes.texts]
    figure.canvas.draw()


# -------------------------------------------------------------------- command and files
def run(capsys, *arguments):
    code = main(list(arguments))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_command_writes_page_pdf_and_json(study, capsys, tmp_path):
    write_study(study.result, study.folder)
    record = tmp_path / "card.json"
    code, out, err = run(
        capsys, "card", str(study.folder), "--setup", "middle", "--out", str(tmp_path),
        "--json", str(record),
    )  # fmt: skip
    content = json.loads(record.read_text())
    assert (code, err) == (0, "")
    assert "flown again" not in out
    assert (tmp_path / "card_middle.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "card_middle.html").read_text().startswith("<!doctype html>")
    assert {"schema", "version", "throws", "ladder", "balance_aft_mm"} <= set(content)
    (step,) = content["ladder"]["steps"]
    assert step["fly"]["flights"] == 32
    assert step["tail_deg"]["p10"] < step["tail_deg"]["median"] < step["tail_deg"]["p90"]


@pytest.mark.parametrize(
    ("name", "said"),
    [("midle", "did you mean 'middle'"), ("club", "set-ups: middle, aft")],
)
def test_unknown_set_up_is_told_before_anything_is_flown(study, capsys, name, said):
    write_study(study.result, study.folder)
    code, out, err = run(capsys, "card", str(study.folder), "--setup", name)
    assert (code, out) == (2, "")
    assert said in err


def test_a_study_not_flown_is_told(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    code, _, err = run(capsys, "card", "first_look", "--setup", "small_aft")
    assert code == 2
    assert "first_look: has not been flown" in err
    code, _, err = run(capsys, "card", str(tmp_path), "--setup", "small_aft")
    assert code == 2
    assert "holds no results.json" in err


def test_a_changed_study_file_is_refused(study, tmp_path):
    write_study(study.result, tmp_path)
    text = (study.folder / "carded.toml").read_text()
    path = tmp_path / "carded.toml"
    path.write_text(text)
    assert find_flown(str(path), tmp_path).folder == tmp_path
    assert not find_flown(str(tmp_path)).stale
    path.write_text(text.replace("seed = 11", "seed = 12"))
    with pytest.raises(FileFault, match=r"has changed since it was flown \(seed\)"):
        find_flown(str(tmp_path))


def test_results_of_another_program_are_flown_again(study, tmp_path):
    old = replace(study.result, sources=(("program and tables", "0" * 16),))
    write_study(old, tmp_path)
    path = tmp_path / "carded.toml"
    path.write_text((study.folder / "carded.toml").read_text())
    assert find_flown(str(tmp_path)).stale
