"""Flaps: a set-up sets them, they lower the stall, and what is not there is told in one line."""

import json
from argparse import Namespace
from dataclasses import replace

import numpy as np
import pytest

import sim
from sim import tables
from sim.aero.lowered_flap import dragged, with_flap_drag
from sim.cli import main
from sim.commands import landing as command
from sim.core.loads.lookup import CC, N_S
from sim.describe import FileFault, load_aeroplane, load_study_files, resolve_setup
from sim.describe.controls import FLAP
from sim.describe.reading.finding import find
from sim.describe.setup import SetUpBlock
from sim.describe.undercarriage import Undercarriage
from sim.landing.approach import flap_change, landing_flaps
from sim.landing.authority import landing_speed
from sim.pack.assemble import assemble
from sim.show.shapes.outline import wheel_places
from sim.show.words.bench.standing import flap_and_wheels
from sim.structure.flight_loads import limit_bending
from sim.study import forward
from sim.study.combinations import combination_key, own_setup
from sim.study.throws_told import flap_words, throws_words

CONTROL = """
[[surfaces.controls]]
channel = "flap"
kind = "flap"
inner_pct = 8.0
outer_pct = 42.0
chord_pct = 26.0
"""
CHANNEL = """
[channels.flap]
servo = "standard_17g"
up_deg = 0.0
down_deg = 35.0
"""


@pytest.fixture(scope="module")
def flapped(tmp_path_factory):
    """A sport model with flaps inboard of its ailerons."""
    text = find("club_sport", "aeroplanes").read_text(encoding="utf-8")
    first = text.index("[[surfaces]]", text.index("[[surfaces]]") + 1)
    text = text[:first] + CONTROL.lstrip() + "\n" + text[first:]
    text = text.replace("[channels.elevator]", CHANNEL.lstrip() + "\n[channels.elevator]", 1)
    path = tmp_path_factory.mktemp("flap") / "club_sport.toml"
    path.write_text(text, encoding="utf-8")
    return load_aeroplane(path)


def test_a_flap_lowers_the_stall_and_wants_trim(flapped):
    neutral, lowered = landing_flaps(assemble(flapped))
    assert (neutral.setup.flap_deg, lowered.setup.flap_deg) == (0.0, 35.0)
    # a plain flap over a third of the span: 3 to 10 % of the stall speed in common practice; ours
    # stays at the low end, as flapped strips let go at a smaller angle (flap_effect.toml)
    slow = [landing_speed(x.model, x.stall.alpha, 0.0) for x in (neutral, lowered)]
    assert 0.85 < slow[1] / slow[0] < 0.985
    change = flap_change(neutral, lowered, 1.3 * neutral.stall.speed_mps)
    assert change.load_g > 0.1  # it balloons
    assert 0.03 < change.throttle < 0.4  # a flap is lowered for its drag: level asks for more
    assert change.alpha_deg < -1.0


