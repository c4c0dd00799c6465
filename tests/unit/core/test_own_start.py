"""A draw that holds no level flight where it should begin begins by its own slowest one."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.draw_layout import D_THRUST
from sim.core.flights.beginning import Start
from sim.core.flights.perturb import perturbed
from sim.core.steady.linear import trimmed_state
from sim.core.steady.trim import T_ELEVATOR
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery, resolve_setup
from sim.fly.flying import Settings, fly_many, start_of
from sim.judge import is_resolved
from sim.pack.assemble import assemble, flown_spreads
from sim.start.asking.answers import answers_from
from sim.start.writing import aeroplane_text
from sim.study.flights.draws import make_draws

COUNT, FRONT_MM = 128, 115.0
ANSWERS = """
schema = "aftlimit.answers/1"
kind = "delta"
wing_span_mm = 1040
wing_root_chord_mm = 470
wing_tip_chord_mm = 190
wing_tip_back_mm = 300
wing_tip_up_mm = 0
wing_up_mm = 0
fins = "2"
fin_apart_mm = 400
fin_lean_deg = 15
fin_back_mm = 330
fin_height_mm = 140
fin_root_chord_mm = 150
fin_tip_chord_mm = 80
fin_tip_back_mm = 70
nose_ahead_mm = 200
body_length_mm = 640
front_width_mm = 50
middle_width_mm = 70
end_width_mm = 40
packs = ["3s 2600 210 110", "4s 1800 195 98"]
mass_g = 980
pack_in_it = 1
pack_back_mm = 40
balance_back_mm = 150
tray_front_mm = -40
tray_rear_mm = 120
driven_by = "propeller"
propeller_back_mm = -205
propeller_in = 9
pitch_in = 6
kv_rpm_per_v = 1000
aileron_width_mm = 45
aileron_tip_width_mm = 45
aileron_inner_mm = 120
aileron_outer_mm = 480
aileron_up_mm = 12
elevator_up_mm = 10
elevator_down_mm = 10
rudder_deg = 20
wheels = "none"
gyro = "no"
floor_m = 30
"""


@pytest.fixture(scope="module")
def nose_heavy(tmp_path_factory):
    """Return a flying wing whose small elevons hold its nose up no slower than just so."""
    folder = tmp_path_factory.mktemp("plank")
    (folder / "answers.toml").write_text(ANSWERS, encoding="utf-8")
    answers, _ = answers_from(folder / "answers.toml")
    (folder / "plank.toml").write_text(aeroplane_text("plank", answers), encoding="utf-8")
    aeroplane = load_aeroplane(folder / "plank.toml")
    return assemble(aeroplane, resolve_setup(aeroplane, None).at_balance(FRONT_MM))


def begun(manoeuvre, recovery="centre_sticks"):
    """Return manoeuvre and recovery of which little more than the beginning is flown."""

    def cut(script):
        short = {"at_least_s": 0.0, "at_most_s": 0.02}
        phases = [phase.model_copy(update=short) for phase in script.phases]
        return script.model_copy(update={"phases": phases})

    return cut(load_manoeuvre(manoeuvre)), cut(load_recovery(recovery))


def test_what_is_too_slow_for_a_draw_begins_above_its_own_slowest_level_flight(nose_heavy):
    # the stall speed that speeds are multiples of is the stalling speed or the least steady one at
    # which the aeroplane is controllable, the aeroplane's own: FAR 23.49 (Code of Federal
    # Regulations, title 14)
    draws = make_draws(flown_spreads(nose_heavy.aeroplane), COUNT, 1)
    # from no height: the trims that it is held against are in the air at the field
    manoeuvre, recovery = begun("incipient_spin")
    rows = fly_many(
        nose_heavy, manoeuvre, recovery, draws.physical, np.arange(COUNT), draws.sides, 0.0
    )
    good, step = Settings.standard().trim_good_mps2, Settings.standard().start_step
    nominal = nose_heavy.model.env[k.E_STALL_SPEED]
    asked, faster = manoeuvre.start.speed_over_stall * nominal, 0
    assert start_of(manoeuvre, 0.0) == Start(manoeuvre.start.speed_over_stall, 0.0, 0.0)
    assert is_resolved(rows).all()
    for draw, row in zip(draws.physical, rows, strict=True):
        model = perturbed(nose_heavy.model, nose_heavy.roles, draw)
        _, held, left = trimmed_state(model, asked)
        if left < good:
            assert row[s.R_FASTER] == 0.0
            continue
        faster += 1
        assert held[T_ELEVATOR] == pytest.approx(1.0)  # full up is too little there
        own = row[s.R_FASTER] * nominal
        assert own > asked
        assert trimmed_state(model, own)[2] < good
        assert not trimmed_state(model, own / step)[2] < good
    assert 0 < faster < COUNT // 8


def test_a_draw_that_flies_level_at_no_speed_is_not_started(nose_heavy):
    # a motor that pushes backwards holds no level flight, by definition; but drag alone may be less
    # than what a start may be off steady (flight.toml), in a draw of little drag
    values = Settings.standard()
    draws = make_draws(flown_spreads(nose_heavy.aeroplane), 8, 1).physical.copy()
    draws[:, D_THRUST] = -2.0
    manoeuvre, recovery = begun("incipient_spin")
    rows = fly_many(nose_heavy, manoeuvre, recovery, draws, np.arange(8), np.ones(8), 0.0)
    asked = manoeuvre.start.speed_over_stall * nose_heavy.model.env[k.E_STALL_SPEED]
    count = int(np.log(values.start_most) / np.log(values.start_step))
    down = int(np.log(manoeuvre.start.speed_over_stall) / np.log(values.start_step))
    speeds = [asked * values.start_step**i for i in range(-down, count + 1)]
    level = [
        any(
            trimmed_state(perturbed(nose_heavy.model, nose_heavy.roles, x), v)[2]
            < values.trim_good_mps2
            for v in speeds
        )
        for x in draws
    ]
    assert is_resolved(rows).tolist() == level
    assert level.count(False) > 4
    assert (rows[~is_resolved(rows), s.R_FASTER] == 0.0).all()


def test_what_its_motor_carries_only_slower_begins_at_the_fastest_that_it_does(nose_heavy):
    # by definition of the top speed: above it, no level flight; who flies it enters at that at most
    values = Settings.standard()
    draws = make_draws(flown_spreads(nose_heavy.aeroplane), 8, 1).physical.copy()
    draws[:, D_THRUST] = -0.6
    stall, recovery = begun("throttle_chop_stall")
    rows = fly_many(nose_heavy, stall, recovery, draws, np.arange(8), np.ones(8), 0.0)
    slower = np.flatnonzero(rows[:, s.R_FASTER] < 0.0)
    assert slower.size > 2
    nominal = nose_heavy.model.env[k.E_STALL_SPEED]
    for n in slower:
        model = perturbed(nose_heavy.model, nose_heavy.roles, draws[n])
        began = -rows[n, s.R_FASTER] * nominal
        assert nominal < began < stall.start.speed_over_stall * nominal
        assert trimmed_state(model, began)[2] < values.trim_good_mps2
        assert not trimmed_state(model, began * values.start_step)[2] < values.trim_good_mps2
