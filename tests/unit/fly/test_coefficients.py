"""Static and oscillating coefficients by the public calls: identities, shapes, errors in words."""

import numpy as np
import pytest

import sim
from sim.core import draw_layout as d
from sim.core import layout as k
from sim.core.steady.statics import polar
from sim.fly.tunnel.reference import servo_angles
from sim.study.flights.draws import make_draws

ALPHAS = np.array([-10.0, 4.0, 22.0, 50.0])


def stacked(found):
    return np.stack([found.CX, found.CY, found.CZ, found.Cl, found.Cm, found.Cn], axis=-1)


@pytest.fixture(scope="module")
def away(display_jet):
    """The jet in sideslip and turning, about its balance point."""
    return sim.coefficients(display_jet, alpha_deg=ALPHAS, beta_deg=6.0)


def test_moments_move_with_the_reference_point(display_jet, away):
    # M' = M + r x F, r from the new point to the old one [etkin1996]
    ref, balance = display_jet.weighed.reference, -1000.0 * display_jet.weighed.balance_m
    point = sim.TunnelReference(aft_mm=balance[0] + 70.0, up_mm=balance[2] - 20.0)
    moved = sim.coefficients(display_jet, alpha_deg=ALPHAS, beta_deg=6.0, reference=point)
    arm = np.array([0.070, 0.0, -0.020])  # forward and, as z runs down, above
    lengths = np.array([ref.span_m, ref.mean_chord_m, ref.span_m])
    old, new = stacked(away), stacked(moved)
    assert new[:, :3] == pytest.approx(old[:, :3], abs=1e-9)
    assert new[:, 3:] == pytest.approx(old[:, 3:] + np.cross(arm, old[:, :3]) / lengths, abs=1e-9)


def test_area_and_lengths_only_scale(display_jet, away):
    ref = display_jet.weighed.reference
    twice = sim.TunnelReference(
        area_m2=2.0 * ref.area_m2, span_m=3.0 * ref.span_m, chord_m=5.0 * ref.mean_chord_m
    )
    scaled = stacked(sim.coefficients(display_jet, alpha_deg=ALPHAS, beta_deg=6.0, reference=twice))
    factors = 2.0 * np.array([1.0, 1.0, 1.0, 3.0, 5.0, 3.0])
    assert scaled * factors == pytest.approx(stacked(away), abs=1e-9)


def test_mirror_image(display_jet):
    # sideslip, rates and deflections the other way: side force, roll and yaw change sign
    right = sim.coefficients(
        display_jet, alpha_deg=ALPHAS, beta_deg=5.0, rates=(0.03, 0.01, -0.02),
        deflections_deg={"rudder": 12.0, "aileron right": -9.0, "aileron left": 4.0},
    )  # fmt: skip
    left = sim.coefficients(
        display_jet, alpha_deg=ALPHAS, beta_deg=-5.0, rates=(-0.03, 0.01, 0.02),
        deflections_deg={"rudder": -12.0, "aileron left": -9.0, "aileron right": 4.0},
    )  # fmt: skip
    signs = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])
    assert stacked(left) * signs == pytest.approx(stacked(right), abs=1e-6)


def test_the_signs_of_deflections():
    # trailing edge down lifts; rudder to the right yaws right; right aileron down rolls left
    lifted = sim.coefficients("display_jet", alpha_deg=2.0, deflections_deg={"tail": [0.0, 5.0]})
    assert lifted.CZ[1] < lifted.CZ[0]
    assert lifted.Cm[1] < lifted.Cm[0]
    assert sim.coefficients("display_jet", alpha_deg=2.0, deflections_deg={"rudder": 10.0}).Cn > 0.0
    rolled = sim.coefficients(
        "display_jet", alpha_deg=2.0, deflections_deg={"aileron right": 8.0, "aileron left": -8.0}
    )
    assert rolled.Cl < 0.0


