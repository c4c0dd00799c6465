"""What each kind of work takes from the pack: a power at equal thrust, or full throttle.

At a given airspeed and thrust the rotor turns at one speed, so a motor asks for one voltage and
one current: the power at the pack is the same at any charge. At full throttle it is the voltage
that decides, and thrust and current fall with it.
"""

from dataclasses import dataclass
from math import exp

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RegularGridInterpolator

from sim import tables
from sim.describe import Fault, FileFault
from sim.pack.assemble import Assembled
from sim.power.operating_point import OperatingPoint, operating_point
from sim.power.pack import cell_voltage, resistance_mohm, resistance_sd_log
from sim.study.flight_time.mix import Mix
from sim.trim.slow_pass import slow_pass
from sim.trim.trimming import Trim, level
from sim.units.quantities import SPEED

Floats = NDArray[np.float64]
DUTIES = np.linspace(0.1, 1.0, 13)  # at which a thrust curve is known
SPEED_STEP = 1.06  # from one speed tried to the next, when looking for the top speed
GRID = 4  # points either way of a grid of currents
SDS = 3.0  # to which it reaches
CELL_V_MARGIN = 0.3  # V either way, for spread and for an empty pack


@dataclass(frozen=True)
class ThrustCurve:
    """Net thrust [N] rising with the throttle, and power at the pack [W], at one airspeed [m/s]."""

    speed_mps: float
    thrust_n: Floats
    power_w: Floats

    def power(self, wanted_n: Floats) -> Floats:
        """Return the power [W] at a net thrust [N]; more than full throttle gives: that of it."""
        return np.interp(wanted_n, self.thrust_n, self.power_w)

    def throttle(self, wanted_n: float) -> float:
        """Return the throttle (0 to 1) [-] at a net thrust [N], 1 where full is too little."""
        return float(np.interp(wanted_n, self.thrust_n, DUTIES))

    def holds(self, wanted_n: float) -> bool:
        """Return True if full throttle gives a net thrust [N]."""
        return bool(wanted_n <= self.thrust_n[-1])


@dataclass(frozen=True)
class Demands:
    """What the kinds of work ask for, nominally.

    ``cruise_n`` and ``pass_n`` are net thrusts [N] on the curves beside them; ``faster`` (k,)
    are cruise speeds over the nominal one, ``faster_w`` (k,) the powers [W] they take over
    that at the nominal one; the currents take a voltage at rest [V] and a resistance [ohm].
    """

    cruise: ThrustCurve
    cruise_n: float
    faster: Floats
    faster_power: Floats
    high_alpha: ThrustCurve
    pass_n: float
    climb_mps: float
    top_mps: float
    full_at_cruise: RegularGridInterpolator
    full_at_climb: RegularGridInterpolator


