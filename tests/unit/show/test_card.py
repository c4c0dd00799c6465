"""The flight card: it says everything, fits one page, and nothing is cut off."""

import math
import re
from dataclasses import replace
from html.parser import HTMLParser
from math import cos, radians
from typing import NamedTuple

import numpy as np
import pytest
from fontTools.ttLib import TTFont
from pypdfium2 import PdfDocument

from sim import tables
from sim.cli import main
from sim.core import script_layout as s
from sim.describe import bundled, load_aeroplane
from sim.judge import Outcome, looks_for, shares_of
from sim.landing.approach import approach_speed
from sim.landing.forward import CheckLimit, ForwardLimit
from sim.pack.assemble import assemble
from sim.record.models.beyond import assembled_setups
from sim.record.study import study_record, write_study
from sim.show.card.answer import verdict_text
from sim.show.card.blocks import Words, laid_out
from sim.show.card.card import make_card, timer_text
from sim.show.card.glued import glued
from sim.show.card.page import card_page
from sim.show.card.pdf import (
    FACES,
    FONTS,
    LETTERS,
    card_pdf,
    fitting_letters,
    ladder_letters,
    measuring,
)
from sim.show.card.record import card_record
from sim.show.card.rules import abort_rules
from sim.show.console.progress import COMPILING
from sim.show.drawing.canvas import one_axes
from sim.show.figures.finger_view import draw_finger_view, finger_right_mm
from sim.show.words.phrases import CAUTION, share_text
from sim.show.words.recovery.fly_from import shown_from_cell
from sim.study.combinations import own_setup
from sim.study.forward import Fast
from sim.study.ladder.fit import End, Refused
from sim.study.ladder.ladder import fly_ladder
from sim.study.ladder.predictions import Band
from sim.study.ladder.trims import share_of_travel, trim_rule
from sim.study.standing.outcomes import setup_outcome, worst_case
from tests.samples.cards import RECOVERY, each_stall_once, limit, sample
from tests.samples.records import valid

JET = load_aeroplane("display_jet")
VOID = {"meta", "br", "wbr"}


@pytest.fixture(scope="module", autouse=True)
def _each_stall_once(brief):
    with each_stall_once():
        yield


@pytest.fixture(scope="module")
def study():
    return sample()


@pytest.fixture(scope="module")
def cards(study):
    """The cards of a set-up fit to be flown, of one far aft, and of one aft of its limit."""
    out = {
        name: make_card(study.files, study.result, study.setup(name), study.ladder(name))
        for name in ("middle", "aft")
    }
    bound = replace(study.result, aft_limits=(limit(study, "middle", 175.0),))
    found = study.setup("middle")
    ladder = fly_ladder(study.files, bound, found, RECOVERY, study.predictor())
    return {**out, "bound": make_card(study.files, bound, found, ladder)}


@pytest.fixture(scope="module")
def pages(cards):
    return {name: card_page(laid_out(card, JET)) for name, card in cards.items()}


def everything(card):
    """Return all text of a card."""
    parts = [card.title, card.setup, card.verdict, card.order, *card.answer, card.caution]
    for pairs in (card.weights, card.speeds):
        parts += [text for pair in pairs for text in pair]
    for rows in (card.throws, card.gyro, card.heights, card.overleaf):
        parts += [cell for row in rows for cell in row]
    parts += [
        card.throws_note,
        card.gyro_note,
        card.gyro_check,
        card.sticks_check,
        card.turns_check,
        card.heights_note,
        *card.recovery,
        *card.aborts,
    ]
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
        "from as far forward as it goes", "6 cells, 3300 mAh, 535 g", "ON, rate mode",
        "a wing drops more than 60°", "a cell is under 3.5 V", "any buzz", "33 % of travel",
        "floor, 55 m or 40 m", "seed 11", CAUTION,
            f"{approach_speed(assemble(JET, own_setup(study.files, 'middle'))):.1f} m/s",
            "Stick back, tail UP; stick right, right aileron UP; right rudder, rudder RIGHT",
            "nose up, tail DOWN; right wing down, right aileron DOWN; nose left, rudder RIGHT",
    ):  # fmt: skip
        assert wanted in text
    assert share_text(worst_case(found.cases, 95.0).shares) in text


