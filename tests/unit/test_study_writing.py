"""What a study writes: the table of flights, and where everything came from."""

import csv
import hashlib
import io

import pytest
from show_sample import result

from sim.aero.tables import tables_folder
from sim.cli import main
from sim.describe import FileFault, load_manoeuvre, load_study_files
from sim.describe.finding import bundled, bundled_scripts
from sim.study.provenance import sources_of
from sim.study.writing import flights_csv

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
        load_manoeuvre("spin_entri", script="manoeuvre")
    assert "did you mean 'spin_entry'" in str(fault.value)
    assert "manoeuvres: banked_stall" in str(fault.value)
    assert "centre_sticks" not in str(fault.value)
    with pytest.raises(FileFault, match="recoveries: centre_sticks"):
        load_manoeuvre("centre_stick", script="recovery")


def test_the_command_line_offers_recoveries_for_a_recovery(capsys):
    assert main(["fly", "display_jet", "spin_entry", "--recovery", "rudder_forwards"]) == 2
    said = capsys.readouterr().err
    assert "did you mean 'rudder_forward'?" in said
    assert "spin_entry" not in said


def test_a_path_must_be_a_picture(capsys):
    assert main(["fly", "display_jet", "spin_entry", "--path", "a.bmp"]) == 2
    assert "--path a.bmp: a picture ends in .png, .svg or .pdf" in capsys.readouterr().err
