"""Weighing by its parts: the ledger adds up, a swing gives the textbook's inertia."""

from math import pi

import pytest

from sim.describe import FileFault, load_aeroplane
from sim.describe.masses import Tray
from sim.weigh.balance import OutOfReachError, solve_balance
from sim.weigh.measured import check_triangle, swing_inertia
from sim.weigh.weighing import weigh_set_up, weigh_table


@pytest.mark.parametrize("name", ["club_sport", "display_jet", "twin_delta"])
def test_the_ledger_adds_up(name):
    weighed = weigh_set_up(load_aeroplane(name))
    rows = weigh_table(weighed)
    assert sum(row.mass_g for row in rows) == pytest.approx(1000.0 * weighed.mass_kg)
    moment = sum(row.mass_g * row.aft_mm for row in rows)
    assert moment / sum(row.mass_g for row in rows) == pytest.approx(weighed.balance_aft_mm)


def test_a_bifilar_swing():
    """I = m g d^2 T^2/(16 pi^2 L), d the spacing of the wires (textbook, closed form)."""
    found = swing_inertia(mass_kg=2.0, wire_spacing_m=0.6, wire_length_m=1.5, period_s=2.2)
    assert found == pytest.approx(2.0 * 9.80665 * 0.36 * 2.2**2 / (16.0 * pi**2 * 1.5), rel=1e-3)


def test_no_body_has_one_inertia_beyond_the_other_two():
    check_triangle([1.0, 2.0, 2.9], "x")
    with pytest.raises(FileFault):
        check_triangle([1.0, 2.0, 3.1], "x")


def test_the_pack_goes_where_the_balance_wants_it():
    tray = Tray(front_aft_mm=-200.0, rear_aft_mm=100.0, right_mm=0.0, up_mm=0.0)
    wanted = {"mass_kg": 2.0, "moment_kg_mm": 100.0, "pack_kg": 0.5, "tray": tray, "spots": ()}
    found = solve_balance(**wanted, wanted_mm=30.0, who="x")
    assert (100.0 + 0.5 * found.pack_aft_mm) / 2.5 == pytest.approx(30.0)
    with pytest.raises(OutOfReachError):
        solve_balance(**wanted, wanted_mm=300.0, who="x")
