"""The words a user sees for slips in manoeuvre and study files."""

import pytest
from pydantic import ValidationError

from sim.describe import (
    FileFault,
    Recovery,
    load_manoeuvre,
    load_recovery,
    load_script,
)
from sim.describe.reading.study_files import load_study, load_study_files

STALL = """
schema = "aftlimit.manoeuvre/1"
kind = "manoeuvre"
name = "stall"
title = "throttle off, full aft"
start = { speed_over_stall = 1.4 }

[[phases]]
name = "pull"
throttle = 0
elevator = 1
at_most_s = 6
until = { alpha_above_deg = 30 }
"""
CENTRE = """
schema = "aftlimit.manoeuvre/1"
kind = "recovery"
name = "centre"
title = "let go"

[[phases]]
name = "centre"
at_most_s = 20
reaction = true
until = { unstalled = true, for_s = 0.35 }
"""
STUDY = """
schema = "aftlimit.study/1"
name = "try"
title = "one case"
story = "a test"
aeroplane = "display_jet"
draws = 32
seed = 1
setups = [{ name = "aft", like = "club", balance_aft_mm = 240 }]
cases = [{ manoeuvre = "stall", recoveries = ["centre"] }]
"""


def written(folder, study=STUDY, stall=STALL, centre=CENTRE):
    (folder / "stall.toml").write_text(stall, encoding="utf-8")
    (folder / "centre.toml").write_text(centre, encoding="utf-8")
    path = folder / "try.toml"
    path.write_text(study, encoding="utf-8")
    return path


def words(load, path):
    with pytest.raises(FileFault) as caught:
        load(path)
    return str(caught.value)


def test_a_good_study_finds_its_files(tmp_path):
    files = load_study_files(written(tmp_path))
    assert files.aeroplane.name == "display_jet"
    assert files.manoeuvres["stall"].start.speed_over_stall == 1.4
    assert files.recoveries["centre"].phases[0].until.for_s == 0.35
    assert files.study.heights_of(files.study.cases[0]) == (120.0, 40.0)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("draws = 32", "draws = 100", "draws: must be a power of two, such as 32, 64, 128 or 256; "
         "got 100"),
        ("seed = 1", "seed = 1\nfloor_m = 150", "floor_m: must be below entry_m, 120; got 150"),
        ('"club"', '"clubb"', "setups.aft.like: names 'clubb', which is not there; did you mean "
         "'club'? set-ups: club, display, big_throws"),
        ('["centre"]', '["stall"]', "cases.stall.recoveries: needs a recovery; 'stall' is a "
         "manoeuvre"),
        ('aeroplane = "display_jet"', 'aeroplane = "jet"', "aeroplane: names 'jet': no bundled "
         "file of this name; aeroplanes: club_sport, display_jet, twin_delta"),
        ("cases = [", "casses = [", "casses: is no key of this table; did you mean 'cases'?"),
    ],
)  # fmt: skip
def test_study_slips(tmp_path, old, new, said):
    assert words(load_study, written(tmp_path, STUDY.replace(old, new))) == f"try.toml: {said}"


def test_a_missing_recovery_names_the_case(tmp_path):
    said = words(load_study, written(tmp_path, STUDY.replace('["centre"]', '["center"]')))
    assert said.startswith("try.toml: cases.stall.recoveries: names 'center': no bundled file")


