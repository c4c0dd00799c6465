"""Ideal fan, energy of the stream, pack sag and a measured fan, against numbers from outside.

Ideal fan: one-dimensional momentum theory, jet at ambient pressure at the nozzle; the
printed numbers were computed independently from T = (4 rho A_e P²)^(1/3) and, at speed,
from the cubic P = rho A_e V_e (V_e² - V²) / 2. They are given to their last digit.
"""

from functools import lru_cache

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.loads import thrust
from sim.core.loads.fan import fan_flow
from sim.describe import bundled, load_aeroplane, resolve_setup
from sim.power.fan import circle_area
from sim.power.ideal import (
    ideal_jet_speed,
    ideal_static_thrust,
    ideal_thrust_at_power,
)
from sim.power.operating_point import evaluate, operating_point
from sim.power.pack import resistance_mohm
from sim.power.packing import pack_power
from tests.validation.rows import absolute, band, cases, check, each

SOURCE = "closed_form"
JETS = ("display_jet", "twin_delta")
RHO = 1.225
NOZZLE = circle_area(58.0)  # of a 70 mm fan with a 28 mm hub


def power_of(name: str):
    aeroplane = load_aeroplane(name)
    return pack_power(aeroplane, resolve_setup(aeroplane))


# ideal power 800 W: speed, thrust, over static, propulsive efficiency
LAPSE = [
    (10.0, 17.8787, 0.8835, 0.2235),
    (20.0, 15.8799, 0.7848, 0.3970),
    (30.0, 14.1767, 0.7006, 0.5316),
    (40.0, 12.7186, 0.6285, 0.6359),
]
STATIC = [(400.0, 12.7474, 62.758), (800.0, 20.2352, 79.070), (1200.0, 26.5156, 90.513)]
DEMO = "no table holds a fan's efficiency: the bundled aeroplanes' fans say their own"


def annulus():
    return circle_area(70.0) - circle_area(28.0)


def at_800_w(speed):
    return ideal_thrust_at_power(800.0, NOZZLE, speed, RHO)


@lru_cache
def full_throttle(name):
    """Return the operating point of a bundled aeroplane standing still at full throttle."""
    return operating_point(power_of(name), 1.0, 0.0, RHO)


@lru_cache
def logged_voltage():
    """Return the pack's voltage [V] at 85 A, from its rest voltage and 13.75 mohm."""
    resistance = 13.75e-3
    units = np.zeros((1, thrust.N_UNIT_COLS))
    units[0, thrust.U_MOTOR_CONSTANT] = 0.005
    units[0, thrust.U_CONDUCTANCE] = 50.0
    units[0, thrust.U_CURRENT_LIMIT] = 200.0
    pack = np.array([14.8 + 5.0 * resistance, resistance])
    # the rotor speed at which 85 A flow, by hand: K omega = V - R I
    omega = np.array([(13.7 - 85.0 / 50.0) / 0.005])
    return thrust.pack_voltage(units, pack, omega, np.ones(1))


def ideal_rows():
    where = "70 mm fan, 28 mm hub, 58 mm nozzle"
    yield from each(SOURCE, where, [
        ("ideal fan: annulus, m²", 3.232699e-3, annulus),
        ("ideal fan: nozzle, m²", 2.642079e-3, lambda: NOZZLE),
    ], absolute(5e-10), "computed")  # fmt: skip
    yield from each(SOURCE, where, [
        ("ideal fan: nozzle over annulus", 0.817298, lambda: NOZZLE / annulus()),
    ], absolute(5e-7), "computed")  # fmt: skip
    yield from each(SOURCE, where + ", T = (4 rho A P²)^(1/3)", (
        (f"ideal fan, {watt:g} W standing still: thrust, N", force,
         lambda watt=watt: ideal_static_thrust(watt, NOZZLE, RHO))
        for watt, force, _ in STATIC
    ), absolute(5.1e-5), "computed")  # fmt: skip
    yield from each(SOURCE, where, (
        (f"ideal fan, {watt:g} W standing still: jet, m/s", jet,
         lambda watt=watt: ideal_jet_speed(watt, NOZZLE, 0.0, RHO))
        for watt, _, jet in STATIC
    ), absolute(5.1e-4), "computed")  # fmt: skip
    yield from each(SOURCE, where, (
        (f"ideal fan, 800 W at {speed:g} m/s: {name}", value, lambda speed=speed, f=f: f(speed))
        for speed, *values in LAPSE
        for value, (name, f) in zip(values, (
            ("thrust, N", at_800_w),
            ("thrust over static", lambda v: at_800_w(v) / at_800_w(0.0)),
            ("propulsive efficiency", lambda v: at_800_w(v) * v / 800.0),
        ), strict=True)
    ), absolute(5.1e-5), "computed")  # fmt: skip


