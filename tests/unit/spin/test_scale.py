"""Spins across sizes: Froude's laws, relative density, mass loading, and where ours lie."""

from dataclasses import replace
from math import isnan, nan, sqrt

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.judge import Spin
from sim.show.report.beyond import scaled
from sim.spin.scale import Band, Where, froude_scaled, published_spins, scale_of
from sim.study.checks.spin_scale import scaled_spins, sideslip_deg, stands_of
from tests.samples import results as show_sample

FOOT = 0.3048


def spin_of(name):
    return next(x for x in published_spins() if x.name == name)


def test_froude_scaling_against_worked_figures():
    # own computation on published spins: light low wing, span 24.46 ft, to 1 m: n = 7.455 and
    # 145-208 deg/s become 396-568; trainer, 33.4 ft: n = 10.18, 120-150 become 383-479 and
    # a sink of 45.7-61.0 m/s becomes 14.3-19.1
    light = froude_scaled(spin_of("light low wing"), 1.0)
    assert (light.rate_dps.low, light.rate_dps.high) == pytest.approx((396, 568), abs=0.5)
    assert (light.alpha_deg.low, light.alpha_deg.high) == (40.0, 60.0)
    trainer = froude_scaled(spin_of("trainer"), 1.0)
    assert (trainer.rate_dps.low, trainer.rate_dps.high) == pytest.approx((383, 479), abs=0.5)
    assert (trainer.sink_mps.low, trainer.sink_mps.high) == pytest.approx((14.3, 19.1), abs=0.05)
    assert isnan(light.sink_mps.low)


def test_omega_b_over_2v_does_not_change_with_scale():
    # rate by sqrt(n), speed by 1/sqrt(n), span by 1/n
    full, model = spin_of("trainer"), froude_scaled(spin_of("trainer"), 1.3)
    for one in (full, model):
        slow = np.radians(one.rate_dps.low) * one.span_m / (2.0 * one.sink_mps.high)
        fast = np.radians(one.rate_dps.high) * one.span_m / (2.0 * one.sink_mps.low)
        # printed 120-150 deg/s and 9000-12000 ft/min, speed taken as the sink
        assert (slow, fast) == pytest.approx((full.turn.low, full.turn.high), abs=1e-3)


def test_the_reference_table_holds_what_was_printed():
    trainer = spin_of("trainer")
    feet_a_minute = FOOT / 60.0
    assert trainer.sink_mps.low == pytest.approx(9000 * feet_a_minute, abs=0.05)
    assert trainer.sink_mps.high == pytest.approx(12000 * feet_a_minute, abs=0.05)
    assert trainer.span_m == pytest.approx(33.4 * FOOT, abs=1e-3)
    slug, pound = 14.593903, 0.45359237
    mass, area = 4000 * pound, 179.9 * FOOT**2
    assert trainer.relative_density == pytest.approx(mass / (0.9629 * area * 10.18), abs=0.05)
    # (Ix - Iy)/(m b2) of the two textbook examples, slug ft2, 1/m = 1.57e-3 /slug
    fighter = (9496 - 55814) * 1.57e-3 / 30.0**2
    assert spin_of("fuselage-loaded fighter").mass_loading == pytest.approx(fighter, abs=5e-5)
    light = (1048 - 3000) / (2750 * pound / slug * 33.4**2)
    assert spin_of("four-seat light").mass_loading == pytest.approx(light, abs=5e-5)


@pytest.mark.parametrize(
    ("value", "where"), [(1.9, Where.BELOW), (2.0, Where.INSIDE), (3.1, Where.ABOVE)]
)
def test_where_a_number_lies(value, where):
    assert Band(2.0, 3.0).where(value) is where
    assert Band(nan, nan).where(value) is Where.UNKNOWN


def test_scale_of_a_set_up_by_hand(display_jet):
    weighed, ref = display_jet.weighed, display_jet.weighed.reference
    found = scale_of(display_jet)
    assert found.relative_density == pytest.approx(
        weighed.wing_loading_kg_m2 / display_jet.density / ref.span_m
    )
    radii = weighed.radii_of_gyration_m
    assert found.mass_loading == pytest.approx((radii[0] ** 2 - radii[1] ** 2) / ref.span_m**2)
    assert found.mass_loading < 0.0


def test_a_spin_is_placed_by_each_number():
    n = sqrt(7.455)
    spin = Spin(
        mode="erect, flat",
        alpha_deg=70.0,
        yaw_rate_dps=150.0 * n,
        sink_mps=12.0,
        rate=0.10,
        share=1.0,
    )
    light, trainer, fighter, four_seat = stands_of(spin, 1.0)
    assert (light.alpha, light.rate, light.sink) == (Where.ABOVE, Where.INSIDE, Where.UNKNOWN)
    assert (trainer.sink, trainer.turn) == (Where.BELOW, Where.BELOW)
    assert (fighter.alpha, fighter.turn) == (Where.INSIDE, Where.INSIDE)
    assert {four_seat.alpha, four_seat.rate, four_seat.sink, four_seat.turn} == {Where.UNKNOWN}


def test_sideslip_of_left_spins_is_mirrored():
    rows = show_sample.summaries(4, 0, 30.0, spun=4)
    rows[:, s.R_SPIN_YAW] = [2.0, -2.0, 2.0, -2.0]
    rows[:, s.R_SPIN_BETA] = np.radians([-5.0, 5.0, -6.0, 6.0])
    assert sideslip_deg(show_sample.case("spin", "centre", rows)) == pytest.approx(-5.5)


def test_the_study_s_spins_are_told_without_a_verdict(display_jet):
    result = show_sample.result()
    found = scaled_spins(result, [display_jet] * len(result.setups))
    assert [(x.setup, x.manoeuvre) for x in found] == [
        ("forward", "spin"), ("club", "spin"), ("aft", "spin"),
    ]  # fmt: skip
    text = repr(scaled(result, [display_jet] * len(result.setups)))
    # M. J. Bamber, R. O. House, NACA 1937, summary: -0.025 left no steady spin
    assert "A moment of 0.025 or more against the spin left no steady spin" in text
    for word in ("relative", "light low wing", "inside", "below", "0.025"):
        assert word in text
    assert "safe" not in text


def test_nothing_spun():
    assert scaled(replace(show_sample.result(), setups=()), []) is None
