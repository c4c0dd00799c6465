"""What is written for programs: absent numbers are null, and history has its columns."""

import math

import pytest

from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.record.changes import changes_json, rounded
from sim.record.deep_stall import deep_stall_json
from sim.record.flight import history_csv, weigh_json
from tests.samples.results import changes


@pytest.mark.parametrize("value", [None, math.inf, math.nan])
def test_what_is_no_number_is_null(value):
    assert rounded(value, 2) is None
    assert rounded(1.236, 2) == 1.24


def test_a_refused_change_has_no_numbers():
    lines = changes_json(changes())["lines"]
    assert [line["balance_aft_mm"] for line in lines] == [165.0, 180.0, None, 195.0]


def test_no_deep_stall_is_null():
    assert deep_stall_json(None) is None


def test_a_history_has_a_line_a_tick_and_a_mass_its_grams():
    ready = assemble(load_aeroplane("club_sport"))
    assert weigh_json(ready.weighed)["mass_g"] == pytest.approx(1000 * ready.weighed.mass_kg, abs=1)
    flight = fly_one(ready, load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks"))
    lines = history_csv(flight).splitlines()
    assert len(lines) == 1 + len(flight.history)
    assert {line.count(",") for line in lines} == {lines[0].count(",")}