def measured_rows():
    where = "good units 0.60-0.66; outside 0.45-0.70 suspect; common practice, no source"
    yield from each("common_practice", where, (
        (f"{name}'s fan: electrical to jet", (0.45, 0.70),
         lambda name=name: full_throttle(name).electrical_to_jet)
        for name in JETS
    ), band(), "from memory", observed=True, apart=DEMO)  # fmt: skip
    where = "good units 0.75-0.85, none better; common practice, no source"
    yield from each("common_practice", where, (
        (f"{name}'s fan: shaft to jet", (0.0, 0.85),
         lambda name=name: full_throttle(name).shaft_to_jet)
        for name in JETS
    ), band(), "from memory", observed=True, apart=DEMO)  # fmt: skip
    where = "4S 5 Ah, 14.8 V at 5 A, 13.75 mohm; common practice, no source"
    yield from each("common_practice", where, [
        ("a logged pack at 85 A: voltage, V", 13.7, logged_voltage),
    ], absolute(1e-9), "from memory")  # fmt: skip


def rows():
    yield from ideal_rows()
    yield from measured_rows()


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize("power_w", [line[0] for line in STATIC])
def test_standing_still_both_formulas_agree(power_w):
    assert ideal_thrust_at_power(power_w, NOZZLE, 0.0, RHO) == pytest.approx(
        ideal_static_thrust(power_w, NOZZLE, RHO), rel=1e-12
    )


def test_of_the_thrust_the_disc_itself_has_what_momentum_theory_gives_it():
    """Standing still the rise in pressure times the annulus is 1/(2 sigma) of the pull."""
    force = ideal_static_thrust(800.0, NOZZLE, RHO)
    rise = 0.5 * RHO * ideal_jet_speed(800.0, NOZZLE, 0.0, RHO) ** 2
    assert rise * annulus() / force == pytest.approx(0.5 * annulus() / NOZZLE, rel=1e-6)


@pytest.mark.parametrize("speed", [0.0, 15.0, 45.0])
def test_ideal_power_is_work_plus_wake(speed):
    jet = ideal_jet_speed(800.0, NOZZLE, speed, RHO)
    force = ideal_thrust_at_power(800.0, NOZZLE, speed, RHO)
    wake = 0.5 * RHO * NOZZLE * jet * (jet - speed) ** 2
    assert force * speed + wake == pytest.approx(800.0, rel=1e-9)


@pytest.mark.parametrize("speed", [0.0, 12.0, 25.0, 40.0])
@pytest.mark.parametrize("name", ["display_jet", "twin_delta"])
def test_kernel_energy_of_the_stream(name, speed):
    """T V + mdot (V_e - V)²/2 = mdot (V_e² - V²)/2, with T the force the kernel returns."""
    power = power_of(name)
    omega = np.full(len(power.units), 3300.0)
    _, loads = evaluate(power, omega, np.ones(len(omega)), speed, RHO)
    row = power.units[0]
    flow, jet, _ = fan_flow(*row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], speed, RHO, 3300.0)
    mdot = len(omega) * RHO * row[thrust.U_DUCT_AREA] * flow
    stream = 0.5 * mdot * (jet**2 - speed**2)
    assert loads[k.L_FX] * speed + 0.5 * mdot * (jet - speed) ** 2 == pytest.approx(
        stream, rel=1e-9
    )
    # the same stream, seen from the ideal fan: its thrust at that power is the kernel's
    area = len(omega) * row[thrust.U_NOZZLE_AREA]
    assert loads[k.L_FX] == pytest.approx(ideal_thrust_at_power(stream, area, speed, RHO), rel=1e-9)


@pytest.mark.parametrize("speed", [0.0, 25.0, 40.0])
def test_kernel_pressure_balance(speed):
    """What the fan puts in leaves as jet, duct loss and lost ram pressure, and nothing else."""
    row = power_of("display_jet").units[0]
    flow, jet, torque = fan_flow(*row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], speed, RHO, 3800.0)
    volume = row[thrust.U_DUCT_AREA] * flow
    air_power = row[thrust.U_EFFICIENCY] * torque * 3800.0
    stream = 0.5 * RHO * volume * (jet**2 - speed**2)
    duct = 0.5 * RHO * volume * row[thrust.U_DUCT_LOSS] * flow**2
    inlet = 0.5 * RHO * volume * (1.0 - row[thrust.U_RAM]) * speed**2
    assert air_power == pytest.approx(stream + duct + inlet, rel=1e-9)


@pytest.mark.parametrize("name", JETS)
def test_shaft_gives_more_than_pack(name):
    point = full_throttle(name)
    assert point.electrical_to_jet < point.shaft_to_jet


@pytest.mark.parametrize("name", sorted(bundled("aeroplanes")))
def test_bundled_packs_have_believable_resistance(name):
    """Within a factor of 2 of 3.44 mohm a cell at 5 Ah, as 1/capacity: common practice."""
    for pack in load_aeroplane(name).packs.values():
        per_cell = resistance_mohm(pack) / pack.cells
        assert 0.5 <= per_cell / (3.44 * 5000.0 / pack.capacity_mah) <= 2.0