def test_gains_fall_with_the_throttle_as_the_schedule_says(cards):
    # 0.04, 0.05 and 0.06 in the aeroplane's file, times 1.0, 0.8 and 0.6
    assert cards["middle"].gyro == (
        ("idle", "0.040", "0.050", "0.060"),
        ("half", "0.032", "0.040", "0.048"),
        ("full", "0.024", "0.030", "0.036"),
    )
    assert "aftlimit gains" in cards["middle"].gyro_check  # nobody has looked, so it says so
    assert (cards["aft"].gyro, cards["aft"].gyro_check) == ((), "")
    assert cards["aft"].gyro_note.startswith("OFF")


def test_what_needs_more_than_the_ceiling_is_not_to_be_flown(study, cards):
    case = next(c for c in study.setup("middle").cases if c.manoeuvre == "incipient_spin")
    assert case.entry_height_needed_m.p95 > 120.0  # or there is nothing to refuse here
    row = next(r for r in cards["middle"].heights if r[0] == case.manoeuvre_title)
    assert row[-1].startswith("cannot be tested lawfully here: shown from 1")
    assert row[3] == shown_from_cell(case, study.result)  # the number of the tables
    assert f"shown from {row[3]} m" in row[-1]  # and of the refusal beside it


def test_flights_that_never_came_back_are_more_than_a_height(cards):
    # of those that did come back, if any did
    assert any(row[2].startswith(("more than", "never")) for row in cards["aft"].heights)
    assert any(row[-1].startswith("DO NOT FLY") for row in cards["aft"].heights)


def test_a_set_up_that_does_not_meet_it_is_not_to_be_flown(cards):
    card = cards["aft"]
    assert card.verdict.startswith("DOES NOT MEET THE REQUIREMENT")
    assert card.order.startswith("NOT TO BE FLOWN: it does not meet the requirement in ")
    assert card.ladder.steps == ()
    assert card.ladder.ending.startswith("THERE IS NO STEP: it does not meet the requirement")
    assert card.aborts[-1] == "anything is not as printed: land, look, do not fly on"
    assert [x.split(":")[0] for x in card.mending][-1] == "Balance"
    assert "What to mend first stands overleaf." in card.order
    (shares,) = (c.shares for c in sample().setup("aft").cases if c.manoeuvre == "incipient_spin")
    assert shares.never > 20
    assert shares.hung_never > 0
    others = shares.never - shares.hung_never
    for count, why in ((others, "never came back"), (shares.hung_never, "hung in a deep")):
        assert f"{count} {why}" in card.ladder.ending
    hung = sum(int((c.rows[:, s.R_HUNG_FOR] > 0.0).sum()) for c in sample().setup("aft").cases)
    assert 10 < hung < 64
    assert any(line.startswith(f"DEEP STALL, {hung} of 64 hung: ") for line in card.answer)
    assert "BEHIND the stick-fixed neutral point, with gyro off" in " ".join(card.answer)


def test_aft_limit_with_its_interval_and_where_the_set_up_lies(cards):
    bound = cards["bound"]
    told = bound.answer[-1]
    assert "175 mm (95 % limits 170 to 181), in throttle chop stall" in told
    assert "this set-up lies 3 mm AFT of it" in told
    assert "not searched: incipient spin" in told
    assert "stick-fixed neutral point 210 mm" in told
    assert bound.verdict.startswith("LIES AFT OF ITS AFT LIMIT")
    assert bound.order.startswith("NOT TO BE FLOWN: it lies aft of its aft limit")
    assert bound.ladder.ending.startswith("STOP THERE: middle at 178 mm lies 3 mm aft of")
    assert bound.ladder.ending.endswith("It is NOT TO BE FLOWN.")
    assert "Steps 4 and 5: aft of 170 mm, and so inside the 95 % limits of" in bound.ladder.intro


