"""A complete aeroplane's damping beyond the stall, swung as a tunnel swings it.

The fighter of NASA TP-1538, its rate derivatives from memory (fighter_damping.csv): two copies of
them differ in 40 of 180 values beyond 10 degrees, so they are held to half and twice.
"""

import numpy as np
import pytest

import sim
from tests.validation import whole
from tests.validation.rows import band, cases, check, each
from tests.validation.test_whole_aeroplanes import FIGHTER, LIGHT, assembled
from tests.validation.whole_data import PLAIN, REDUCED, SWING_DEG, Place, find, read

YAWING = "vortices of the nose, which are left out, damp the yaw and turn roll by it about"


def damped(alpha, name, axis):
    """Return a rate derivative [1/rad], swinging as the table of --whole does."""
    ready = assembled(FIGHTER)
    found = sim.forced_oscillation(
        ready, axis=axis, alpha_deg=alpha, amplitude_deg=SWING_DEG, reduced_frequency=REDUCED[axis]
    )
    return getattr(found.out_of_phase, name)


def rows():
    if not FIGHTER.aeroplane.is_file():
        return
    swing = "by sign and size only: copies differ; condensed tables"
    for alpha, name, axis, value, reason in (
        (10, "Cm", "pitch", -6.11, ""), (25, "Cm", "pitch", -6.00, ""),
        (30, "Cm", "pitch", -6.20, ""), (35, "Cm", "pitch", -6.40, ""),
        (45, "Cm", "pitch", -6.00, ""), (10, "Cl", "roll", -0.383, ""),
        (25, "Cl", "roll", -0.294, ""), (30, "Cl", "roll", -0.230, ""),
        (35, "Cl", "roll", -0.210, ""), (40, "Cl", "roll", -0.120, ""),
        (10, "Cn", "yaw", -0.370, ""), (30, "Cn", "yaw", -0.595, ""),
        (40, "Cn", "yaw", -1.020, YAWING), (10, "Cl", "yaw", 0.208, ""),
        (30, "Cl", "yaw", 0.680, YAWING), (35, "Cl", "yaw", 0.100, ""),
        (40, "Cl", "yaw", 0.447, YAWING),
    ):  # fmt: skip
        title = f"light fighter, swinging in {axis}, {alpha}°: {name} by the rate, 1/rad"
        low, high = sorted((0.5 * value, 2.0 * value))
        yield from each("nguyen1979", swing, [
            (title, (low, high), lambda a=(alpha, name, axis): float(damped(*a)[0])),
        ], band(), "from memory", reason)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_the_figures_of_the_rows_are_those_of_the_table():
    measured = read(whole.HERE / "fighter_damping.csv")
    assert measured[Place("Cmq", PLAIN, 30.0)] == -6.20
    assert measured[Place("Clr", PLAIN, 45.0)] == -0.330
    assert len(measured) == 50


@pytest.mark.skipif(not FIGHTER.aeroplane.is_file(), reason="the measured fighter is not there")
@pytest.mark.parametrize(
    ("name", "axis"),
    [("Cm", "pitch"), ("Cn", "yaw"), ("Cl", "roll")],
)
def test_no_damping_is_reversed_where_none_was_measured_to_be(name, axis):
    # [nguyen1979], condensed in [stevens2015] (from memory): negative from 0 to 45 degrees
    assert (damped(np.arange(22.0, 46.0, 2.0), name, axis) < 0.0).all()


def test_a_measured_rate_derivative_is_held_against_a_forced_oscillation():
    place = Place("Clp", PLAIN, 5.0)
    got = find(LIGHT.load(), {place: -0.5}, 2)
    ready = assembled(LIGHT)
    back, _, down = -1000.0 * ready.weighed.balance_m
    swung = sim.forced_oscillation(
        ready, axis="roll", alpha_deg=5.0, amplitude_deg=SWING_DEG,
        reduced_frequency=REDUCED["roll"],
        reference=sim.TunnelReference(aft_mm=back, up_mm=down),
    )  # fmt: skip
    assert got.nominal[place] == pytest.approx(float(swung.out_of_phase.Cl[0]))
    assert got.drawn[place].shape == (2,)
