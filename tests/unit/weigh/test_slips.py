"""Slips are told with the value that was likely meant; odd but real aeroplanes pass."""

import pytest

from sim.describe import load_aeroplane
from sim.describe.known import Kind
from sim.weigh.facts import facts_of, kinds_of
from sim.weigh.rough import static_margin_pct
from sim.weigh.slips import Fact, failing, find_slips, slip_words

JETS: tuple[Kind, ...] = ("fan_jet_strakes",)
# a jet as its pilot measured it
JET = {
    "wing_span_mm": 1150.0, "wing_root_chord_mm": 330.0, "wing_tip_chord_mm": 160.0,
    "wing_tip_back_mm": 250.0, "tail_span_mm": 520.0, "tail_root_chord_mm": 170.0,
    "tail_tip_chord_mm": 90.0, "tail_tip_back_mm": 131.0, "tail_back_mm": 577.0,
    "nose_ahead_mm": 643.0, "datum_behind_nose_mm": 643.0, "body_length_mm": 1360.0,
    "middle_width_mm": 170.0, "mass_g": 2433.0,
    "balance_back_mm": 135.0, "pack_1_g": 640.0, "pack_1_cells": 6.0, "pack_1_mah": 4000.0,
    "kv_rpm_per_v": 1750.0, "diameter_mm": 80.0, "aileron_up_deg": 18.0, "aileron_down_deg": 14.0,
}  # fmt: skip


def slips(**wrong):
    facts = {name: Fact(value, name, value) for name, value in {**JET, **wrong}.items()}
    return find_slips(facts, JETS)


def test_what_goes_together_raises_no_doubt():
    assert slips() == []


@pytest.mark.parametrize(
    ("name", "typed", "meant", "how"),
    [
        ("wing_span_mm", 115.0, 1150.0, "decimal point"),
        ("wing_span_mm", 575.0, 1150.0, "one side instead of tip to tip"),
        ("wing_root_chord_mm", 33.0, 330.0, "decimal point"),
        ("wing_root_chord_mm", 13.0, 330.2, "inches"),
        ("mass_g", 85.8, 2432.0, "ounces"),
        ("mass_g", 2.433, 2433.0, "kilograms"),
        ("pack_1_g", 22.6, 640.7, "ounces"),
        ("pack_1_mah", 400.0, 4000.0, "a digit"),
        ("balance_back_mm", 778.0, 135.0, "measured from the nose"),
        ("kv_rpm_per_v", 175.0, 1750.0, "a digit"),
        ("aileron_up_deg", 11.0, 14.0, "up and down swapped"),
    ],
)
def test_a_slip_is_told_with_what_was_meant(name, typed, meant, how):
    (slip,) = slips(**{name: typed})
    assert slip.key == name
    assert slip.meant == pytest.approx(meant, rel=2e-3)
    assert how in slip.text
    assert "\n" not in slip_words(slip)


def test_a_file_s_balance_point_measured_from_the_nose_is_told_from_the_datum():
    jet = load_aeroplane("display_jet")
    club = jet.setups["club"].model_copy(update={"balance_aft_mm": 778.0})
    slip = find_slips(facts_of(jet.model_copy(update={"setups": {"club": club}})), kinds_of(jet))
    assert [(x.key, x.meant) for x in slip] == [("setups.club.balance_aft_mm", 178.0)]


def test_two_slips_are_both_told():
    found = {slip.key: slip.meant for slip in slips(mass_g=85.8, wing_tip_chord_mm=1600.0)}
    assert found == {"mass_g": pytest.approx(2432.0, rel=1e-3), "wing_tip_chord_mm": 160.0}


def test_what_nothing_mends_is_told_without_a_guess():
    (slip,) = slips(middle_width_mm=600.0, nose_ahead_mm=643.0)
    assert slip.key == "middle_width_mm"


@pytest.mark.parametrize("typed", [250.0, 290.0])
def test_a_balance_over_the_wing_is_doubted_and_not_guessed(typed):
    """Own: read from the other end of the chord, most places on it look as usual as any."""
    (slip,) = slips(balance_back_mm=typed, wing_root_chord_mm=340.0)
    assert (slip.key, slip.meant) == ("balance_back_mm", None)
    assert "measured from elsewhere, or in another unit?" in slip.text
    assert "likely meant" not in slip_words(slip)


def test_no_balance_outside_the_body_is_offered():
    """Ahead for behind, 150 mm would look as usual; but the body ends 57 mm behind the datum."""
    meant = [x.meant for x in slips(balance_back_mm=-150.0)]
    assert meant == [150.0]
    assert 150.0 not in [x.meant for x in slips(balance_back_mm=-150.0, body_length_mm=700.0)]


# margins that `aftlimit trim` prints at the first set-ups [% of the mean chord]
@pytest.mark.parametrize(
    ("name", "margin"), [("display_jet", 10.8), ("club_sport", 10.4), ("twin_delta", 7.9)]
)
def test_a_file_s_facts_pass_and_the_rough_margin_is_near_the_real_one(name, margin):
    aeroplane = load_aeroplane(name)
    values = {key: fact.value for key, fact in facts_of(aeroplane).items()}
    assert failing(values, kinds_of(aeroplane)) == []
    # a tenth of the chord is what a rough one is good for; a slip is several
    assert static_margin_pct(values) == pytest.approx(margin, abs=10.0)
