"""Files in the pilot's own units: the same aeroplane, and faults in the words of the file."""

import re
from pathlib import Path

import pytest

from sim.describe import Aeroplane, FileFault, load_aeroplane, load_manoeuvre, load_study
from sim.describe.reading.finding import find
from sim.describe.reading.own_units import in_known_units
from sim.units.factors import UNITS

SAMPLE = Path(__file__).parents[2] / "setup_errors" / "sample_jet.toml"
GOOD = SAMPLE.read_text(encoding="utf-8")
OWN = {"mm": "in", "g": "oz", "mps": "mph", "m": "ft", "ncm": "ozin", "kgm2": "ozin2", "c": "f"}


def in_own(text):
    """Return a file with every key that can be in inches, ounces, miles an hour and feet."""

    def said(match):
        base, suffix, number = match.groups()
        if base == "max_load_factor":
            return match[0]
        turned = UNITS[suffix].to(UNITS[OWN[suffix]], float(number))
        return f"{base}_{OWN[suffix]} = {turned!r}"

    return re.sub(rf"\b(\w+)_({'|'.join(OWN)}) = (-?[\d.]+)", said, text)


def written(folder, text, name="display_jet.toml"):
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def fault_of(folder, *changes):
    text = GOOD
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    with pytest.raises(FileFault) as caught:
        load_aeroplane(written(folder, text))
    return str(caught.value).replace("display_jet.toml: ", "")


@pytest.mark.parametrize("name", ["display_jet", "club_sport", "twin_delta"])
def test_an_aeroplane_in_inches_and_ounces_is_the_same(tmp_path, name):
    text = find(name, "aeroplanes").read_text(encoding="utf-8")
    turned = in_own(text)
    assert "_in = " in turned
    assert "_oz = " in turned
    assert "_mph = " in turned
    assert not re.search(r"_(mm|mps|ncm) = ", turned)
    assert load_aeroplane(written(tmp_path, turned, f"{name}.toml")) == load_aeroplane(name)


def test_a_study_and_a_manoeuvre_as_well(tmp_path):
    for kind, name, load in (
        ("studies", "pack_choice", load_study), ("manoeuvres", "slow_flight_gust", load_manoeuvre)
    ):  # fmt: skip
        text = find(name, kind).read_text(encoding="utf-8")
        assert in_own(text) != text
        assert load(written(tmp_path, in_own(text), f"{name}.toml")) == load(name)


SLIPS = {
    "out of range": (
        ("panel_span_mm = 575.0", "panel_span_in = -5"),
        "surfaces.wing.panel_span_in: must be at least 0.7875 and at most 393.7 in; got -5",
    ),
    "no number": (
        ("panel_span_mm = 575.0", 'panel_span_in = "22"'),
        "surfaces.wing.panel_span_in: must be a number, at least 0.7875 and at most 393.7 in "
        "(without quotes); got '22'",
    ),
    "both given": (
        ("panel_span_mm = 575.0", "panel_span_mm = 575.0\npanel_span_in = 22.6"),
        "surfaces.wing.panel_span_in: says the same as panel_span_mm, which is given too; keep one "
        "of them",
    ),
    "twice in units of one's own": (
        ("panel_span_mm = 575.0", "panel_span_cm = 57.5\npanel_span_in = 22.6"),
        "surfaces.wing.panel_span_in: says the same as panel_span_cm, which is given too; keep one "
        "of them",
    ),
    "misspelt": (
        ("panel_span_mm = 575.0", "panel_spn_in = 22.6"),
        "surfaces.wing.panel_spn_in: is no key of this table; did you mean 'panel_span_in'?",
    ),
    "no mass": (
        ("max_load_factor_g = 8.0", "max_load_factor_oz = 8.0"),
        "structure.max_load_factor_oz: is no key of this table; did you mean 'max_load_factor_g'?",
    ),
    "beside a key in mm": (
        ("hub_mm = 30.0", "hub_in = 3.4"),
        "fan_units.f80.hub_in: must be less than duct_mm, 80; got 3.4",
    ),
    "station out of order": (
        ("aft_mm = -400.0, width", "aft_in = -19.5, width"),
        "bodies.fuselage.stations[2].aft_in: must lie aft of the station before it, -18.9 in; "
        "got -19.5",
    ),
    "within a range": (
        ("rear_aft_mm = 130.0", "rear_aft_in = 30"),
        "tray.rear_aft_in: must lie inside a body, from -18.89 to 25.19 in; got 30",
    ),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_fault_speaks_in_the_key_and_unit_of_the_file(tmp_path, slip):
    change, said = SLIPS[slip]
    assert fault_of(tmp_path, change) == said


def test_a_fault_of_two_keys_names_both_as_they_stand(tmp_path):
    said = fault_of(
        tmp_path,
        ("front_aft_mm = -240.0", "front_aft_in = 5.5"),
        ("rear_aft_mm = 130.0", "rear_aft_in = 5"),
    )
    assert said == "tray.front_aft_in: must lie forward of (below) rear_aft_in, 5; got 5.5"


def test_a_study_out_of_the_tray_is_told_in_inches(tmp_path):
    text = find("first_look", "studies").read_text(encoding="utf-8")
    line = next(row for row in text.splitlines() if re.match(r"(pack|balance)_aft_mm", row))
    with pytest.raises(FileFault) as caught:
        load_study(written(tmp_path, text.replace(line, "pack_aft_in = 70.0", 1), "mine.toml"))
    assert re.search(
        r"pack_aft_in: must lie on the tray, from .* in; got 70\.0$", str(caught.value)
    )


def test_a_missing_key_is_asked_for_in_the_unit_of_its_table(tmp_path):
    table = "\n[measured]\ncruise_throttle_pct = 55.0\ntop_speed_mph = 58.0\n"
    with pytest.raises(FileFault) as caught:
        load_aeroplane(written(tmp_path, GOOD + table))
    assert "measured.cruise_speed_mph: is missing" in str(caught.value)


def test_pounds_in_the_plural_are_pounds(tmp_path):
    match = re.search(r"\bmass_g = ", GOOD)
    said = fault_of(tmp_path, (match[0], "mass_lbs = "))
    assert "mass_lbs: is no key of this table; did you mean 'mass_lb'?" in said


def test_without_such_keys_nothing_is_touched():
    raw = {"name": "x", "surfaces": [{"name": "wing", "strips": 3}]}
    own = in_known_units(raw, Aeroplane)
    assert own.tables == raw
    assert own.keys == {}
    assert own.faults == []
