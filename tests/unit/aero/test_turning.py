"""Which surface stands in whose flow, and what of it draws, heights and other tails change."""

import numpy as np
import pytest

from sim.aero.interference.turning import meetings
from sim.core import layout as k
from sim.core.draw_layout import DRAW_COLUMNS, N_DRAW
from sim.core.flights.perturb import perturbed
from sim.core.loads.turned_air import HALF_WAY, heights_of_turns
from sim.describe import load_aeroplane
from tests.validation.wings import alone, loads_at, surface

WING = surface("wing", 1.2, 0.2, 0.2)
AHEAD = surface("canard", 0.5, 0.12, 0.12, aft=-0.5)
BEHIND = surface("tail", 0.4, 0.1, 0.1, aft=0.7)


def raised(plane, up_mm):
    return plane.model_copy(update={"root_up_mm": up_mm})


def test_who_stands_in_whose_flow():
    assert list(meetings((WING, BEHIND))) == []
    assert list(meetings((WING, AHEAD))) == [(0, 1), (1, 0)]
    assert list(meetings((WING, AHEAD, BEHIND))) == [(0, 1), (1, 0), (2, 1)]
    second = WING.model_copy(update={"name": "second", "root_aft_mm": -500.0})
    assert list(meetings((WING, second))) == [(0, 1), (1, 0)]
    # inner and outer panel of one wing
    outer = WING.model_copy(update={"name": "outer", "root_right_mm": 600.0})
    assert list(meetings((WING, outer))) == []


@pytest.mark.parametrize("name", ["display_jet", "club_sport", "twin_delta"])
def test_without_a_foreplane_nobody_does(name):
    assert list(meetings(load_aeroplane(name).surfaces)) == []
    model, _ = alone(WING, BEHIND)
    assert not model.surfaces[:, k.F_TURNED].any()
    assert not model.strips[k.S_TURN :].any()


def test_a_wing_loses_within_the_span_ahead_and_gains_outside():
    model, _ = alone(WING, AHEAD)
    mine = model.strip_index[k.SI_SURFACE] == 0
    out, turn = np.abs(model.strips[k.S_RY, mine]), model.strips[k.S_TURN, mine]
    assert (turn[out < 0.2] > 0.0).all()
    assert (turn[(out > 0.3) & (out < 0.45)] < 0.0).all()
    assert (model.strips[k.S_TURN, ~mine] < 0.0).all()  # and turns the air up ahead of it


def test_the_sheet_rises_with_the_angle_of_attack():
    model, _ = alone(WING, AHEAD)
    row = model.surfaces[0]
    assert row[k.F_TURNED_OVER] == pytest.approx(0.0, abs=1e-9)
    # from the trailing edge, 0.38 m ahead of the datum, to the quarter chord, in 0.25 m
    assert row[k.F_TURNED_BEHIND] == pytest.approx((0.38 + 0.05) / 0.25)
    high, _ = alone(WING, raised(AHEAD, 100.0))
    assert high.surfaces[0, k.F_TURNED_OVER] == pytest.approx(0.1 / 0.25)


def test_half_of_the_heights_lie_below_half_way():
    heights = heights_of_turns()
    assert heights[0] == 0.0
    assert len(heights) == k.N_TURNS - 1  # the last is without end
    assert (heights < HALF_WAY).sum() == k.N_TURNS // 2


def test_the_downwash_draw_moves_it():
    model, _ = alone(WING, AHEAD)
    draw = np.zeros(N_DRAW)
    draw[DRAW_COLUMNS["downwash"]] = 0.5
    more = perturbed(model, np.array([0, 1]), draw)
    lift = [-loads_at(m, [4.0])[0, 2] for m in (model, more)]
    free = model._replace(surfaces=model.surfaces.copy())
    free.surfaces[0, k.F_TURNED] = 0.0
    lost = -loads_at(free, [4.0])[0, 2] - lift[0]
    assert lift[0] - lift[1] == pytest.approx(0.5 * lost, rel=0.1)


def test_a_tail_meets_what_the_lattice_says_of_wing_and_foreplane():
    # far above all sheets the foreplane's is gone for the tail too, although the sum is uniform
    near, far = (alone(WING, AHEAD, raised(BEHIND, up))[0] for up in (0.0, 3000.0))
    for model, share in ((near, 1.0), (far, 0.0)):
        tail = model.strip_index[k.SI_SURFACE] == 2
        over = abs(model.surfaces[2, k.F_TURNED_OVER])
        left = 1.0 + model.strips[k.S_TURN : k.S_TURN + k.N_TURNS, tail]
        assert left[0].mean() == pytest.approx(0.8, abs=0.3)
        assert left[-1] == pytest.approx(np.zeros(tail.sum()), abs=1e-12)
        assert (over > 10.0) == (share == 0.0)


@pytest.mark.parametrize("up_mm", [-3000.0, -1201.0, 0.0, 1201.0, 3000.0])
@pytest.mark.parametrize("aft_mm", [60.0, 150.0, 900.0])
def test_a_tail_anywhere_gives_real_numbers(up_mm, aft_mm):
    tail = raised(BEHIND, up_mm).model_copy(update={"root_aft_mm": aft_mm})
    model, _ = alone(WING, tail)
    assert model.surfaces.dtype == float
    assert np.isfinite(model.surfaces).all()
    if abs(up_mm) > 1200.0:  # a span away DATCOM's downwash has gone
        assert model.surfaces[0, k.F_WASH_GAIN] == 0.0


def test_a_foreplane_close_over_the_wing_gives_real_numbers():
    over = AHEAD.model_copy(update={"root_aft_mm": -60.0, "root_up_mm": 30.0})
    for ahead in (over, raised(over, 0.0)):
        model, _ = alone(WING, ahead)
        assert np.isfinite(model.strips).all()
        assert np.abs(model.strips[k.S_TURN :]).max() < 30.0
        assert np.isfinite(loads_at(model, [0.0, 10.0, 40.0])).all()