def test_the_headline_says_how_it_lands_and_whether_there_is_a_window(study):
    """A hand-made forward limit: 4 mm behind the set-up as shown by draws; then nominally."""
    check = CheckLimit("touch-down", 0.0, 11.7, 1.0, 170.0, 182.0, 180.0, 184.0)
    made = ForwardLimit(182.0, 180.0, 184.0, 18.0, 170.0, (check,), 256, 95.0, 100.0, ())
    found = replace(study.setup("middle"), forward=made)
    fast = Fast(4.0, ("touch-down",), 11.9, 13.2)
    whole = replace(study.ladder("middle"), fast=fast, limit=limit(study, "middle", 181.0))
    steps = (replace(whole.steps[0], fast=fast), *whole.steps[1:])
    ladder = replace(whole, steps=steps)
    card = make_card(study.files, study.result, found, ladder)
    assert card.verdict == "MEETS THE REQUIREMENT (at least 95 % back); LANDS FAST; NO WINDOW"
    for told in (
        card.order,
        dict(card.speeds)["Touch-down"],
        dict(card.ladder.steps[0].rows)["Land"],
    ):
        assert "13.2 m/s in 95 % of draws (nominal 11.9): touch down no slower" in told
    assert "not shown to hold off to the touch-down speed" in card.order
    late = replace(ladder, fast=replace(fast, checks=("rotation",)))
    told = make_card(study.files, study.result, found, late)
    assert "LIFTS ITS NOSE LATE" in told.verdict
    assert "Touch-down" not in dict(told.speeds)
    never = replace(found, forward=replace(made, nominal_mm=180.0))
    told = make_card(study.files, study.result, never, ladder)
    assert told.verdict.startswith("LIES FORWARD OF EVEN ITS NOMINAL FORWARD LIMIT")
    assert told.order.startswith("NOT TO BE FLOWN: it lies 4 mm forward of its forward limit")
    assert "182 mm (nominal, by the file's own values alone, 180 mm): even nominally" in told.order
    row = card_record(card, study.result, found, ladder)
    assert row.lands_fast.held_to_p95_mps == 13.2
    assert not card_record(told, study.result, never, ladder).to_be_flown


def test_a_way_that_lies_aft_of_a_limit_is_not_said_of_the_set_up_itself(study):
    # the limit lies aft of the set-up, its ladder ends at one all the same
    bound = replace(study.result, aft_limits=(limit(study, "middle", 184.0),))
    found = study.setup("middle")
    ladder = replace(study.ladder("middle"), end=End.LIMIT)
    told = verdict_text(bound, found, ladder)
    assert told.startswith("MEETS THE REQUIREMENT, BUT THE WAY TO IT LIES AFT OF A LIMIT")
    behind = replace(study.result, aft_limits=(limit(study, "middle", 164.0),))
    assert verdict_text(behind, found, ladder).startswith("LIES AFT OF ITS AFT LIMIT")


def test_only_the_limit_of_the_own_pack_and_combination_is_stated(study):
    other = replace(study.result, aft_limits=(limit(study, "aft", 200.0),))
    card = make_card(study.files, other, study.setup("middle"), study.ladder("middle"))
    assert card.answer[-1] == (
        "No aft limit was looked for with this set-up's pack, throws, nozzle, gyro and "
        "weights; those of other set-ups do not hold for it."
    )
    assert "200 mm" not in everything(card)


def test_a_limit_behind_the_neutral_point_says_so_and_with_which_gyro(study):
    found = limit(study, "middle", 216.0)  # the sample's neutral point is at 210 mm
    result = replace(study.result, aft_limits=(found,))
    ladder = replace(study.ladder("middle"), limit=found)
    told = " ".join(make_card(study.files, result, study.setup("middle"), ladder).answer)
    assert "the limit lies 6 mm BEHIND it, flown with gyro on, rate (roll 0.04" in told


