"""The study of an aeroplane that comes without one: what it flies, and that it is found by name."""

import pytest

from sim.describe import FileFault, Study, data_folder, load_aeroplane, load_study_files
from sim.describe.aeroplane import FlyingField
from sim.describe.reading.study_files import at_the_field
from sim.record.saved import (
    CaseRead,
    ResultsRead,
    SetUpRead,
    _file_of,
    check_setup,
    find_flown,
)
from sim.study.entering import Said
from sim.study.own_study import TODAY, find_study, study_of
from sim.study.standing.heights import ceiling_of
from sim.weigh import weigh_set_up

JET = data_folder("scenarios") / "aeroplanes" / "display_jet.toml"


@pytest.fixture(scope="module")
def files():
    return find_study("display_jet")


def test_a_study_is_still_a_study():
    assert find_study("first_look").study.name == "first_look"


def test_today_steps_aft_and_packs_are_flown(files):
    study = files.study
    assert [x.name for x in study.setups] == [
        TODAY, "aft_5_mm", "aft_10_mm", "aft_15_mm", "pack_6s_3300", "lightest_pack",
        "heaviest_pack", "heaviest_178_mm",
    ]  # fmt: skip
    # each pack whose limit is searched has a set-up, so a card can be made of it
    assert {x.pack for x in study.setups[1:] if x.pack} | {"6s_4000"} == set(study.aft_limit.packs)
    # the lightest pack would need weight in the nose there
    assert "lightest pack, 6s_2600, at today's balance point (its tray alone" in study.story
    today = weigh_set_up(files.aeroplane, "club")
    for block, step in zip(study.setups[1:4], (5.0, 10.0, 15.0), strict=True):
        assert block.balance_aft_mm == pytest.approx(today.balance_aft_mm + step, abs=0.1)
    light, heavy, level = study.setups[5:]
    assert (light.pack, heavy.pack) == ("6s_2600", "6s_5000")
    # the usual hidden cause of tail-heaviness: a smaller pack in the same place
    assert level.balance_aft_mm == pytest.approx(today.balance_aft_mm, abs=0.1)
    assert not weigh_set_up(files.aeroplane, level).added_weights
    assert light.pack_aft_mm == pytest.approx(today.pack_aft_mm, abs=0.1)


def test_each_pack_s_limit_is_looked_for_about_the_neutral_point(files):
    limit = files.study.aft_limit
    assert limit.packs == tuple(files.aeroplane.packs)
    # neutral point 206 mm, mean chord 273 mm: from 40 % margin, or 15 mm ahead of today's 178
    assert limit.from_aft_mm == pytest.approx(206.0 - 0.40 * 273.0, abs=4.0)
    assert limit.to_aft_mm == pytest.approx(206.0 - 0.02 * 273.0, abs=4.0)


def test_every_file_that_it_rests_on_is_named(files):
    assert files.paths[0] == JET
    assert {path.stem for path in files.paths[1:]} == {*files.manoeuvres, *files.recoveries}


def test_what_cannot_be_had_is_left_out_and_told():
    jet = load_aeroplane("display_jet")
    short = jet.tray.model_copy(update={"rear_aft_mm": -185.0})
    jet = jet.model_copy(update={"tray": short, "weight_places": ()})
    study = study_of(jet, JET).study
    assert [x.name for x in study.setups if x.name.startswith("aft")] == []
    assert "Left out, as neither pack nor weights give it: 5 mm further aft" in study.story


def test_no_such_file_is_told():
    with pytest.raises(FileFault, match="no bundled file of this name"):
        find_study("display_yet")


def test_its_results_find_the_folder_that_start_made(tmp_path):
    made = tmp_path / "mine"
    made.mkdir()
    text = JET.read_text(encoding="utf-8").replace('name = "display_jet"', 'name = "mine"')
    (made / "mine.toml").write_text(text, encoding="utf-8")
    files = find_study(made / "mine.toml")
    study = files.study
    content = ResultsRead(
        study="mine", aeroplane="mine", seed=study.seed, draws=study.draws, entry_m=study.entry_m,
        floor_m=study.floor_m, required_share_pct=study.required_share_pct,
        setups=[
            SetUpRead(
                name=block.name,
                cases=[CaseRead(manoeuvre=case.manoeuvre, recovery=recovery)
                       for case in study.cases for recovery in case.recoveries],
            )
            for block in study.setups
        ],
        sources={"mine.toml": ""},
    )  # fmt: skip
    assert _file_of(tmp_path / "mine_results", content).paths[0] == made / "mine.toml"


