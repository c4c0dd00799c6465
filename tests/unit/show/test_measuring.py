"""What measuring would change, as console, report and records tell it."""

from dataclasses import replace

import pytest

from sim.describe import load_aeroplane
from sim.pack.measurable import Measurement
from sim.pack.unknowns import Effect, Unknown
from sim.record.models.measuring import measuring_row
from sim.record.models.unknowns import unknown_rows as unknown_records
from sim.show.console.aeroplane.unknowns import unknown_tables
from sim.show.console.results.measuring import measuring_tables
from sim.show.report.answer import answer
from sim.show.report.measuring import measuring as measuring_section
from sim.show.report.parts import Paragraph
from sim.show.words.findings.answer import answer_sentences
from sim.show.words.findings.measuring import measuring_line, measuring_sentences, told_limit
from sim.show.words.unknowns import unknown_rows, unknown_sentences
from sim.study.results.measuring import Promise
from tests.samples.measuring import measuring, promise
from tests.samples.results import result


def told(found):
    """Return the sample study with what measuring would change of its first limit."""
    study = result()
    first, *others = study.aft_limits
    return replace(study, aft_limits=(replace(first, measuring=found), *others))


@pytest.fixture(scope="module")
def worth():
    return told(measuring(promise()))


def test_the_first_line_says_what_to_measure_and_what_the_limit_becomes(worth):
    line = measuring_line(worth)
    assert line == (
        "Worth measuring first: the wing's section (thickness with callipers). The aft limit of "
        "pack 6s_4000 becomes 204 mm (95 % limits 199 to 208) instead of 200 mm (95 % limits 194 "
        "to 204), if it comes out as it stands in the file (reckoned)."
    )
    assert line in answer_sentences(worth)
    parts = answer(worth, load_aeroplane("display_jet")).parts
    assert line in [x.text for x in parts if isinstance(x, Paragraph)]


def test_rows_say_whether_it_is_assumed_and_sentences_hold_the_rest(worth):
    section = measuring_section(worth)
    table = section.parts[0]
    assert table.rows == [
        ["the wing's section", "assumed", "thickness with callipers", "21 %", "204", "199-208"]
    ]
    said = " ".join(measuring_sentences(told_limit(worth), worth))
    for text in (
        "48 % is the method's own, which no measuring shrinks",
        "1 % is the pilot's and the day's",
        "force beyond the stall (20 %)",
        "only flying tells more: force beyond the stall (sink of a held stall).",
        "the 46 draws that its search lost; nothing was flown again",
        "the limit moves aft by 4.0 mm (95 % limits 2.1 to 5.9)",
    ):
        assert text in said
    assert measuring_tables(worth)[0].row_count == 1


def test_nothing_worth_measuring_is_said_as_that():
    study = told(measuring())
    line = measuring_line(study)
    assert line.startswith("No single measurement would move the aft limit of pack 6s_4000")
    said = measuring_sentences(told_limit(study), study)
    assert said[0] == line
    assert "The most that any one would move it: the wing's section" in said[1]
    assert [type(x).__name__ for x in measuring_section(study).parts] == ["Bullets"]


def test_where_nothing_stands_out_nothing_is_claimed():
    study = told(replace(measuring(), nearest=None, own=()))
    said = measuring_sentences(told_limit(study), study)
    assert said == [measuring_line(study)]
    assert "cannot be told from the 46 draws" in said[0]


def test_a_study_that_cannot_tell_says_nothing():
    study = result()
    assert told_limit(study) is None
    assert measuring_line(study) == ""
    assert measuring_tables(study) == []
    assert measuring_section(study) is None
    assert measuring_row(None) is None


def test_today_s_pack_is_told_of():
    study = result()
    limits = tuple(replace(x, measuring=measuring(promise())) for x in study.aft_limits)
    study = replace(study, aft_limits=limits, today="club")
    setups = tuple(replace(x, pack="6s_5000") for x in study.setups)
    assert told_limit(study).pack == "6s_4000"
    assert told_limit(replace(study, setups=setups)).pack == "6s_5000"


def test_the_record_keeps_keys_and_fractions():
    best: Promise = promise()
    row = measuring_row(measuring(best)).content()
    assert row["promises"][0]["keys"] == ["surfaces.wing.section"]
    assert (row["promises"][0]["aft_mm"], row["promises"][0]["aft_low_mm"]) == (204.0, 199)
    assert row["own"][1] == {"name": "carry_over", "text": row["own"][1]["text"], "measure": "",
                             "share": 0.1}  # fmt: skip


def test_weighing_lists_what_it_can_tell_and_names_the_rest():
    swing = Measurement("pitch_swing", "spread of the mass", "swing it", True, (), ())
    section = Measurement("wing_section", "the wing's section", "callipers", True, ("k",), ())
    found = (
        Unknown(swing, (Effect("pitch inertia", "%", 39.0, 10.0, 29.0),
                        Effect("balance point", "mm", 2.0, 1.0, 0.4))),
        Unknown(section, ()),
    )  # fmt: skip
    assert unknown_rows(found) == [
        ("spread of the mass", "swing it",
         "pitch inertia ±39 %, then ±10 %\nbalance point ±2.0 mm, then ±1.0 mm")
    ]  # fmt: skip
    said = unknown_sentences(found)
    assert "shows nothing: the wing's section (callipers)." in said[1]
    assert unknown_tables(found)[0].row_count == 1
    assert [x.content()["effects"] for x in unknown_records(found)][1] == []
    everything = unknown_sentences(())
    assert len(everything) == 1
    assert "counts as measured" in everything[0]


def test_without_an_aft_limit_it_says_why_nothing_is_told():
    limits = tuple(replace(x, aft_mm=None, measuring=None) for x in result().aft_limits)
    assert "is not told: it is reckoned from" in measuring_line(
        replace(result(), aft_limits=limits)
    )
    assert measuring_line(replace(result(), aft_limits=())) == ""
