"""One unit stopped: its moment by hand, the least speed it leaves, how it stops in flight."""

from argparse import Namespace
from dataclasses import replace

import numpy as np
import pytest

from sim import tables
from sim.cli import main
from sim.commands import one_out as command
from sim.core import script_layout as s
from sim.describe import FileFault, load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.power.stopping import lacks_a_pair, stopped_unit, without_current
from sim.record.models.one_out import one_out_record
from sim.show.console.aeroplane.one_out import one_out_tables
from sim.show.console.console import show
from sim.trim.one_out import least_speed, one_out
from tests.samples.records import valid

ARM_M = 0.15


@pytest.fixture(scope="module")
def delta():
    """Return the twin delta with its fans set 150 mm out."""
    aeroplane = load_aeroplane("twin_delta")
    fans = [f.model_copy(update={"right_mm": np.sign(f.right_mm) * 150.0}) for f in aeroplane.fans]
    return assemble(aeroplane.model_copy(update={"fans": fans}))


@pytest.fixture
def short(monkeypatch):
    """Look at full throttle alone."""
    table = tables.one_out().model_copy(update={"throttles": [1.0]})
    monkeypatch.setattr(tables, "one_out", lambda: table)


def least(delta, side, throttle, bank):
    index = stopped_unit(delta.model.units, side)
    dead = delta.model._replace(units=without_current(delta.model.units, index))
    return least_speed(delta, dead, side, throttle, bank)


def test_the_moment_is_thrust_and_drag_on_their_arm(delta, short):
    found = one_out(delta, -1.0)
    assert found.unit == "left fan"
    assert found.yaw_nm < 0.0  # the right one pushes the nose to the left
    by_hand = ARM_M * (found.thrust_left_n + found.turning_drag_n)
    assert -found.yaw_nm == pytest.approx(by_hand, rel=0.1)
    assert 0.0 < found.turning_drag_n < 0.1 * found.thrust_left_n
    row = found.speeds[0]
    assert row.bound == "rudder"
    assert row.rudder_stick > 0.98


def test_the_best_climb_is_the_best_of_what_is_told(delta, short):
    found = one_out(delta, 1.0)
    banked = [row.climb_mps for row in found.speeds if row.bank_deg]
    assert found.best_climb_mps >= max(banked)


def test_at_the_least_speed_full_rudder_is_what_the_thrust_asks(delta):
    """Rudder grows with V², thrust hardly: by that alone half the throttle, so much less speed."""
    full, half = (least(delta, -1.0, t, 0.0) for t in (1.0, 0.6))
    assert half.speed_mps < 0.9 * full.speed_mps
    assert half.climb_mps < full.climb_mps


def test_five_degrees_of_bank_buy_speed_and_sides_are_mirrored(delta):
    """What pilots of twins are taught; common practice, no source."""
    level, banked = least(delta, -1.0, 1.0, 0.0), least(delta, -1.0, 1.0, 5.0)
    assert banked.speed_mps < 0.97 * level.speed_mps
    other = least(delta, 1.0, 1.0, 5.0)
    assert other.speed_mps == pytest.approx(banked.speed_mps, rel=0.02)
    assert other.rudder_stick == pytest.approx(-banked.rudder_stick, abs=0.05)


def test_a_unit_stops_in_flight_and_does_not_start_again():
    ready = assemble(load_aeroplane("twin_delta"))
    manoeuvre, recovery = load_manoeuvre("one_unit_stops"), load_recovery("centre_sticks_power")
    speeds = []
    for side in (-1.0, 1.0):
        history = fly_one(ready, manoeuvre, recovery, side).history
        left, throttle = history[:, s.H_ROTOR], history[:, s.H_THROTTLE]
        assert throttle[-1] > 0.5
        speeds.append(left[-1] / left.max())
    assert speeds[0] < 0.5 < speeds[1]


@pytest.mark.parametrize(("name", "kind"), [("display_jet", "fan"), ("club_sport", "propeller")])
def test_with_one_unit_nothing_is_left_to_fly_on(name, kind, capsys):
    aeroplane = load_aeroplane(name)
    text = f"{name} has one {kind}; nothing is left to fly on"
    assert lacks_a_pair(aeroplane) == text
    with pytest.raises(ValueError, match=text):
        command.run(Namespace(aeroplane=name, json=None))
    assert main(["trim", name, "--one-out"]) == 2
    assert text in capsys.readouterr().err


def test_a_manoeuvre_that_stops_a_unit_is_refused_with_one():
    ready = assemble(load_aeroplane("display_jet"))
    text = r"one_unit_stops.toml: phases.one stops.stop_unit: display_jet has one fan"
    with pytest.raises(FileFault, match=text):
        fly_one(ready, load_manoeuvre("one_unit_stops"), load_recovery("centre_sticks"))


def test_units_on_the_middle_stand_on_no_side():
    aeroplane = load_aeroplane("twin_delta")
    fans = [f.model_copy(update={"right_mm": 0.0}) for f in aeroplane.fans]
    said = lacks_a_pair(aeroplane.model_copy(update={"fans": fans}))
    assert said == "twin_delta has no fan to the left of its middle that could stop"


def test_trim_tells_of_both_sides(short, capsys, tmp_path):
    path = tmp_path / "one_out.json"
    assert main(["trim", "twin_delta", "--one-out", "--json", str(path)]) == 0
    out = capsys.readouterr().out
    assert "held straight down to the stall" in out
    assert "nominal" in out
    content = valid(path)
    assert [row["side"] for row in content["stopped"]] == ["left", "right"]
    assert content["stopped"][0]["yawing_moment_nm"] < 0.0 < content["stopped"][1]["full_rudder_nm"]


@pytest.mark.parametrize("option", [["--speed-mps", "15"], ["--departure", "x.png"], ["--spin"]])
def test_what_does_not_go_together_is_refused(option, capsys):
    assert main(["trim", "twin_delta", "--one-out", *option]) == 2
    assert "--one-out" in capsys.readouterr().err


def test_never_held_says_so(delta, short, capsys):
    found = one_out(delta, -1.0)
    never = replace(found.speeds[0], speed_mps=float("nan"), bound="none found")
    silent = replace(found, speeds=(never,))
    show(one_out_tables(delta, [silent]))
    assert one_out_record(delta, [silent]).stopped[0].least_speeds[0].speed_mps is None
    out = capsys.readouterr().out
    assert "held straight at no speed tried" in out
    assert "throttle_back" in out


def test_a_study_is_refused_before_its_folder_is_made(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "one.toml").write_text(
        'schema = "aftlimit.study/1"\nname = "one"\ntitle = "One"\nstory = "One."\n'
        'aeroplane = "display_jet"\nseed = 3\n[[setups]]\nname = "now"\nlike = "club"\n'
        '[[cases]]\nmanoeuvre = "one_unit_stops"\nrecoveries = ["throttle_back"]\n'
    )
    assert main(["study", "one.toml"]) == 2
    assert "nothing is left to fly on" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["one.toml"]
