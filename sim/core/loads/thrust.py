"""Fans, propellers, motors and the pack that feeds them: forces, moments, rotor speeds.

A unit is one row of ``units`` (columns below, SI). Positions are relative to the point
the loads are wanted about; body axes x forward, y right, z down.

The small functions take numbers, not arrays: an array handed to a function that is not
inlined costs numba two atomic reference counts, more than the work done here.
"""

import math

from sim.core import kernel
from sim.core.layout import (
    L_CURRENT,
    L_FX,
    L_FY,
    L_FZ,
    L_HX,
    L_HY,
    L_HZ,
    L_JET_SPEED,
    L_MX,
    L_MY,
    L_MZ,
    N_LOADS,
)
from sim.core.loads.fan import duct_loads, fan_flow

FAN = 0.0
PROPELLER = 1.0

U_KIND = 0
U_INLET_X, U_INLET_Y, U_INLET_Z = 1, 2, 3  # m; a propeller's hub
U_EXIT_X, U_EXIT_Y, U_EXIT_Z = 4, 5, 6  # m; nozzle, or a propeller's hub
U_AXIS_X, U_AXIS_Y, U_AXIS_Z = 7, 8, 9  # unit vector, the way the thrust pushes
U_DUCT_AREA = 10  # m², annulus between hub and duct
U_NOZZLE_AREA = 11  # m²
U_TIP_RADIUS = 12  # m
U_PSI_ZERO = 13  # pressure rise / (rho U_tip²) at no flow
U_PSI_SLOPE = 14  # its slope with V_axial / U_tip, negative
U_EFFICIENCY = 15  # air power / shaft power of the fan
U_DUCT_LOSS = 16  # loss / (rho V_axial² / 2), inlet to nozzle
U_RAM = 17  # share of the oncoming dynamic pressure that reaches the fan
U_ROTOR_INERTIA = 18  # kg m²
U_ROTATION = 19  # +1 clockwise seen from behind (spin vector along the axis), -1 other
U_MOTOR_CONSTANT = 20  # V s/rad = N m/A, the inverse of K_v
U_CONDUCTANCE = 21  # 1/ohm, of motor and controller in series
U_NO_LOAD = 22  # A
U_CURRENT_LIMIT = 23  # A, of the motor's current
U_SWEEP_TIME = 24  # s, from no duty to full
U_DIAMETER = 25  # m, of a propeller
U_LIP = 26  # loss / (rho V_cross² / 2) behind the windward lip of a fan's inlet
N_UNIT_COLS = 27

PACK_VOLTAGE, PACK_RESISTANCE = 0, 1  # V open circuit, ohm
N_PACK = 2

# columns of a propeller table: thrust and torque on V² + (nD)², normal force and sway
# moment on the root of that times the in-plane speed
PROP_THRUST, PROP_TORQUE, PROP_NORMAL, PROP_SWAY = 0, 1, 2, 3
N_PROP_COLS = 4

# rad/s over which the no-load loss fades in; numerical only, far below any running speed
NO_LOAD_FADE = 10.0
TINY = 1e-12
# m; nearer to the middle than this a unit stands on neither side, however a draw moves the balance
OFF_CENTRE = 0.005
# two or three steps are usual; halving the bracket alone would need 40
MOST_STEPS = 60


@kernel
def propeller_coefficients(prop_table, axial_speed, turn_speed):
    """Four coefficients (columns PROP_*) of a propeller at V and nD [m/s].

    The (k, 4) table is uniform in V / (|V| + nD), from -1 to 1, so that a stopped
    propeller (J without bound) is a point like any other.

    Own: the coordinate V / (|V| + nD), finite for a stopped propeller.
    """
    last = prop_table.shape[0] - 1
    coordinate = axial_speed / (abs(axial_speed) + turn_speed + TINY)
    position = 0.5 * (coordinate + 1.0) * last
    k = min(max(int(position), 0), last - 1)
    f = position - k
    e = 1.0 - f
    return (
        e * prop_table[k, PROP_THRUST] + f * prop_table[k + 1, PROP_THRUST],
        e * prop_table[k, PROP_TORQUE] + f * prop_table[k + 1, PROP_TORQUE],
        e * prop_table[k, PROP_NORMAL] + f * prop_table[k + 1, PROP_NORMAL],
        e * prop_table[k, PROP_SWAY] + f * prop_table[k + 1, PROP_SWAY],
    )


