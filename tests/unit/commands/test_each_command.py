"""Each command refuses an output that cannot be written before any work is done."""

import argparse
from pathlib import Path

import pytest

from sim.arguments import build_parser
from sim.commands import card, fly, gains, power, replay, sketch, spin, study, trim, weigh
from sim.commands.exit_codes import BAD_INPUT, DONE, INTERRUPTED, NOT_MET
from sim.commands.outputs import check_folder, write_asked_json
from sim.commands.setting_up import assembled, setup_of
from sim.describe import data_folder, load_aeroplane
from sim.describe.study import ENTRY_M, FLOOR_M
from sim.record.models.weigh import weigh_record
from sim.trim.senses import Senses
from sim.weigh import weigh_set_up

NOWHERE = "no_such_folder/x.json"
ASKED = {
    card: ["card", "first_look", "--setup", "as_flown"],
    fly: ["fly", "club_sport", "spin_entry"],
    gains: ["gains", "club_sport"],
    power: ["power", "club_sport"],
    replay: ["replay", "club_sport", "spin_entry"],
    sketch: ["sketch", "club_sport"],
    spin: ["trim", "club_sport", "--spin"],
    study: ["study", "first_look"],
    trim: ["trim", "club_sport"],
    weigh: ["weigh", "club_sport"],
}


@pytest.mark.parametrize("command", ASKED, ids=lambda c: c.__name__.rsplit(".", 1)[1])
def test_an_output_that_cannot_be_written_is_told_first(command, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    args = build_parser().parse_args([*ASKED[command], "--json", NOWHERE])
    with pytest.raises(ValueError, match="no_such_folder"):
        command.run(args)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", [fly, replay], ids=["fly", "replay"])
def test_a_flight_has_the_heights_of_a_study_where_none_is_said(command):
    parser = build_parser()
    args = parser.parse_args(ASKED[command])
    assert (args.entry_m, args.floor_m) == (ENTRY_M, FLOOR_M)
    (commands,) = (x for x in parser._actions if isinstance(x, argparse._SubParsersAction))
    told = " ".join(commands.choices[ASKED[command][0]].format_help().split())
    assert f"begins (default {ENTRY_M:g} m)" in told
    assert f"counts as lost (default {FLOOR_M:g} m)" in told


def test_exit_codes_are_as_the_readme_says():
    assert (DONE, BAD_INPUT, NOT_MET, INTERRUPTED) == (0, 2, 3, 130)


def test_a_set_up_is_taken_from_the_arguments():
    aeroplane = load_aeroplane("club_sport")
    args = build_parser().parse_args(["weigh", "club_sport", "--setup", "aerobatic"])
    assert setup_of(aeroplane, args).name == "aerobatic"


def test_a_file_is_no_folder_and_json_is_written_if_asked(tmp_path):
    (tmp_path / "a").write_text("")
    with pytest.raises(ValueError, match="is a file"):
        check_folder(Path(tmp_path / "a"))
    weighed = weigh_record(weigh_set_up(load_aeroplane("club_sport")), Senses((), (), ()), ())
    write_asked_json(argparse.Namespace(json=None), weighed)
    write_asked_json(argparse.Namespace(json=str(tmp_path / "b.json")), weighed)
    assert '"schema": "aftlimit.weigh/1"' in (tmp_path / "b.json").read_text()


def test_a_cruise_speed_goes_with_the_nozzles(tmp_path):
    args = build_parser().parse_args(["power", "display_jet", "--cruise-mps", "25"])
    with pytest.raises(ValueError, match="goes with --nozzle"):
        power.run(args)


def test_measured_power_that_cannot_be_met_is_told(tmp_path, capsys):
    text = (data_folder("scenarios") / "aeroplanes" / "club_sport.toml").read_text()
    path = tmp_path / "club_sport.toml"
    measured = "[measured]\nstatic_thrust_g = 1500.0\nstatic_current_a = 30.0\npack_v = 15.2\n"
    path.write_text(text.replace("[drive]", f"{measured}\n[drive]"))
    args = build_parser().parse_args(["weigh", str(path)])
    ready = assembled(args)
    assert ready.aeroplane.propeller_units["p12x6"].thrust_factor < 0.9
    assert "measured.static_thrust_g: 1500 g cannot be met" in capsys.readouterr().err
    assert weigh.run(args) == DONE
    assert "cannot be met" in capsys.readouterr().out
