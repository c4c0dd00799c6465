"""The command line: exit codes, one clear message, files whole or not at all."""

import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from sim.arguments import build_parser
from sim.cli import main
from sim.commands.finding import command
from sim.commands.study import card_command
from sim.record.saved import find_flown
from tests.samples.brief import briefly
from tests.samples.records import valid


def run(capsys, *arguments):
    code = main(list(arguments))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_weigh_prints_and_writes_the_same(capsys, tmp_path):
    path = tmp_path / "w.json"
    code, out, err = run(capsys, "weigh", "display_jet", "--json", str(path))
    content = valid(path)
    assert (code, err) == (0, "")
    assert {"schema", "version", "mass_g", "balance_aft_mm", "inertia_kg_m2"} <= set(content)
    assert f"{content['mass_g']:.0f}" in out


def test_trim_writes_what_the_contract_names(capsys, tmp_path):
    path = tmp_path / "t.json"
    code, _, _ = run(capsys, "trim", "display_jet", "--speed-mps", "20", "--json", str(path))
    content = valid(path)
    wanted = {
        "alpha_deg", "tail_deg", "throttle", "static_margin_pct", "neutral_point_pct_mac",
        "stall_speed_mps", "modes",
    }  # fmt: skip
    assert code == 0
    assert wanted <= set(content)


def test_trim_without_level_flight_says_so_and_no_more(capsys, tmp_path):
    path = tmp_path / "t.json"
    code, out, err = run(
        capsys, "trim", "display_jet", "--speed-mps", "3", "--json", str(path)
    )  # fmt: skip
    assert (code, out, path.exists()) == (2, "", False)
    assert "no level flight at 3.0 m/s: the stall is at" in err


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("trim", "display_jet", "--throttle", "50"), "--throttle: must be 0 to 1; got 50"),
        (("weigh", "display_jet", "--units", "imperial"), "--units: invalid choice: 'imperial'"),
        (("gains", "display_jet", "--draws", "0"), "--draws: must be a power of two"),
        (("gains", "display_jet", "--draws", "x"), "--draws: invalid value: 'x'"),
    ],
)
def test_a_wrong_option_is_told_in_one_line(capsys, arguments, told):
    with pytest.raises(SystemExit) as left:
        main(list(arguments))
    err = capsys.readouterr().err
    assert left.value.code == 2
    assert told in err
    assert err.count("\n") == 1


def test_trim_at_a_throttle_gives_that_throttle(capsys, tmp_path):
    path = tmp_path / "t.json"
    code, _, _ = run(capsys, "trim", "display_jet", "--throttle", "0.6", "--json", str(path))
    assert code == 0
    assert valid(path)["throttle"] == pytest.approx(0.6, abs=1e-3)


def test_fly_writes_history_and_verdict(capsys, tmp_path):
    record, history = tmp_path / "f.json", tmp_path / "f.csv"
    code, _, _ = run(
        capsys, "fly", "display_jet", "throttle_chop_stall", "--json", str(record),
        "--history", str(history), "--balance-mm", "150",
    )  # fmt: skip
    content = valid(record)
    lines = history.read_text().splitlines()
    assert code == 0
    assert content["verdict"] == "held"
    assert {"height_lost_m", "events", "peak_alpha_deg"} <= set(content)
    assert lines[0].startswith("time_s,")
    assert len(lines) > 500


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("weigh", "display_jett"), "did you mean 'display_jet'"),
        (("weigh", "display_jet", "--setup", "clb"), "did you mean 'club'"),
        (("weigh", "display_jet", "--balance-mm", "900"), "reach"),
        (("study", "first_lok"), "did you mean 'first_look'"),
        (("fly", "display_jet", "centre_sticks"), 'must be "manoeuvre" here'),
        (("fly", "display_jet", "spin_entry", "--recovery", "spin_entry"), 'must be "recovery"'),
        (("trim", "display_jet", "--throttle", "0.01"), "does not hold level flight"),
        (("weigh", "STUDY"), "is a study, by its schema"),
        (("fly", "display_jet", "spin_entry", "--entry-m", "30"), "must be above --floor-m"),
        (("fly", "display_jet", "spin_entry", "--picture", "a.xyz"), "a picture ends in"),
    ],
)
def test_bad_input_gives_one_message_and_two(capsys, arguments, said):
    from sim.describe import data_folder

    study = data_folder("scenarios") / "studies" / "first_look.toml"
    code, out, err = run(capsys, *(str(study) if a == "STUDY" else a for a in arguments))
    assert code == 2
    assert said in err
    assert "Traceback" not in err
    assert out == ""


