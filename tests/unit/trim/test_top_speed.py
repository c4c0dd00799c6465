"""Level flight at a throttle: the top speed, and what is said where there is none."""

from dataclasses import replace
from math import floor

import numpy as np
import pytest

from sim.cli import main
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.show.console.aeroplane.bench import trim_tables
from sim.show.console.console import render
from sim.trim.criteria import criteria
from sim.trim.trimming import level, level_at_throttle, modes

JETS = ("display_jet", "club_sport", "twin_delta")


@pytest.fixture(scope="module", params=JETS)
def ready(request):
    return assemble(load_aeroplane(request.param))


def test_top_speed_is_the_fastest_level_flight_there_is(ready):
    """Faster than this, full throttle leaves the aeroplane slowing down: drag exceeds thrust."""
    top = level_at_throttle(ready, 1.0)
    assert top.found
    assert top.throttle == pytest.approx(1.0, abs=0.002)
    for factor in (1.01, 1.1, 1.5):
        faster = level(ready, factor * top.speed_mps)
        assert not faster.found
        assert faster.throttle == 1.0


@pytest.mark.parametrize("factor", [1.8, 2.1, 2.5])
def test_throttle_of_a_speed_gives_that_speed_back(ready, factor):
    wanted = level(ready, factor * ready.stall.speed_mps)
    back = level_at_throttle(ready, wanted.throttle)
    assert back.speed_mps == pytest.approx(wanted.speed_mps, abs=0.01)


def test_too_little_throttle_is_told_with_what_would_do(ready):
    with pytest.raises(ValueError, match="throttle 10 % does not hold level flight") as told:
        level_at_throttle(ready, 0.1)
    share = int(str(told.value).split("least that does is ")[1].split(" %")[0]) / 100.0
    assert level_at_throttle(ready, share).found
    with pytest.raises(ValueError, match="does not hold"):
        level_at_throttle(ready, share - 0.01)


def test_no_thrust_that_holds_it_is_told_in_words(ready):
    """A hundred times as heavy: no throttle holds it up."""
    heavy = ready.model._replace(mass=ready.model.mass * 100.0)
    with pytest.raises(ValueError, match="full throttle does not hold the aeroplane up"):
        level_at_throttle(replace(ready, model=heavy), 1.0)


def test_faster_than_it_may_ever_fly_is_told(ready):
    trim = level(ready, 1.7 * ready.stall.speed_mps)
    assert trim.found
    departs = criteria(ready, np.array([0.0, 10.0]), trim.speed_mps)
    for least, told in ((1.0, False), (-1.0, True)):
        never = trim.speed_mps + least
        structure = ready.aeroplane.structure.model_copy(update={"never_exceed_mps": never})
        aeroplane = ready.aeroplane.model_copy(update={"structure": structure})
        weak = replace(ready, aeroplane=aeroplane)
        tables = trim_tables(weak, trim, 30.0, 10.0, modes(weak, trim), departs)
        words = f"faster than the {floor(never)} m/s that the aeroplane must never exceed"
        assert (words in " ".join(render(tables).split())) is told


def test_a_speed_without_level_flight_is_told_in_one_line(ready, capsys):
    assert main(["trim", ready.aeroplane.name, "--speed-mps", "90"]) == 2
    assert capsys.readouterr().err.startswith("aftlimit: there is no level flight at 90.0 m/s")
