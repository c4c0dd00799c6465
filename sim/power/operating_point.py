"""What the power delivers in steady straight flight: speeds, forces, currents, efficiencies."""

from dataclasses import dataclass

import numpy as np
import scipy

from sim.core import layout as k
from sim.core.loads import thrust
from sim.core.loads.fan import fan_flow
from sim.power.packing import PowerArrays

# sweeps over units that share one pack, until no rotor moves by more than this share
SWEEPS = 50
SETTLED = 1e-11
STEP_HEADROOM = 1.05  # over the speed of no load: a root is looked for up to there, then twice


@dataclass(frozen=True)
class OperatingPoint:
    """Steady running at a duty and an airspeed along the body's x axis; sums over the units.

    ``thrust_n`` is the push of jets or propellers, ``net_thrust_n`` what remains of it
    along x after the drag of taking in the air. ``jet_power_w`` is what the stream takes
    up: mdot (V_e² - V²) / 2 for a fan, T (V + half the slipstream's excess) for a propeller.
    ``rotor_speed_rad_s`` holds one speed a unit; ``rpm`` and ``jet_speed_mps`` are means.
    An efficiency is NaN where nothing goes in.
    """

    rotor_speed_rad_s: tuple[float, ...]
    rpm: float
    thrust_n: float
    net_thrust_n: float
    current_a: float
    pack_voltage_v: float
    electrical_power_w: float
    shaft_power_w: float
    jet_power_w: float
    jet_speed_mps: float

    @property
    def electrical_to_jet(self) -> float:
        """Share of the electrical power that reaches the stream [-]; by definition."""
        return self.jet_power_w / self.electrical_power_w if self.electrical_power_w else np.nan

    @property
    def shaft_to_jet(self) -> float:
        """Share of the shaft power that reaches the stream [-]; by definition."""
        return self.jet_power_w / self.shaft_power_w if self.shaft_power_w else np.nan


def evaluate(
    power: PowerArrays, rotor_speed: np.ndarray, duty: np.ndarray, airspeed: float, rho: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return rotor accelerations [rad/s²] and loads (L_*) in straight flight along x."""
    accel, jets = np.zeros((2, len(power.units)))
    loads = np.zeros(k.N_LOADS)
    _loads_into(power, rotor_speed, duty, airspeed, rho, (accel, loads, jets))
    return accel, loads


def _loads_into(
    power: PowerArrays, rotor_speed: np.ndarray, duty: np.ndarray, airspeed: float, rho: float,
    out: tuple[np.ndarray, np.ndarray, np.ndarray],
) -> None:  # fmt: skip
    """Fill rotor accelerations [rad/s²], loads (L_*) and jets [m/s] in straight flight along x."""
    still = 0.0, 0.0, 0.0, 0.0, 0.0
    thrust.power_loads(*power, airspeed, *still, rho, rotor_speed, duty, 1.0, *out)


def steady_rotor_speed(
    power: PowerArrays, duty: np.ndarray, airspeed: float, rho: float
) -> np.ndarray:
    """Return the rotor speeds [rad/s] at which no rotor accelerates.

    Own: each in turn, by Brent's method between standstill and the speed at which it must slow
    down; the units act on one another through the pack alone, so few sweeps settle it, and one
    alone is settled by the first.
    """
    units, pack = power.units, power.pack
    speed = 0.5 * pack[thrust.PACK_VOLTAGE] / units[:, thrust.U_MOTOR_CONSTANT]
    out = np.empty(len(units)), np.empty(k.N_LOADS), np.empty(len(units))
    for _ in range(SWEEPS if len(units) > 1 else 1):
        before = speed.copy()
        for i in range(len(units)):
            trial = speed.copy()

            def accel(omega: float, i: int = i, trial: np.ndarray = trial) -> float:
                trial[i] = omega
                _loads_into(power, trial, duty, airspeed, rho, out)
                return float(out[0][i])

            if accel(0.0) <= 0.0:
                speed[i] = 0.0
                continue
            high = STEP_HEADROOM * pack[thrust.PACK_VOLTAGE] / units[i, thrust.U_MOTOR_CONSTANT]
            while accel(high) > 0.0:
                high *= 2.0
            speed[i] = scipy.optimize.brentq(accel, 0.0, high, xtol=1e-9, rtol=1e-13)
        if np.all(np.abs(speed - before) <= SETTLED * (1.0 + speed)):
            break
    return speed


def net_thrust(power: PowerArrays, duty: float, airspeed_mps: float, rho: float) -> float:
    """Return the net thrust [N] of all the units alone; own: that of `operating_point`."""
    duties = np.full(len(power.units), float(duty))
    speed = steady_rotor_speed(power, duties, airspeed_mps, rho)
    return float(evaluate(power, speed, duties, airspeed_mps, rho)[1][k.L_FX])


def operating_point(
    power: PowerArrays, duty: float | np.ndarray, airspeed_mps: float, rho: float
) -> OperatingPoint:
    """Return the steady running of all the units at a duty and an airspeed.

    Sums and products of the kernel's loads, by definition.

    Parameters
    ----------
    power : PowerArrays
    duty : float or (n,) array
        Share of the pack's voltage that the controllers pass on, 0 to 1.
    airspeed_mps : float [m/s]
        Along the body's x axis, no rotation.
    rho : float [kg/m³]
    """
    units = power.units
    duties = np.broadcast_to(np.asarray(duty, dtype=float), (len(units),)).copy()
    speed = steady_rotor_speed(power, duties, airspeed_mps, rho)
    _, loads = evaluate(power, speed, duties, airspeed_mps, rho)
    flows = [_unit_flow(power, i, speed[i], airspeed_mps, rho) for i in range(len(units))]
    push, torque_power, jet_power = np.sum(flows, axis=0) if flows else np.zeros(3)
    current = float(loads[k.L_CURRENT])
    voltage = float(thrust.pack_voltage(units, power.pack, speed, duties))
    return OperatingPoint(
        rotor_speed_rad_s=tuple(float(s) for s in speed),
        rpm=float(np.mean(speed) * 30.0 / np.pi) if len(units) else 0.0,
        thrust_n=float(push),
        net_thrust_n=float(loads[k.L_FX]),
        current_a=current,
        pack_voltage_v=voltage,
        electrical_power_w=current * voltage,
        shaft_power_w=float(torque_power),
        jet_power_w=float(jet_power),
        jet_speed_mps=float(loads[k.L_JET_SPEED]),
    )


def _unit_flow(
    power: PowerArrays, i: int, omega: float, airspeed: float, rho: float
) -> tuple[float, float, float]:
    """Return push [N], shaft power [W] and stream power [W] of one unit.

    Power the stream takes up, [glauert1935]: a fan's as in `sim.power.fan`, a propeller's by the
    mean of the speeds far ahead and far behind its disc.
    """
    row = power.units[i]
    axial = airspeed * row[thrust.U_AXIS_X]
    if row[thrust.U_KIND] == thrust.FAN:
        flow, jet, torque = fan_flow(*row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], axial, rho, omega)
        mdot = rho * row[thrust.U_DUCT_AREA] * flow
        return mdot * jet, torque * omega, 0.5 * mdot * (jet * jet - axial * axial)
    turn_speed = omega * row[thrust.U_DIAMETER] / (2.0 * np.pi)
    ct, cq, _, _ = thrust.propeller_coefficients(power.prop_table, axial, turn_speed)
    push, torque, far = thrust.propeller_flow(
        row[thrust.U_DIAMETER], ct, cq, axial, turn_speed, rho, 1.0
    )
    return push, torque * omega, push * 0.5 * (far + max(axial, 0.0))
