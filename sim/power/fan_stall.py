"""Whether the blades of a fan stall: a straight pressure line has no stall of its own."""

from enum import StrEnum
from math import hypot, pi, sqrt

from sim import tables
from sim.core.loads import thrust
from sim.core.loads.fan import fan_flow
from sim.power.packing import PowerArrays


class Blades(StrEnum):
    """How the flow over a fan's blades stands, whatever their solidity may be."""

    ATTACHED = "attached"
    DOUBTFUL = "may stall"
    STALLED = "stalls"


def diffusion_factor(
    flow: float, pressure: float, efficiency: float, radius: float, solidity: float
) -> float:
    """Return the diffusion factor [-] of a rotor's blade, 1 - W2/W1 + dW_t/(2 sigma W1).

    [lieblein1953], from memory. All speeds over the tip's: axial ``flow``; the rise in swirl from
    Euler's turbine equation, pressure / (efficiency radius), the air without swirl before.

    Parameters
    ----------
    flow, pressure : float [-]
        Axial speed / U_tip, pressure rise / (rho U_tip²).
    efficiency : float [-]
        Air power over shaft power.
    radius : float [-]
        Of the blade element, over the tip's.
    solidity : float [-]
        Chord over spacing there.
    """
    swirl = pressure / (efficiency * radius)
    before, after = hypot(flow, radius), hypot(flow, radius - swirl)
    return 1.0 - after / before + swirl / (2.0 * solidity * before)


def blades_at(
    power: PowerArrays, unit: int, rotor_rad_s: float, speed: float, rho: float
) -> Blades:
    """Return how the flow over the blades of one fan stands, at the radius that halves its ring.

    Own: with the least and the most solidity that a fan may have (performance.toml). Geometry
    [m], speeds [rad/s, m/s], density [kg/m³].
    """
    row, table = power.units[unit], tables.performance()
    axial, _, _ = fan_flow(*row[thrust.U_DUCT_AREA : thrust.U_RAM + 1], speed, rho, rotor_rad_s)
    tip = row[thrust.U_TIP_RADIUS]
    if rotor_rad_s <= 0.0:
        return Blades.ATTACHED
    flow = axial / (rotor_rad_s * tip)
    pressure = row[thrust.U_PSI_ZERO] + row[thrust.U_PSI_SLOPE] * flow
    radius = sqrt(1.0 - row[thrust.U_DUCT_AREA] / (2.0 * pi * tip * tip))
    first, last = (
        diffusion_factor(flow, pressure, row[thrust.U_EFFICIENCY], radius, solidity)
        for solidity in (table.solidity_least, table.solidity_most)
    )
    if last > table.diffusion_limit:
        return Blades.STALLED
    return Blades.DOUBTFUL if first > table.diffusion_limit else Blades.ATTACHED
