"""What is printed: sentences, tables, width, plainness."""

import io
import re
from dataclasses import replace

import pytest

from sim.describe import load_aeroplane
from sim.judge import Outcome, outcome
from sim.show.console.aeroplane.bench import weigh_tables
from sim.show.console.console import WIDTH, render, show
from sim.show.console.progress import StudyProgress
from sim.show.console.results.changes import limit_cell
from sim.show.console.results.study import stacked, study_tables
from sim.show.words.findings.answer import answer_sentences, headline
from sim.show.words.phrases import (
    CAUTION,
    limits_text,
    lost_texts,
    needed_texts,
    share_text,
    time_text,
)
from sim.show.words.places.limits import ends_cell
from sim.study.standing.outcomes import (
    best_case,
    best_recovery,
    setup_outcome,
    study_met,
    worst_case,
)
from sim.units.quantities import SPEED
from sim.weigh import weigh_set_up
from tests.samples.results import case, named_by_file, result, setup, summaries

RESULT = result()
TEXT = render(study_tables(RESULT))


def test_share_in_words_as_the_design_gives_it():
    # 61 of 64: Wilson limits 87.1 to 98.4 %, computed by hand from the formula
    shares = case("spin", "centre", summaries(64, 3, 20.0)).shares
    assert share_text(shares) == "61 of 64 came back (95 % limits 87-98 %): 3 never came back"


def test_lower_limit_is_rounded_down():
    assert limits_text(0.9496, 1.0) == "94-100 %"


def test_heights_without_end():
    some = case("spin", "centre", summaries(100, 20, 30.0))
    # 20 of 100 never came back; the 50th of the others is number 69: 0.6 (30 + 5 * 69 / 99) = 20.1,
    # told as 21: no height that is needed is rounded down
    assert lost_texts(some) == ("21", "more than 250")
    assert needed_texts(some) == ("74", "more than 340")
    none = case("spin", "centre", summaries(100, 100, 30.0))
    assert lost_texts(none) == ("never", "never")


def test_best_recovery_is_one_for_all_manoeuvres():
    club = setup("club", 195.0, 12)
    assert {c.recovery for c in best_recovery(club, 95.0)} == {"centre"}
    assert best_case(club, "spin", 95.0).shares.never == 12
    assert worst_case(best_recovery(club, 95.0), 95.0).manoeuvre == "spin"


@pytest.mark.parametrize(
    ("flights", "never", "stands"),
    # lower Wilson limits: 0 of 64 lost 94.3 %, 0 of 128 lost 97.1 %; 12 of 128: upper 94.6 %
    [(64, 0, Outcome.OPEN), (128, 0, Outcome.MET), (128, 12, Outcome.NOT_MET)],
)
def test_outcome(flights, never, stands):
    assert outcome(case("spin", "centre", summaries(flights, never, 30.0)).shares, 95.0) is stands


def test_outcomes_agree_with_the_study():
    met, not_met = Outcome.MET, Outcome.NOT_MET
    assert [setup_outcome(x, 95.0) for x in RESULT.setups] == [met, not_met, not_met]
    assert study_met(replace(RESULT, aft_limits=()))
    assert study_met(RESULT) is False  # an aft limit that was asked for was not found
    few = replace(RESULT.setups[0], cases=(case("spin", "centre", summaries(32, 0, 20.0)),))
    assert study_met(replace(RESULT, aft_limits=(), setups=(few,))) is None
    assert study_met(replace(RESULT, aft_limits=(), setups=RESULT.setups[1:])) is False


def test_answer_names_every_set_up_and_pack():
    lines = answer_sentences(RESULT)
    # and one line for the combination, one for the recovery
    assert len(lines) == len(RESULT.setups) + len(RESULT.aft_limits) + 2
    for name in ("forward", "club", "aft", "6s_4000", "6s_3300", "6s_5000"):
        assert any(name in line for line in lines)
    assert "aft limit 200 mm" in lines[0]
    assert "it can no longer be shown at 204 mm" in lines[0]
    assert "it cannot be shown already at 170 mm" in lines[1]
    assert "lies further aft" in lines[2]
    assert "1 met it in every manoeuvre (forward)" in headline(RESULT)