def test_canted_fins_deflect_the_same_way():
    # a pair of canted fins: the number is to the right on both, so both yaw the nose right
    found = sim.coefficients("twin_delta", alpha_deg=2.0, deflections_deg={"rudder": [0.0, 10.0]})
    one = sim.coefficients("twin_delta", alpha_deg=2.0, deflections_deg={"rudder left": 10.0})
    assert found.Cn[1] > float(one.Cn) > 0.0


def test_lift_and_drag_are_the_force_along_and_across_the_stream(away):
    alpha, beta = np.radians(away.alpha_deg), np.radians(away.beta_deg)
    stream = np.stack(
        [np.cos(alpha) * np.cos(beta), np.sin(beta), np.sin(alpha) * np.cos(beta)], axis=-1
    )
    force = stacked(away)[:, :3]
    assert -(force * stream).sum(axis=-1) == pytest.approx(away.CD, abs=1e-12)
    up = np.stack([np.sin(alpha), 0.0 * alpha, -np.cos(alpha)], axis=-1)
    assert (force * up).sum(axis=-1) == pytest.approx(away.CL, abs=1e-12)


def test_power_is_left_out_unless_asked_for(display_jet):
    dead = sim.coefficients(display_jet, alpha_deg=2.0)
    blown = sim.coefficients(display_jet, alpha_deg=2.0, throttle=1.0, speed_mps=15.0)
    stick = np.array([[0.0, 0.0, 0.0, 1.0]])
    loads = polar(display_jet.model, 15.0, np.radians([2.0]), np.zeros(1), np.zeros((1, 3)), stick)
    ref = display_jet.weighed.reference
    push = 0.5 * display_jet.density * 15.0**2 * ref.area_m2
    assert float(blown.CX) == pytest.approx(loads[0, 0] / push, abs=1e-6)
    assert float(dead.CX) < float(blown.CX)


def test_draws_make_a_first_axis_and_leave_the_point_where_it_is(display_jet):
    draws = make_draws(display_jet.spreads, 4, 3).physical
    many = sim.coefficients(display_jet, alpha_deg=ALPHAS, draws=draws)
    assert many.Cm.shape == (4, 4)
    one = sim.coefficients(display_jet, alpha_deg=ALPHAS, draws=draws[2])
    assert one.Cm == pytest.approx(many.Cm[2], abs=0.0)
    assert np.ptp(many.CZ, axis=0).min() > 0.0
    only_balance = np.zeros(d.N_DRAW)
    only_balance[[d.D_BALANCE_AFT, d.D_BALANCE_RIGHT, d.D_BALANCE_UP]] = 0.02
    still = sim.coefficients(display_jet, alpha_deg=ALPHAS, draws=only_balance)
    assert still.Cm == pytest.approx(sim.coefficients(display_jet, alpha_deg=ALPHAS).Cm, abs=0.0)


def test_arguments_broadcast(display_jet):
    grid = sim.coefficients(
        display_jet, alpha_deg=ALPHAS, beta_deg=np.array([[0.0], [8.0], [-8.0]])
    )
    assert grid.Cn.shape == (3, 4)
    assert grid.Cn[0] == pytest.approx(np.zeros(4), abs=1e-6)
    assert sim.coefficients(display_jet, alpha_deg=3.0).Cm.shape == ()


def test_a_slow_oscillation_has_the_static_slope(display_jet):
    # as the frequency goes to nought, in phase is the static derivative (definition)
    slow = sim.forced_oscillation(
        display_jet, axis="pitch", alpha_deg=2.0, amplitude_deg=0.5, reduced_frequency=5e-3,
        cycles=(1, 1),
    )  # fmt: skip
    ends = sim.coefficients(display_jet, alpha_deg=[1.5, 2.5])
    for name in ("CZ", "Cm"):
        slope = np.diff(getattr(ends, name))[0] / np.radians(1.0)
        assert getattr(slow.in_phase, name)[0] == pytest.approx(slope, rel=0.03)
    yaw = sim.forced_oscillation(
        display_jet, axis="yaw", alpha_deg=2.0, amplitude_deg=0.5, reduced_frequency=5e-3,
        cycles=(1, 1),
    )  # fmt: skip
    slips = sim.coefficients(display_jet, alpha_deg=2.0, beta_deg=[-0.5, 0.5])
    slope = np.diff(slips.Cn)[0] / np.radians(1.0)
    assert yaw.in_phase.Cn[0] == pytest.approx(-slope * np.cos(np.radians(2.0)), rel=0.03)