def test_every_manoeuvre_is_entered_at_the_height_asked_for(files):
    study = find_study("display_jet", Said(entry_m=230.0)).study
    assert {study.heights_of(case) for case in study.cases} == {(230.0, study.floor_m)}
    assert {study.limit_heights(name)[0] for name in study.limit_manoeuvres} == {230.0}
    assert {files.study.heights_of(case)[0] for case in files.study.cases} == {120.0, 200.0}
    with pytest.raises(FileFault, match="--entry-m: floor_m: must be below entry_m, 30; got 40"):
        find_study("display_jet", Said(entry_m=30.0))


def test_floor_and_ceiling_are_those_said_then_the_fields(tmp_path):
    text = JET.read_text(encoding="utf-8")
    assert "[field]" not in text
    path = tmp_path / "display_jet.toml"
    path.write_text(f"{text}\n[field]\nfloor_m = 30.0\nceiling_m = 90.0\n", encoding="utf-8")
    study = find_study(path).study
    heights = {case.manoeuvre: study.heights_of(case) for case in study.cases}
    assert heights == {"throttle_chop_stall": (90.0, 30.0), "incipient_spin": (200.0, 30.0)}
    assert ceiling_of(study) == 90.0
    said = find_study(path, Said(floor_m=50.0, ceiling_m=150.0))
    assert said.options == (("--floor-m", "50"), ("--ceiling-m", "150"))
    # what the aeroplane's field began at its ceiling begins at the one said
    told = [said.study.heights_of(case) for case in said.study.cases]
    assert told == [(150.0, 50.0), (200.0, 50.0)]
    assert ceiling_of(said.study) == 150.0
    low = find_study(path, Said(ceiling_m=80.0)).study
    assert low.heights_of(low.cases[0]) == (80.0, 30.0)
    # a height that is said stands, whatever the ceiling
    high = find_study(path, Said(entry_m=110.0, ceiling_m=80.0)).study
    assert high.heights_of(high.cases[0]) == (110.0, 30.0)
    with pytest.raises(FileFault, match="--ceiling-m: ceiling_m: must lie above floor_m, 30"):
        find_study(path, Said(ceiling_m=25.0))


def test_more_draws_than_the_study_s_may_be_said():
    said = find_study("first_look", Said(draws=512))
    assert said.options == (("--draws", "512"),)
    assert (said.study.draws, said.study.aft_limit.draws) == (512, 512)
    few = find_study("first_look", Said(draws=64)).study
    assert (few.draws, few.aft_limit.draws) == (64, 128)  # no limit is told from fewer


def test_a_study_file_takes_the_fields_heights_only_where_it_names_none(tmp_path):
    study = load_study_files("first_look")
    field = FlyingField(floor_m=25.0, ceiling_m=80.0)
    jet = study.aeroplane.model_copy(update={"field": field})
    silent = study.study.model_copy()
    told = at_the_field(silent, jet)
    said = silent.model_fields_set
    assert told.floor_m == (silent.floor_m if "floor_m" in said else 25.0)
    assert told.entry_m == (silent.entry_m if "entry_m" in said else 80.0)
    assert told.ceiling_m == 80.0
    own = Study.model_validate({
        **silent.model_dump(by_alias=True, exclude_unset=True), "floor_m": 60.0, "entry_m": 150.0,
        "ceiling_m": 140.0,
    })  # fmt: skip
    told = at_the_field(own, jet)
    assert (told.floor_m, told.entry_m, told.ceiling_m) == (60.0, 150.0, 140.0)


def test_a_field_whose_floor_lies_above_its_ceiling_is_refused():
    with pytest.raises(ValueError, match="must lie below ceiling_m, 90; got 95"):
        FlyingField(floor_m=95.0, ceiling_m=90.0)


def test_a_file_is_found_by_the_name_of_the_folder_that_start_made(tmp_path, monkeypatch):
    made = tmp_path / "mine"
    made.mkdir()
    text = JET.read_text(encoding="utf-8").replace('name = "display_jet"', 'name = "mine"')
    (made / "mine.toml").write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    for name in ("mine", "mine/", made):
        assert load_aeroplane(name).name == "mine"
    assert find_study("mine").paths[0].resolve() == made / "mine.toml"
    with pytest.raises(FileFault, match="has not been flown"):
        find_flown("mine")
    (tmp_path / "empty").mkdir()
    with pytest.raises(FileFault, match=r"is a folder without a empty\.toml"):
        load_aeroplane("empty/")


def test_a_card_without_a_set_up_names_those_there_are(files):
    with pytest.raises(FileFault, match="needs --setup and the name of one of its set-ups: today"):
        check_setup(files.study, None)
