"""A flight as named columns: one list of names and units for tables, CSV and data frames."""

import csv
import io
import sys
from types import ModuleType

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.core.draw_layout import N_DRAW
from sim.describe import FileFault, load_manoeuvre, load_recovery
from sim.fly.columns import HISTORY, SUMMARY, summary_columns
from sim.fly.flying import fly_many, fly_one
from sim.record.history import history_csv
from sim.show.replay.recording import COLUMNS

ENDINGS = {
    "s": "_s", "m": "_m", "deg": "_deg", "deg/s": "_dps", "m/s": "_mps", "g": "_g", "A": "_a",
    "of full stick": "_stick", "of full throttle": "_stick",
}  # fmt: skip


@pytest.fixture(scope="module")
def flight(display_jet):
    return fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))


def test_a_name_says_its_unit():
    with_unit = [column for column in (*HISTORY, *SUMMARY) if column.unit]
    assert len(with_unit) > 30
    for name, _, unit, _ in with_unit:
        if name.startswith("turns_"):
            assert unit == "turns"
        elif name.startswith("seconds_"):
            assert unit == "s"
        else:
            assert name.endswith(ENDINGS[unit])


def test_columns_are_the_history_in_the_units_of_their_names(flight):
    columns = flight.to_columns()
    assert {column.shape for column in columns.values()} == {(len(flight.history),)}
    np.testing.assert_array_equal(columns["up_m"], flight.history[:, s.H_UP])
    alpha = np.radians(columns["alpha_deg"])
    np.testing.assert_allclose(alpha, flight.history[:, s.H_ALPHA], atol=1e-12)
    # full aft stick lifts the trailing edge of the tail, which counts as minus
    held = columns["elevator_stick"] > 0.9
    assert held.any()
    assert (columns["tail_right_deg"][held] < 0.0).all()
    assert "rudder_deg" in columns


def test_the_csv_is_the_columns(flight):
    rows = list(csv.DictReader(io.StringIO(history_csv(flight))))
    columns = flight.to_columns()
    assert list(rows[0]) == list(columns)
    read = np.array([float(row["yaw_rate_dps"]) for row in rows])
    np.testing.assert_allclose(read, columns["yaw_rate_dps"], rtol=1e-4)


def test_a_recording_takes_its_numbers_from_the_list():
    names = {column.name for column in HISTORY}
    assert set(COLUMNS.values()) <= names


def test_summaries_of_many_flights_have_names(display_jet, flight):
    which, sides = np.zeros(2, dtype=np.int64), np.array([1.0, -1.0])
    draws = np.zeros((1, N_DRAW))
    rows = fly_many(display_jet, flight.manoeuvre, flight.recovery, draws, which, sides)
    columns = summary_columns(rows)
    assert columns["peak_alpha_deg"][0] == pytest.approx(flight.to_columns()["alpha_deg"].max())
    assert (columns["turns_entry"] >= 0.0).all()
    gone = rows.copy()
    gone[0, s.R_BACK] = 0.0
    lost = summary_columns(gone)["height_lost_m"]
    assert np.isnan(lost[0])
    assert lost[1] == rows[1, s.R_HEIGHT_LOST]


def test_without_pandas_a_data_frame_is_refused_in_words(flight, monkeypatch):
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ModuleNotFoundError, match=r"pip install pandas; or take to_columns\(\)"):
        flight.to_frame()


def test_a_data_frame_is_made_of_the_columns(flight, monkeypatch):
    stand_in = ModuleType("pandas")
    stand_in.DataFrame = dict
    monkeypatch.setitem(sys.modules, "pandas", stand_in)
    assert list(flight.to_frame()) == list(flight.to_columns())


def test_manoeuvre_and_recovery_the_wrong_way_round_are_told(display_jet, flight):
    said = r'centre_sticks\.toml: kind: must be "manoeuvre" here; got "recovery"'
    with pytest.raises(FileFault, match=said):
        fly_one(display_jet, flight.recovery, flight.manoeuvre)
    none = np.zeros(1, dtype=np.int64)
    with pytest.raises(FileFault, match=r'spin_entry\.toml: kind: must be "recovery" here'):
        fly_many(
            display_jet, flight.manoeuvre, flight.manoeuvre, np.zeros((1, N_DRAW)), none,
            np.ones(1),
        )  # fmt: skip
