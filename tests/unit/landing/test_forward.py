"""The forward limit: held against the trim solver, handbook relations and what the trade knows."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.draw_layout import D_STALL_ANGLE, N_DRAW
from sim.core.flights.perturb import copied, moved
from sim.core.steady.linear import trimmed_state
from sim.core.steady.trim import T_ELEVATOR
from sim.describe import load_aeroplane, resolve_setup
from sim.fly.tunnel.coefficients import coefficients
from sim.landing import forward
from sim.landing.approach import approach_speed, rotation_speed
from sim.landing.authority import (
    Asked,
    angles,
    asked_speed,
    held_off,
    landing_speed,
    lifted,
    loads_at,
    rotated,
    stalls_first,
)
from sim.landing.drawn import ROTATE, of_draws
from sim.landing.forward import forward_limit, most_without
from sim.landing.ground import ground_down_m, ground_factors, near_ground, wheels_of
from sim.landing.landing import set_up_forward
from sim.pack.assemble import assemble, flown_spreads
from sim.study.flights.draws import make_draws
from sim.trim.trimming import level


@pytest.fixture(scope="module")
def sport():
    return assemble(load_aeroplane("club_sport"))


@pytest.fixture(scope="module")
def few(display_jet):
    return make_draws(flown_spreads(display_jet.aeroplane), 128, 3).physical


def further_forward(model, metres):
    out = copied(model)
    moved(out, metres, 0.0, 0.0)
    return out


def test_at_the_limit_the_trim_solver_uses_the_whole_stick(display_jet):
    """Newton's method on six accelerations finds, with thrust, what moments alone find without."""
    model, alphas = display_jet.model, angles(display_jet.stall.alpha)
    speed = 1.1 * display_jet.stall.speed_mps
    ahead = lifted(model, alphas, Asked(speed, 1.0)).forward_m
    for shift, found in ((-0.02, True), (0.02, False)):
        _, z, error = trimmed_state(further_forward(model, ahead + shift), speed)
        assert (error < 1e-3) == found
        if found:
            assert 0.6 < z[T_ELEVATOR] < 1.0


def test_elevator_to_trim_follows_the_handbooks_relation(display_jet, jet_balanced_at):
    """Balanced x further forward, trim takes x C_L/(c C_m_delta) more elevator.

    Perkins and Hage, Airplane Performance Stability and Control, 1949, ch. 5 (from memory).
    """
    one, two = jet_balanced_at(180.0), jet_balanced_at(165.0)
    speed = 16.0
    trims = [level(x, speed) for x in (one, two)]
    ref = one.weighed.reference
    tunnel = (
        coefficients(
            one, alpha_deg=[trims[0].alpha_deg], deflections_deg={"tail": trims[0].tail_deg - 1.0}
        ),
        coefficients(
            one, alpha_deg=[trims[0].alpha_deg], deflections_deg={"tail": trims[0].tail_deg + 1.0}
        ),
    )
    power = float((tunnel[1].Cm - tunnel[0].Cm)[0]) / 2.0
    push = 0.5 * one.density * speed**2 * ref.area_m2
    lift = 0.5 * (one.weighed.mass_kg + two.weighed.mass_kg) * 9.80665 / push
    expected = 0.015 * lift / (ref.mean_chord_m * power)
    assert trims[1].tail_deg - trims[0].tail_deg == pytest.approx(expected, rel=0.12)


def test_the_ground_takes_tail_authority(display_jet, sport):
    """Near the ground more up elevator is needed (Perkins and Hage, 1949, ch. 5, from memory)."""
    for ready in (display_jet, sport):
        alphas, asked = angles(ready.stall.alpha), Asked(1.1 * ready.stall.speed_mps, 1.0)
        near = near_ground(ready.model, ground_down_m(ready))
        away = lifted(ready.model, alphas, asked).forward_m
        assert lifted(near, alphas, asked).forward_m < away - 0.005


def test_a_sport_model_at_a_quarter_chord_flares_easily(sport):
    """Common practice, no source: balanced at 25 % MAC there is elevator to spare."""
    model = near_ground(sport.model, ground_down_m(sport))
    speed = landing_speed(sport.model, sport.stall.alpha, 0.0)
    ahead = lifted(model, angles(sport.stall.alpha), Asked(1.1 * speed, 1.0)).forward_m
    ref = sport.weighed.reference
    assert ref.pct_mac(sport.weighed.balance_aft_mm / 1000.0 - ahead) < 20.0


def test_far_forward_it_lands_fast(sport):
    """Common practice, no source: full aft stick holds a nose-heavy model off no slower."""
    alphas = angles(sport.stall.alpha)
    speeds = [
        held_off(further_forward(sport.model, x), alphas, sport.stall.speed_mps)
        for x in (0.0, 0.04, 0.07, 0.1)
    ]
    assert speeds[0] == pytest.approx(sport.stall.speed_mps, rel=0.02)
    assert speeds == sorted(speeds)
    assert speeds[-1] > 1.15 * speeds[0]


