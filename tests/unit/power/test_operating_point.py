"""Fans, propellers, motors and the pack in the kernel: signs, limits, odd states."""

import math
from functools import lru_cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from sim.core import layout as k
from sim.core.loads import thrust
from sim.core.loads.fan import fan_flow
from sim.describe import load_aeroplane, resolve_setup
from sim.power.operating_point import operating_point
from sim.power.pack import cell_voltage
from sim.power.packing import PowerArrays, about, pack_power

RHO = 1.225


def power_of(name: str, **changes) -> PowerArrays:
    aeroplane = load_aeroplane(name)
    setup = resolve_setup(aeroplane).model_copy(update=changes)
    return pack_power(aeroplane, setup)


def run(power, velocity=(0.0, 0.0, 0.0), rates=(0.0, 0.0, 0.0), omega=3500.0, duty=1.0, rho=RHO):
    """Return rotor accelerations and loads in one state."""
    n = len(power.units)
    accel, loads = np.empty(n), np.empty(k.N_LOADS)
    speeds = np.broadcast_to(np.asarray(omega, float), n).copy()
    duties = np.broadcast_to(np.asarray(duty, float), n).copy()
    jets = np.zeros_like(accel)
    thrust.power_loads(*power, *velocity, *rates, rho, speeds, duties, 1.0, accel, loads, jets)
    return accel, loads


@pytest.fixture(scope="module")
def jet():
    return power_of("display_jet")


@pytest.fixture(scope="module")
def twin():
    return power_of("twin_delta")


@pytest.fixture(scope="module")
def sport():
    return power_of("club_sport")


@pytest.mark.parametrize("name", ["display_jet", "twin_delta", "club_sport"])
def test_thrust_falls_with_airspeed(name):
    power = power_of(name)
    forces = [operating_point(power, 1.0, v, RHO).net_thrust_n for v in (0, 8, 16, 24, 32)]
    assert all(b < a for a, b in pairwise(forces))


def test_thrust_rises_with_duty_and_vanishes_without(jet):
    points = [operating_point(jet, d, 0.0, RHO) for d in (0.0, 0.3, 0.6, 1.0)]
    forces = [p.net_thrust_n for p in points]
    assert forces[0] == pytest.approx(0.0, abs=1e-9)
    assert all(b > a for a, b in pairwise(forces))


def test_smaller_nozzle_faster_jet_and_less_thrust_from_the_same_power_standing():
    wide, narrow = (power_of("display_jet", nozzle_mm=d) for d in (74.0, 64.0))
    at_rest = [operating_point(p, 1.0, 0.0, RHO) for p in (wide, narrow)]
    assert at_rest[1].jet_speed_mps > 1.05 * at_rest[0].jet_speed_mps
    per_power = [p.thrust_n / p.electrical_power_w ** (2 / 3) for p in at_rest]
    assert per_power[1] < per_power[0]
    fast = [operating_point(p, 1.0, 35.0, RHO).net_thrust_n for p in (wide, narrow)]
    lapse = [f / p.net_thrust_n for f, p in zip(fast, at_rest, strict=True)]
    assert lapse[1] > lapse[0]


def test_sag_and_charge_lower_thrust(jet):
    stiff = jet._replace(pack=jet.pack * np.array([1.0, 0.0]))
    tired = jet._replace(pack=jet.pack * np.array([1.0, 3.0]))
    forces = [operating_point(p, 1.0, 0.0, RHO).thrust_n for p in (stiff, jet, tired)]
    assert forces[0] > forces[1] > forces[2]
    aeroplane = load_aeroplane("display_jet")
    setup = resolve_setup(aeroplane)
    full, low = (operating_point(pack_power(aeroplane, setup, c), 1.0, 0.0, RHO) for c in (100, 20))
    assert full.thrust_n > 1.05 * low.thrust_n


