"""What pilots know of servos that are too weak, and of tails pivoted too far back."""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import layout as k
from sim.core import script_layout as s
from sim.describe import Manoeuvre, load_aeroplane, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble

DIVE = Manoeuvre.model_validate(
    {
        "schema": "aftlimit.manoeuvre/1",
        "kind": "manoeuvre",
        "name": "dive_and_pull",
        "title": "dive at full throttle, then full aft stick",
        "sides": "none",
        "start": {"speed_over_stall": 1.8},
        "phases": [
            {"name": "dive", "throttle": 1.0, "elevator": -0.3, "pilot": "wings_level",
             "at_most_s": 2.2},
            {"name": "pull", "throttle": 1.0, "elevator": 1.0, "pilot": "wings_level",
             "ramp_s": 0.1, "at_most_s": 0.6},
        ],
    }
)  # fmt: skip


def dived(ready, torque=None, arm=None):
    """Return the history, the tail's servos with a torque [N m], its arms moved by so much [m]."""
    servos, strips = ready.model.servos.copy(), ready.model.strips.copy()
    tail = [i for (name, _), i in ready.aero.channels.items() if name in ("tail", "elevator")]
    if torque is not None:
        servos[tail, k.V_TORQUE] = torque
    if arm is not None:
        strips[k.S_HINGE_ARM, np.isin(ready.model.strip_index[k.SI_CHANNEL], tail)] += arm
    ready = replace(ready, model=ready.model._replace(servos=servos, strips=strips))
    h = fly_one(ready, DIVE, load_recovery("centre_sticks")).history
    return h[h[:, s.H_STAGE] <= s.STAGE_ENTRY], s.H_OFF + tail[0], s.H_SERVO + tail[0]


@pytest.fixture(scope="module")
def sport():
    return assemble(load_aeroplane("club_sport"))


def test_a_weak_elevator_servo_blows_back_in_a_dive_and_the_pull_is_lazy(sport):
    # common practice, no source: a servo too small lets the elevator blow back at speed, and the
    # aeroplane is slow to come out of its dive; near the stall it has its whole throw
    strong, off, _ = dived(sport, 1.0)
    weak, _, stands = dived(sport, 0.012)
    assert not strong[:, off].any()
    pull = weak[:, s.H_ELEVATOR] > 0.9
    fast = pull & (weak[:, s.H_SPEED] > 0.9 * weak[pull, s.H_SPEED].max())
    assert (np.abs(weak[fast, off]) > np.radians(2.0)).any()
    assert weak[:, s.H_LOAD].max() < 0.8 * strong[:, s.H_LOAD].max()
    # it stands where its moment is its torque: less of it the faster, by the square of the speed
    assert np.abs(weak[pull, stands]).max() < np.abs(strong[pull, stands]).max()


def test_near_the_stall_no_servo_of_this_size_is_blown_back(sport):
    # common practice, no source: what shows in a dive never shows at the stall
    from sim.describe import load_manoeuvre

    servos = sport.model.servos.copy()
    servos[:, k.V_TORQUE] = 0.012
    ready = replace(sport, model=sport.model._replace(servos=servos))
    flight = fly_one(ready, load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks"))
    h = flight.history
    slow = h[h[:, s.H_SPEED] < 1.1 * sport.stall.speed_mps]
    assert len(slow) > 20
    assert not slow[:, s.H_OFF : s.H_OFF + s.KEPT_SERVOS].any()


def test_a_tail_pivoted_too_far_back_runs_away(display_jet):
    # common practice, no source: a whole tail pivots at a quarter of its mean chord or a little
    # ahead; behind it runs away. Here 16 % of its chord of 133 mm further back than 24 %
    kept, off, stands = dived(display_jet, 0.1)
    far, _, _ = dived(display_jet, 0.1, 0.16 * 0.133)
    stop = display_jet.model.servos[2, k.V_MIN]
    ran = (far[:, stands] < stop + np.radians(1.0)) & (far[:, off] < -np.radians(3.0))
    # end stops lie 30 % beyond the throw; it is there long before the stick is
    assert ran.any()
    assert far[ran.argmax(), s.H_ELEVATOR] < 0.8
    assert not kept[kept[:, s.H_ALPHA] < display_jet.stall.alpha, off].any()
    assert far[:, s.H_LOAD].max() > kept[:, s.H_LOAD].max()