def test_the_timer_is_reckoned_then_charged(study, cards):
    # a timer from level cruise loses aeroplanes; flown and charged it is right (common practice)
    told = dict(cards["middle"].speeds)["Timer"]
    time = study.setup("middle").flight_time
    middle = f"{time.minutes.middle:.1f}"
    assert told.startswith(f"{time.timer_min:g} min at first: reckoned {middle} (")
    assert time.timer_min <= time.minutes.low < time.minutes.middle < time.cruise_alone_min
    # a quarter stays in the pack, and an aged one holds 92 % of 3300 mAh
    usable = f"{0.75 * 0.92 * 3300:.0f}"
    assert told.endswith(f"Then fly 2 min, charge: timer min = 2 x {usable} / mAh put back")
    assert f"usable {usable} mAh (69 % of the label)" in cards["middle"].timer_note
    assert "60 % cruise at 28 m/s" in cards["middle"].timer_note


def test_the_charger_beats_what_was_assumed(study):
    flown = study.setup("middle")
    charged = replace(flown.flight_time, charged=(900.0, 2.0), timer_min=5.0)
    told = timer_text(replace(flown, flight_time=charged))
    assert told == "5 min, by 900 mAh put back after 2 min"


# ------------------------------------------- verdict, order, heights and ladder agree
def shaped(study, stands):
    """Return the study's result with its spin at a share that stands so, and the set-up."""
    back = {Outcome.MET: 128, Outcome.OPEN: 124, Outcome.NOT_MET: 60}[stands]

    def changed(case):
        if case.manoeuvre != "incipient_spin":
            return case
        low, high = looks_for(0.95, 128).limits(back, 128)
        shares = replace(
            case.shares, recovered=back - case.shares.held, lost=128 - back, never=128 - back,
            back_low=low, back_high=high,
        )  # fmt: skip
        rows = case.rows.copy()
        rows[back:, s.R_BACK] = 0.0
        return replace(case, shares=shares, rows=rows)

    found = study.setup("middle")
    found = replace(found, cases=tuple(changed(c) for c in found.cases))
    rest = [x for x in study.result.setups if x.name != "middle"]
    return replace(study.result, setups=(found, *rest)), found


def ends(study):
    """Return the sample's ladder as it would be with each end, and with no steps."""
    whole = study.ladder("middle")
    case = whole.steps[0].case
    found = limit(study, "middle", 175.0)
    for end in End:
        refused = None
        if end in (End.NOT_MET, End.UNDECIDED, End.FAILS, End.TOO_HIGH, End.TOO_FORWARD):
            refused = Refused(end, "balance from 175 to 178 mm", 178.0, case)
        some = whole.steps[:-1] if end is not End.REACHED else whole.steps
        for steps in (some, ()) if end is not End.REACHED else (some,):
            made = found if end is End.LIMIT else None
            yield replace(whole, end=end, steps=steps, refused=refused, limit=made)


@pytest.mark.parametrize("stands", list(Outcome))
def test_verdict_order_heights_and_ladder_never_contradict_each_other(study, stands):
    result, found = shaped(study, stands)
    assert setup_outcome(found, 95.0) is stands
    for ladder in ends(study):
        if ladder.reached and stands is not Outcome.MET:
            continue  # test_ladder: such a ladder is never made
        card = make_card(study.files, result, found, ladder)
        may = ladder.reached and stands is Outcome.MET
        assert card.verdict.startswith("MEETS THE REQUIREMENT (") == may
        assert card.order.startswith("Fly it only at the end of the ladder") == may
        assert card.order.startswith("NOT TO BE FLOWN: ") == (not may)
        assert (" no ladder" in card.order) == (not ladder.steps)
        assert card.ladder.ending.startswith("The last step is the wanted") == may
        assert ("NOT TO BE FLOWN" in card.ladder.ending) == (not may)
        assert any(re.match(r"\d+ m, floor", row[-1]) for row in card.heights) == may
        spin = next(row[-1] for row in card.heights if "spin" in row[0])
        assert spin.startswith("DO NOT FLY") == (stands is not Outcome.MET)
        if stands is Outcome.NOT_MET:
            assert card.verdict.startswith("DOES NOT MEET")
            assert "does not meet the requirement in incipient spin" in card.order
        if stands is Outcome.OPEN:
            assert card.verdict.startswith("UNDECIDED AFTER 128 DRAWS")
            assert "undecided after 128 draws; what has not been shown is not flown" in card.order


