"""What a study writes: the table of flights, and where everything came from."""

import csv
import hashlib
import io
from dataclasses import replace

import numpy as np
import pytest

from sim.cli import main
from sim.core import script_layout as s
from sim.describe import FileFault, load_manoeuvre, load_recovery, load_study_files
from sim.describe.reading.finding import bundled, bundled_scripts
from sim.record.files import write_record
from sim.record.flights import flights_csv
from sim.record.study import study_record
from sim.show.words.places.limits import figure_text
from sim.study.flights.storing import sources_of
from sim.tables.reading import tables_folder
from tests.samples.records import valid
from tests.samples.results import limit, result, setup

RESULT = result()


def test_each_flight_names_its_pack_balance_point_and_heights():
    rows = list(csv.DictReader(io.StringIO(flights_csv(RESULT))))
    assert len(rows) == sum(c.shares.flights for x in RESULT.setups for c in x.cases)
    first = rows[0]
    assert (first["setup"], first["pack"], first["balance_aft_mm"]) == (
        "forward", "6s_4000", "165.00",
    )  # fmt: skip
    assert (first["entry_m"], first["floor_m"]) == ("120", "40")
    assert {row["balance_aft_mm"] for row in rows} == {"165.00", "195.00", "225.00"}


def test_sources_hold_every_file_and_table():
    files = load_study_files("first_look")
    found = dict(sources_of(files))
    for name in ("first_look", "display_jet", "incipient_spin", "centre_sticks"):
        assert len(found[f"{name}.toml"]) == 64
    path = tables_folder() / "uncertainty.toml"
    assert found["aero_tables/uncertainty.toml"] == hashlib.sha256(path.read_bytes()).hexdigest()
    assert len([name for name in found if name.startswith("aero_tables/")]) == len(
        list(tables_folder().glob("*.*"))
    )


def test_manoeuvres_and_recoveries_are_offered_apart():
    manoeuvres, recoveries = bundled_scripts("manoeuvre"), bundled_scripts("recovery")
    assert sorted([*manoeuvres, *recoveries]) == bundled("manoeuvres")
    assert "spin_entry" in manoeuvres
    assert "rudder_forward" in recoveries
    with pytest.raises(FileFault) as fault:
        load_manoeuvre("spin_entri")
    assert "did you mean 'spin_entry'" in str(fault.value)
    assert "manoeuvres: approach_gust_side" in str(fault.value)
    assert "centre_sticks" not in str(fault.value)
    with pytest.raises(FileFault, match="recoveries: aileron_roll_out, centre_sticks"):
        load_recovery("centre_stick")


def test_the_command_line_offers_recoveries_for_a_recovery(capsys):
    assert main(["fly", "display_jet", "spin_entry", "--recovery", "rudder_forwards"]) == 2
    said = capsys.readouterr().err
    assert "did you mean 'rudder_forward'?" in said
    assert "spin_entry" not in said


def test_a_path_must_be_a_picture(capsys):
    assert main(["fly", "display_jet", "spin_entry", "--path", "a.bmp"]) == 2
    assert "--path a.bmp: a picture ends in .png, .svg or .pdf" in capsys.readouterr().err


@pytest.fixture(scope="module")
def told(display_jet):
    """Return the record of a sample, whose set-ups count as the jet in its first."""
    return lambda study: study_record(study, [display_jet] * len(study.setups))


@pytest.mark.parametrize("odd", [float("nan"), float("inf"), np.float64("-inf")])
def test_a_number_that_is_none_is_refused_and_named_where_it_may_not_be_null(told, odd, tmp_path):
    path = tmp_path / "results.json"
    path.write_text("as before", encoding="utf-8")
    case = replace(RESULT.setups[1].cases[0], entry_m=odd)
    setup = replace(RESULT.setups[1], cases=(case,))
    record = told(replace(RESULT, setups=(RESULT.setups[0], setup)))
    with pytest.raises(ValueError, match=r"results.json: not written; not a finite number: ") as no:
        write_record(record, path)
    assert str(no.value).endswith(": setups[2].cases[1].entry_m")
    assert path.read_text(encoding="utf-8") == "as before"


def broken():
    """Return the sample with everything that could be unknown in its first set-up unknown."""
    nan = float("nan")
    first = RESULT.setups[0]
    rows = first.cases[0].rows.copy()
    peaks = [s.R_PEAK_ALPHA, s.R_PEAK_LOAD, s.R_TURNS_ENTRY, s.R_SPUN, s.R_SPIN_ALPHA]
    rows[0, peaks], rows[1, peaks] = nan, float("inf")
    case = replace(first.cases[0], rows=rows)
    trim = replace(first.trim, alpha_deg=nan, tail_deg=nan, throttle=nan, speed_mps=nan)
    setup = replace(
        first, neutral_point_pct_mac=nan, static_margin_pct=nan, stall_speed_mps=float("inf"),
        trim=trim, cases=(case, *first.cases[1:]),
    )  # fmt: skip
    return replace(RESULT, setups=(setup, *RESULT.setups[1:]))


def test_a_study_with_unknown_numbers_writes_null(told, tmp_path):
    write_record(told(broken()), tmp_path / "results.json")
    text = (tmp_path / "results.json").read_text(encoding="utf-8")
    assert "NaN" not in text
    assert "Infinity" not in text
    setup = valid(tmp_path / "results.json")["setups"][0]
    assert setup["static_margin_pct"] is None
    assert setup["stall_speed_mps"] is None
    assert setup["trim"]["alpha_deg"] is None


def test_the_ends_of_an_aft_limit_are_those_on_the_screen(told):
    found = replace(result().aft_limits[0], low_mm=178.96, high_mm=190.7)
    (limit,) = told(replace(result(), aft_limits=(found,))).aft_limits
    assert (limit.aft_low_mm, limit.aft_high_mm) == (178, 190)
    assert "95 % limits 178 to 190" in figure_text(found)


def test_a_flight_with_unknown_numbers_leaves_cells_blank():
    text = flights_csv(broken())
    assert "nan" not in text
    assert "inf" not in text
    first = next(csv.DictReader(io.StringIO(text)))
    assert first["peak_alpha_deg"] == ""
    assert first["spun"] == ""


def test_a_set_up_says_whether_it_lies_aft_of_its_own_limit(told):
    setups = (setup("forward", 190.0, 0), setup("aft", 204.0, 0), setup("other", 204.0, 0))
    found = replace(limit("6s_4000", 200.0), setups=("forward", "aft"))
    rows = told(replace(RESULT, setups=setups, aft_limits=(found,))).setups
    assert [x.aft_of_its_limit for x in rows] == [False, True, None]
