"""What is told of what set-ups can do: numbers, shares, and what they cannot."""

from dataclasses import replace

import numpy as np

from sim.core import measured_layout as m
from sim.core.script_layout import STATUS_DONE
from sim.record.models.agility import agility_row
from sim.show.console.console import render
from sim.show.console.results.agility import agility_tables
from sim.show.words.findings.agility import figure_text, flight_line, shortfalls
from tests.samples.agility import shown
from tests.samples.results import result, setup


def test_a_set_up_that_cannot_is_told_so_plainly():
    setups = [
        replace(setup("forward", 165.0, 0), agility=shown(62.0)),
        replace(setup("aft", 195.0, 0), agility=shown(95.0)),
    ]
    told = shortfalls(setups)
    assert told[0] == "Pull through does not reach 90°: forward (highest 66°)."
    assert told[1].startswith("Over does not turn over: forward (nose at most 66° off the path)")
    assert len(told) == 2


def test_what_none_of_many_can_do_is_told_in_one_line():
    setups = [
        replace(setup(name, 165.0, 0), agility=shown(deg))
        for name, deg in (("one", 50.0), ("two", 62.0), ("three", 55.0))
    ]
    told = shortfalls(setups)
    assert told[0] == (
        "Pull through does not reach 90° in any of the 3 set-ups (nearest: two, highest 66°)."
    )


def test_console_has_a_row_a_set_up():
    text = render(agility_tables(result()))
    assert "What each set-up can do, 16 draws each" in text
    assert "16/16 out" in text
    assert figure_text(result().setups[0].agility[0]) in text


def test_no_manoeuvre_no_table():
    bare = result()
    none = replace(bare, setups=tuple(replace(x, agility=()) for x in bare.setups))
    assert agility_tables(none) == []


def test_what_is_not_to_be_had_is_null():
    row = agility_row(shown(62.0, lost=16)[3]).model_dump()
    assert row["counted"]["median"] is None
    assert row["done"] == 16


def test_one_flight_says_whether_it_did_what_it_is_flown_for():
    row = np.zeros((1, m.N_MEASURED))
    row[0, m.M_STATUS] = STATUS_DONE
    row[0, m.M_ANGLE] = np.radians(35.0)
    row[0, [m.M_ANGLE_TIME, m.M_OVER_TIME]] = np.inf
    assert flight_line(row, "angle") == "It does not reach 90°: highest 35°."
    assert flight_line(row, "somersault").startswith("It does not turn over: nose at most 35°")
    row[0, [m.M_ANGLE, m.M_ANGLE_TIME]] = np.radians(100.0), 1.25
    assert flight_line(row, "angle").endswith("100° at most, in 1.2 s.")