def test_a_pack_the_aeroplane_lacks(tmp_path):
    search = """
[aft_limit]
packs = ["6s_9000"]
manoeuvres = ["stall"]
recoveries = ["centre"]
from_aft_mm = 200
to_aft_mm = 260
draws = 64
"""
    path = written(tmp_path, STUDY + search)
    assert words(load_study, path) == (
        "try.toml: aft_limit.draws: must be at least 128 and at most 4096 draws; got 64"
    )
    path = written(tmp_path, STUDY + search.replace("draws = 64", "draws = 128"))
    assert words(load_study, path).startswith("try.toml: aft_limit.packs: names '6s_9000', which")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("elevator = 1", "elevator = 25", "phases.pull.elevator: must be at least -1 and at most "
         "1 of full stick; got 25"),
        ("at_most_s = 6", "at_most_s = 6\nat_least_s = 8", "phases.pull.at_least_s: must be no "
         "more than at_most_s, 6; got 8"),
        ("alpha_above_deg = 30", "alpha_above_deg = 30, alpha_below_deg = 20",
         "phases.pull.until.alpha_above_deg: must be less than alpha_below_deg, 20, or it never "
         "ends; got 30"),
        ("alpha_above_deg = 30", "alpha_over_deg = 30",
         "phases.pull.until.alpha_over_deg: is no key of this table; did you mean "
         "'alpha_above_deg'?"),
        ("alpha_above_deg = 30", "for_s = 1", "phases.pull.until: gives no condition; name one, "
         "or leave until out"),
        ("start = { speed_over_stall = 1.4 }", "", "start: is missing; a manoeuvre says how it "
         "begins"),
        ('kind = "manoeuvre"', 'kind = "recovery"', "start: does not belong to a recovery, which "
         "begins where the manoeuvre ends; leave it out"),
    ],
)  # fmt: skip
def test_manoeuvre_slips(tmp_path, old, new, said):
    written(tmp_path, stall=STALL.replace(old, new))
    assert words(load_manoeuvre, tmp_path / "stall.toml") == f"stall.toml: {said}"


def test_a_manoeuvre_is_no_recovery_and_a_recovery_no_manoeuvre(tmp_path):
    written(tmp_path, stall=STALL)
    (tmp_path / "out.toml").write_text(CENTRE)
    said = words(load_recovery, tmp_path / "stall.toml")
    assert said == 'stall.toml: kind: must be "recovery" here; got "manoeuvre"'
    said = words(load_manoeuvre, tmp_path / "out.toml")
    assert said == 'out.toml: kind: must be "manoeuvre" here; got "recovery"'
    assert load_script(tmp_path / "out.toml") == load_recovery(tmp_path / "out.toml")
    assert load_script(tmp_path / "stall.toml") == load_manoeuvre(tmp_path / "stall.toml")


def test_a_model_takes_its_own_kind_alone(tmp_path):
    written(tmp_path, stall=STALL)
    told = load_manoeuvre(tmp_path / "stall.toml").model_dump(by_alias=True)
    with pytest.raises(ValidationError, match='kind: must be "recovery" here; got "manoeuvre"'):
        Recovery.model_validate(told)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('kind = "manoeuvre"', 'kind = "recoveri"', "kind: must be 'manoeuvre' or 'recovery'; got "
         "'recoveri'; did you mean 'recovery'?"),
        ('kind = "manoeuvre"\n', "", "kind: is missing; give 'manoeuvre' or 'recovery'"),
    ],
)  # fmt: skip
def test_a_kind_that_is_none_is_told_alone(tmp_path, old, new, said):
    written(
        tmp_path, stall=STALL.replace(old, new).replace("start = { speed_over_stall = 1.4 }", "")
    )
    for load in (load_manoeuvre, load_recovery, load_script):
        assert words(load, tmp_path / "stall.toml") == f"stall.toml: {said}"


def test_fault_inside_a_manoeuvre_says_its_key(tmp_path):
    named = STUDY.replace('"stall"', '"stall.toml"')
    path = written(tmp_path, named, STALL.replace("throttle = 0\n", "throttle = 7\n"))
    said = "stall.toml: phases.pull.throttle: must be at least 0 and at most 1 of full throttle"
    assert words(load_study_files, path) == f"{said}; got 7"


def test_a_manoeuvre_that_is_not_there_is_told_as_the_studys(tmp_path):
    path = written(tmp_path, STUDY.replace('"stall"', '"spin_up.toml"'))
    said = words(load_study_files, path)
    assert said.startswith("try.toml: cases.spin_up.toml.manoeuvre: names 'spin_up.toml': there is")


@pytest.mark.parametrize("text", ["", "\n", "# nothing yet\n"])
def test_an_empty_file_is_told_in_one_line(tmp_path, text):
    path = written(tmp_path, text, text)
    for load, file, schema in (
        (load_study, path, "study"),
        (load_manoeuvre, tmp_path / "stall.toml", "manoeuvre"),
    ):
        assert words(load, file) == (
            f"{file.name}: is empty; begin with schema = 'aftlimit.{schema}/1', or copy one from "
            "the folder scenarios and change it"
        )