def test_cell_voltage_never_falls_with_charge():
    voltages = [cell_voltage(c) for c in np.linspace(-5.0, 105.0, 111)]
    assert np.all(np.diff(voltages) >= 0.0)
    assert voltages[0] == cell_voltage(0.0)
    assert voltages[-1] == cell_voltage(100.0) == pytest.approx(4.20)


def test_inlet_momentum_opposes_sideslip_and_angle_of_attack(jet):
    row = jet.units[0]
    _, straight = run(jet, (20.0, 0.0, 0.0))
    _, slipping = run(jet, (20.0, 4.0, 3.0))
    columns = row[thrust.U_DUCT_AREA : thrust.U_RAM + 1]

    def mdot(across2: float) -> float:
        flow, _, _ = fan_flow(*columns, 20.0, RHO, 3500.0, row[thrust.U_LIP] * across2)
        return RHO * row[thrust.U_DUCT_AREA] * flow

    assert straight[k.L_FY] == straight[k.L_FZ] == 0.0
    assert slipping[k.L_FY] == pytest.approx(-4.0 * mdot(25.0), rel=1e-12)
    assert slipping[k.L_FZ] == pytest.approx(-3.0 * mdot(25.0), rel=1e-12)
    # an inlet ahead of the moments' centre pushes the nose away from the wind
    ahead = about(jet, np.array([-0.213, 0.0, 0.0]))
    assert ahead.units[0, thrust.U_INLET_X] > 0.0
    _, moved = run(ahead, (20.0, 4.0, 0.0))
    arm = ahead.units[0, thrust.U_INLET_X]
    assert moved[k.L_MZ] == pytest.approx(-4.0 * mdot(16.0) * arm, rel=1e-12)


def test_jet_damping_is_that_of_the_nozzle(jet):
    """Momentum theorem, duct on the x axis: pitching moment -mdot x_e² q, whatever the inlet."""
    power = about(jet, np.array([-0.2, 0.0, 0.0]))
    row = power.units[0]
    row[thrust.U_LIP] = 0.0  # turning, the inlet moves across its own air
    flow, _, _ = fan_flow(*row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], 0.0, RHO, 3500.0)
    mdot = RHO * row[thrust.U_DUCT_AREA] * flow
    for inlet in (0.1, 0.25):
        row[thrust.U_INLET_X] = inlet
        _, loads = run(power, rates=(0.0, 0.7, 0.0))
        exact = -mdot * row[thrust.U_EXIT_X] ** 2 * 0.7
        assert loads[k.L_MY] == pytest.approx(exact, rel=1e-12)


def test_thrust_line_above_the_centre_pushes_the_nose_down(jet):
    high = about(jet, np.array([0.0, 0.0, 0.05]))
    _, loads = run(high)
    assert loads[k.L_MY] == pytest.approx(-0.05 * loads[k.L_FX], rel=1e-12)


@pytest.mark.parametrize("name", ["display_jet", "twin_delta", "club_sport"])
@pytest.mark.parametrize("omega", [-5.0, 0.0, 1e-9, 100.0, 6000.0])
@pytest.mark.parametrize("speed", [-40.0, -1e-9, 0.0, 1e-9, 30.0])
@pytest.mark.parametrize("duty", [0.0, 1.0])
def test_all_states_give_finite_loads(name, omega, speed, duty):
    for rho in (0.0, RHO):
        accel, loads = run(
            power_of_cached(name), (speed, 3.0, -5.0), (1.0, 2.0, 3.0), omega, duty, rho
        )
        assert np.all(np.isfinite(accel))
        assert np.all(np.isfinite(loads))


@lru_cache
def power_of_cached(name: str) -> PowerArrays:
    return power_of(name)


@pytest.mark.parametrize("name", ["display_jet", "twin_delta", "club_sport"])
def test_stopped_or_windmilling_it_drags(name):
    power = power_of(name)
    _, locked = run(power, (25.0, 0.0, 0.0), omega=0.0, duty=0.0)
    assert locked[k.L_FX] < 0.0
    assert locked[k.L_CURRENT] == 0.0
    accel, _ = run(power, (25.0, 0.0, 0.0), omega=0.0, duty=0.0)
    assert np.all(accel > 0.0)  # the wind turns it the way it runs
    assert operating_point(power, 0.0, 25.0, RHO).net_thrust_n < 0.0