def test_more_throw_brings_the_limit_forward(display_jet, few):
    jet = display_jet.aeroplane
    usual = set_up_forward(jet, resolve_setup(jet, "club"), few, 90.0)
    big = set_up_forward(jet, resolve_setup(jet, "big_throws"), few, 90.0)
    held = {x.name: x.nominal_mm for x in usual.checks}
    more = {x.name: x.nominal_mm for x in big.checks}
    assert more["touch-down"] < held["touch-down"] - 30.0
    # on the ground, unwashed and at 22 degrees, the tail stalls: little is gained
    assert held["rotation"] - 20.0 < more["rotation"] < held["rotation"]
    assert usual.low_mm <= usual.aft_mm <= usual.high_mm
    assert usual.aft_mm > usual.nominal_mm  # what is not known keeps it aft
    assert {x.name for x in usual.checks} == {"flare", "touch-down", "rotation"}
    assert usual.decided_by.aft_mm == usual.aft_mm


def test_a_draw_that_stalls_early_is_flown_at_multiples_of_its_own_stall_speed(sport):
    """14 CFR 23.49 and 23.73 (from memory): the stall speed is the aeroplane's own.

    Asked for the speed of one that stalls 4 degrees later it would be flown beyond its stall, where
    no tail is large enough; at its own it lifts itself from at least as far forward.
    """
    air = ground_factors(sport.model, ground_down_m(sport))
    draws = np.zeros((2, N_DRAW))
    draws[1, D_STALL_ANGLE] = -1.0
    ask = [x for x in forward._asked(sport) if x.name != ROTATE]
    at = (0.0, asked_speed(sport)(0.0))
    plain, early = (of_draws(sport, ask, draws[i : i + 1], at, air, 1) for i in (0, 1))
    assert (early > plain - 0.002).all()


def test_few_draws_cannot_show_a_share():
    """32 of 32 has a lower Wilson limit of 89.3 %, 256 may lack five."""
    assert most_without(32, 0.95) is None
    assert most_without(256, 0.95) == 5


def test_what_is_not_looked_at_is_told(sport, display_jet, few):
    told = forward_limit([sport], few[:8], 95.0, 30.0)
    assert told.aft_mm is None
    assert told.left_out == (
        "rotation not looked at: it stands on a tail wheel, its nose already up",
        "8 draws cannot show 95 %",
    )
    bare = display_jet.aeroplane.model_copy(update={"undercarriage": None})
    told = forward_limit([assemble(bare)], few[:8], 95.0, 30.0)
    assert told.left_out[0] == (
        "rotation not looked at: no [undercarriage] says where its wheels touch the ground"
    )


def test_the_nose_comes_up_at_the_speed_told(display_jet):
    speed = rotation_speed(display_jet)
    wheels = wheels_of(display_jet.aeroplane, display_jet.weighed.balance_m)
    near = near_ground(display_jet.model, ground_down_m(display_jet))
    assert rotated(near, wheels, 0.97 * speed) < 0.0 < rotated(near, wheels, 1.03 * speed)


def test_a_weak_servo_lifts_less_the_faster_it_flies(display_jet):
    # moments go with the square of the speed: what holds at the stall does not at twice of it
    weak = copied(display_jet.model)
    weak.servos[:, k.V_TORQUE] = 0.01
    alphas, slow, fast = np.radians([4.0]), Asked(9.0, 1.0), Asked(30.0, 1.0)

    def kept(asked):
        strong, held = (loads_at(x, alphas, asked)[0] for x in (display_jet.model, weak))
        idle = loads_at(display_jet.model, alphas, asked, stick=0.0)[0]
        return (held - idle)[k.L_MY] / (strong - idle)[k.L_MY]

    assert kept(slow) == pytest.approx(1.0, abs=0.02)
    assert 0.0 < kept(fast) < 0.7


def test_a_foreplane_that_stalls_first_is_asked_for_its_own_least_speed(sport):
    """14 CFR 23.49: the stall speed is the stalling one, or the least steady one (from memory).

    A tail keeps its power to the wing's stall, and is asked for the wing's; a foreplane ahead does
    not, and is not asked for more the further forward it balances.
    """
    assert not stalls_first(sport.model, sport.stall.alpha)
    assert asked_speed(sport)(0.02) == landing_speed(sport.model, sport.stall.alpha, 0.02)
    base = sport.aeroplane
    ahead = {"role": "canard", "root_aft_mm": -420.0, "incidence_deg": 3.0}
    surfaces = tuple(x.model_copy(update=ahead) if x.name == "tail" else x for x in base.surfaces)
    stick = base.channels["elevator"].stick.model_copy(update={"elevator": -1.0})
    channel = base.channels["elevator"].model_copy(update={"stick": stick})
    channels = {**base.channels, "elevator": channel}
    made = base.model_copy(update={"surfaces": surfaces, "channels": channels})
    canard = assemble(made, resolve_setup(made, "club").at_balance(0.0))
    assert stalls_first(canard.model, canard.stall.alpha)
    asked_at = asked_speed(canard)
    assert asked_at(0.0) == asked_at(0.05)
    # the wing's stall is slower than the foreplane ever lets it fly
    assert asked_at(0.0) > 0.99 * landing_speed(canard.model, canard.stall.alpha, 0.0)


def test_one_speed_to_come_in_at(sport):
    """At least 1.3 of the stall speed as it balances, 14 CFR 23.73 (from memory)."""
    assert approach_speed(sport) == pytest.approx(1.3 * sport.stall.speed_mps)
    delta = assemble(load_aeroplane("twin_delta"), "tail_heavy")
    assert approach_speed(delta) > 1.3 * delta.stall.speed_mps  # by its angle at touch-down
