"""What is written for programs: absent numbers are null, and history has its columns."""

import math

import pytest

from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.record.history import history_csv
from sim.record.models.changes import changes_row
from sim.record.models.deep_stall import deep_stall_row
from sim.record.models.trim import DepartureRow
from sim.record.models.weigh import weigh_record
from sim.trim.senses import senses
from tests.samples.results import changes, result


@pytest.mark.parametrize("value", [None, math.inf, math.nan])
def test_what_is_no_number_is_null(value):
    row = {"alpha_deg": 5.0, "cn_beta_dyn_per_deg": 1.2345678e-3, "aileron_roll_power": 0.1}
    told = DepartureRow(**row, lcdp_per_deg=value)
    assert told.lcdp_per_deg is None
    assert told.cn_beta_dyn_per_deg == 1.235e-3


def test_a_refused_change_has_no_numbers():
    lines = changes_row(changes(), result()).lines
    assert [line.balance_aft_mm for line in lines] == [165.0, 180.0, None, 195.0]


def test_no_deep_stall_is_null():
    assert deep_stall_row(None) is None


def test_a_history_has_a_line_a_tick_and_a_mass_its_grams():
    ready = assemble(load_aeroplane("club_sport"))
    weighed = weigh_record(ready.weighed, senses(ready), ())
    assert weighed.mass_g == pytest.approx(1000 * ready.weighed.mass_kg, abs=1)
    flight = fly_one(ready, load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks"))
    lines = history_csv(flight).splitlines()
    assert len(lines) == 1 + len(flight.history)
    assert {line.count(",") for line in lines} == {lines[0].count(",")}