def test_an_abort_rule_does_not_end_what_the_ladder_expects(study, cards):
    (rule,) = [x for x in cards["middle"].aborts if x.startswith("trim at cruise beyond")]
    assert "EXPECTS MORE" not in rule
    assert "ALREADY BROKEN" not in rule
    whole = study.ladder("middle")
    assert dict(cards["middle"].speeds)["Cruise"] == f"{whole.speed_mps:.0f} m/s"
    step = whole.steps[0]
    seen = replace(step.seen, tail_deg=replace(step.seen.tail_deg, low=-5.0))  # 4.7 is a third
    ladder = replace(whole, steps=(replace(step, seen=seen), *whole.steps[1:]))
    card = make_card(study.files, study.result, study.setup("middle"), ladder)
    (rule,) = [x for x in card.aborts if x.startswith("trim at cruise beyond")]
    assert rule.endswith(". A step overleaf EXPECTS MORE: there, beyond what it says")


def test_an_abort_rule_that_todays_trim_breaks_says_so_in_its_place(study):
    whole = study.ladder("middle")
    broken = replace(whole, today_tail=Band(-9.0, -8.0, -7.0))
    card = make_card(study.files, study.result, study.setup("middle"), broken)
    (rule,) = [x for x in card.aborts if x.startswith("trim at cruise beyond")]
    assert f". ALREADY BROKEN as set up: {whole.today} 8.0° up (medians): DO NOT FLY A TEST" in rule
    assert "middle 8" not in rule
    travel = (14.0, 14.0)
    assert trim_rule(broken, travel, travel).broken == ((whole.today, -8.0),)
    assert abort_rules(study.setup("middle"), whole, None, None) == tuple(
        x for x in card.aborts if "trim at cruise" not in x
    )


def test_a_trim_expected_as_near_to_the_rule_as_a_surface_is_read_is_told_beside_it(study):
    # a third of 14 degrees is 4.67; a surface is read to a degree: common practice, no source
    whole, travel = study.ladder("middle"), (14.0, 14.0)
    close = replace(whole, today_tail=Band(-4.6, -4.2, -3.9))
    rule = trim_rule(close, travel, travel)
    assert (rule.broken, rule.near) == ((), ((whole.today, -4.2),))
    card = make_card(study.files, study.result, study.setup("middle"), close)
    (told,) = [x for x in card.aborts if x.startswith("trim at cruise beyond")]
    assert f"EXPECTED so near to it that the eye cannot tell: {whole.today} 4.2° up" in told
    assert trim_rule(replace(whole, today_tail=Band(-4.0, -3.5, -3.0)), travel, travel).near == ()
    # with the trailing edge down likewise
    down = replace(whole, today_tail=Band(4.0, 4.5, 4.6))
    assert trim_rule(down, travel, travel).near == ((whole.today, 4.5),)


def test_a_share_of_travel_is_of_the_way_that_the_surface_goes():
    assert share_of_travel(-6.0, (18.0, 9.0)) == pytest.approx(6.0 / 18.0)
    assert share_of_travel(6.0, (18.0, 9.0)) == pytest.approx(6.0 / 9.0)
    assert share_of_travel(1.0, (18.0, 0.0)) == math.inf


def test_where_only_the_height_is_wrong_it_says_how_much_is_needed(study):
    found = study.setup("middle")
    low = replace(found, cases=tuple(lowered(c, 90.0) for c in found.cases))
    result = replace(study.result, setups=(low, study.setup("aft")))
    assert setup_outcome(low, 95.0) is Outcome.NOT_MET
    ladder = fly_ladder(study.files, result, low, RECOVERY, study.predictor())
    card = make_card(study.files, result, low, ladder)
    need = next(r[-1] for r in card.heights if "spin" in r[0])
    assert re.fullmatch(r"DO NOT FLY: would meet it from 1[23]\d m", need)
    metres = need.removeprefix("DO NOT FLY: would meet it from ")
    assert f"it needs {metres} of entry height, and would meet it from there" in card.order