def demands(assembled: Assembled, mix: Mix) -> Demands | None:
    """Return what the kinds of work ask for; None where there is no level flight at all.

    Own. The cruise is trimmed level flight at the speed flown, the pass is `slow_pass`; at full
    throttle only the airspeed matters: the cruise's for manoeuvring, the climb's own.

    Raises
    ------
    FileFault
        ``cruise_mps`` of [duty] is no speed of level flight.
    """
    table = tables.flight_time()
    top = top_speed(assembled)
    if top is None:
        return None
    stall = assembled.stall.speed_mps
    given = mix.cruise_mps
    most = min(top, assembled.aeroplane.structure.never_exceed_mps)
    usual = max(table.cruise_share_of_top * top, table.least_cruise_over_stall * stall)
    cruise_mps = min(usual, most) if given is None else _asked(assembled, given, top)
    cruise = _thrust_curve(assembled, cruise_mps)
    sd = table.cruise_share_sd / table.cruise_share_of_top if given is None else 0.0
    faster = np.array([1.0 - 2.0 * sd, 1.0, 1.0 + 2.0 * sd]) if sd else np.ones(1)
    points = [_level_point(assembled, min(x * cruise_mps, most)) for x in faster]
    powers = np.array([point.electrical_power_w for point in points])
    held = slow_pass(assembled, table.high_alpha_deg)
    climb = min(table.climb_over_stall * stall, top)
    return Demands(
        cruise=cruise,
        cruise_n=_level_point(assembled, cruise_mps).net_thrust_n,
        faster=faster,
        faster_power=powers / powers[len(powers) // 2],
        high_alpha=_thrust_curve(assembled, held.speed_mps),
        pass_n=held.thrust_n,
        climb_mps=climb,
        top_mps=top,
        full_at_cruise=_full_currents(assembled, cruise_mps),
        full_at_climb=_full_currents(assembled, climb),
    )


def _asked(assembled: Assembled, given_mps: float, top_mps: float) -> float:
    """Return a cruise speed [m/s] that was given, if there is level flight at it."""
    stall = assembled.stall.speed_mps
    if stall < given_mps <= top_mps:
        return given_mps
    ends = f"{SPEED.figure(stall, '.1f')} and {SPEED(top_mps, '.1f')}"
    text = (
        f"must lie between stall and top speed of set-up {assembled.setup.name}, {ends}; "
        f"got {SPEED.figure(given_mps, 'g')}"
    )
    raise FileFault(assembled.aeroplane.name, [Fault("duty.cruise_mps", text)])


def top_speed(assembled: Assembled) -> float | None:
    """Return the fastest level flight [m/s], to half a per cent; None where there is none.

    Own: the last trim found going up in steps, and on from there in a straight line of the
    throttle over speed.
    """
    flown: list[Trim] = []
    speed = assembled.stall.speed_mps
    while speed < tables.flight().fastest_mps:
        trim = level(assembled, speed)
        if trim.found:
            flown.append(trim)
        elif len(flown) > 1:
            break
        speed *= SPEED_STEP
    if not flown:
        return None
    if len(flown) < 2 or flown[-1].throttle <= flown[-2].throttle:
        return flown[-1].speed_mps
    one, two = flown[-2:]
    slope = (two.throttle - one.throttle) / (two.speed_mps - one.speed_mps)
    return min(two.speed_mps + (1.0 - two.throttle) / slope, speed)


def _thrust_curve(assembled: Assembled, speed_mps: float) -> ThrustCurve:
    points = [operating_point(assembled.power, x, speed_mps, assembled.density) for x in DUTIES]
    return ThrustCurve(
        speed_mps,
        np.array([p.net_thrust_n for p in points]),
        np.array([p.electrical_power_w for p in points]),
    )


def _level_point(assembled: Assembled, speed_mps: float) -> OperatingPoint:
    throttle = level(assembled, speed_mps).throttle
    return operating_point(assembled.power, throttle, speed_mps, assembled.density)


def _full_currents(assembled: Assembled, speed_mps: float) -> RegularGridInterpolator:
    """Return the pack's current [A] at full throttle over voltage at rest [V], resistance [ohm]."""
    pack = assembled.aeroplane.packs[assembled.setup.pack]
    reach = SDS * resistance_sd_log(pack)
    nominal = resistance_mohm(pack) / 1000.0
    low, high = cell_voltage(0.0) - CELL_V_MARGIN, cell_voltage(100.0) + CELL_V_MARGIN
    volts = pack.cells * np.linspace(low, high, GRID)
    ohms = nominal * np.linspace(exp(-reach), exp(reach), GRID)
    grid = np.zeros((GRID, GRID))
    for i, volt in enumerate(volts):
        for j, ohm in enumerate(ohms):
            loaded = assembled.power._replace(pack=np.array([volt, ohm]))
            grid[i, j] = operating_point(loaded, 1.0, speed_mps, assembled.density).current_a
    return RegularGridInterpolator((volts, ohms), grid, bounds_error=False, fill_value=None)
