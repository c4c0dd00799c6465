"""The propeller by blade elements: bounds, momentum, behaviour over the whole advance."""

import math

import numpy as np
import pytest

from sim.core.loads import thrust
from sim.describe import load_aeroplane
from sim.power.blade_section import rotation_share, section_coefficients, zero_lift
from sim.power.propeller import (
    N_ADVANCE,
    blade_elements,
    propeller_table,
    thrust_and_power,
)


@pytest.fixture(scope="module")
def unit():
    return load_aeroplane("club_sport").propeller_units["p12x6"]


@pytest.fixture(scope="module")
def table(unit):
    return propeller_table(unit)


def test_section_is_attached_at_rest_and_a_plate_across():
    """A Clark Y has no lift at -5.4° to its flat face with 11.7 %; this one is of 8 %."""
    assert np.degrees(zero_lift()) == pytest.approx(-5.4 * 8.0 / 11.7, abs=0.1)
    lift, drag = section_coefficients(np.radians([-3.7, 0.0, 90.0, -90.0, 180.0]))
    assert lift[0] == pytest.approx(0.0, abs=0.05)
    assert lift[1] > 0.3
    assert drag[1] < 0.03
    assert abs(lift[2]) < 0.1
    assert drag[2] == pytest.approx(drag[3], rel=0.02)
    assert drag[2] > 1.2
    assert abs(lift[4]) < 0.01


def test_highest_lift_is_that_of_thin_cambered_sections_at_small_reynolds_numbers():
    """0.9 to 1.2 at 6e4, at 7 to 12° to the face [selig1995], from memory."""
    alpha = np.arange(0.0, 15.0, 0.25)
    lift, _ = section_coefficients(np.radians(alpha))
    assert 0.9 <= lift.max() <= 1.2
    assert 7.0 <= alpha[lift.argmax()] <= 12.0


def test_turning_a_stalled_blade_gets_lift_back_inboard():
    """3 (c/r)² of what it lost [snel1994]: 12 % at c/r 0.2, all of it at the root."""
    at_rest, _ = section_coefficients(np.radians(16.0))
    slope = 5.8 * (math.radians(16.0) - zero_lift())
    share = rotation_share(np.array([0.2, 0.8]), np.ones(2))
    turning, drag = section_coefficients(np.radians(16.0), share)
    assert share[0] == pytest.approx(0.12)
    assert share[1] == 1.0
    assert turning[0] - at_rest == pytest.approx(
        0.12 * (slope - at_rest) * math.cos(0.279), rel=0.01
    )
    assert drag[1] > drag[0]
    attached = section_coefficients(np.zeros(2), share)[0]
    assert attached[1] == pytest.approx(attached[0], abs=0.02)


def test_never_better_than_the_actuator_disc(table):
    """Power is at least thrust times (V + induced speed): Rankine and Froude's bound."""
    for advance in np.linspace(0.0, 0.65, 27):
        ct, cp = thrust_and_power(table, advance)
        if ct > 0.0:
            induced = 0.5 * (math.sqrt(advance**2 + 8.0 * ct / math.pi) - advance)
            assert cp > ct * (advance + induced)


def test_slipstream_carries_the_thrust(table):
    """T = rho A (V + w) 2 w with 2 w the excess far behind."""
    for axial, turn in ((0.0, 45.0), (12.0, 45.0), (20.0, 50.0)):
        ct, cq, _, _ = thrust.propeller_coefficients(table, axial, turn)
        force, _, far = thrust.propeller_flow(0.305, ct, cq, axial, turn, 1.225, 1.0)
        disc = math.pi * 0.305**2 / 4.0
        mass_flow = 1.225 * disc * 0.5 * (axial + far)
        assert mass_flow * (far - axial) == pytest.approx(force, rel=1e-12)


def test_turbine_never_yields_more_than_betz(table):
    """Driven by the air, it takes at most 16/27 of the power through its disc (Betz)."""
    coordinate = np.linspace(-1.0, 1.0, N_ADVANCE)
    for x, row in zip(coordinate, table, strict=True):
        if x > 0.0 and row[thrust.PROP_TORQUE] < 0.0:
            turn = 1.0 - x
            taken = -row[thrust.PROP_TORQUE] * (x * x + turn * turn) * 2.0 * math.pi * turn
            assert taken <= 16.0 / 27.0 * 0.5 * x**3 * math.pi / 4.0


def test_thrust_and_torque_fall_with_advance_until_it_drags(table):
    advances = np.linspace(0.0, 0.9, 37)
    ct = np.array([thrust_and_power(table, j)[0] for j in advances])
    assert np.all(np.diff(ct) < 0.0)
    assert ct[-1] < 0.0
    locked = table[-1]
    assert locked[thrust.PROP_THRUST] < 0.0
    assert locked[thrust.PROP_TORQUE] < 0.0


def test_standing_still_in_the_wind_it_is_a_plate(unit, table):
    """Blades across the flow drag by their area, from the front and from behind."""
    blade = blade_elements(unit)
    area = blade.blades * blade.width * float(np.sum(blade.chord))
    ahead = -table[-1, thrust.PROP_THRUST] / (0.5 * area)
    behind = table[0, thrust.PROP_THRUST] / (0.5 * area)
    assert 1.0 < ahead < 1.7
    assert 1.0 < behind < 1.7


def test_peak_efficiency_lies_below_the_zero_of_thrust(table):
    advances = np.linspace(0.05, 0.6, 56)
    eta = [j * np.divide(*thrust_and_power(table, j)) for j in advances]
    best = advances[int(np.argmax(eta))]
    assert 0.6 < max(eta) < 0.85
    assert 0.35 < best < 0.6


def test_more_pitch_more_thrust_and_torque(unit, table):
    propeller_table(unit)[:] = 0.0  # the asker's own: no other is changed by it
    assert np.array_equal(propeller_table(unit), table)
    coarse = propeller_table(unit.model_copy(update={"pitch_mm": 203.0}))
    for advance in (0.2, 0.4):
        flat, steep = thrust_and_power(table, advance), thrust_and_power(coarse, advance)
        assert steep[0] > flat[0]
        assert steep[1] > flat[1]


def test_normal_force_and_sway_have_the_right_sign_under_power(table):
    for advance in (0.0, 0.2, 0.4):
        _, _, normal, sway = thrust.propeller_coefficients(table, advance, 1.0)
        assert normal > 0.0
        assert sway > 0.0


def test_table_is_finite_everywhere(table):
    assert table.shape == (N_ADVANCE, thrust.N_PROP_COLS)
    assert np.all(np.isfinite(table))
