"""What full throttle asks of controller and pack, and what is too much for them."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sim import tables
from sim.core.loads import thrust
from sim.describe.masses import Pack
from sim.power.operating_point import operating_point
from sim.power.pack import pack_array, resistance_mohm
from sim.power.packing import PowerArrays

FULL_PCT = 100.0
UNLIMITED_A = 1e6
Overload = Literal["controller", "pack", "burst", "cell"]


@dataclass(frozen=True)
class TooMuch:
    """One limit that full throttle is beyond: what it asks for, and what is allowed.

    ``controller``: current of one motor [A]; ``pack`` and ``burst``: of the pack, by its label's
    lasting and short C-rate [A]; ``cell``: voltage of a cell near the end of a flight [V].
    """

    what: Overload
    asked: float
    allowed: float


@dataclass(frozen=True)
class FullLoad:
    """Full throttle standing still, pack charged: currents as if no controller held them back.

    ``start_cell_v`` and ``end_cell_v`` are a cell's, charged and at the reserve, with the
    controllers' limits.
    """

    pack_a: float
    motor_a: float
    c_rate: float
    resistance_mohm: float
    start_cell_v: float
    end_cell_v: float
    too_much: tuple[TooMuch, ...]


def full_load(power: PowerArrays, pack: Pack, rho: float, reserve_pct: float) -> FullLoad:
    """Return what full throttle asks for, standing still, and which limits it is beyond.

    Own: `operating_point` at no airspeed, at full charge and at the reserve; a propeller takes
    most current there, a fan nearly so.

    Parameters
    ----------
    power : PowerArrays
        Its own pack does not count.
    pack : Pack
        With its label's C-rates, if it has any.
    rho : float [kg/m³]
    reserve_pct : float [% of capacity]
        Charge at which the flight ends.
    """
    charged = power._replace(pack=pack_array(pack, FULL_PCT))
    units = charged.units.copy()
    units[:, thrust.U_CURRENT_LIMIT] = UNLIMITED_A
    free = operating_point(charged._replace(units=units), 1.0, 0.0, rho)
    start = operating_point(charged, 1.0, 0.0, rho)
    end = operating_point(power._replace(pack=pack_array(pack, reserve_pct)), 1.0, 0.0, rho)
    motor = free.current_a / max(len(units), 1)
    hours = pack.capacity_mah / 1000.0
    end_cell = end.pack_voltage_v / pack.cells
    limit = float(np.min(charged.units[:, thrust.U_CURRENT_LIMIT], initial=np.inf))
    found = [TooMuch("controller", motor, limit)] if motor > limit else []
    lasting, short = pack.max_c, pack.burst_c
    # what the controllers let through is what the pack gives
    if short is not None and start.current_a > short * hours:
        found.append(TooMuch("burst", start.current_a, short * hours))
    elif lasting is not None and start.current_a > lasting * hours:
        found.append(TooMuch("pack", start.current_a, lasting * hours))
    if end_cell < (least := tables.lipo_cell().low_cell_v):
        found.append(TooMuch("cell", end_cell, least))
    return FullLoad(
        pack_a=free.current_a,
        motor_a=motor,
        c_rate=free.current_a / hours,
        resistance_mohm=resistance_mohm(pack),
        start_cell_v=start.pack_voltage_v / pack.cells,
        end_cell_v=end_cell,
        too_much=tuple(found),
    )
