"""Each part of reading a file by itself."""

import pytest
from pydantic import ValidationError

from sim.describe.aeroplane import FlyingField, Structure
from sim.describe.controls import Throws
from sim.describe.faults import Fault, FileFault, hint, nearest
from sim.describe.masses import Tray
from sim.describe.plain import names, number, repeated, unknown
from sim.describe.quantity import Between
from sim.describe.reading.files import load_aeroplane, parse
from sim.describe.reading.headed import TableFault, cells_of, read_header
from sim.describe.resolving import resolve_setup
from sim.describe.setup import SetUpBlock


def test_a_field_left_out_is_the_standard_day():
    """15 degrees at sea level [ussa1976]."""
    assert (FlyingField().elevation_m, FlyingField().temperature_c) == (0.0, 15.0)
    with pytest.raises(ValidationError, match="max_load_factor_g"):
        Structure(max_load_factor_g=0.5, never_exceed_mps=40.0)


def test_a_number_is_checked_with_both_ends_allowed():
    ends = Between(1.0, 3.0, "mm")
    assert [ends.check(value) for value in (1, 2.5, 3.0)] == [1, 2.5, 3.0]
    assert str(ends) == "at least 1 and at most 3 mm"
    for wrong in (True, "2", 3.1, float("nan")):
        with pytest.raises(ValueError, match="must be"):
            ends.check(wrong)


def test_faults_tell_each_thing_once_and_the_nearest_name():
    fault = FileFault("a.toml", [Fault("x.y", "is wrong"), Fault("x.y", "is wrong")])
    assert str(fault) == "a.toml: x.y: is wrong"
    assert nearest("Wign", ["wing", "tail"]) == "wing"
    assert hint("q", [], "packs") == "there are no packs"


def test_cross_checks_pass_over_what_is_no_table_of_theirs():
    assert number({"a": True}, "a") is None
    assert number({"a": 2}, "a") == 2.0
    twice = [{"name": "p"}, {"name": "p"}, {"no": 1}]
    assert names(twice) == ["p", "p"]
    assert [f.path for f in repeated(twice, "parts")] == ["parts.p"]
    assert [f.path for f in unknown({"pack": "b"}, "pack", "", ["a"], "packs")] == ["pack"]


def test_a_header_without_a_key_is_refused(tmp_path):
    path = tmp_path / "t.csv"
    keys = ("what", "columns", "units", "source", "obtained", "uncertainty", "licence")
    path.write_text("".join(f"# {key}: a\n" for key in keys) + "a\n 1 \n2\n")
    assert cells_of(path, read_header(path)) == {"a": ["1", "2"]}
    path.write_text("# what: a\na\n1\n")
    with pytest.raises(TableFault, match="lacks columns, units"):
        read_header(path)


def test_a_tray_has_its_front_ahead_of_its_rear():
    with pytest.raises(ValidationError, match="front_aft_mm"):
        Tray(front_aft_mm=10.0, rear_aft_mm=0.0, right_mm=0.0, up_mm=0.0)


def test_a_byte_order_mark_does_not_matter(tmp_path):
    (tmp_path / "a.toml").write_bytes(b"\xef\xbb\xbfa = 1")
    assert parse(tmp_path / "a.toml") == {"a": 1}


def test_a_set_up_takes_what_it_does_not_say_from_the_one_it_is_like():
    jet = load_aeroplane("display_jet")
    club = resolve_setup(jet, "club")
    throws = {"tail": Throws(up_deg=9.0, down_deg=8.0)}
    mine = resolve_setup(jet, SetUpBlock(like="club", throws=throws))
    assert mine.throws["tail"].up_deg == 9.0
    assert mine.throws["aileron"] == club.throws["aileron"]
    assert (mine.pack, mine.balance_aft_mm) == (club.pack, club.balance_aft_mm)


def test_what_is_read_again_is_the_readers_own(tmp_path):
    path = tmp_path / "any.toml"
    path.write_text("sizes = [1.0, 2.0]\n[inner]\nkey = 3\n", encoding="utf-8")
    first = parse(path)
    first["sizes"].append(0.0)
    first["inner"]["key"] = 4
    assert parse(path) == {"sizes": [1.0, 2.0], "inner": {"key": 3}}