@pytest.mark.parametrize("omega", [0.0, 150.0, 500.0])
def test_windmilling_energy(jet, omega):
    """Ram pressure pays for jet, duct, rotor and the mismatch at its blades, to the last watt."""
    row = jet.units[0]
    flow, jet_speed, torque = fan_flow(
        *row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], 30.0, RHO, omega
    )
    assert torque < 0.0
    volume = row[thrust.U_DUCT_AREA] * flow
    mismatch = -flow * row[thrust.U_PSI_SLOPE] / row[thrust.U_PSI_ZERO]
    mismatch -= omega * row[thrust.U_TIP_RADIUS]
    spent = 0.5 * RHO * volume * (jet_speed**2 + row[thrust.U_DUCT_LOSS] * flow**2 + mismatch**2)
    taken = -torque * omega / row[thrust.U_EFFICIENCY]
    assert mismatch > 0.0
    assert spent + taken == pytest.approx(
        0.5 * RHO * volume * row[thrust.U_RAM] * 30.0**2, rel=1e-9
    )


def test_reversed_flow_is_never_swallowed(jet):
    row = jet.units[0]
    flow, jet_speed, _ = fan_flow(*row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], -60.0, RHO, 200.0)
    assert flow == jet_speed == 0.0


@given(
    omega=st.floats(0.0, 5000.0),
    speed=st.floats(-30.0, 60.0),
    name=st.sampled_from(["display_jet", "club_sport"]),
)
@settings(max_examples=200, deadline=None)
def test_loads_have_no_jumps(omega, speed, name):
    power = power_of_cached(name)
    _, here = run(power, (speed, 1.0, 2.0), omega=omega)
    accel, _ = run(power, (speed, 1.0, 2.0), omega=omega)
    accel_there, there = run(power, (speed + 1e-7, 1.0, 2.0), omega=omega + 1e-7)
    # slopes stay below 100 N per m/s and 1e4 rad/s² per rad/s or m/s
    np.testing.assert_allclose(here, there, atol=2e-5)
    np.testing.assert_allclose(accel, accel_there, atol=2e-3)


@pytest.mark.parametrize("name", ["display_jet", "club_sport"])
def test_rotor_momentum_follows_the_rotation(name):
    power = power_of(name)
    _, clockwise = run(power, omega=800.0)
    assert clockwise[k.L_HX] == pytest.approx(
        800.0 * power.units[0, thrust.U_ROTOR_INERTIA], rel=2e-3
    )
    other = power._replace(units=power.units.copy())
    other.units[:, thrust.U_ROTATION] *= -1.0
    _, anticlockwise = run(other, omega=800.0)
    np.testing.assert_allclose(anticlockwise[k.L_HX : k.L_HZ + 1], -clockwise[k.L_HX : k.L_HZ + 1])


def test_torque_reaction(jet, sport):
    """Steady: a clockwise propeller rolls the aeroplane left by its torque, a fan does not."""
    point = operating_point(sport, 1.0, 10.0, RHO)
    omega = point.rotor_speed_rad_s[0]
    straight = sport._replace(units=sport.units.copy())
    straight.units[0, thrust.U_AXIS_X : thrust.U_AXIS_Z + 1] = 1.0, 0.0, 0.0
    straight.units[0, thrust.U_INLET_X : thrust.U_EXIT_Z + 1] = 0.0
    accel, loads = run(straight, (10.0, 0.0, 0.0), omega=omega)
    inertia = straight.units[0, thrust.U_ROTOR_INERTIA]
    torque = point.shaft_power_w / omega
    assert loads[k.L_MX] == pytest.approx(-torque - inertia * accel[0], rel=2e-3)
    assert torque > 0.1
    fan = operating_point(jet, 1.0, 0.0, RHO)
    _, steady = run(jet, omega=fan.rotor_speed_rad_s)
    assert steady[k.L_MX] == pytest.approx(0.0, abs=1e-6)
    accel, spooling = run(jet, omega=1000.0)
    assert spooling[k.L_MX] == pytest.approx(
        -jet.units[0, thrust.U_ROTOR_INERTIA] * accel[0], rel=1e-9
    )


