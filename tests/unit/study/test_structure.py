"""Limits of servos and structure over a study's flights: counted, and the hardest flown again."""

from dataclasses import replace

import numpy as np
import pytest

from sim import tables
from sim.describe import load_study_files
from sim.fly.flying import fly_many
from sim.record.models.structure import structure_row
from sim.show.console.console import render
from sim.show.console.results.structure import structure_tables
from sim.show.report.structure import structures
from sim.show.words.bench.structure import card_lines, structure_sentences
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Runner
from sim.study.flights.storing import FlightStore
from sim.study.results.structure import ServoNeed
from sim.study.standing.carried import servo_near
from sim.study.structure import Flown, hardest, structure_of
from tests.samples.results import result, setup, structure

NAN = float("nan")


def flown(load, speed, alpha, torques=(0.0,) * 8):
    return Flown("spin", "centre", 1.0, 0, 120.0, load, speed, alpha, torques, (0.0,) * 8)


def test_hardest_are_those_with_the_most_and_none_twice():
    # 3 by load, 1 by speed, 1 by angle, as servo_loads.toml asks, and one for the servo
    known = [flown(float(i % 7), float(i % 11), float(i % 13)) for i in range(40)]
    known[20] = flown(99.0, 99.0, 99.0)
    known[30] = flown(0.0, 0.0, 0.0, (0.0, 0.4) + (0.0,) * 6)
    chosen = hardest(known, [1])
    assert len(chosen) == 6
    assert known[30] in chosen
    assert known[30] not in hardest(known, [])
    assert chosen.count(known[20]) == 1
    assert chosen[0] is known[20]


def test_a_flight_without_a_speed_is_not_the_fastest():
    known = [flown(1.0, NAN, 0.1) for _ in range(4)] + [flown(1.0, 9.0, 0.1) for _ in range(9)]
    assert sum(not np.isnan(x.speed_mps) for x in hardest(known, [])) >= 1


@pytest.fixture(scope="module")
def whole(display_jet):
    """Return what four flights of one case asked, the file's limits those of a weak aeroplane."""
    files = load_study_files("first_look")
    study = files.study.model_copy(update={"draws": 4})
    files = replace(files, study=study)
    draws = make_draws(display_jet.spreads, 4, 1)
    which, name = np.arange(4), "incipient_spin"
    scripts = files.manoeuvres[name], files.recoveries["centre_sticks"]
    rows = fly_many(display_jet, *scripts, draws.physical, which, draws.sides[which], 200.0)
    told = setup("club", 150.0, 0)
    case = replace(
        told.cases[0], manoeuvre=name, recovery="centre_sticks", entry_m=200.0, rows=rows,
        which=which, sides=draws.sides[which],
    )  # fmt: skip
    told = replace(told, cases=(case,), agility=())
    limits = {"max_load_factor_g": 1.5, "never_exceed_mps": 15.0}
    weak = display_jet.aeroplane.structure.model_copy(update=limits)
    body = display_jet.aeroplane.model_copy(update={"structure": weak})
    runner = Runner(draws, 1, FlightStore(None), 1)
    ready = replace(display_jet, aeroplane=body)
    return structure_of(runner, files, told, ready, ready.weighed.mass_kg)


def test_every_flight_counts_and_they_fly_again_as_they_did(whole):
    # a stall pulled out of passes 1.5 g and 15 m/s on any such jet: more than stall speed squared
    assert whole.flights == whole.again == whole.over_g == whole.over_mps == 4
    assert whole.most_g == max(x.most_g for x in whole.loads)
    assert whole.bending_over > 0
    assert structure_sentences(whole)


def test_bending_goes_with_the_load_where_the_wings_are_level(whole):
    # by definition of a load factor, but for rolling pulls and what the tail carries
    assert whole.bending_share == pytest.approx(whole.most_g / whole.limit_g, rel=0.35)


def test_what_passes_a_limit_is_told_everywhere():
    over = structure(over=12)
    lines = structure_sentences(over)
    assert lines[0] == "passes 8 g in 12 of 512 flights, up to 9.1 g in spin: ease the pull"
    assert any(x.startswith("tail servo needs 50.0 of 42 N cm (119 %) in spin") for x in lines)
    assert card_lines(over)[0] == "passes 8 g in 12 of 512 flights, most in spin: ease the pull"
    assert card_lines(over)[1].startswith("WING ROOT 1.20 x its limit in spin: ease the pull")
    assert "servo too weak: tail" in card_lines(over)
    row = structure_row(over)
    assert row is not None
    assert row.servos[0].share == pytest.approx(50.0 / 42.0, abs=1e-3)
    assert row.servos[1].share is None


def test_within_limits_it_is_one_line():
    calm = structure(over=0)
    assert structure_sentences(calm) == []
    assert card_lines(calm) == []
    both = [replace(setup(x, 150.0, 0), structure=calm) for x in ("club", "other")]
    told = render(structure_tables(both))
    assert "Within limits: most 5.2 g of 8, 31 m/s of 55 m/s" in " ".join(told.split())
    assert "6 that could not be calculated left out" in " ".join(told.split())
    assert "No torque_ncm is stated for rudder" in " ".join(told.split())


def test_a_silent_servo_is_not_judged():
    tail, rudder = structure(over=12).servos
    assert servo_near(tail)
    assert not servo_near(rudder)


def test_a_servo_without_a_torque_has_no_share():
    told = ServoNeed("flap", None, 3.0, None, "spin", 12.0, 30.0, 5.0, True, False, 0, 0, 0.0)
    assert told.share is None
    assert replace(told, stated_ncm=12.0).share == 0.25  # a quotient


def test_practice_leaves_a_servo_half_of_its_torque():
    # common practice, no source: twice the torque that the surface needs
    values = tables.servo_loads()
    assert values.near_share == 0.5


def test_report_has_a_row_a_set_up():
    found = structures(result())
    assert found is not None
    assert found.title == "Servos and structure"
