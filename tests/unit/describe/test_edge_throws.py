"""Throws said in mm at the trailing edge: by the sine of the angle, in set-ups and in channels."""

import re

import pytest
from pydantic import ValidationError

from sim.aero.geometry.edges import arm_of
from sim.aero.geometry.panels import panels_of, pivot_x
from sim.cli import main
from sim.describe import FileFault, SetUpBlock, data_folder, load_aeroplane, load_study
from sim.describe.edge_throws import arm_of_channel
from sim.describe.resolving import resolve_setup

JET = data_folder("scenarios") / "aeroplanes" / "display_jet.toml"
STUDY = """
schema = "aftlimit.study/1"
name = "more"
title = "More throw"
story = "16 mm wanted"
seed = 1
aeroplane = "jet.toml"
[[setups]]
name = "more"
like = "club"
throws = { aileron = { %s } }
[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks"]
"""


def jet(folder, *changes):
    """Write the display jet whose aileron is 30 mm wide, with changes of its text."""
    text = JET.read_text(encoding="utf-8")
    # the aileron's own width, as a ruler has it
    text = text.replace('channel = "aileron"\n', 'channel = "aileron"\nwidth_mm = 30.0\n', 1)
    for wrong, right in changes:
        assert wrong in text
        text = text.replace(wrong, right)
    path = folder / "jet.toml"
    path.write_text(text, encoding="utf-8")
    return path


def study(folder, throws):
    path = folder / "more.toml"
    path.write_text(STUDY % throws, encoding="utf-8")
    return path


def test_a_set_up_may_say_its_throws_in_mm(tmp_path):
    """16 mm at 30 mm from the hinge are 32.23 degrees: sin 32.23 = 0.5333 (arithmetic)."""
    aeroplane = load_aeroplane(jet(tmp_path))
    block = load_study(study(tmp_path, "up_mm = 16.0, down_deg = 9.0")).setups[0]
    throws = resolve_setup(aeroplane, block).throws["aileron"]
    assert throws.up_deg == pytest.approx(32.2310, abs=1e-4)
    assert throws.down_deg == 9.0


def test_an_inch_is_25_4_mm_there_too(tmp_path):
    aeroplane = load_aeroplane(jet(tmp_path))
    block = load_study(study(tmp_path, "up_in = 0.5, down_in = 0.5")).setups[0]
    # 12.7 mm over 30 mm
    assert resolve_setup(aeroplane, block).throws["aileron"].up_deg == pytest.approx(
        25.05, abs=0.01
    )


def test_a_channel_may_say_them_in_mm(tmp_path):
    text = JET.read_text(encoding="utf-8")
    block = re.search(r"\[channels\.aileron\]\n(?:.+\n)+", text)[0]
    mm = re.sub(r"up_deg = \S+", "up_mm = 15.0", block, count=1)
    aeroplane = load_aeroplane(jet(tmp_path, (block, mm)))
    assert aeroplane.channels["aileron"].up_deg == pytest.approx(30.0)  # sine of a half
    more = re.sub(r"up_deg = \S+", "up_cm = 2.9", block, count=1)
    with pytest.raises(FileFault, match=r"channels\.aileron\.up_mm: must be .* at most 25\.98 mm"):
        load_aeroplane(jet(tmp_path, (block, more)))


@pytest.mark.parametrize(
    ("throws", "said"),
    [
        ("up_mm = 29.0, down_mm = 9.0", "throws.aileron.up_mm: must be at least 0 and at most 25.98"
         " mm: the trailing edge lies 30 mm behind hinge or pivot, and a throw is at most 60 "
         "degrees; got 29"),
        ("up_mm = 9.0, up_deg = 9.0, down_deg = 9.0", "up_mm: says the same as up_deg; keep one"),
        ("up_mm = 9.0", "down_deg: is missing; give down_deg, or down_mm at the trailing edge"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told(tmp_path, throws, said):
    jet(tmp_path)
    with pytest.raises(FileFault, match=re.escape(said)):
        load_study(study(tmp_path, throws))


def test_a_key_in_another_kind_of_unit_is_never_taken_for_one_to_be_renamed(tmp_path, capsys):
    path = jet(tmp_path, ("setups.club]\n", "setups.club]\nflap_mm = 9.0\n"))
    assert main(["weigh", str(path)]) == 2
    said = "did you mean 'flap_deg' (in degrees, not in mm: another number)?"
    assert said in capsys.readouterr().err


def test_throws_of_a_notebook_may_be_in_mm_too(tmp_path):
    aeroplane = load_aeroplane(jet(tmp_path))
    block = SetUpBlock(like="club", throws={"aileron": {"up_mm": 15.0, "down_deg": 5.0}})
    assert resolve_setup(aeroplane, block).throws["aileron"].up_deg == pytest.approx(30.0)
    with pytest.raises(ValidationError, match="keep one of them"):
        SetUpBlock(like="club", throws={"aileron": {"up_mm": 1.0, "up_deg": 1.0, "down_deg": 5.0}})


def test_a_surface_that_turns_as_a_whole_is_read_at_its_root():
    """As far from its pivot as the panel that flies has it."""
    aeroplane = load_aeroplane(JET)
    tail = aeroplane.surfaces_as("tail")[0]
    panel, pivot = panels_of(tail)[0], tail.controls[0].pivot_pct
    flown_mm = 1000.0 * (pivot_x(panel, pivot) - panel.point(0.0, 1.0)[0])
    assert arm_of_channel(aeroplane.model_dump(), "tail") == pytest.approx(flown_mm)
    assert arm_of(panel, tail.controls[0]) == pytest.approx(flown_mm)