def lowered(case, entry_m):
    """Return a case as if the study had flown it from a lower height."""
    shares = shares_of(case.rows, entry_m, case.floor_m, looks_for(0.95, 128).limits)
    return replace(case, entry_m=entry_m, shares=shares)


def test_a_manoeuvre_not_flown_by_the_cards_recovery_is_told(study):
    found = study.setup("middle")
    stall = next(c for c in found.cases if c.manoeuvre == "throttle_chop_stall")
    other = replace(stall, recovery="rudder_forward", manoeuvre="slow_flight_gust",
                    manoeuvre_title="slow flight in a gust")  # fmt: skip
    more = replace(found, cases=(*found.cases, other))
    result = replace(study.result, setups=(more, study.setup("aft")))
    ladder = fly_ladder(study.files, result, more, RECOVERY, study.predictor())
    card = make_card(study.files, result, more, ladder)
    assert card.verdict.startswith("UNDECIDED")
    assert "NOT FLOWN by the recovery of this card: slow flight in a gust." in card.answer
    assert card.heights[0][-1] == "DO NOT FLY: not shown"  # what is not shown comes first
    assert "slow flight in a gust was not flown by this recovery" in card.ladder.ending


def test_forbidden_word(cards):
    assert all("safe" not in everything(card).lower() for card in cards.values())


# ------------------------------------------------------------------------- on paper
class Char(NamedTuple):
    """A printed letter and its box [mm from the lower left corner of the page]."""

    text: str
    left: float
    bottom: float
    right: float
    top: float


class Paper(NamedTuple):
    """A card on paper: the size of its letters [pt] and what its pages say."""

    letters: float
    pages: list[list[Char]]


@pytest.fixture(scope="module")
def papers(cards):
    return {name: on_paper(card) for name, card in cards.items()}


def on_paper(card):
    """Return a card as a reader of PDF files has it, letter by letter."""
    layout = laid_out(card, JET)
    letters = fitting_letters(layout.front)
    pages = []
    with PdfDocument(card_pdf(layout, letters)) as pdf:
        for page in pdf:
            words = page.get_textpage()
            boxes = [words.get_charbox(i) for i in range(words.count_chars())]
            told = [words.get_text_range(i, 1) for i in range(len(boxes))]
            pages.append([
                Char(text, *(25.4 / 72.0 * x for x in box))
                for text, box in zip(told, boxes, strict=True)
            ])  # fmt: skip
            words.close()
            page.close()
    return Paper(letters, pages)


def said(chars):
    """Return a page's text without blanks, which readers find differently."""
    return "".join("".join(x.text for x in chars).split())


@pytest.mark.parametrize("name", ["middle", "aft", "bound"])
def test_card_fits_one_page_in_letters_for_arms_length(cards, papers, name):
    letters, pages = papers[name]
    assert letters >= 11.0
    height = measuring().height_mm(laid_out(cards[name], JET).front, letters)
    assert height <= 297.0 - 2.0 * 14.0
    for page in pages:
        assert_inside(page)


def assert_inside(page):
    """All text lies within what both A4 and Letter print."""
    inked = [x for x in page if x.text.strip()]
    assert inked
    assert min(x.left for x in inked) >= 11.0
    assert max(x.right for x in inked) <= 210.0 - 11.0
    assert min(x.bottom for x in inked) >= 9.0  # Letter is 18 mm shorter than A4
    assert max(x.top for x in inked) <= 297.0 - 9.0


def test_a_ladder_spares_a_sheet_of_a_few_lines_by_smaller_letters():
    """A block of words as high as a sheet and a little more goes on one, in letters of 10 pt."""
    line = Words("A line of a ladder.")
    trial = measuring()
    high = trial.height_mm([line], LETTERS)
    fill = int((297.0 - 2.0 * 14.0) / high)
    assert ladder_letters([line] * fill) == LETTERS
    assert 10.0 <= ladder_letters([line] * (fill + 2)) < LETTERS
    assert ladder_letters([line] * round(1.5 * fill)) == LETTERS  # spares none


