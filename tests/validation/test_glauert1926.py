"""Thin-aerofoil theory: camber (Abbott and von Doenhoff) and flaps (H. Glauert)."""

import numpy as np
import pytest

from sim.aero.sections.aerofoil import section_table
from sim.aero.sections.flaps import flap_effect
from sim.aero.sections.plates import plate_table
from sim.aero.sections.thin_aerofoil import (
    camber_effect,
    flap_effectiveness,
    flap_moment,
    nose_flap,
)
from sim.core.loads.lookup import CM, CN
from tests.validation.curves import at, lift
from tests.validation.rows import Row, absolute, cases, check, each, relative

SOURCE = "glauert1926"
ROOT3 = np.sqrt(3.0)


def rows():
    where = "thin-aerofoil theory of the NACA 24xx mean line"
    yield Row(
        "abbott1959", where, "2 % camber: zero-lift angle, °", -2.08,
        lambda: np.degrees(camber_effect(2.0, 0.4).zero_lift), absolute(0.01), "from memory",
    )  # fmt: skip
    yield Row(
        "abbott1959", where, "2 % camber: CM about c/4", -0.053,
        lambda: camber_effect(2.0, 0.4).moment, absolute(5e-4), "from memory",
    )  # fmt: skip
    # a quarter-chord flap has cos theta = -1/2, theta = 120°
    yield from each(SOURCE, "closed form, theta = 120°", [
        ("quarter-chord flap: effectiveness", 1.0 / 3.0 + ROOT3 / (2.0 * np.pi),
         lambda: flap_effectiveness(0.25)),
        ("quarter-chord flap: moment, 1/rad", -3.0 * ROOT3 / 8.0, lambda: flap_moment(0.25)),
    ], relative(1e-12), "computed")  # fmt: skip
    # a quarter of the chord turned down at the nose: theta = 60°
    nose = nose_flap(0.25)
    yield from each("abbott1959", "A0, A1, A2 of a broken line, theta = 60°", [
        ("quarter-chord nose turned down: rise of the ideal angle", 1.0 / 3.0, lambda: nose.ideal),
        ("quarter-chord nose turned down: rise of the zero-lift angle",
         1.0 / 3.0 - ROOT3 / (2.0 * np.pi), lambda: nose.zero_lift),
        ("quarter-chord nose turned down: moment, 1/rad", -ROOT3 / 8.0, lambda: nose.moment),
    ], relative(1e-12), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_a_cambered_table_holds_the_theory():
    table = section_table(12.0, 2.0, "round", 3.6e5, np.inf)
    assert lift(table, -2.0772) == pytest.approx(0.0, abs=2e-3)
    assert at(table, 0.0, CM) == pytest.approx(-0.0531, abs=1e-3)


def test_a_cambered_plate_lifts_from_the_same_angle():
    # the zero-lift angle of a wing without twist is its sections', whatever its aspect ratio
    table = plate_table(2.5, 2.5, camber_pct=2.0)
    assert lift(table, -2.0772) == pytest.approx(0.0, abs=2e-3)
    assert at(table, -2.0772, CM) == pytest.approx(-0.0531, abs=1e-3)
    inverted = plate_table(2.5, 2.5, camber_pct=-2.0)[::-1]
    assert table[:, CN] == pytest.approx(-inverted[:, CN], abs=1e-9)


def test_flaps_of_all_and_of_none_of_the_chord():
    assert flap_effectiveness(1.0) == pytest.approx(1.0)
    assert flap_effectiveness(0.0) == pytest.approx(0.0, abs=1e-12)


def test_flaps_lose_effect_with_deflection():
    small, large = flap_effect(0.25, np.radians(5.0)), flap_effect(0.25, np.radians(-40.0))
    assert flap_effectiveness(0.25) > small.tau > large.tau > 0.0
    assert flap_moment(0.25) < small.delta_cm < large.delta_cm < 0.0
    assert flap_effect(1.0, 0.2) == (1.0, 0.0)