def test_a_flap_has_drag_of_its_own(flapped):
    # plain flaps at one lift: 1.7 (cf/c)^1.38 Sf/S sin^2 (A. D. Young, R. & M. 2622, and handbooks
    # of design, from memory), within 40 % at model size; spanwise load and trim are in ours
    neutral, lowered = landing_flaps(assemble(flapped))
    alphas = np.arange(-6.0, 7.0)
    clean, flap = (sim.coefficients(x, alpha_deg=alphas) for x in (neutral, lowered))
    lift = 0.4
    more = np.interp(lift, flap.CL, flap.CD) - np.interp(lift, clean.CL, clean.CD)
    wing = flapped.surfaces_as("wing")[0]
    chord = wing.root_chord_mm + 0.25 * (wing.tip_chord_mm - wing.root_chord_mm)  # at its middle
    area = 2e-6 * chord * 0.34 * wing.panel_span_mm
    share = area / neutral.weighed.reference.area_m2
    assert more == pytest.approx(1.7 * 0.26**1.38 * share * np.sin(np.radians(35.0)) ** 2, rel=0.4)
    # of separated flow across the wing, the flap's own pressure tells it
    assert dragged(neutral.aero.tables, np.ones(len(neutral.aero.tables)))[
        :, 3 * (N_S - 1) // 4, CC
    ] == pytest.approx(neutral.aero.tables[:, 3 * (N_S - 1) // 4, CC])
    assert with_flap_drag(neutral.aero, flapped, 0.0) is neutral.aero


def test_coefficients_and_limit_bending_know_where_the_flap_stands(flapped):
    neutral, lowered = landing_flaps(assemble(flapped))
    for ready, other in ((lowered, neutral), (neutral, lowered)):
        as_set = sim.coefficients(ready, alpha_deg=[0.0])
        asked = sim.coefficients(
            other, alpha_deg=[0.0], deflections_deg={FLAP: ready.setup.flap_deg}
        )
        assert pytest.approx(asked.CL, abs=1e-9) == as_set.CL
        assert pytest.approx(asked.CD, abs=1e-9) == as_set.CD
    assert as_set.CL < sim.coefficients(lowered, alpha_deg=[0.0]).CL - 0.1
    # the stated load factor is the aeroplane's, whatever its flap does
    assert limit_bending(lowered, 2.0) == limit_bending(neutral, 2.0)


def test_a_flap_left_neutral_changes_no_other_servo(flapped):
    bare, with_flap = assemble(load_aeroplane("club_sport")), assemble(flapped)
    rows = {key: i for i, key in enumerate(with_flap.aero.channels)}
    for key, i in bare.aero.channels.items():
        np.testing.assert_array_equal(bare.model.servos[i], with_flap.model.servos[rows[key]])
    assert set(rows) - set(bare.aero.channels) == {(FLAP, 1.0), (FLAP, -1.0)}


def test_the_flap_is_part_of_the_combination(flapped):
    first = next(iter(flapped.setups))
    plain = resolve_setup(flapped, first)
    down = resolve_setup(flapped, SetUpBlock(like=first, flap_deg=20.0))
    assert combination_key(plain) != combination_key(down)
    assert flap_words(plain) == ""
    assert throws_words(down, flapped).endswith("flap set 20° down")


@pytest.mark.parametrize(
    ("name", "deg", "told"),
    [
        ("club_sport", 20.0, "sets a flap that does not exist: no channel is named 'flap'"),
        ("flapped", 50.0, "must lie inside the throws of 'flap', 0 degrees up to 35 down; got 50"),
        ("flapped", -5.0, "must lie inside the throws of 'flap', 0 degrees up to 35 down; got -5"),
    ],
)
def test_a_flap_that_cannot_be_is_told_in_one_line(flapped, name, deg, told):
    aeroplane = flapped if name == "flapped" else load_aeroplane(name)
    with pytest.raises(FileFault) as fault:
        resolve_setup(aeroplane, SetUpBlock(like=next(iter(aeroplane.setups)), flap_deg=deg))
    assert told in str(fault.value)
    assert len(str(fault.value).splitlines()) == 1


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"nose_aft_mm": -300.0, "nose_up_mm": -150.0, "tail_aft_mm": 700.0, "tail_up_mm": -50.0},
         "must have one third wheel"),
        ({}, "must have one third wheel"),
        ({"nose_aft_mm": -300.0}, "nose_up_mm"),
        ({"nose_aft_mm": 300.0, "nose_up_mm": -150.0}, "must lie ahead of the main wheels, 200"),
        ({"tail_aft_mm": 100.0, "tail_up_mm": -50.0}, "must lie aft of the main wheels, 200"),
    ],
)  # fmt: skip
def test_wheels_that_do_not_stand_are_told(given, told):
    with pytest.raises(ValueError, match=told):
        Undercarriage(main_aft_mm=200.0, main_up_mm=-150.0, **given)


def test_the_command_prints_and_writes_the_same(tmp_path, capsys, monkeypatch):
    few = tables.landing().model_copy(update={"draws": 128, "gust_draws": 1})
    monkeypatch.setattr(tables, "landing", lambda: few)
    path = tmp_path / "landing.json"
    assert main(["trim", "club_sport", "--landing", "--json", str(path)]) == 0
    told, content = capsys.readouterr().out, json.loads(path.read_text(encoding="utf-8"))
    assert content["schema"] == "aftlimit.landing/1"
    limit = content["forward_limit"]["aft_mm"]
    assert f"Forward limit {int(-(-limit // 1))} mm" in " ".join(told.split())
    assert "No flap: the aeroplane has no channel 'flap'" in " ".join(told.split())
    assert [x["gyro"] for x in content["gusts"]] == [False, True, False, True]
    assert content["rotation_mps"] is None


def test_what_hardly_moves_a_forward_limit_is_not_looked_for_again(monkeypatch):
    """A gyro does not; another pack does."""
    files, looked = load_study_files("first_look"), []

    def counted(aeroplane, setup, draws, share_pct):
        looked.append(setup.pack)
        return len(looked)

    monkeypatch.setattr(forward, "set_up_forward", counted)
    limits = forward.ForwardLimits(files)
    off, on = (own_setup(files, "as_flown").model_copy(update={"gyro": x}) for x in ("off", "on"))
    assert limits.near(off) == limits.near(on) == limits.of(off) == 1
    assert limits.of(on) == 2
    assert limits.near(off.model_copy(update={"pack": "6s_3300"})) == 3
    assert looked == ["6s_4000", "6s_4000", "6s_3300"]


def test_a_file_that_cannot_be_written_is_told_before_any_work(tmp_path):
    with pytest.raises(ValueError, match="must be a file in a folder"):
        command.run(Namespace(json=str(tmp_path)))


def test_options_that_do_not_go_with_it_are_refused(capsys):
    assert main(["trim", "club_sport", "--landing", "--throttle", "0.5"]) == 2
    assert "--throttle: does not go with --landing" in capsys.readouterr().err


def test_the_sketch_names_flap_and_wheels(flapped):
    ready = landing_flaps(assemble(flapped))[1]
    gear = Undercarriage(main_aft_mm=150.0, main_up_mm=-140.0, tail_aft_mm=900.0, tail_up_mm=-60.0)
    wheeled = replace(ready, aeroplane=flapped.model_copy(update={"undercarriage": gear}))
    flap, wheels = flap_and_wheels(wheeled)
    assert flap == "flap 35° down in this set-up; drawn neutral"
    assert "main wheels at 150 mm, tail wheel at 900 mm" in wheels
    assert wheel_places(wheeled.aeroplane) == [(150.0, -140.0), (900.0, -60.0)]