def test_width_and_words():
    assert max(len(line) for line in TEXT.splitlines()) <= WIDTH
    assert CAUTION.split(".")[0] in " ".join(TEXT.split())
    assert "safe" not in TEXT.lower()
    assert "Shown from: the height to fly it from" in TEXT
    # the answer and what to do first, the tables that decide it, and all in full at the end
    places = [TEXT.index(x) for x in ("In short", "Next: ", "Asked: ", "Aft limit by pack",
                                      "Height, m", "In full sentences", "Caution: ")]  # fmt: skip
    assert places == sorted(places)
    assert len(TEXT[: TEXT.index("Aft limit by pack")].splitlines()) <= 40
    assert "erect, flat" in TEXT
    assert "not found" in TEXT  # level flight of the last set-up


def test_wide_studies_still_fit():
    many = []
    for x in RESULT.setups:
        long = f"{x.name}_with_a_name_as_long_as_names_get"
        many.append(replace(x, name=long))
    wide = replace(RESULT, setups=tuple(many))
    text = render(study_tables(wide))
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    # nothing cut off at the right: last heading and last cell of the widest tables
    for whole in ("120 m\n", "wb/2V\n", " m/s\n", "yes\n", "NO\n", "0.14\n", "13.1\n"):
        assert whole in text


def test_plain_where_unicode_is_lacking():
    plain = render(study_tables(RESULT), unicode=False)
    assert plain.isascii()
    assert "\x1b" not in plain
    assert [len(a) for a in plain.splitlines()] == [len(a) for a in TEXT.splitlines()]
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    show(study_tables(RESULT), stream)


def test_a_resumed_study_says_what_was_kept():
    assert time_text(RESULT) == "1536 flights; 12 s."
    kept = replace(RESULT, kept=1536)
    assert time_text(kept) == "1536 flights, 1536 of them kept from an earlier run; 12 s."


def test_progress_says_nothing_where_there_is_no_terminal(capsys, monkeypatch):
    monkeypatch.setattr("sim.show.console.progress.is_cold", lambda: False)
    with StudyProgress() as progress:
        progress.watch.planned(100)
        progress.watch.ended(40)
        progress.watch.said("aft limit of 6s_3300")
    captured = capsys.readouterr()
    assert captured.out == captured.err == ""


def test_progress_counts_the_search_by_itself(monkeypatch):
    monkeypatch.setattr("sim.show.console.progress.is_cold", lambda: False)
    progress = StudyProgress()
    count = next(c for c in progress._bar.columns if type(c).__name__ == "_Count")

    def line():
        return count.render(progress._bar.tasks[0]).plain

    progress.watch.planned(100)
    progress.watch.ended(40)
    assert line() == "40 of 100 flights"
    progress.watch.said("aft limit of 6s_3300")
    progress.watch.ended(16)
    assert line() == "16 flights so far"


class _Terminal(io.StringIO):
    encoding = "utf-8"

    def isatty(self):
        return True


def test_no_colour_where_asked(monkeypatch):
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLUMNS", "160")
    monkeypatch.setenv("NO_COLOR", "1")
    stream = _Terminal()
    show(study_tables(RESULT), stream)
    colours = [f"\x1b[{n}m" for n in (*range(30, 38), *range(90, 98))]
    assert not any(colour in stream.getvalue() for colour in colours)
    assert "\x1b[38;" not in stream.getvalue()


@pytest.mark.parametrize(
    ("columns", "widest"), [("80", 80), ("120", 120), ("400", 132), ("20", 60), ("100", 100)]
)
def test_a_terminal_is_filled_within_bounds(monkeypatch, columns, widest):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", columns)
    stream = _Terminal()
    show(study_tables(RESULT), stream)
    plain = re.sub(r"\x1b\[[0-9;]*m", "", stream.getvalue())
    lines = [line.rstrip() for line in plain.splitlines()]
    assert widest - 12 <= max(len(line) for line in lines) <= widest