def test_an_overfull_card_still_is_one_page(cards, papers):
    card = cards["middle"]
    full = on_paper(replace(card, weights=card.weights * 2, recovery=card.recovery * 3))
    assert full.letters < papers["middle"].letters
    assert len(full.pages) == len(papers["middle"].pages)
    assert_inside(full.pages[0])


@pytest.mark.parametrize("name", ["middle", "aft", "bound"])
def test_paper_says_everything_and_cuts_no_step(cards, papers, name):
    card = cards[name]
    first, *ladder = [said(page) for page in papers[name].pages]
    for line in (card.verdict, card.order, *card.answer, *card.recovery, *card.aborts):
        assert "".join(line.split()) in first
    everywhere = first + "".join(ladder)
    for word in everything(card).split():
        assert word in everywhere
    for step in card.ladder.steps:
        told = "".join(f"{label}{text}" for label, text in step.rows)
        whole = "".join(f"{step.heading}{told}".split())
        assert any(whole in page for page in ladder)
    for row in card.heights:
        for cell in row:
            assert all(word in first for word in cell.split())


def test_pdf_has_its_fonts_and_is_the_same_whenever_it_is_made(cards):
    layout = laid_out(cards["middle"], JET)
    data = card_pdf(layout, 11.0)
    assert data.startswith(b"%PDF")
    assert data.count(b"/FontFile2") == 2
    assert b"/MediaBox [0 0 595.28 841.89]" in data  # A4
    assert card_pdf(laid_out(cards["middle"], JET), 11.0) == data


def test_every_character_has_a_letter_in_both_faces(cards):
    wanted = {ord(x) for card in cards.values() for x in everything(card)} | set(map(ord, "µ≤–±°"))
    for face in FACES.values():
        with TTFont(FONTS / face) as font:
            assert wanted <= set(font.getBestCmap())


def test_units_stay_with_their_numbers(papers):
    assert glued("127 mm ahead") == "127\u00a0mm ahead"
    assert glued("6 cells, 40 g/m") == "6 cells, 40 g/m"
    found = 0
    for page in papers["middle"].pages[1:]:  # the ladder: no columns beside each other
        text = "".join(x.text for x in page)
        for match in re.finditer(r"\d\s+(?=(mm|m/s|%|m)\b)", text):
            found += 1
            assert abs(page[match.start()].bottom - page[match.end()].bottom) < 2.0
    assert found > 20


def test_a_word_longer_than_its_line_is_cut(cards):
    card = replace(cards["aft"], setup="x" * 150)
    page = on_paper(card).pages[0]
    assert_inside(page)
    assert sum(x.text == "x" for x in page) >= 150


def test_long_names_do_not_run_into_the_fields_or_off_the_page(cards):
    long = "fiesta_with_a_camera_in_the_tail_and_the_heavy_pack"
    card = replace(cards["aft"], title="Garden kite, swept wing, and a title of some length",
                   setup=f"{long}: {long.replace('_', ' ')}")  # fmt: skip
    page = on_paper(card).pages[0]
    assert_inside(page)
    text = "".join(x.text for x in page)
    ends = [m.span() for m in re.finditer(r"Date _{14}|Pilot / spotter _{14}", text)]
    assert len(ends) == 2
    fields = [x for i, j in ends for x in page[i:j] if x.text.strip()]
    rest = [
        x for k, x in enumerate(page) if x.text.strip() and not any(i <= k < j for i, j in ends)
    ]
    assert len(rest) > 500
    beside = [x for x in rest if x.top > min(f.bottom for f in fields)]
    assert beside
    assert max(x.right for x in beside) < min(f.left for f in fields)