@kernel
def propeller_flow(diameter, ct, cq, axial, turn_speed, rho, thrust_factor):
    """Thrust [N], torque [N m] and speed of the slipstream far behind [m/s] of a propeller.

    The slipstream is that of the actuator disc, V_far² = V² + 2 T / (rho A) with A = pi D²/4
    (Rankine and Froude), written so that no air (rho 0) is no trouble.

    Speeds in m/s, diameter in m, rho in kg/m3. Source: Rankine and Froude's disc in
    [glauert1935], from memory.
    """
    speed2 = axial * axial + turn_speed * turn_speed
    scale = rho * diameter * diameter * speed2
    ahead = max(axial, 0.0)
    far = ahead * ahead + thrust_factor * speed2 * ct * 8.0 / math.pi
    return thrust_factor * scale * ct, scale * diameter * cq, math.sqrt(max(far, 0.0))


@kernel(entry=False)
def propeller_loads(x, y, z, ax, ay, az, uh, vh, wh, axial, thrust, normal, sway):
    """Force [N] and moment [N m] of a propeller whose hub moves at (uh, vh, wh).

    Thrust along the axis; a force against the in-plane velocity; and the sway moment of a
    propeller at an angle (the downgoing blade pulls more), of the sign of the rotation.

    Parameters
    ----------
    axial, thrust : float [m/s], [N]
    normal, sway : float [N s/m], [N s]
        Normal force and sway moment per in-plane speed.

    Positions in m, speeds in m/s. Normal force and sway moment as in [glauert1919], from
    memory.
    """
    tx, ty, tz = uh - axial * ax, vh - axial * ay, wh - axial * az
    fx, fy, fz = thrust * ax - normal * tx, thrust * ay - normal * ty, thrust * az - normal * tz
    return (
        fx,
        fy,
        fz,
        y * fz - z * fy - sway * tx,
        z * fx - x * fz - sway * ty,
        x * fy - y * fx - sway * tz,
    )


@kernel(entry=False)
def motor_current(voltage, om, duty, constant, conductance, limit):
    """Current of a motor [A]: (duty V - K omega) / R, between none and its limit.

    The usual direct-current equivalent of a brushless motor; nothing flows back.

    Voltage in V, ``om`` in rad/s, constant in V s/rad, conductance in 1/ohm, limit in A. Common
    practice, no source.
    """
    return min(max((duty * voltage - constant * om) * conductance, 0.0), limit)


@kernel(inlined=True)
def pack_voltage(units, pack, rotor_speed, duty):
    """Pack voltage [V] under the load of all the units: V = V_oc - R sum(duty_i I_i), exactly.

    Whatever clamps hold, the excess of V over the right-hand side rises with V in straight
    pieces: Newton's steps from the pieces met, kept inside a bracket, end on the right one.

    Parameters
    ----------
    units : (n, N_UNIT_COLS) array
    pack : (2,) array [V, ohm]
    rotor_speed, duty : (n,) arrays [rad/s], [0 to 1]

    Kirchhoff's laws, from memory; own: the iteration.
    """
    open_circuit, resistance = pack[PACK_VOLTAGE], pack[PACK_RESISTANCE]
    low, high = 0.0, open_circuit
    voltage = open_circuit
    steps = 0
    while steps < MOST_STEPS:
        total, slope = 0.0, 0.0
        for i in range(units.shape[0]):
            conductance, limit = units[i, U_CONDUCTANCE], units[i, U_CURRENT_LIMIT]
            current = motor_current(
                voltage, rotor_speed[i], duty[i], units[i, U_MOTOR_CONSTANT], conductance, limit
            )
            total += duty[i] * current
            inside = 0.0 < current < limit
            slope += duty[i] * duty[i] * conductance if inside else 0.0
        excess = voltage - open_circuit + resistance * total
        if abs(excess) < 1e-12 * open_circuit:
            steps = MOST_STEPS
        else:
            high = voltage if excess > 0.0 else high
            low = low if excess > 0.0 else voltage
            voltage -= excess / (1.0 + resistance * slope)
            if voltage <= low or voltage >= high:
                voltage = 0.5 * (low + high)
            steps += 1
    return voltage


@kernel
def outermost(units, side):
    """Return which unit stands farthest out on a side (+1 right, -1 left); -1 if none does.

    Places [m]. Geometry.
    """
    found, out = -1, OFF_CENTRE
    for i in range(units.shape[0]):
        if side * units[i, U_EXIT_Y] > out:
            found, out = i, side * units[i, U_EXIT_Y]
    return found


