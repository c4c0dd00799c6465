"""Factors of units against scipy's own, and which keys turn into which."""

import pytest
from scipy import constants

from sim.units.factors import UNITS, alike, split

# the international yard and pound of 1959 and CODATA's list, as scipy has them
SCIPY = {
    "in": constants.inch, "ft": constants.foot, "oz": constants.oz, "lb": constants.pound,
    "mph": constants.mph, "kmh": constants.kmh, "kt": constants.knot, "fts": constants.foot,
    "lbf": constants.pound_force, "ozf": constants.pound_force / 16.0,
    "in2": constants.inch**2, "ozin2": constants.oz * constants.inch**2,
}  # fmt: skip


@pytest.mark.parametrize("suffix", SCIPY)
def test_a_factor_is_the_agreed_one(suffix):
    assert UNITS[suffix].si == pytest.approx(SCIPY[suffix], rel=1e-14)


def test_temperatures_have_another_nought():
    assert UNITS["f"].to(UNITS["c"], 212.0) == pytest.approx(100.0)
    assert UNITS["c"].to(UNITS["f"], -40.0) == pytest.approx(-40.0)


def test_a_servo_of_2_kg_cm_has_28_oz_in():
    """Servo data sheets give both (common practice, no source)."""
    assert UNITS["kgcm"].to(UNITS["ozin"], 2.0) == pytest.approx(27.8, abs=0.05)


def test_a_key_without_a_unit_is_none():
    assert split("strips") is None
    assert split("mass_oz") == ("mass", UNITS["oz"])
    assert list(alike("mas_oz", ["mass_g", "aft_mm"])) == ["mass_oz"]
