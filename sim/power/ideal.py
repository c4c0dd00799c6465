"""The ideal fan and the ideal propeller: what no better one can pass.

One-dimensional, no losses, the jet at ambient pressure at the nozzle (area A_e):
mdot = rho A_e V_e, thrust mdot (V_e - V), power mdot (V_e² - V²) / 2. Momentum and energy
of a stream tube (Rankine, Froude; [glauert1935], from memory); the nozzle takes the place of
the contracted wake.
"""

import math

import scipy

NEWTON_STEPS = 60


def ideal_jet_speed(power_w: float, nozzle_area_m2: float, speed_mps: float, rho: float) -> float:
    """Return the jet speed V_e [m/s] at which the stream takes up a power.

    The root above V of rho A_e V_e (V_e² - V²) / 2 = P, energy of a stream tube [glauert1935];
    by Newton's steps from above, where the cubic is convex.

    Parameters
    ----------
    power_w : float [W]
        Power that goes into the stream, not negative.
    nozzle_area_m2, speed_mps, rho : float [m²], [m/s], [kg/m³]
    """
    cube = 2.0 * power_w / (rho * nozzle_area_m2)
    jet = abs(speed_mps) + cube ** (1.0 / 3.0)
    for _ in range(NEWTON_STEPS):
        slope = 3.0 * jet * jet - speed_mps * speed_mps
        step = (jet * (jet * jet - speed_mps * speed_mps) - cube) / slope if slope > 0.0 else 0.0
        jet -= step
        if abs(step) <= 1e-15 * jet:
            break
    return jet


def ideal_thrust_at_power(
    power_w: float, nozzle_area_m2: float, speed_mps: float, rho: float
) -> float:
    """Return the thrust [N] of an ideal fan at a power and a speed of flight.

    mdot (V_e - V), momentum of a stream tube [glauert1935].
    """
    jet = ideal_jet_speed(power_w, nozzle_area_m2, speed_mps, rho)
    return rho * nozzle_area_m2 * jet * (jet - speed_mps)


def ideal_static_thrust(power_w: float, nozzle_area_m2: float, rho: float) -> float:
    """Return the static thrust [N] of an ideal fan, (4 rho A_e P²)^(1/3).

    The formulas of the module at V = 0 [glauert1935]; power [W], area [m²], rho [kg/m³].
    """
    return (4.0 * rho * nozzle_area_m2 * power_w**2) ** (1.0 / 3.0)


def ideal_power(thrust_n: float, nozzle_area_m2: float, rho: float) -> float:
    """Return the least power [W] of a static thrust [N], (T³ / (4 rho A_e))^(1/2).

    `ideal_static_thrust` turned round [glauert1935]; area [m²], rho [kg/m³].
    """
    return math.sqrt(thrust_n**3 / (4.0 * rho * nozzle_area_m2))


def ideal_disc_thrust(power_w: float, disc_area_m2: float, speed_mps: float, rho: float) -> float:
    """Return the thrust [N] of an ideal propeller at a power and a speed of flight.

    The root of T (V + v) = P with T = 2 rho A (V + v) v, the actuator disc [glauert1935];
    standing still it is an ideal fan of half the disc's area, (2 rho A P²)^(1/3).

    Parameters
    ----------
    power_w : float [W]
        Power that goes into the stream, not negative.
    disc_area_m2, speed_mps, rho : float [m²], [m/s], [kg/m³]
        Speed not negative.
    """
    still = ideal_static_thrust(power_w, 0.5 * disc_area_m2, rho)
    if speed_mps == 0.0 or power_w == 0.0:
        return still

    def excess(thrust: float) -> float:
        half = 0.5 * speed_mps
        induced = -half + math.sqrt(half * half + thrust / (2.0 * rho * disc_area_m2))
        return thrust * (speed_mps + induced) - power_w

    return float(scipy.optimize.brentq(excess, 0.0, still, xtol=1e-9 * still))