@kernel(inlined=True)
def power_loads(
    units, prop_table, pack, u, v, w, p, q, r, rho, rotor_speed, duty, thrust_factor,
    rotor_accel_out, loads_out, jets_out,
):  # fmt: skip
    """Fill the loads of all the units and the accelerations of their rotors.

    Moments hold the torque reaction on the airframe in full: the swirl a propeller leaves
    behind (a fan's stators are taken to straighten its flow) and the change of rotor speed
    (-h_dot). What is left to the rigid body is -omega × h alone.

    Parameters
    ----------
    units : (n, N_UNIT_COLS) array
    prop_table : (k, 4) array
        Read only where a unit is a propeller; see propeller_coefficients.
    pack : (2,) array [V, ohm]
    u, v, w : float [m/s]
        Velocity of the origin through the air, body axes.
    p, q, r : float [rad/s]
    rho : float [kg/m³]
    rotor_speed, duty : (n,) arrays [rad/s], [0 to 1]
    thrust_factor : float
        1 for the nominal thrust; scales jet push and propeller thrust.
    rotor_accel_out : (n,) array [rad/s²]
    loads_out : (N_LOADS,) array
        Columns L_*: force, moment, rotor angular momentum, pack current, jet.
    jets_out : (n,) array [m/s]
        Each unit's jet, or slipstream far behind.

    Loads [N, N m], momentum [N m s]. Angular momentum theorem, from memory; [stevens2015] table
    1.7 for where h enters.
    """
    n_unit = units.shape[0]
    for i in range(N_LOADS):
        loads_out[i] = 0.0
    voltage = pack_voltage(units, pack, rotor_speed, duty)
    for i in range(n_unit):
        om = rotor_speed[i]
        x, y, z = units[i, U_INLET_X], units[i, U_INLET_Y], units[i, U_INLET_Z]
        ax, ay, az = units[i, U_AXIS_X], units[i, U_AXIS_Y], units[i, U_AXIS_Z]
        ui, vi, wi = u + q * z - r * y, v + r * x - p * z, w + p * y - q * x
        axial = ui * ax + vi * ay + wi * az
        spin = units[i, U_ROTATION]
        if units[i, U_KIND] == FAN:
            area = units[i, U_DUCT_AREA]
            cross2 = max(ui * ui + vi * vi + wi * wi - axial * axial, 0.0)
            flow, jet, torque = fan_flow(
                area, units[i, U_NOZZLE_AREA], units[i, U_TIP_RADIUS], units[i, U_PSI_ZERO],
                units[i, U_PSI_SLOPE], units[i, U_EFFICIENCY], units[i, U_DUCT_LOSS],
                units[i, U_RAM], axial, rho, om, units[i, U_LIP] * cross2,
            )  # fmt: skip
            fx, fy, fz, mx, my, mz = duct_loads(
                x, y, z, units[i, U_EXIT_X], units[i, U_EXIT_Y], units[i, U_EXIT_Z],
                ax, ay, az, ui, vi, wi, p, q, r, rho * area * flow,
                thrust_factor * rho * area * flow * jet,
            )  # fmt: skip
            swirl = 0.0
        else:
            d = units[i, U_DIAMETER]
            turn_speed = max(om, 0.0) * d / (2.0 * math.pi)
            ct, cq, cn, cs = propeller_coefficients(prop_table, axial, turn_speed)
            thrust, torque, jet = propeller_flow(d, ct, cq, axial, turn_speed, rho, thrust_factor)
            across = rho * d * d * math.sqrt(axial * axial + turn_speed * turn_speed)
            fx, fy, fz, mx, my, mz = propeller_loads(
                x, y, z, ax, ay, az, ui, vi, wi, axial, thrust, across * cn, across * d * cs * spin
            )  # fmt: skip
            swirl = torque
        k = units[i, U_MOTOR_CONSTANT]
        current = motor_current(
            voltage, om, duty[i], k, units[i, U_CONDUCTANCE], units[i, U_CURRENT_LIMIT]
        )
        no_load = units[i, U_NO_LOAD] * om / (abs(om) + NO_LOAD_FADE)
        net_torque = (current - no_load) * k - torque
        rotor_accel_out[i] = net_torque / units[i, U_ROTOR_INERTIA]
        # what the air takes away as swirl, and what speeds the rotor up
        reaction = -spin * (swirl + net_torque)
        momentum = spin * units[i, U_ROTOR_INERTIA] * om
        loads_out[L_FX] += fx
        loads_out[L_FY] += fy
        loads_out[L_FZ] += fz
        loads_out[L_MX] += mx + reaction * ax
        loads_out[L_MY] += my + reaction * ay
        loads_out[L_MZ] += mz + reaction * az
        loads_out[L_HX] += momentum * ax
        loads_out[L_HY] += momentum * ay
        loads_out[L_HZ] += momentum * az
        loads_out[L_CURRENT] += duty[i] * current
        loads_out[L_JET_SPEED] += jet / n_unit
        jets_out[i] = jet