def test_piped_output_is_a_hundred_columns_whatever_the_terminal(monkeypatch):
    monkeypatch.setenv("COLUMNS", "132")
    stream = io.StringIO()
    show(study_tables(RESULT), stream)
    assert 90 <= max(len(line) for line in stream.getvalue().splitlines()) <= WIDTH


def test_weights_are_printed_by_name():
    weighed = weigh_set_up(load_aeroplane("display_jet"))
    text = render(weigh_tables(weighed))
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    for name in {row.name for row in weighed.rows}:
        assert name in text
    assert f"{1000.0 * weighed.mass_kg:.0f} g" in text
    assert "-0 " not in text


def test_what_differs_between_set_ups_stands_in_one_table():
    gyro = "gyro on, rate (roll 0.1)"
    two = (RESULT.setups[0], replace(RESULT.setups[1], gyro=gyro, added_weights=()))
    text = render(study_tables(replace(RESULT, setups=two)))
    what = text[text.index("What each set-up is") : text.index("Weight and balance")]
    assert "loose weights" in what
    assert "gyro" in what
    assert "throws" not in what  # the same in both: told once, below
    assert "The same in all: tail 14/12°; nozzle as built." in " ".join(text.split())
    speed = SPEED(RESULT.setups[0].trim.speed_mps)
    assert f"stick fixed; the first two level at {speed}" in " ".join(text.split())
    # what balances it never hides what is carried
    assert "canister 40 g at 660 mm; for balance 54 g" in " ".join(what.split())


def test_what_decides_the_answer_stands_alone_unless_all_is_asked_for():
    short, whole = (render(study_tables(RESULT, whole=x)) for x in (False, True))
    for told in ("In short", "Came back, by manoeuvre", "Height, m", "Caution: "):
        assert told in short
    for told in ("Before and after", "In full sentences", "Flight time"):
        assert told in whole
        assert told not in short
    assert "in the report, or here with" in short
    assert len(short.splitlines()) < 0.6 * len(whole.splitlines())


def test_every_change_has_a_line_with_what_it_moved():
    text = render(study_tables(RESULT))
    block = text[text.index("Before and after: from forward") :]
    assert "pack 6s_3300" in block
    assert "(+15)" in block  # 165 to 180 mm
    assert "(-4.8)" in block  # 12.9 to 8.1 % MAC
    assert "none\n" in block[: block.index("In brackets")]  # no height shows it
    assert "194-204" in block
    assert "gyro on: cannot be" in block


def test_why_flights_were_lost_is_counted():
    shares = case("spin", "centre", summaries(64, 3, 20.0)).shares
    assert (shares.never, shares.below_floor, shares.entry_used) == (3, 0, 0)
    text = " ".join(TEXT.split())
    assert "club, spin: 12 never came back." in text
    assert "aft, spin: 128 never came back." in text


def test_limit_that_was_searched_in_vain_is_not_told_as_not_searched():
    line = result().changes[0].lines[1]
    assert limit_cell(line) == "-"
    assert limit_cell(replace(line, limit_fails_mm=150.0)) == "none found:\nnot shown at 150"
    open_ended = replace(line, limit_mm=204.0, limit_at_end=True)
    assert limit_cell(open_ended) == "beyond 204\nnot found"
    assert limit_cell(replace(open_ended, limit_low_mm=198.7)) == (
        "beyond 204\nfrom 198,\nupper one\nnot found"
    )


def test_no_question_mark_stands_for_a_limit_that_was_not_found():
    assert ends_cell(78.96, 190.2) == "78-190"
    assert ends_cell(None, 190.2) == "up to 190,\nlower one\nnot found"
    assert "-?" not in TEXT


def test_name_of_a_file_heads_a_column_without_its_ending():
    assert stacked("own/reed_turn.toml") == "reed turn" == stacked("reed_turn")


def test_no_table_names_a_manoeuvre_by_the_ending_of_its_file():
    told = render(study_tables(named_by_file(RESULT)))
    assert ".toml" not in told
    assert "own/" not in told