def test_frequency_may_be_given_either_way(display_jet):
    one = sim.forced_oscillation(display_jet, axis="roll", alpha_deg=2.0, reduced_frequency=0.05)
    other = sim.forced_oscillation(
        display_jet, axis="roll", alpha_deg=2.0, frequency_hz=one.frequency_hz
    )
    assert other.reduced_frequency == pytest.approx(0.05)
    assert other.out_of_phase.Cl == pytest.approx(one.out_of_phase.Cl, rel=1e-9)


def test_weight_and_inertia_are_out_of_it(display_jet):
    model = display_jet.model
    mass = model.mass.copy()
    mass[k.M_MASS] *= 3.0
    mass[k.M_INVERSE :] *= 0.2
    heavy = type(display_jet)(**{**vars(display_jet), "model": model._replace(mass=mass)})
    settings = {"axis": "pitch", "alpha_deg": 14.0, "frequency_hz": 1.0, "speed_mps": 15.0}
    light = sim.forced_oscillation(display_jet, **settings)
    assert sim.forced_oscillation(heavy, **settings).out_of_phase.Cm == pytest.approx(
        light.out_of_phase.Cm, abs=1e-12
    )


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ({"deflections_deg": {"ruder": 3.0}}, "moves nothing; did you mean 'rudder'"),
        ({"deflections_deg": {"rudder": 120.0}}, "between -90 and 90 degrees; got 120.0"),
        ({"deflections_deg": {"tail": 1.0, "tail right": 2.0}}, "both move one panel"),
        ({"deflections_deg": {"tail": [1.0, 2.0, 3.0]}}, "do not fit each other: alpha_deg (2,)"),
        ({"draws": [0.1, 0.2]}, "draws: must have"),
        ({"throttle": 2.0}, "throttle: must lie between 0 and 1; got 2"),
        ({"speed_mps": -3.0}, "speed_mps: must be above 0.5; got -3"),
        ({"reference": sim.TunnelReference(area_m2=0.0)}, "reference.area_m2: must be above 0"),
        ({"beta_deg": np.nan}, "beta_deg: must be numbers"),
        ({"setup": "club"}, "assembled already"),
    ],
)
def test_errors_are_told_in_words(display_jet, arguments, words):
    with pytest.raises(ValueError) as told:
        sim.coefficients(display_jet, **{"alpha_deg": [1.0, 2.0], **arguments})
    assert words in str(told.value)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ({"axis": "rol"}, "did you mean 'roll'"),
        ({"axis": "roll", "frequency_hz": 1.0}, "either reduced_frequency or frequency_hz"),
        ({"axis": "roll", "amplitude_deg": 0.0}, "amplitude_deg: must be above 0"),
        ({"axis": "roll", "cycles": (0, 1)}, "cycles: must both be at least 1"),
    ],
)
def test_errors_of_an_oscillation(display_jet, arguments, words):
    with pytest.raises(ValueError) as told:
        sim.forced_oscillation(
            display_jet, **{"alpha_deg": 2.0, "reduced_frequency": 0.05, **arguments}
        )
    assert words in str(told.value)


def test_an_unknown_aeroplane_is_told(display_jet):
    with pytest.raises(sim.FileFault):
        sim.coefficients("no_such_aeroplane", alpha_deg=0.0)
    assert servo_angles(display_jet, {}, (3,)).shape == (3, len(display_jet.aero.channels))