def test_propeller_at_an_angle(sport):
    """Angle of attack: force up, and a clockwise propeller yaws the nose left."""
    power = sport._replace(units=sport.units.copy())
    power.units[0, thrust.U_AXIS_X : thrust.U_AXIS_Z + 1] = 1.0, 0.0, 0.0
    power.units[0, thrust.U_INLET_X : thrust.U_EXIT_Z + 1] = 0.0
    _, loads = run(power, (15.0, 0.0, 3.0), omega=950.0)
    assert loads[k.L_FZ] < 0.0
    assert loads[k.L_FY] == pytest.approx(0.0, abs=1e-12)
    assert loads[k.L_MZ] < 0.0
    assert loads[k.L_MY] == pytest.approx(0.0, abs=1e-12)
    # the disc looks the same from all sides: sideslip is the same turned by a quarter
    _, slip = run(power, (15.0, 3.0, 0.0), omega=950.0)
    assert slip[k.L_FY] == pytest.approx(loads[k.L_FZ], rel=1e-12)
    assert slip[k.L_MY] == pytest.approx(loads[k.L_MZ], rel=1e-12)


def test_one_fan_cut_yaws_towards_it(twin):
    speed = operating_point(twin, 1.0, 20.0, RHO).rotor_speed_rad_s
    _, both = run(twin, (20.0, 0.0, 0.0), omega=speed)
    assert both[k.L_MZ] == pytest.approx(0.0, abs=1e-9)
    right = int(np.argmax(twin.units[:, thrust.U_EXIT_Y]))
    duty = np.ones(2)
    duty[right] = 0.0
    point = operating_point(twin, duty, 20.0, RHO)
    _, cut = run(twin, (20.0, 0.0, 0.0), omega=point.rotor_speed_rad_s, duty=duty)
    # nose right, by more than the running fan's half of the thrust: the other one drags
    assert cut[k.L_MZ] > 0.5 * both[k.L_FX] * twin.units[right, thrust.U_EXIT_Y]
    # the one that runs has the pack to itself
    assert point.rotor_speed_rad_s[1 - right] > speed[1 - right]


@given(
    omega=st.tuples(*[st.floats(0.0, 6000.0)] * 3),
    duty=st.tuples(*[st.floats(0.0, 1.0)] * 3),
    resistance=st.floats(0.0, 0.2),
    limit=st.floats(1.0, 80.0),
)
@settings(max_examples=300, deadline=None)
def test_pack_voltage_solves_its_equation(omega, duty, resistance, limit):
    """Against a bracketed root of the whole balance, clamps and all."""
    units = np.zeros((3, thrust.N_UNIT_COLS))
    units[:, thrust.U_MOTOR_CONSTANT] = 0.0055, 0.004, 0.01
    units[:, thrust.U_CONDUCTANCE] = 40.0, 25.0, 60.0
    units[:, thrust.U_CURRENT_LIMIT] = limit, 2 * limit, 0.5 * limit
    pack = np.array([24.0, resistance])

    def excess(voltage: float) -> float:
        drop = np.array(duty) * voltage - units[:, thrust.U_MOTOR_CONSTANT] * np.array(omega)
        current = np.clip(
            drop * units[:, thrust.U_CONDUCTANCE], 0.0, units[:, thrust.U_CURRENT_LIMIT]
        )
        return voltage - 24.0 + resistance * float(np.array(duty) @ current)

    got = thrust.pack_voltage(units, pack, np.array(omega), np.array(duty))
    low = -resistance * 6.0 * limit
    assert got == pytest.approx(brentq(excess, low, 24.0, xtol=1e-12), abs=1e-9)


