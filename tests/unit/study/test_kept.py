"""Kept flights: which they are, and that flown again they are the stored ones."""

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_study_files
from sim.judge import verdicts_of
from sim.show.replay.kept import kept_recordings, write_kept
from sim.study import run_study
from sim.study.flights.again import Again
from sim.study.standing.kept import TYPICAL, WORST, kept_flights, typical_row, worst_row
from sim.study.standing.outcomes import best_recovery, worst_case
from tests.samples import results as show_sample
from tests.samples.brief import briefly
from tests.samples.records import valid


@pytest.fixture(scope="module")
def files():
    files = load_study_files("first_look")
    cases = [x.model_copy(update={"recoveries": x.recoveries[:2]}) for x in files.study.cases]
    study = files.study.model_copy(
        update={
            "draws": 8,
            "aft_limit": None,
            "agility": (),
            "today": None,
            "cases": tuple(cases),
            "setups": files.study.setups[1:3],
        }
    )
    return type(files)(study, files.aeroplane, files.manoeuvres, files.recoveries)


@pytest.fixture(scope="module", autouse=True)
def _brief():
    """Flights alone are looked at here."""
    with briefly(landing_draws=8):
        yield


@pytest.fixture(scope="module")
def result(files):
    return run_study(files, workers=1)


def test_flown_again_it_is_the_same_flight(files, result):
    again = Again(files)
    kept = kept_flights(result)
    assert [(k.kind, k.flight.setup) for k in kept] == [
        (kind, setup.name) for setup in result.setups for kind in (TYPICAL, WORST)
    ]
    for _, flight in kept:
        np.testing.assert_array_equal(again.fly(flight).summary, flight.summary)


def test_typical_is_near_the_median_and_worst_is_the_worst(result):
    for kind, flight in kept_flights(result):
        case = flight.case
        verdicts = verdicts_of(case.rows, case.entry_m, case.floor_m)
        if kind == WORST:
            setup = next(x for x in result.setups if x.name == flight.setup)
            assert case is worst_case(best_recovery(setup, 95.0), 95.0)
            assert (verdicts[flight.row] == "lost") == ("lost" in verdicts)
        elif case.height_lost_m.median is not None:
            lost = case.rows[flight.row, s.R_HEIGHT_LOST]
            assert lost == pytest.approx(case.height_lost_m.median, abs=1e-9)
        else:
            assert case.rows[flight.row, s.R_BACK] == 0.0


def test_choosing_among_made_up_flights():
    case = show_sample.result().setups[2].cases[-1]
    rows = case.rows.copy()
    rows[:, s.R_BACK] = 1.0
    rows[:, s.R_HEIGHT_LOST] = np.linspace(10.0, 40.0, len(rows))
    rows[:, s.R_DROP] = 30.0
    rows[5, s.R_DROP] = 1e3  # below the floor
    rows[9, s.R_BACK] = 0.0  # never back
    case = type(case)(**{**vars(case), "rows": rows})
    middle = typical_row(case)
    assert middle is not None
    assert abs(rows[middle, s.R_HEIGHT_LOST] - np.median(rows[:, s.R_HEIGHT_LOST])) < 0.5
    assert worst_row(case) == 9
    assert worst_row(case, other_than=9) == 5
    rows[:, s.R_STATUS] = s.STATUS_BROKEN
    assert (typical_row(case), worst_row(case)) == (None, None)


def test_files_hold_what_the_study_stored(files, result, tmp_path):
    recordings = kept_recordings(result, files)
    paths = write_kept(recordings, tmp_path / "replay")
    assert len(paths) == len(set(paths)) == 2 * len(result.setups)
    assert sorted(p.name for p in (tmp_path / "replay").iterdir()) == sorted(p.name for p in paths)
    for (kind, flight), path in zip(kept_flights(result), paths, strict=True):
        told = valid(path)
        case = flight.case
        assert path.name == f"{flight.setup}_{case.manoeuvre}_{kind}.json"
        assert path.stat().st_size < 60_000
        verdict = verdicts_of(case.rows, case.entry_m, case.floor_m)[flight.row].value
        assert (told["verdict"], told["draw"], told["setup"]) == (
            verdict,
            flight.draw,
            flight.setup,
        )
        assert (told["side"] == "right") == (case.sides[flight.row] > 0)
