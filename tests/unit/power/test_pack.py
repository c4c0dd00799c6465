"""Packs: resistance where a file gives none, current at a power, and what is too much."""

import numpy as np
import pytest

from sim.core.loads import thrust
from sim.describe import Pack, load_aeroplane, resolve_setup
from sim.describe.masses import FULL_CELL_V
from sim.power.full_load import full_load
from sim.power.pack import (
    capacity_share,
    cell_voltage,
    cell_voltage_sd,
    current_at_power,
    pack_array,
    reserve_of,
    resistance_mohm,
    resistance_sd_log,
    usable_mah,
)
from sim.power.packing import pack_power

RHO = 1.225
SIZES = {"mass_g": 540.0, "length_mm": 140.0, "width_mm": 43.0, "height_mm": 50.0}


def pack(**told):
    return Pack(**{"cells": 4, "capacity_mah": 5000.0, **SIZES, **told})


def test_the_file_s_resistance_is_taken_as_it_is():
    assert resistance_mohm(pack(resistance_mohm=13.75)) == 13.75
    assert pack_array(pack(resistance_mohm=13.75))[thrust.PACK_RESISTANCE] == 13.75 / 1000.0


def test_usual_pack_against_a_pilot_s_log():
    """4S 5 Ah, 14.8 V at 5 A, 13.7 V at 85 A: 13.75 mohm (common practice, no source; to 2)."""
    logged = 1000.0 * (14.8 - 13.7) / (85.0 - 5.0)
    assert 0.5 <= resistance_mohm(pack()) / logged <= 2.0


@pytest.mark.parametrize(
    ("condition", "low", "high"),
    [("good", 1.0, 4.0), ("ordinary", 4.0, 8.0), ("tired", 10.0, 20.0)],
)
def test_cells_by_condition(condition, low, high):
    """A cell of 3 Ah: good 1 to 4 mohm, usual 5 to 8, worn beyond 12 or so: common practice."""
    made = pack(condition=condition, capacity_mah=3000.0)
    assert low <= resistance_mohm(made) / made.cells <= high


def test_resistance_doubles_in_the_frost_and_goes_with_one_over_capacity():
    """Twice at 0 degrees of what it is at 25 (from memory); plates side by side share current."""
    warm = resistance_mohm(pack())
    assert resistance_mohm(pack(temperature_c=0.0)) / warm == pytest.approx(2.0, abs=0.1)
    assert resistance_mohm(pack(capacity_mah=2500.0)) == pytest.approx(2.0 * warm)
    assert resistance_mohm(pack(cell_mohm_ah=10.0)) == pytest.approx(4 * 10.0 / 5.0)


def test_what_was_measured_is_known_better():
    assert resistance_sd_log(pack(resistance_mohm=14.0)) < resistance_sd_log(pack())
    # a factor of two is the tolerance of a default (checks of the trade), at two sd
    assert resistance_sd_log(pack()) == pytest.approx(np.log(2.0) / 2.0, abs=0.01)


def test_full_cell_and_its_spread():
    assert cell_voltage(100.0) == FULL_CELL_V
    assert cell_voltage_sd(0.0) > cell_voltage_sd(50.0) > 0.0


def test_current_at_power_obeys_kirchhoff():
    """I (V - R I) = P; above V² / (4 R) no current gives it; it rises as the pack empties."""
    power, ohms = np.array([0.0, 300.0, 900.0]), np.array(0.02)
    for volts in (22.0, 25.0):
        current = current_at_power(power, np.array(volts), ohms)
        assert current * (volts - ohms * current) == pytest.approx(power)
    full, low = (current_at_power(np.array(430.0), np.array(v), ohms) for v in (25.2, 22.4))
    assert low / full == pytest.approx(25.2 / 22.4, rel=0.02)
    assert np.isnan(current_at_power(np.array(1.01 * 25.0**2 / 0.08), np.array(25.0), ohms))


def test_a_reserve_stays_in_an_aged_pack():
    assert usable_mah(pack(), 20.0) == pytest.approx(0.8 * capacity_share(pack()) * 5000.0)
    # 20 to 30 % stay in it; packs are thrown away at 80 % of their label (common practice)
    assert 0.7 <= usable_mah(pack(), reserve_of()) / (capacity_share(pack()) * 5000.0) <= 0.8
    assert capacity_share(pack(condition="tired")) == 0.8


@pytest.fixture(scope="module")
def jet():
    aeroplane = load_aeroplane("display_jet")
    setup = resolve_setup(aeroplane)
    return pack_power(aeroplane, setup), aeroplane.packs[setup.pack]


def too_much(power, one):
    return {x.what: x for x in full_load(power, one, RHO, 25.0).too_much}


def test_the_jet_is_within_all_limits(jet):
    load = full_load(*jet, RHO, 25.0)
    assert load.too_much == ()
    # 80 mm on six cells: full throttle 60 to 100 A (common practice, no source)
    assert 60.0 <= load.pack_a <= 100.0
    assert load.c_rate == pytest.approx(load.pack_a / 4.0)


def test_each_limit_is_told(jet):
    power, own = jet
    units = power.units.copy()
    units[:, thrust.U_CURRENT_LIMIT] = 50.0
    found = too_much(power._replace(units=units), own)
    assert set(found) == {"controller"}
    assert found["controller"].allowed == 50.0 < 60.0 < found["controller"].asked
    lasting = too_much(power, own.model_copy(update={"max_c": 12.0}))
    assert lasting["pack"].allowed == 48.0
    # a burst stands it, but not one of 14 C
    assert set(too_much(power, own.model_copy(update={"max_c": 12.0, "burst_c": 14.0}))) == {
        "burst"
    }
    assert set(too_much(power, own.model_copy(update={"resistance_mohm": 60.0}))) == {"cell"}


def test_a_controller_that_holds_back_saves_the_pack(jet):
    power, own = jet
    units = power.units.copy()
    units[:, thrust.U_CURRENT_LIMIT] = 40.0
    held = too_much(power._replace(units=units), own.model_copy(update={"max_c": 12.0}))
    assert set(held) == {"controller"}