def test_what_is_not_met_stands_on_the_first_page(study):
    result, found = shaped(study, Outcome.NOT_MET)
    stall, spin = found.cases[::-1]
    many = tuple(
        replace(stall, manoeuvre=f"m{i}", manoeuvre_title=f"m{i}") for i in range(5)
    )  # fmt: skip
    more = replace(found, cases=(*many, spin))
    card = make_card(study.files, result, more, replace(study.ladder("aft"), setup="middle"))
    assert card.heights[0][0] == spin.manoeuvre_title
    assert len(card.heights) + len(card.overleaf) == 6


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
    assert "BEHIND the stick-fixed" in pages["aft"]
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
    draw_finger_view(axes, aeroplane, balance)
    fingers = [p.center for p in axes.patches if hasattr(p, "radius")]
    assert sorted(fingers) == [(-out, -balance), (out, -balance)]
    assert f"{balance:.0f} mm" in [t.get_text() for t in axes.texts]
    figure.canvas.draw()


# -------------------------------------------------------------------- command and files
def run(capsys, *arguments):
    code = main(list(arguments))
    out = capsys.readouterr()
    return code, out.out, out.err


def written(study):
    """Write the study's results, as the command does."""
    record = study_record(study.result, assembled_setups(study.files))
    write_study(record, study.result, study.folder)


def test_command_writes_page_pdf_and_json(study, capsys, tmp_path, monkeypatch):
    few = tables.gyro_loop().model_copy(update={"draws": 4, "kept_share": 0.3, "speeds": 2})
    monkeypatch.setattr(tables, "gyro_loop", lambda: few)
    written(study)
    record = tmp_path / "card.json"
    code, out, err = run(
        capsys, "card", str(study.folder), "--setup", "middle", "--out", str(tmp_path),
        "--json", str(record),
    )  # fmt: skip
    content = valid(record)
    assert code == 0
    told = [x for x in err.splitlines() if x != COMPILING]  # by whoever runs it first, alone
    assert all(re.match(r"\d+ s: ", line) for line in told)  # told where it takes long
    assert "flown again" not in out
    assert (tmp_path / "card_middle.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "card_middle.html").read_text().startswith("<!doctype html>")
    assert {"schema", "version", "throws", "ladder", "balance_aft_mm"} <= set(content)
    assert (content["outcome"], content["to_be_flown"]) == ("met", True)
    assert content["aft_limit"] is None
    assert content["gyro_check"]["checked"]
    assert [x["axis"] for x in content["gyro_check"]["axes"]] == ["roll", "pitch", "yaw"]
    assert f"Gyro, surface ° per °/s: {content['gyro_told']}" in " ".join(out.split())
    ladder = content["ladder"]
    assert (ladder["today"], ladder["today_named_by_the_study"]) == ("club", False)
    assert [x["change"] for x in ladder["steps"]] == [
        "today", "loose_weights", "pack", "gyro", "balance", "balance",
    ]  # fmt: skip
    step = ladder["steps"][-1]
    assert step["fly"]["flights"] == 32
    assert step["most_entry_height_needed_m"] <= step["fly"]["entry_m"]
    assert step["not_to_be_flown"] == {"incipient_spin": "too high"}
    assert step["tail_deg"]["p10"] < step["tail_deg"]["median"] < step["tail_deg"]["p90"]


@pytest.mark.parametrize(
    ("name", "said"),
    [("midle", "did you mean 'middle'"), ("club", "set-ups: middle, aft")],
)
def test_unknown_set_up_is_told_before_anything_is_flown(study, capsys, name, said):
    written(study)
    code, out, err = run(capsys, "card", str(study.folder), "--setup", name)
    assert (code, out) == (2, "")
    assert said in err


def test_the_cards_numbers_are_those_of_its_set_up(study, cards):
    found = study.setup("middle")
    told = card_record(cards["middle"], study.result, found, study.ladder("middle"))
    assert told.outcome is setup_outcome(found, study.result.required_share_pct)
    assert told.balance_aft_mm == pytest.approx(found.balance_aft_mm, abs=0.01)
    assert told.to_be_flown == study.ladder("middle").reached


def test_a_study_not_flown_is_told(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    code, _, err = run(capsys, "card", "first_look", "--setup", "small_aft")
    assert code == 2
    assert "first_look: has not been flown" in err
    code, _, err = run(capsys, "card", str(tmp_path), "--setup", "small_aft")
    assert code == 2
    assert "holds no results.json" in err
