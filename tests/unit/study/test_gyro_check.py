"""A set-up's gyro against its loop, as the card, its record and the report tell it."""

from dataclasses import replace
from math import inf

import pytest

from sim import tables
from sim.describe import load_aeroplane
from sim.gyro.advice import set_against, worst_over
from sim.gyro.allowed import Allowed, At, AxisAt
from sim.gyro.loop import loop_of
from sim.gyro.margins import Most
from sim.gyro.points import Point
from sim.pack.assemble import assemble
from sim.record.models.gyro_check import gyro_check_row
from sim.show.report.numbers import trims
from sim.show.report.parts import Table
from sim.show.words.bench.gyro_line import gyro_line
from sim.study.gyro_check import GyroCheck, GyroPoints, gyro_check, gyro_on, gyro_points
from tests.samples.results import result

SPEEDS = (12.0, 20.0, 30.0, 40.0, 55.0)


@pytest.fixture(scope="module")
def ready():
    return assemble(load_aeroplane("display_jet"), "display")


def made(ready, *axes):
    """Return a check where each axis has a gain as set, what it stands, and where it swings."""
    points = []
    for at, speed in enumerate(SPEEDS):
        each = [
            AxisAt(Most(stands[at], swings, 10.0), stands[at], stands[at], gain, 1.0, 0.1)
            for gain, stands, swings in axes
        ]
        dive = at == len(SPEEDS) - 1
        points.append(At(Point(speed, 0.5, dive, None), tuple(each), 0, 0, inf))
    loop = loop_of(ready.setup.gyro_settings)
    return GyroCheck(Allowed(ready, loop, tuple(points), 128, (1.0, 1.0, 1.0)))


INSIDE = (0.02, (0.2, 0.15, 0.1, 0.08, 0.05), 1.0)
DIVE = (0.04, (0.2, 0.15, 0.1, 0.08, 0.033), 1.0)
MOST = (0.12, (0.2, 0.15, 0.1, 0.08, 0.05), 0.11)
BACKWARDS = (-0.02, (0.2, 0.15, 0.1, 0.08, 0.05), 1.0)


def test_each_axis_is_told_inside_over_or_backwards(ready):
    assert gyro_line(made(ready, INSIDE, INSIDE, INSIDE)) == (
        "Roll, pitch, yaw inside to the idle dive (95 % of 128 draws)."
    )
    assert gyro_line(made(ready, DIVE, DIVE, INSIDE)).startswith(
        "Roll, pitch OVER in an idle dive (roll 0.040 of 0.033); yaw inside."
    )
    told = gyro_line(made(ready, BACKWARDS, MOST, INSIDE))
    assert told.startswith("Roll BACKWARDS")
    assert "pitch OVER from 30 m/s on, SWINGS at every speed (0.120 of 0.050)" in told


def test_the_record_has_the_same_in_numbers(ready):
    check = made(ready, BACKWARDS, MOST, INSIDE)
    row = gyro_check_row(check)
    assert [x.inside for x in row.axes] == [False, False, True]
    assert [x.backwards for x in row.axes] == [True, False, False]
    assert row.axes[1].over_at_mps == (30.0, 40.0, 55.0)
    assert (row.axes[1].worst_advised, row.axes[1].worst_in_dive) == (0.05, True)
    assert row.axes[2].worst_set is None
    assert gyro_check_row(None) is None


def test_what_cannot_be_looked_at_is_no_pass(ready):
    check = gyro_check(GyroPoints(ready, (), "no steady flight was found"), 1)
    assert gyro_line(check).startswith("NOT CHECKED: no steady flight")
    row = gyro_check_row(check)
    assert (row.checked, row.axes, row.draws) == (False, (), 0)
    assert "aftlimit gains" in gyro_line(None)


def test_a_gyro_is_looked_at_over_the_draws_of_the_table(ready, monkeypatch):
    few = tables.gyro_loop().model_copy(update={"draws": 4, "kept_share": 0.3, "speeds": 2})
    monkeypatch.setattr(tables, "gyro_loop", lambda: few)
    at = gyro_points(ready.aeroplane, ready.setup.model_copy(update={"gyro": "on"}))
    check = gyro_check(at, 1)
    assert check.found.draws == 4
    assert [x.point.dive for x in check.found.points] == [False, False, True]
    row = gyro_check_row(check)
    assert [x.axis for x in row.axes] == ["roll", "pitch", "yaw"]


def test_a_report_says_that_its_study_did_not_look():
    study = result()
    setups = (replace(study.setups[0], gyro="gyro on, rate (roll 0.04)"), *study.setups[1:])
    parts = trims(replace(study, setups=setups), "aftlimit card my.toml").parts
    table = next(x for x in parts if isinstance(x, Table) and x.caption.startswith("Gyro"))
    assert [row[0] for row in table.rows] == [setups[0].name]
    assert table.rows[0][2] == f"aftlimit card my.toml --setup {setups[0].name}"
    quiet = trims(replace(study, setups=study.setups[1:])).parts
    assert not any(isinstance(x, Table) and x.caption.startswith("Gyro") for x in quiet)


def test_a_gyro_that_is_off_is_not_looked_at(ready):
    assert not gyro_on(ready.setup.model_copy(update={"gyro": "off"}))
    assert gyro_on(ready.setup.model_copy(update={"gyro": "on"}))


def test_worst_is_by_ratio_not_by_gain(ready):
    found = made(ready, INSIDE, MOST, INSIDE).found
    at, axis = worst_over(set_against(found)[1])
    assert (at.point.speed_mps, axis.advised) == (55.0, 0.05)
