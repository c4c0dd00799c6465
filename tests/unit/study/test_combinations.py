"""Aft limits belong to a pack and a combination; results to the names that a study uses."""

import shutil
from math import radians, sin
from textwrap import dedent

import pytest

from sim import tables
from sim.describe import FileFault, load_study_files
from sim.describe.reading.finding import find
from sim.study import run_study
from sim.study.changes import limit_for, stages
from sim.study.combinations import combination_key, named_setup, searches
from sim.study.throws_told import arms_mm

HEAD = """
schema = "aftlimit.study/1"
name = "own"
title = "A study of our own"
story = "Gyro and throws."
aeroplane = "display_jet"
draws = 32
seed = 3
agility = []
"""
SETUPS = """
[[setups]]
name = "bare"
pack = "6s_3300"
balance_aft_mm = 170.0

[[setups]]
name = "bare_aft"
pack = "6s_3300"
balance_aft_mm = 180.0

[[setups]]
name = "gyro_on"
pack = "6s_3300"
balance_aft_mm = 180.0
gyro = "on"

[[setups]]
name = "big"
pack = "6s_5000"
balance_aft_mm = 170.0
gyro = "on"
"""
CASES = """
[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks", "rudder_forward"]

[[cases]]
manoeuvre = "incipient_spin"
recoveries = ["rudder_forward", "centre_sticks"]
entry_m = 200.0
"""
LIMIT = """
[aft_limit]
from_aft_mm = 110.0
to_aft_mm = 160.0
draws = 128
"""


ONE_CASE = """
[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks"]
"""
SIZE = 1.15  # of a larger elevator
FEW = HEAD.replace("draws = 32", "draws = 8")


@pytest.fixture(scope="module", autouse=True)
def _brief(brief):
    """None is looked at here."""


def study(folder, *parts):
    path = folder / "own.toml"
    path.write_text("\n".join(dedent(part) for part in parts), encoding="utf-8")
    return load_study_files(path)


def told(files):
    return [
        (pack, found.like, found.setups) for pack, found in searches(files.aeroplane, files.study)
    ]


def test_each_combination_that_set_ups_have_is_searched(tmp_path):
    files = study(tmp_path, HEAD, SETUPS, CASES, LIMIT)
    assert told(files) == [
        ("6s_3300", "bare", ("bare", "bare_aft")),
        ("6s_3300", "gyro_on", ("gyro_on", "big")),
        ("6s_5000", "gyro_on", ("gyro_on", "big")),
    ]


def test_a_pack_that_no_set_up_flies_is_searched_in_each(tmp_path):
    files = study(tmp_path, HEAD, SETUPS, CASES, LIMIT + 'packs = ["6s_2600"]\n')
    assert [like for _, like, _ in told(files)] == ["bare", "gyro_on"]


def test_like_names_the_one_searched_of_study_or_aeroplane(tmp_path):
    files = study(tmp_path, HEAD, SETUPS, CASES, LIMIT + 'like = "gyro_on"\n')
    assert {like for _, like, _ in told(files)} == {"gyro_on"}
    files = study(tmp_path, HEAD, SETUPS, CASES, LIMIT + 'like = "club"\n')
    (_, found), *_ = searches(files.aeroplane, files.study)
    club = named_setup(files.aeroplane, files.study, "club")
    assert combination_key(found.setup) == combination_key(club)
    # told of whom it is, be it none of the study's set-ups
    assert found.like == "club"


def test_set_ups_named_besides_are_searched_with_the_pack_they_fly(tmp_path):
    """A wished-for change is looked at with its own pack alone."""
    both = LIMIT + 'packs = ["6s_3300", "6s_5000"]\nlike = "bare"\nalso = ["gyro_on", "bare_aft"]\n'
    files = study(tmp_path, HEAD, SETUPS, CASES, both)
    assert [(pack, like) for pack, like, _ in told(files)] == [
        ("6s_3300", "bare"), ("6s_5000", "bare"), ("6s_3300", "gyro_on"),
    ]  # fmt: skip


def test_a_set_up_named_besides_must_be_known(tmp_path):
    with pytest.raises(FileFault) as fault:
        study(tmp_path, HEAD, SETUPS, CASES, LIMIT + 'also = ["gyro_onn"]\n')
    assert "aft_limit.also" in str(fault.value)
    assert "gyro_on" in str(fault.value)


def test_no_set_up_is_ever_searched_in_silence(tmp_path):
    alone = LIMIT + dedent(
        """
        packs = ["6s_3300"]
        manoeuvres = ["throttle_chop_stall"]
        recoveries = ["centre_sticks"]
        """
    )
    with pytest.raises(FileFault) as fault:
        study(tmp_path, HEAD, alone)
    assert "aft_limit.like" in str(fault.value)
    assert "name the set-up whose throws, nozzle, gyro and weights are searched" in str(fault.value)


def test_all_manoeuvres_and_their_own_heights_are_searched_by_default(tmp_path):
    files = study(tmp_path, HEAD, SETUPS, CASES, LIMIT)
    assert files.study.limit_manoeuvres == ("throttle_chop_stall", "incipient_spin")
    assert files.study.limit_recoveries == ("centre_sticks", "rudder_forward")
    assert files.study.limit_heights("incipient_spin") == (200.0, 40.0)
    assert files.study.limit_heights("throttle_chop_stall") == (120.0, 40.0)


