"""A glider without a motor: trimmed in its glide, and told so; nothing asks for a throttle."""

from math import atan2, degrees
from pathlib import Path

import numpy as np
import pytest

from sim.cli import main
from sim.core import layout as k
from sim.core.motion.rotation import ned_of_body
from sim.core.steady.statics import polar
from sim.describe import FileFault, load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.judge import is_resolved
from sim.pack.assemble import assemble
from sim.study.flight_time.reckoning import flight_time
from sim.study.gains import trim_line
from sim.trim.trimming import level, level_at_throttle

FILE = Path(__file__).parents[2] / "samples" / "slope_soarer.toml"
TEXT = FILE.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def soarer():
    return assemble(load_aeroplane(FILE))


@pytest.mark.parametrize("over_stall", [1.2, 1.6, 2.2])
def test_the_angle_of_descent_is_drag_over_lift(soarer, over_stall):
    # of any unaccelerated glide, by the balance of forces: Lilienthal's polar, from memory
    trim = level(soarer, over_stall * soarer.stall.speed_mps)
    assert trim.found
    alpha = np.radians([trim.alpha_deg])
    sticks = np.array([[trim.elevator_stick, trim.aileron_stick, trim.rudder_stick, 0.0]])
    x, _, z = polar(soarer.model, trim.speed_mps, alpha, np.zeros(1), np.zeros((1, 3)), sticks)[
        0, :3
    ]
    lift = x * np.sin(alpha[0]) - z * np.cos(alpha[0])
    drag = -x * np.cos(alpha[0]) - z * np.sin(alpha[0])
    assert trim.descent_deg == pytest.approx(degrees(atan2(drag, lift)), abs=0.02)
    # a soarer of this size glides 8 to 25 to 1 (common practice, no source)
    assert 2.3 < trim.descent_deg < 12.0


def test_the_state_goes_down_along_the_path(soarer):
    trim = level(soarer, 14.0)
    q = trim.state[k.X_QUAT : k.X_QUAT + 4]
    north, east, down = ned_of_body(*q, *trim.state[k.X_VEL : k.X_VEL + 3])
    assert degrees(atan2(down, np.hypot(north, east))) == pytest.approx(trim.descent_deg, abs=1e-6)
    assert np.hypot(np.hypot(north, east), down) == pytest.approx(14.0)


def test_it_flies_and_the_flight_is_resolved(soarer):
    for manoeuvre in ("throttle_chop_stall", "spin_entry"):
        flight = fly_one(soarer, load_manoeuvre(manoeuvre), load_recovery("centre_sticks"))
        assert is_resolved(flight.summary[None])[0]
        assert np.isfinite(flight.summary).all()


def test_nothing_is_told_of_a_motor_that_is_not_there(soarer):
    line = trim_line(soarer, 14.0)
    assert (line.throttle, line.current_a) == (0.0, 0.0)
    assert line.descent_deg > 2.0
    assert flight_time(soarer) is None
    with pytest.raises(FileFault, match="has no motor: nothing to fly level at a throttle with"):
        level_at_throttle(soarer, 0.5)


def test_power_of_a_glider_is_refused_in_one_line(capsys):
    assert main(["power", str(FILE)]) == 2
    assert capsys.readouterr().err.splitlines()[-1] == (
        "slope_soarer: has no motor: nothing to measure with; a glider is trimmed by speed alone"
    )


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("[motors.m]\nkv_rpm_per_v = 900.0\nresistance_mohm = 30.0\nno_load_current_a = 1.0\n",
         "fans: is missing; give [[fans]], or [[propellers]]; a glider without a motor has no "
         "motors either"),
        ("[measured]\nstatic_thrust_g = 900.0\n",
         "measured.static_thrust_g: has no meaning without a motor; leave it out"),
    ],
)  # fmt: skip
def test_half_a_motor_is_refused(more, said, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(f"{TEXT}\n{more}", encoding="utf-8")
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert said in str(caught.value)