def test_thrust_factor_scales_the_push_alone(jet, sport):
    for power in (jet, sport):
        n = len(power.units)
        accel, one, more = np.empty(n), np.empty(k.N_LOADS), np.empty(k.N_LOADS)
        jets = np.empty(n)
        state = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, RHO, np.full(n, 900.0), np.ones(n))
        thrust.power_loads(*power, *state, 1.0, accel, one, jets)
        thrust.power_loads(*power, *state, 1.1, accel, more, jets)
        assert more[k.L_FX] == pytest.approx(1.1 * one[k.L_FX], rel=1e-9)
        assert more[k.L_CURRENT] == one[k.L_CURRENT]


def test_no_units_no_loads():
    none = PowerArrays(
        np.zeros((0, thrust.N_UNIT_COLS)), np.zeros((2, thrust.N_PROP_COLS)), np.array([20.0, 0.02])
    )
    accel, loads = run(none, (20.0, 0.0, 0.0))
    assert accel.shape == (0,)
    assert np.all(loads == 0.0)


def test_positions_and_tilt_are_packed_in_body_axes():
    aeroplane = load_aeroplane("club_sport")
    propeller = aeroplane.propellers[0]
    row = pack_power(aeroplane, resolve_setup(aeroplane)).units[0]
    hub = row[thrust.U_EXIT_X : thrust.U_EXIT_Z + 1]
    np.testing.assert_allclose(
        hub, np.array([-propeller.aft_mm, propeller.right_mm, -propeller.up_mm]) / 1000.0
    )
    axis = row[thrust.U_AXIS_X : thrust.U_AXIS_Z + 1]
    assert np.linalg.norm(axis) == pytest.approx(1.0, abs=1e-12)
    # downthrust points the shaft down ahead, right thrust to the right
    assert math.degrees(math.asin(axis[2])) == pytest.approx(propeller.thrust_tilt_deg)
    assert math.degrees(math.atan2(axis[1], axis[0])) == pytest.approx(propeller.side_tilt_deg)


def test_air_across_the_inlet_costs_little_while_the_fan_draws_hard(jet):
    """Own judgement (inlet.toml): one dynamic pressure of the air across, lost at the windward lip.

    In the pressure balance it takes that off what the fan gives: with the air straight ahead
    nothing, from the left as much as from below.
    """
    row = jet.units[0]
    columns = row[thrust.U_DUCT_AREA : thrust.U_RAM + 1]
    assert row[thrust.U_LIP] == 1.0
    still, _, _ = fan_flow(*columns, 0.0, RHO, 3900.0)
    lost, _, _ = fan_flow(*columns, 0.0, RHO, 3900.0, 10.5**2)
    # rho U^2 (psi_0 + psi_1 V/U) - rho/2 lip = rho/2 (V_e^2 + K V^2)
    tip = 3900.0 * row[thrust.U_TIP_RADIUS]
    left = tip**2 * row[thrust.U_PSI_ZERO] + tip * row[thrust.U_PSI_SLOPE] * lost - 0.5 * 10.5**2
    ratio = row[thrust.U_DUCT_AREA] / row[thrust.U_NOZZLE_AREA]
    assert left == pytest.approx(0.5 * lost**2 * (ratio**2 + row[thrust.U_DUCT_LOSS]), rel=1e-9)
    assert 0.98 < lost / still < 1.0
    _, side = run(jet, (8.0, 6.0, 0.0), omega=3900.0)
    _, below = run(jet, (8.0, 0.0, 6.0), omega=3900.0)
    _, straight = run(jet, (8.0, 0.0, 0.0), omega=3900.0)
    assert side[k.L_FX] == pytest.approx(below[k.L_FX], rel=1e-12)
    assert 0.98 < side[k.L_FX] / straight[k.L_FX] < 1.0
