"""A flown study is found again however its files are called, and what has changed is told."""

import json

import pytest

from sim.describe import FileFault, load_study_files
from sim.describe.reading.finding import find
from sim.record.saved import SETTINGS, check_setup, find_flown
from sim.study.entering import AS_SAID, Said, as_asked
from sim.study.flights.storing import sources_of
from sim.study.standing.heights import ceiling_of
from sim.written import write_atomically

STUDY = """
schema = "aftlimit.study/1"
name = "garden"
title = "A study with files of its own"
story = "None of its files is bundled."
aeroplane = "{aeroplane}"
draws = 32
seed = 11
agility = ["pull_through"]

[[setups]]
name = "plain"
like = "club"

[[cases]]
manoeuvre = "{manoeuvre}"
recoveries = ["{recovery}"]
"""
NAMES = {
    "bare": ("my_jet", "chop", "let_go"),
    "ending": ("my_jet.toml", "chop.toml", "let_go.toml"),
    "folders": ("../hangar/my_jet.toml", "../moves/chop.toml", "../moves/let_go.toml"),
}


def written(tmp_path, how, file="garden.toml"):
    """Write a study with its own aeroplane and scripts; return its path and what it flew."""
    home = tmp_path / "studies"
    hangar, moves = (tmp_path / x if how == "folders" else home for x in ("hangar", "moves"))
    for folder in (home, hangar, moves):
        folder.mkdir(exist_ok=True)
    for kind, bundled, name, folder in (
        ("aeroplanes", "display_jet", "my_jet", hangar),
        ("manoeuvres", "throttle_chop_stall", "chop", moves),
        ("manoeuvres", "centre_sticks", "let_go", moves),
    ):
        text = find(bundled, kind).read_text(encoding="utf-8")
        text = text.replace(f'name = "{bundled}"', f'name = "{name}"', 1)
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    aeroplane, manoeuvre, recovery = NAMES[how]
    path = home / file
    text = STUDY.format(aeroplane=aeroplane, manoeuvre=manoeuvre, recovery=recovery)
    path.write_text(text, encoding="utf-8")
    return path


def flown(path, folder, heights=AS_SAID):
    """Write what a study's results say of what was flown; test_card flies and writes them."""
    files = as_asked(load_study_files(path), heights)
    study, case = files.study, files.study.cases[0]
    cases = [{"manoeuvre": case.manoeuvre, "recovery": case.recoveries[0]}]
    said = study.model_dump(include=set(SETTINGS))
    content = {
        "schema": "aftlimit.results/1", "study": study.name,
        "aeroplane": files.aeroplane.name, **said, "ceiling_m": ceiling_of(study),
        "setups": [{"name": "plain", "cases": cases}], "sources": dict(sources_of(files)),
    }  # fmt: skip
    write_atomically(folder / "results.json", json.dumps(content).encode())


@pytest.mark.parametrize("how", NAMES)
def test_found_again_however_its_files_are_named(tmp_path, monkeypatch, how):
    path = written(tmp_path, how)
    beside, elsewhere = path.parent / "garden_results", tmp_path / "out" / "of" / "the_way"
    for folder in (beside, elsewhere):
        flown(path, folder)
        found = find_flown(str(path), folder)
        assert (found.folder, found.changed, found.stale) == (folder, (), False)
    assert find_flown(str(beside)).folder == beside
    assert find_flown(str(beside / "results.json")).folder == beside
    monkeypatch.chdir(path.parent)
    assert find_flown("garden.toml").folder.name == "garden_results"
    assert find_flown(str(elsewhere)).files.study.name == "garden"


def test_found_by_its_files_own_name_where_that_is_not_the_studys(tmp_path):
    path = written(tmp_path, "bare", file="tuesday.toml")
    flown(path, path.parent / "garden_results")
    assert find_flown(str(path.parent / "garden_results")).files.paths[0] == path


def test_results_far_from_their_study_say_how_to_give_it(tmp_path, monkeypatch):
    path = written(tmp_path, "bare")
    far = tmp_path / "far" / "away"
    flown(path, far)
    monkeypatch.chdir(tmp_path)
    with pytest.raises(
        FileFault, match=f"garden.toml is not beside them; give it itself, with --out {far}"
    ):
        find_flown(str(far))
    assert find_flown(str(path), far).folder == far