def test_changes_come_one_at_a_time(tmp_path):
    files = study(tmp_path, HEAD, SETUPS, CASES)
    jet, own = files.aeroplane, files.study
    before, after = named_setup(jet, own, "bare"), named_setup(jet, own, "big")
    found = stages(jet, before, after)
    assert [one.what.split()[0] for one in found] == ["pack", "gyro"]
    # the pack lies where it lay, and the gyro comes on top of it
    assert found[0].setup.pack == "6s_5000"
    assert found[0].setup.gyro == "off"
    assert found[1].setup.gyro == "on"
    assert found[0].setup.pack_aft_mm == found[1].setup.pack_aft_mm


def test_only_the_throws_that_changed_are_told(tmp_path):
    files = study(tmp_path, HEAD, SETUPS, CASES)
    before = named_setup(files.aeroplane, files.study, "bare")
    name = next(iter(before.throws))
    other = before.throws[name].model_copy(update={"up_deg": 9.5})
    after = before.model_copy(update={"throws": {**before.throws, name: other}})
    (found,) = stages(files.aeroplane, before, after)
    assert len(before.throws) > 1
    # as a ruler reads it: the sine of the angle times the arm of hinge or pivot (geometry)
    arm = arms_mm(files.aeroplane)[name]
    up, down = (f"{arm * sin(radians(deg)):.3g}" for deg in (9.5, other.down_deg))
    assert found.what == f"throws {name} 9.5/{other.down_deg:g}° ({up}/{down} mm)"


def test_a_limit_is_of_its_own_combination_only(tmp_path, monkeypatch):
    sizes = tables.landing().model_copy(update={"elevator_sizes": (SIZE,)})
    monkeypatch.setattr(tables, "landing", lambda: sizes)
    # fewer draws show 80 % than 95 %, and it is not the share that is looked at; so little up tail
    # that no window opens
    little = 'gyro = "on"\nthrows = { tail = { up_deg = 7.0, down_deg = 12.0 } }'
    setups = SETUPS.replace('gyro = "on"', little)
    asked = "entry_m = 200.0\nceiling_m = 120.0\nrequired_share_pct = 80.0\n"
    files = study(tmp_path, FEW + asked, setups, ONE_CASE,
                  LIMIT.replace("110.0", "150.0") + 'like = "gyro_on"\n'
                  'manoeuvres = ["throttle_chop_stall"]\nrecoveries = ["centre_sticks"]\n'
                  'packs = ["6s_3300"]\n')  # fmt: skip
    result = run_study(files)
    assert (result.ceiling_m, result.ceiling_said) == (120.0, True)
    (limit,) = result.aft_limits
    jet, own = files.aeroplane, files.study
    assert limit_for(result.aft_limits, named_setup(jet, own, "gyro_on")) is limit
    assert limit_for(result.aft_limits, named_setup(jet, own, "bare")) is None
    assert limit_for(result.aft_limits, named_setup(jet, own, "big")) is None
    assert limit.setups == ("gyro_on", "big")
    assert limit.gyro.startswith("gyro on")
    assert limit.neutral_mm is not None
    assert [one.manoeuvre for one in limit.each] == ["throttle_chop_stall"]
    # no window opens here, so a larger elevator is looked at: another aeroplane, with another limit
    larger = limit.more_area
    assert larger.value == pytest.approx(SIZE * larger.now, abs=0.05)
    assert abs(larger.aft_mm - limit.forward.aft_mm) > 0.1
    assert larger.reached == (larger.aft_mm <= larger.goal_mm)
    # the draws are common: each case has the first of the same sequence
    for setup in result.setups:
        for case in setup.cases:
            assert list(case.which) == list(range(case.shares.flights))


COPIED = """
[[setups]]
name = "aft"
pack = "6s_3300"
balance_aft_mm = 215.0

[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks"]

[[cases]]
manoeuvre = "gentle"
recoveries = ["centre_sticks"]
"""


def test_a_copied_manoeuvre_with_its_inner_name_left_stands_for_itself(tmp_path):
    path = find("throttle_chop_stall", "manoeuvres")
    text = path.read_text(encoding="utf-8")
    assert 'name = "throttle_chop_stall"' in text
    assert "floor" not in text
    # the copy is entered faster and ends at once: another flight under the same inner name
    (tmp_path / "gentle.toml").write_text(
        text.replace("elevator = 1.0", "elevator = 0.1"), encoding="utf-8"
    )
    files = study(tmp_path, FEW.replace("draws = 8", "draws = 16"), COPIED)
    (setup,) = run_study(files).setups
    real, copy = setup.cases
    assert (real.manoeuvre, copy.manoeuvre) == ("throttle_chop_stall", "gentle")
    assert copy.shares.back > real.shares.back
    # one title for two scripts: told apart by the study's own names
    assert copy.manoeuvre_title.endswith("(gentle)")


def test_one_file_under_two_names_is_refused(tmp_path):
    shutil.copy(find("throttle_chop_stall", "manoeuvres"), tmp_path / "chop.toml")
    twice = COPIED.replace('"throttle_chop_stall"', '"chop"').replace('"gentle"', '"chop.toml"')
    with pytest.raises(FileFault) as fault:
        study(tmp_path, HEAD, twice)
    assert "'chop' and 'chop.toml' name the same file, chop.toml; use one name" in str(fault.value)


def test_the_same_recovery_twice_is_refused(tmp_path):
    twice = COPIED.replace('["centre_sticks"]', '["centre_sticks", "centre_sticks"]', 1)
    with pytest.raises(FileFault) as fault:
        study(tmp_path, HEAD, twice)
    assert "is there twice" in str(fault.value)
