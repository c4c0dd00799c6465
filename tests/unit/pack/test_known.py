"""What was not measured is drawn wider, what was swung narrower."""

from math import hypot

import pytest

from sim import tables
from sim.describe import Aeroplane, load_aeroplane
from sim.describe.known import by_role, covers
from sim.pack.known import known_spread, unmeasured
from sim.pack.spreads import spreads_of

SWING = {"mass_g": 2433.0, "wire_spacing_mm": 500.0, "wire_length_mm": 2000.0, "period_s": 1.9}


def jet(**changes):
    """Return the display jet with other top-level tables."""
    raw = load_aeroplane("display_jet").model_dump(exclude_none=True, by_alias=True)
    return Aeroplane.model_validate({**raw, **changes})


def sd(aeroplane, name):
    return next(x.sd for x in spreads_of(aeroplane) if x.name == name)


def test_an_aeroplane_that_lists_nothing_has_the_table_s_spreads():
    usual = {x.name: x.sd for x in tables.uncertainty().entries}
    assert {x.name: x.sd for x in spreads_of(jet())} == usual
    assert not unmeasured(jet())


def test_errors_add_as_squares():
    both = jet(assumed=["surfaces.wing.section", "surfaces.wing.washout_deg"])
    usual = sd(jet(), "stall_angle")
    adds = [
        x.sd for x in tables.assumed().widening
        if x.draw == "stall_angle" and x.keys[0].startswith("surfaces.wing")
    ]  # fmt: skip
    assert len(adds) == 3  # thickness, camber, twist
    assert sd(both, "stall_angle") == pytest.approx(hypot(usual, *adds))
    assert sd(both, "wind") == sd(jet(), "wind")


def test_a_surface_goes_by_its_role_and_one_entry_counts_once():
    assert by_role("surfaces.main.section", {"main": "wing"}) == "surfaces.wing.section"
    assert by_role("bodies.main.stations", {"main": "wing"}) == "bodies.main.stations"
    assert covers(["motors", "*", "resistance_mohm"], ["motors", "m1750", "resistance_mohm"])
    assert covers(["motors", "*", "resistance_mohm"], ["motors"])
    assert not covers(["motors", "*", "resistance_mohm"], ["motors", "m", "kv_rpm_per_v"])
    one = jet(assumed=["fan_units.f80"])
    two = jet(assumed=["fan_units.f80", "motors.m1750.resistance_mohm"])
    assert sd(one, "thrust") == sd(two, "thrust") > sd(jet(), "thrust")


def test_a_box_is_better_than_a_guess_and_its_own_value_beats_both():
    boxed = jet(from_box=["packs.6s_4000.mass_g"])
    assert [x.widening.draw for x in unmeasured(boxed)] == ["mass", "balance_aft"]
    stated = jet(from_box=["packs.6s_4000.mass_g"], uncertainty={"mass": 0.004})
    assert sd(stated, "mass") == 0.004
    assert sd(stated, "balance_aft") == sd(boxed, "balance_aft")


def test_a_swing_test_narrows_its_axis_alone():
    swung = jet(measured={"setup": "display", "pitch_swing": SWING}, assumed=["airframe"])
    usual = {x.name: x for x in tables.uncertainty().entries}
    assert known_spread(swung, usual["spread_lengthwise"]).sd == 0.05
    sideways = known_spread(swung, usual["spread_sideways"])
    assert sideways.sd > 0.2
    assert "weigh the wing alone" in sideways.measure
    assert "wider, not measured" in sideways.source


@pytest.mark.parametrize(
    ("lists", "said"),
    [
        ({"assumed": ["surfaces.wing.sectoin"]}, "did you mean 'surfaces.wing.section'"),
        ({"from_box": ["packs.6s_4000.mas_g"]}, "did you mean 'packs.6s_4000.mass_g'"),
        ({"assumed": ["expo"], "from_box": ["expo"]}, "stands there already, in assumed"),
        ({"assumed": ["parts.main leg.mass", "airframe"]}, "'parts.main leg.mass_g'"),
    ],
)
def test_a_key_that_is_not_there_is_told(lists, said):
    with pytest.raises(ValueError, match=said):
        jet(**lists)