def test_other_heights_than_were_flown_are_told_with_their_options(tmp_path):
    path = written(tmp_path, "bare")
    folder = path.parent / "garden_results"
    heights = Said(floor_m=30.0, ceiling_m=110.0)
    flown(path, folder, heights)
    assert find_flown(str(path), folder, heights).files.study.floor_m == 30.0
    assert find_flown(str(folder), heights=heights).folder == folder
    with pytest.raises(FileFault, match="or --entry-m 110 --floor-m 30 --ceiling-m 110 if"):
        find_flown(str(path), folder)


@pytest.mark.parametrize("how", NAMES)
@pytest.mark.parametrize("changed", ["my_jet.toml", "chop.toml", "let_go.toml", "garden.toml"])
def test_a_file_changed_since_is_told_and_flown_again(tmp_path, how, changed):
    path = written(tmp_path, how)
    folder = path.parent / "garden_results"
    flown(path, folder)
    (file,) = tmp_path.rglob(changed)
    file.write_text(file.read_text(encoding="utf-8") + "\n# another day\n", encoding="utf-8")
    found = find_flown(str(folder))
    assert (found.changed, found.stale) == ((changed,), True)


def test_another_program_is_told(tmp_path, monkeypatch):
    path = written(tmp_path, "bare")
    flown(path, path.parent / "garden_results")
    monkeypatch.setattr("sim.record.saved.program_hash", lambda: "0" * 16)
    assert find_flown(str(path.parent / "garden_results")).changed == ("the program and tables",)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"seed": 11', '"seed": "11"', "results.json: seed: must be a whole number; got '11'"),
        ('"seed": 11, ', "", "results.json: seed: is missing; give a whole number"),
        ('"cases": [', '"cases": [3, ', "results.json: setups.plain.cases[1]: must be a table"),
        ('"seed": 11', '"seed": NaN', "results.json: is not what a study writes (schema 'aft"),
        ("results/1", "results/0", "results.json: is not what a study writes (schema 'aft"),
    ],
)
def test_damaged_results_are_refused_by_key_and_what_is_allowed(tmp_path, old, new, words):
    path = written(tmp_path, "bare")
    folder = path.parent / "garden_results"
    flown(path, folder)
    results = folder / "results.json"
    text = results.read_text(encoding="utf-8")
    assert old in text
    results.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FileFault) as fault:
        find_flown(str(folder))
    assert f"{folder}/{words}" in str(fault.value)
    assert str(fault.value).count("\n") == 0


def test_results_of_a_version_with_more_keys_are_read(tmp_path):
    path = written(tmp_path, "bare")
    folder = path.parent / "garden_results"
    flown(path, folder)
    results = folder / "results.json"
    text = results.read_text(encoding="utf-8")
    results.write_text(text.replace('"seed"', '"more": 1, "seed"', 1), encoding="utf-8")
    assert find_flown(str(folder)).changed == ()


def test_a_study_that_says_something_else_is_refused(tmp_path):
    path = written(tmp_path, "bare")
    folder = path.parent / "garden_results"
    flown(path, folder)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("seed = 11", "seed = 12"), encoding="utf-8")
    with pytest.raises(FileFault, match=r"has changed since it was flown \(seed\)"):
        find_flown(str(folder))
    path.write_text(text.replace('"my_jet"', '"twin_delta"'), encoding="utf-8")
    with pytest.raises(FileFault, match=r"has changed since it was flown \(aeroplane\)"):
        find_flown(str(path), folder)
    path.write_text(text.replace('"chop"', '"banked_stall"'), encoding="utf-8")
    with pytest.raises(FileFault, match=r"has changed since it was flown \(cases\)"):
        find_flown(str(path), folder)
    # only written in another way
    path.write_text(text.replace('"my_jet"', '"my_jet.toml"'), encoding="utf-8")
    assert find_flown(str(path), folder).changed == ("garden.toml",)


def test_a_set_up_that_is_not_there(tmp_path):
    study = load_study_files(written(tmp_path, "bare")).study
    with pytest.raises(FileFault, match="set-ups: plain"):
        check_setup(study, "fancy")
