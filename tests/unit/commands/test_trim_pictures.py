"""What trim adds about spins: tables, JSON and pictures."""

import pytest

from sim.cli import main
from tests.samples.records import valid


def test_trim_tells_of_tail_and_masses(capsys, tmp_path):
    path = tmp_path / "t.json"
    assert main(["trim", "display_jet", "--json", str(path)]) == 0
    out = capsys.readouterr().out
    content = valid(path)
    assert "Never a verdict" in out
    assert f"{content['relative_density']:.1f}" in out
    assert {"damping_ratio", "rudder_volume", "power_factor"} <= set(content["tail_damping"])
    assert content["departure"][0]["aileron_roll_power"] > 0.0


def test_no_tailplane_no_factor(capsys, tmp_path):
    path = tmp_path / "t.json"
    assert main(["trim", "twin_delta", "--json", str(path)]) == 0
    assert "needs a tailplane" in capsys.readouterr().out
    assert valid(path)["tail_damping"] is None


def test_trim_draws_both_pictures(capsys, tmp_path):
    turning, plane = tmp_path / "turning.png", tmp_path / "plane.svg"
    asked = ["trim", "club_sport", "--rotary", str(turning), "--departure", str(plane)]
    assert main(asked) == 0
    assert turning.read_bytes().startswith(b"\x89PNG")
    assert "resists departure" in plane.read_text()
    assert str(turning) in capsys.readouterr().out


@pytest.mark.parametrize("option", ["rotary", "departure"])
def test_a_picture_needs_a_picture_s_ending(capsys, option):
    assert main(["trim", "display_jet", f"--{option}", "x.doc"]) == 2
    assert f"--{option} x.doc: a picture ends in" in capsys.readouterr().err
