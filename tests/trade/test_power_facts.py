"""What modellers know of fans and propellers; common practice, no source, unless named."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.loads import thrust
from sim.describe import load_aeroplane, resolve_setup
from sim.power.operating_point import operating_point
from sim.power.packing import pack_power
from sim.power.propeller import thrust_and_power
from sim.weigh import weigh_set_up

RHO = 1.225
FANS = ["display_jet", "twin_delta"]


def power_of(name):
    aeroplane = load_aeroplane(name)
    return pack_power(aeroplane, resolve_setup(aeroplane))


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("display_jet", 0.9, 1.2), ("club_sport", 1.0, 1.3), ("twin_delta", 0.8, 1.0)],
)
def test_static_thrust_to_weight(name, low, high):
    aeroplane = load_aeroplane(name)
    setup = resolve_setup(aeroplane)
    weight = weigh_set_up(aeroplane, setup).mass_kg * 9.80665
    static = operating_point(pack_power(aeroplane, setup), 1.0, 0.0, RHO).net_thrust_n
    assert low <= static / weight <= high


def test_display_jet_standing_still():
    """80 mm on 6S: about 22-26 N at 60-75 A, jet 65-85 m/s, electrical to jet 0.55-0.66."""
    point = operating_point(power_of("display_jet"), 1.0, 0.0, RHO)
    assert 22.0 <= point.net_thrust_n <= 26.0
    assert 60.0 <= point.current_a <= 75.0
    assert 65.0 <= point.jet_speed_mps <= 85.0
    assert 0.55 <= point.electrical_to_jet <= 0.66


def test_twin_delta_efflux():
    """64 mm fans: 43-58 m/s."""
    assert 43.0 <= operating_point(power_of("twin_delta"), 1.0, 0.0, RHO).jet_speed_mps <= 58.0


@pytest.mark.parametrize("name", FANS)
def test_exit_area_is_70_to_90_pct_of_the_ring(name):
    units = power_of(name).units
    share = units[:, thrust.U_NOZZLE_AREA] / units[:, thrust.U_DUCT_AREA]
    assert np.all((share >= 0.70) & (share <= 0.90))


@pytest.mark.parametrize("name", FANS)
def test_thrust_at_25_mps_lies_between_half_and_three_quarters(name):
    """About half in practice; ideal at constant power 0.62-0.74."""
    power = power_of(name)
    static, fast = (operating_point(power, 1.0, v, RHO).net_thrust_n for v in (0.0, 25.0))
    assert 0.48 <= fast / static <= 0.74


@pytest.mark.parametrize("name", FANS)
def test_spool_up_takes_half_a_second_to_one(name):
    """To 90 % of the thrust, throttle slammed open, the controller sweeping at its own pace."""
    power = power_of(name)
    n, step = len(power.units), 0.001
    omega, accel, duty = np.zeros(n), np.zeros(n), np.zeros(n)
    loads = np.zeros(k.N_LOADS)
    final = operating_point(power, 1.0, 0.0, RHO).net_thrust_n
    time = 0.0
    while loads[k.L_FX] < 0.9 * final:
        time += step
        duty[:] = np.minimum(1.0, time / power.units[:, thrust.U_SWEEP_TIME])
        thrust.power_loads(
            *power, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, RHO, omega, duty, 1.0, accel, loads,
            np.zeros_like(accel),
        )  # fmt: skip
        omega += step * accel
        assert time < 3.0
    assert 0.5 <= time <= 1.0


def test_a_12_by_6_propeller_standing_still():
    """C_T 0.09-0.12, C_P 0.035-0.05."""
    ct, cp = thrust_and_power(power_of("club_sport").prop_table, 0.0)
    assert 0.09 <= ct <= 0.12
    assert 0.035 <= cp <= 0.05
