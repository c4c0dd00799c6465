"""A small study: same numbers on any number of workers, resumed, and as the contract says."""

import csv
import shutil

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_study_files
from sim.judge import looks_for
from sim.judge.looks import most_lost
from sim.record.models.beyond import assembled_setups
from sim.record.study import study_record, write_study
from sim.study import run_study
from sim.study.flights.draws import make_draws
from sim.study.flights.watch import Watch
from sim.study.results.columns import FLIGHT
from tests.samples.brief import briefly
from tests.samples.records import valid

STUDY = """
schema = "aftlimit.study/1"
name = "small"
title = "A small study"
story = "Two balance points."
aeroplane = "display_jet"
draws = 16
seed = 3
agility = ["pull_through"]

[[setups]]
name = "forward"
pack = "6s_4000"
balance_aft_mm = 105.0

[[setups]]
name = "aft"
pack = "6s_4000"
balance_aft_mm = 240.0

[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks"]
"""

CASE_KEYS = {
    "manoeuvre", "recovery", "entry_m", "flights", "held", "recovered", "lost", "never",
    "below_floor", "back_low", "back_high", "height_lost_m", "entry_height_needed_m", "spin",
}  # fmt: skip
SETUP_KEYS = {
    "name", "pack", "mass_g", "balance_aft_mm", "balance_pct_mac", "static_margin_pct", "cases",
}  # fmt: skip


@pytest.fixture(scope="module", autouse=True)
def _brief():
    """Here they only have to be the same again; forward limits: test_forward_aside."""
    with briefly(landing_draws=8):
        yield


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    path = tmp_path_factory.mktemp("study") / "small.toml"
    path.write_text(STUDY, encoding="utf-8")
    return load_study_files(path)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    return tmp_path_factory.mktemp("kept")


@pytest.fixture(scope="module")
def result(files, kept):
    return run_study(files, kept, workers=2)


@pytest.fixture(scope="module")
def told(files):
    """Return what results.json holds of a result."""
    ready = assembled_setups(files)
    return lambda result: study_record(result, ready).content()


def test_forward_holds_and_aft_does_not(result):
    assert not result.ceiling_said
    forward, aft = (setup.cases[0].shares for setup in result.setups)
    assert forward.back == forward.flights == 16
    assert forward.held > 12
    assert aft.lost > 8
    assert aft.lost == aft.never + aft.below_floor + aft.entry_used


def test_json_holds_what_the_contract_names(result, told):
    content = told(result)
    top = {"schema", "version", "study", "aeroplane", "draws", "floor_m", "setups", "aft_limits"}
    assert top <= set(content)
    for setup in content["setups"]:
        assert set(setup) >= SETUP_KEYS
        for case in setup["cases"]:
            assert set(case) >= CASE_KEYS
            assert case["flights"] == case["held"] + case["recovered"] + case["lost"]
            assert set(case["height_lost_m"]) == {"median", "p95"}


def test_heights_of_flights_that_never_came_back_are_null(result, told):
    case = told(result)["setups"][1]["cases"][0]
    assert case["never"] > case["flights"] // 2
    assert case["entry_height_needed_m"] == {"median": None, "p95": None}


def test_another_height_and_floor_need_no_new_flight(result):
    from sim.judge import shares_of

    rows = result.setups[0].cases[0].rows
    high, low = shares_of(rows, 120.0, 40.0), shares_of(rows, 45.0, 40.0)
    # the 5 m there are may be used up before the first recovery input, or after it
    assert high.lost < low.lost == low.entry_used + low.below_floor
    assert low.entry_used > 0


class Stop(Exception):  # noqa: N818
    pass


def test_one_worker_stopped_twice_finds_what_two_find_at_one_go(files, result, told, tmp_path):
    seen = []

    def stop_after_two(count: int) -> None:
        seen.append(count)
        if len(seen) == 2:
            raise Stop

    def stop(text: str) -> None:
        raise Stop

    assert result.setups[1].deep_stall is not None
    with pytest.raises(Stop):
        run_study(files, tmp_path, 1, Watch(ended=stop_after_two))
    flown = sum(len(np.load(path)) for path in tmp_path.glob("*.npy"))
    assert 1 <= flown < 32
    with pytest.raises(Stop):  # told as the ways out begin
        run_study(files, tmp_path, 1, Watch(said=stop))
    assert sum(len(np.load(path)) for path in tmp_path.glob("*.npy")) == 32
    again = run_study(files, tmp_path, 1)
    assert again.kept == 32
    assert told(again) == told(result)


def test_a_damaged_batch_is_flown_again(files, result, told, kept, tmp_path):
    shutil.copytree(kept, tmp_path, dirs_exist_ok=True)
    victim = sorted(tmp_path.glob("*.npy"))[0]
    victim.write_bytes(victim.read_bytes()[:100])
    other = sorted((tmp_path / "measured").glob("*.npy"))[0]
    other.write_bytes(b"")
    odd = []
    again = run_study(files, tmp_path, 2, Watch(damaged=odd.append))
    assert told(again) == told(result)
    assert odd == [victim, other]
    # flown again they may lie in other batches, how many at once hangs on what else there is to fly
    before, after = (flights_of(folder, victim.name.split("-")[0]) for folder in (kept, tmp_path))
    assert after.keys() == before.keys()
    assert all(after[draw] == row for draw, row in before.items())


def flights_of(folder, key):
    """Return the bytes kept of each draw of a set-up, manoeuvre and recovery."""
    rows = (row for path in folder.glob(f"{key}-*.npy") for row in np.load(path))
    return {int(row[0]): row.tobytes() for row in rows}


def test_written_files_hold_the_same(files, result, told, tmp_path):
    write_study(study_record(result, assembled_setups(files)), result, tmp_path)
    assert valid(tmp_path / "results.json") == told(result)
    with (tmp_path / "flights.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 32
    assert tuple(rows[0]) == FLIGHT
    lost = sum(row["verdict"] == "lost" for row in rows)
    assert lost == sum(setup.cases[0].shares.lost for setup in result.setups)


def test_draws_of_a_seed_begin_alike_and_both_sides_are_flown():
    from sim.pack.spreads import default_spreads

    short, long = make_draws(default_spreads(), 32, 9), make_draws(default_spreads(), 128, 9)
    assert np.array_equal(short.physical, long.physical[:32])
    assert (long.sides > 0).sum() == 64
    assert np.abs(long.normal).max() <= 2.0


def test_most_lost_is_where_the_wilson_limit_says():
    # design: 64 of 64 has a lower limit of 94.3 %, so 64 draws can never pass 95 %
    assert most_lost(looks_for(0.95, 64)) == -1
    assert most_lost(looks_for(0.95, 128)) == 1
    assert most_lost(looks_for(0.95, 256)) == 5


def test_summaries_are_finite(result):
    for setup in result.setups:
        rows = setup.cases[0].rows
        assert np.isfinite(rows).all()
        assert (rows[:, s.R_TRIM_ERROR] < 1e-3).all()