def test_a_folder_that_cannot_be_written_is_told(capsys, tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("")
    code, _, err = run(capsys, "weigh", "display_jet", "--json", str(blocked / "w.json"))
    assert code == 2
    assert "file" in err


def test_unknown_spread_is_refused(capsys, tmp_path):
    from sim.describe import data_folder

    text = (data_folder("scenarios") / "aeroplanes" / "display_jet.toml").read_text()
    path = tmp_path / "jet.toml"
    path.write_text(text.replace("[gyro]", "[uncertainty]\nwing_forse = 0.1\n\n[gyro]"))
    code, _, err = run(capsys, "trim", str(path))
    assert code == 2
    assert 'uncertainty.wing_forse: is not a known spread; nearest is "wing_force"' in err


def test_help_needs_none_of_the_heavy_libraries():
    script = (
        "import sys; from sim.arguments import build_parser; import sim.cli;"
        "build_parser().format_help();"
        "print([m for m in ('numba', 'numpy', 'matplotlib', 'pydantic', 'pyvista', 'rich')"
        " if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_weighing_trimming_and_power_need_no_study_and_no_flights():
    script = (
        "import sys; from importlib import import_module;"
        "[import_module(f'sim.commands.{name}') for name in ('weigh', 'trim', 'power')];"
        "print([m for m in ('scipy.stats', 'scipy.interpolate', 'scipy.optimize', 'matplotlib',"
        " 'pandas', 'sim.study.study', 'sim.core.flights.batch',"
        " 'sim.core.flights.flight') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_a_command_is_found_by_its_name():
    assert command("weigh").__module__ == "sim.commands.weigh"


@pytest.mark.parametrize("arguments", [("--draw", "-1"), ("--seed", "-3"), ("--entry-m", "-5")])
def test_numbers_out_of_range_are_refused(capsys, arguments):
    with pytest.raises(SystemExit) as caught:
        main(["fly", "display_jet", "spin_entry", *arguments])
    assert caught.value.code == 2
    assert "must be" in capsys.readouterr().err


NO_LIMIT = """
schema = "aftlimit.study/1"
name = "no_limit"
title = "Too low from the start"
story = "Nothing here comes back within a metre."
aeroplane = "display_jet"
draws = 8
seed = 3
floor_m = 119.0
agility = ["pull_through"]

[aft_limit]
packs = ["6s_4000"]
manoeuvres = ["throttle_chop_stall"]
recoveries = ["centre_sticks"]
from_aft_mm = 166.0
to_aft_mm = 170.0
draws = 128
like = "club"
"""


def test_a_study_whose_requirement_is_not_met_exits_with_three(capsys, tmp_path, undrawn):
    path = tmp_path / "no limit.toml"
    path.write_text(NO_LIMIT, encoding="utf-8")
    with briefly(landing_draws=8):
        code, out, _ = run(capsys, "study", str(path), "--out", str(tmp_path / "out"))
    # the command that its report gives for a card finds what was flown
    args = build_parser().parse_args(
        shlex.split(f"{card_command(str(path), [('--out', str(tmp_path / 'out'))])} --setup club")[
            1:
        ]
    )
    assert find_flown(args.study, Path(args.out)).folder == tmp_path / "out"
    content = valid(tmp_path / "out" / "results.json")
    assert code == 3
    assert content["met"] is False
    assert content["aft_limits"][0]["aft_mm"] is None
    assert "DO NOT FLY throttle chop stall" in " ".join(out.split())
    assert (tmp_path / "out" / "report.html").is_file()


COMMANDS = (
    (),
    ("study",),
    ("card",),
    ("sketch",),
    ("weigh",),
    ("trim",),
    ("power",),
    ("fly",),
    ("replay",),
)


@pytest.mark.parametrize("columns", ["60", "200"])
@pytest.mark.parametrize("command", COMMANDS)
def test_help_tells_what_it_does_within_100_columns(command, columns, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", columns)
    with pytest.raises(SystemExit) as ended:
        main([*command, "--help"])
    text = capsys.readouterr().out
    assert ended.value.code == 0
    assert max(len(line) for line in text.splitlines()) <= min(100, int(columns))
    assert "no proof of airworthiness" in " ".join(text.split())
    described = text.split("\n\n")[1]
    assert described[0].isupper()
    assert described.rstrip().endswith((".", "back."))


@pytest.mark.parametrize(
    "arguments",
    [
        ("weigh", "display_jet", "--json", "reslts/deep/w.json"),
        ("study", "first_look", "--out", "reslts/deep"),
        ("sketch", "display_jet", "--out", "reslts/a.png"),
        ("fly", "display_jet", "spin_entry", "--history", "reslts/h.csv"),
        ("replay", "display_jet", "spin_entry", "--still", "reslts/s.png"),
    ],
)
def test_a_misspelt_folder_is_refused_and_not_made(arguments, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "results").mkdir()
    code, out, err = run(capsys, *arguments)
    assert (code, out) == (2, "")
    assert f'there is no folder "reslts" in {tmp_path} (did you mean "results"?)' in err
    assert err.count("\n") == 1
    assert [x.name for x in tmp_path.iterdir()] == ["results"]


def test_errors_wrap_on_a_terminal_only(capsys, monkeypatch):
    main(["weigh", "no_such_aeroplane_" + "x" * 20])
    piped = capsys.readouterr().err
    assert piped.count("\n") == 1
    assert len(piped) > 100
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    main(["weigh", "no_such_aeroplane_" + "x" * 20])
    told = capsys.readouterr().err
    assert max(len(line) for line in told.splitlines()) <= 100
    assert " ".join(told.split()) == " ".join(piped.split())
