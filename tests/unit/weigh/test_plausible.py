"""Slips of the unit that pass every range are named, and what is bundled is not."""

import pytest

from sim.cli import main
from sim.describe import bundled, load_aeroplane
from sim.describe.reading.finding import data_folder
from sim.weigh import weigh_set_up
from sim.weigh.plausible import doubts, rough_mass_g

JET = (data_folder("scenarios") / "aeroplanes" / "display_jet.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", bundled("aeroplanes"))
def test_bundled_aeroplanes_raise_no_doubt(name):
    aeroplane = load_aeroplane(name)
    assert doubts(aeroplane, weigh_set_up(aeroplane)) == []


@pytest.mark.parametrize(
    ("written", "slip", "named"),
    [
        ("panel_span_mm = 575.0", "panel_span_mm = 57.5", "likely meant 575"),
        ("mass_g = 340.0", "mass_g = 0.34", "airframe.wing.mass_g: 0.34 g over 29.9 dm²"),
        ("mass_g = 290.0", "mass_g = 9000.0", "airframe.fuselage.mass_g"),
        ("mass_g = 535.0", "mass_g = 53.5", "packs.6s_3300: mass_g and sizes"),
        ("capacity_mah = 3300", "capacity_mah = 330", "packs.6s_3300: mass_g, cells"),
        ("mass_g = 13.0\nshape", "mass_g = 0.13\nshape", "parts.aileron servo.mass_g: is 0.13 g"),
    ],
)
def test_slips_are_named_with_their_key(tmp_path, written, slip, named):
    assert written in JET
    path = tmp_path / "slip.toml"
    path.write_text(JET.replace(written, slip, 1), encoding="utf-8")
    told = doubts(load_aeroplane(path))
    assert any(named in line for line in told), told
    assert all("usual is" in line for line in told)


@pytest.mark.parametrize("lean", ["40.0", "-40.0"])
def test_a_fin_that_leans_too_far_is_doubted(tmp_path, lean):
    path = tmp_path / "slip.toml"
    path.write_text(JET.replace("dihedral_deg = 90.0", f"dihedral_deg = {lean}"), encoding="utf-8")
    (line,) = doubts(load_aeroplane(path))
    assert line.startswith("surfaces.fin.dihedral_deg: a fin stands at 40 degrees, usual is 45 to")


def test_a_fin_that_hangs_is_not_doubted(tmp_path):
    path = tmp_path / "ventral.toml"
    path.write_text(JET.replace("dihedral_deg = 90.0", "dihedral_deg = -80.0"), encoding="utf-8")
    assert doubts(load_aeroplane(path)) == []


def test_a_lying_surface_with_a_rudder_is_doubted(tmp_path):
    # a fin written as a tail: its rudder tells what it is
    path = tmp_path / "slip.toml"
    lies = JET.replace('role = "fin"\nmirrored = false', 'role = "tail"\nmirrored = true')
    path.write_text(lies.replace("dihedral_deg = 90.0\n", ""), encoding="utf-8")
    (line,) = doubts(load_aeroplane(path))
    assert line.startswith("surfaces.fin.dihedral_deg: 0 degrees lies, yet the rudder stick alone")


def test_weigh_prints_the_doubt_and_still_weighs(tmp_path, capsys):
    path = tmp_path / "slip.toml"
    path.write_text(JET.replace("mass_g = 340.0", "mass_g = 0.34", 1), encoding="utf-8")
    assert main(["weigh", str(path)]) == 0
    out = capsys.readouterr().out
    assert "Doubtful: airframe.wing.mass_g" in out
    assert max(len(line) for line in out.splitlines()) <= 100


def test_rough_mass_is_near_the_weighed_one():
    aeroplane = load_aeroplane("display_jet")
    heaviest = weigh_set_up(aeroplane, "club").mass_kg * 1000.0 + 160.0  # 800 g for the 640 g pack
    # the club's balance point may need a loose weight, which the rough sum leaves out
    assert rough_mass_g(aeroplane) == pytest.approx(heaviest, abs=60.0)
