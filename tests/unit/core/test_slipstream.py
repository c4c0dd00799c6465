"""Slipstreams of propellers over strips: momentum, where the tube goes, what it leaves."""

from dataclasses import replace
from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.loads.lanes import K_SLIPSTREAM
from sim.core.loads.slipstream import slipstreams, speed_at_disc
from sim.core.loads.thrust import power_loads, propeller_coefficients, propeller_flow
from sim.core.motion.integrate import scratch
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

FULL = 980.0  # rad/s, about full throttle


@pytest.fixture(scope="module")
def sport():
    return assemble(load_aeroplane("club_sport"))


@pytest.fixture(scope="module")
def jet():
    return assemble(load_aeroplane("display_jet"))


def blown(ready, speed, alpha_deg, beta_deg=0.0, omega=FULL, wash=0.0):
    """Return the slipstream's speed over each strip (n,) [m/s]."""
    model = ready.model
    work, _ = scratch(model)
    alpha, beta = radians(alpha_deg), radians(beta_deg)
    u, v, w = speed * cos(alpha) * cos(beta), speed * sin(beta), speed * sin(alpha) * cos(beta)
    speeds = np.full(len(model.units), omega)
    power_loads(
        model.units, model.prop_table, model.pack, u, v, w, 0.0, 0.0, 0.0, 1.2, speeds,
        np.zeros_like(speeds), 1.0, work.rotor, work.power, work.jets,
    )  # fmt: skip
    slipstreams(
        model.units, u, v, w, 0.0, 0.0, 0.0, work.jets, work.tubes, model.surfaces, wash,
        work.first_block, work.lanes,
    )  # fmt: skip
    return work.lanes[work.spots[0] + K_SLIPSTREAM]


def strips_of(ready, name):
    names = [s.name for s in ready.aeroplane.surfaces]
    return ready.model.strip_index[k.SI_SURFACE] == names.index(name)


def mean_over(ready, name, speeds):
    mine = strips_of(ready, name)
    area = ready.model.strips[k.S_AREA, mine]
    return float(np.sum(speeds[mine] * area) / np.sum(area))


@pytest.mark.parametrize(("ahead", "across"), [(0.0, 0.0), (4.0, 7.0), (0.0, 12.0), (15.0, 2.0)])
def test_momentum_of_all_the_air_that_passes_the_disc(ahead, across):
    """T / (2 rho A) = v |V + v| (Glauert); without flow across the actuator disc's own root."""
    straight = 6.0
    v = speed_at_disc(ahead, across, straight)
    asked = straight * (ahead + straight)
    assert v * sqrt((ahead + v) ** 2 + across**2) == pytest.approx(asked, rel=1e-3)
    assert v <= straight


def test_far_behind_standing_still_the_tail_meets_the_jet_of_the_disc(sport):
    """V_far = sqrt(2 T / (rho A)) standing still: strips wholly inside meet nearly that."""
    unit = sport.model.units[0]
    d, n = unit[25], FULL / (2.0 * pi)
    ct, cq, _, _ = propeller_coefficients(sport.model.prop_table, 0.0, n * d)
    _, _, far = propeller_flow(d, ct, cq, 0.0, n * d, 1.0, 1.0)
    over = blown(sport, 0.0, 0.0)
    assert over.max() == pytest.approx(far, rel=0.03)


def test_the_slipstream_leaves_the_tail_upwards_as_the_angle_rises(sport):
    speeds = [blown(sport, 9.0, alpha) for alpha in (0.0, 15.0, 30.0, 60.0)]
    tail = [mean_over(sport, "tail", s) for s in speeds]
    fin = [mean_over(sport, "fin", s) for s in speeds]
    assert tail[0] > 3.0
    assert tail[1] < tail[0]
    assert tail[3] == 0.0
    assert fin[1] > fin[0]  # on its way up it passes the fin
    assert fin[3] == 0.0


def test_the_wings_downwash_holds_it_down(sport):
    free, turned = (blown(sport, 9.0, 15.0, wash=e) for e in (0.0, radians(6.0)))
    assert mean_over(sport, "tail", turned) > mean_over(sport, "tail", free)


def test_sideslip_blows_it_across(sport):
    """The nose to the left, the air comes from the right: more of the left half is blown."""
    over = blown(sport, 9.0, 3.0, beta_deg=15.0)
    wing, y = strips_of(sport, "wing"), sport.model.strips[k.S_RY]
    assert over[wing & (y < 0.0)].sum() > 1.2 * over[wing & (y > 0.0)].sum()


def test_mirror_images_are_mirrored(sport):
    """Right thrust aside, sideslip either way blows over mirrored strips."""
    units = sport.model.units.copy()
    units[:, 8] = 0.0
    straight = replace(sport, model=sport.model._replace(units=units))
    y = straight.model.strips[k.S_RY]
    left, right = blown(straight, 9.0, 3.0, 10.0), blown(straight, 9.0, 3.0, -10.0)
    assert left[y > 1e-3].sum() == pytest.approx(right[y < -1e-3].sum(), rel=1e-9)


def test_nothing_is_blown_ahead_of_the_disc_or_by_a_fan(sport, jet):
    assert np.all(blown(jet, 9.0, 5.0) == 0.0)
    pusher = sport.model.units.copy()
    pusher[:, 1] = -3.0
    behind = replace(sport, model=sport.model._replace(units=pusher))
    assert np.all(blown(behind, 9.0, 0.0) == 0.0)
